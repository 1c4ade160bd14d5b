package sheet

import (
	g "maskloft/geometry"
)

// Column is one column of a table: its heading, its share of the width, and
// where its text stands (0 left, 0.5 middle, 1 right).
type Column struct {
	Head  string
	Share float64
	Align float64
}

// Cell is one field of a table. The zero lettering is the table's.
type Cell struct {
	Text string
	Set  Lettering
	Fill string // "#rrggbb"; empty: none
	Box  bool   // an empty box to write into
}

// Table is rows under headings; a row is never broken over two pages, and the
// headings are printed again on each.
type Table struct {
	Columns []Column
	Rows    [][]Cell
	Set     Lettering // of cells that name none
	Height  float64   // least height of a row, in inches; 0: that of its text
}

const CellPad = 0.05

var (
	InkTableHead = Ink{Fill: "#e3e8ea"}
	InkTableLine = Ink{Stroke: "#b4bfc4", Width: 0.006}
)

// Words turns texts into cells.
func Words(texts ...string) []Cell {
	out := make([]Cell, len(texts))
	for i, t := range texts {
		out[i] = Cell{Text: t}
	}
	return out
}

// Table sets a table.
func (p *Pages) Table(t Table) {
	if t.Set.Cap == 0 {
		t.Set = SetBody
	}
	total := 0.0
	for _, c := range t.Columns {
		total += c.Share
	}
	edges := []float64{p.Left()}
	for _, c := range t.Columns {
		edges = append(edges, edges[len(edges)-1]+p.Width()*c.Share/total)
	}
	head := make([]Cell, len(t.Columns))
	for i, c := range t.Columns {
		head[i] = Cell{Text: c.Head, Set: SetStrong, Fill: InkTableHead.Fill}
	}
	headHeight := t.rowHeight(head, edges, 0)
	p.Need(headHeight + 0.3)
	t.row(p, head, edges, headHeight)
	for _, r := range t.Rows {
		h := t.rowHeight(r, edges, t.Height)
		if p.Room() < h {
			p.Turn()
			t.row(p, head, edges, headHeight)
		}
		t.row(p, r, edges, h)
	}
}

func (t Table) lettering(c Cell) Lettering {
	if c.Set.Cap == 0 {
		return t.Set
	}
	return c.Set
}

func (t Table) rowHeight(cells []Cell, edges []float64, least float64) float64 {
	h := least
	for i, c := range cells {
		s := t.lettering(c)
		lines := s.Wrap(c.Text, edges[i+1]-edges[i]-2*CellPad)
		h = max(h, t.drop(cells, s)+float64(float64(len(lines)-1)*s.Leading())+float64(2.6*s.Cap)+0.03)
	}
	return h
}

// drop is how much lower a lettering begins, so that the first lines of a row share
// their baseline with the largest of it.
func (t Table) drop(cells []Cell, s Lettering) float64 {
	largest := s.Cap
	for _, c := range cells {
		if c.Text != "" {
			largest = max(largest, t.lettering(c).Cap)
		}
	}
	return float64((largest - s.Cap) * (0.35 + 1.45))
}

func (t Table) row(p *Pages, cells []Cell, edges []float64, h float64) {
	box := p.Block(h)
	for i, c := range cells {
		s := t.lettering(c)
		r := g.Rect{Min: g.Point{X: edges[i], Y: box.Min.Y}, Max: g.Point{X: edges[i+1], Y: box.Max.Y}}
		if c.Fill != "" {
			p.Draw(DrawRect(r, Ink{Fill: c.Fill}))
		}
		if c.Box {
			p.Draw(DrawRect(r.Grown(-0.04), Ink{Stroke: "#1a1a1a", Width: 0.012}))
		}
		if c.Text != "" {
			inner := g.Rect{Min: g.Point{X: r.Min.X + CellPad, Y: r.Min.Y}, Max: g.Point{X: r.Max.X - CellPad, Y: r.Max.Y - float64(0.35*s.Cap) - t.drop(cells, s)}}
			items, _ := s.In(inner, c.Text, t.Columns[i].Align)
			p.Draw(items...)
		}
	}
	p.Draw(Item{Path: g.Path{g.Polyline(box.Min, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: InkTableLine})
}
