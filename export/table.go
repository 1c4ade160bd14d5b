package export

import (
	"math"

	g "maskloft/geometry"
)

// column is one column of a table: its heading, its share of the width, and
// where its text stands (0 left, 0.5 middle, 1 right).
type column struct {
	head  string
	share float64
	align float64
}

// cell is one field of a table. The zero lettering is the table's.
type cell struct {
	text string
	set  lettering
	fill string // "#rrggbb"; empty: none
	box  bool   // an empty box to write into
}

// table is rows under headings; a row is never broken over two pages, and the
// headings are printed again on each.
type table struct {
	columns []column
	rows    [][]cell
	set     lettering // of cells that name none
	height  float64   // least height of a row, in inches; 0: that of its text
}

const cellPad = 0.05

var (
	inkTableHead = Ink{Fill: "#e3e8ea"}
	inkTableLine = Ink{Stroke: "#b4bfc4", Width: 0.006}
)

// words turns texts into cells.
func words(texts ...string) []cell {
	out := make([]cell, len(texts))
	for i, t := range texts {
		out[i] = cell{text: t}
	}
	return out
}

// table sets a table.
func (p *pages) table(t table) {
	if t.set.cap == 0 {
		t.set = setBody
	}
	total := 0.0
	for _, c := range t.columns {
		total += c.share
	}
	edges := []float64{p.left()}
	for _, c := range t.columns {
		edges = append(edges, edges[len(edges)-1]+p.width()*c.share/total)
	}
	head := make([]cell, len(t.columns))
	for i, c := range t.columns {
		head[i] = cell{text: c.head, set: setStrong, fill: inkTableHead.Fill}
	}
	headHeight := t.rowHeight(head, edges, 0)
	p.need(headHeight + 0.3)
	t.row(p, head, edges, headHeight)
	for _, r := range t.rows {
		h := t.rowHeight(r, edges, t.height)
		if p.room() < h {
			p.turn()
			t.row(p, head, edges, headHeight)
		}
		t.row(p, r, edges, h)
	}
}

func (t table) lettering(c cell) lettering {
	if c.set.cap == 0 {
		return t.set
	}
	return c.set
}

func (t table) rowHeight(cells []cell, edges []float64, least float64) float64 {
	h := least
	for i, c := range cells {
		s := t.lettering(c)
		lines := s.wrap(c.text, edges[i+1]-edges[i]-2*cellPad)
		h = math.Max(h, t.drop(cells, s)+float64(len(lines)-1)*s.leading()+2.6*s.cap+0.03)
	}
	return h
}

// drop is how much lower a lettering begins, so that the first lines of a row share
// their baseline with the largest of it.
func (t table) drop(cells []cell, s lettering) float64 {
	largest := s.cap
	for _, c := range cells {
		if c.text != "" {
			largest = math.Max(largest, t.lettering(c).cap)
		}
	}
	return (largest - s.cap) * (0.35 + 1.45)
}

func (t table) row(p *pages, cells []cell, edges []float64, h float64) {
	box := p.block(h)
	for i, c := range cells {
		s := t.lettering(c)
		r := g.Rect{Min: g.Point{X: edges[i], Y: box.Min.Y}, Max: g.Point{X: edges[i+1], Y: box.Max.Y}}
		if c.fill != "" {
			p.draw(drawRect(r, Ink{Fill: c.fill}))
		}
		if c.box {
			p.draw(drawRect(r.Grown(-0.04), Ink{Stroke: "#1a1a1a", Width: 0.012}))
		}
		if c.text != "" {
			inner := g.Rect{Min: g.Point{X: r.Min.X + cellPad, Y: r.Min.Y}, Max: g.Point{X: r.Max.X - cellPad, Y: r.Max.Y - 0.35*s.cap - t.drop(cells, s)}}
			items, _ := s.in(inner, c.text, t.columns[i].align)
			p.draw(items...)
		}
	}
	p.draw(Item{Path: g.Path{g.Polyline(box.Min, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: inkTableLine})
}
