package export

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// points prints the points of a marking in working order: a row each, readings large,
// a box under each for what was measured.
func (w *tapeSheets) points(points []masks.Checkpoint) {
	const high = 0.62
	heads := []string{"no.", "point", "first tape", "second tape", "check", "crossing, within"}
	shares := []float64{0.42, 1.5, 1.42, 1.42, 1.42, 1.2}
	total := 0.0
	for _, s := range shares {
		total += s
	}
	edges := []float64{w.left()}
	for _, s := range shares {
		edges = append(edges, edges[len(edges)-1]+w.width()*s/total)
	}
	head := func() {
		row := w.block(0.26)
		w.draw(drawRect(row, inkTableHead))
		for i, h := range heads {
			w.draw(setStrong.at(h, edges[i]+0.05, row.Min.Y+0.09, 0))
		}
	}
	w.need(high + 0.3)
	head()
	for _, c := range points {
		if w.room() < high {
			w.turn()
			head()
		}
		row := w.block(high)
		w.draw(setNumber.at(fmt.Sprint(c.Step), edges[0]+0.05, row.Max.Y-0.26, 0))
		label := g.Rect{Min: g.Point{X: edges[1] + 0.03, Y: row.Min.Y}, Max: g.Point{X: edges[2] - 0.06, Y: row.Max.Y - 0.05}}
		items, _ := setStrong.in(label, c.Label, 0)
		w.draw(items...)
		if len(c.Tapes) == 2 {
			w.tapeCell(c.Tapes[0], edges[2], edges[3], row)
			w.tapeCell(c.Tapes[1], edges[3], edges[4], row)
			major, minor := c.Error.Ellipse.Within95()
			w.draw(setSoft.at(fmt.Sprintf("%.0f deg, %s", c.Crossing, c.Grade), edges[5]+0.05, row.Max.Y-0.2, 0))
			w.draw(setSoft.at(fmt.Sprintf("%s x %s", decimals(w.list.Tape, major), decimals(w.list.Tape, minor)), edges[5]+0.05, row.Max.Y-0.38, 0))
		} else {
			w.draw(setBody.at("no two tapes: see other ways", edges[2]+0.05, row.Max.Y-0.26, 0))
		}
		if c.Closure != nil {
			w.tapeCell(*c.Closure, edges[4], edges[5], row)
		} else if len(c.Tapes) == 2 {
			w.draw(setSoft.at("no third tape", edges[4]+0.05, row.Max.Y-0.26, 0))
		}
		w.draw(Item{Path: g.Path{g.Polyline(row.Min, g.Point{X: row.Max.X, Y: row.Min.Y})}, Ink: inkTableLine})
	}
}

// tapeCell prints one tape: the reading large, from where and how it is held, and a
// box for what was measured.
func (w *tapeSheets) tapeCell(t masks.Taping, x0, x1 float64, row g.Rect) {
	w.draw(setNumber.at(Reading(w.list.Tape, t.Length), x0+0.05, row.Max.Y-0.22, 0))
	w.draw(setSoft.at(fmt.Sprintf("%s %s", t.From.ID, strings.ToUpper(string(t.Kind))), x0+0.05, row.Max.Y-0.38, 0))
	w.draw(drawRect(g.Rect{Min: g.Point{X: x0 + 0.05, Y: row.Min.Y + 0.04}, Max: g.Point{X: x1 - 0.1, Y: row.Min.Y + 0.2}}, Ink{Stroke: "#8a979e", Width: 0.008}))
}
