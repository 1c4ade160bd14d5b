package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// TextRow is texts on one side of one surface whose level lines are one line: one string
// stretched along it serves them all.
type TextRow struct {
	Markings []string // in the order of reading
	On       string
	Side     g.Side
	Plane    string // WL, or FS on a wing
	At       float64
	Ends     [2]RowEnd // marks that set the string: of the first text and of the last
}

// RowEnd is a mark that a string is set by.
type RowEnd struct {
	Marking, Name string   // Name: as it stands on the film; empty: no mark is found
	Above         g.Length // how far the mark lies above the string, as the text reads
}

// sameRow is how far the lines of two texts may lie apart to be one, in inches.
const sameRow = 1.0 / 8

// TextRows returns the rows of two texts and more. The placings are those of the tilings.
func TextRows(tilings []masks.Tiling, placings []Placing) []TextRow {
	var out []TextRow
	for i := range tilings {
		p := tilings[i].Laid.Placement
		if len(p.Figure.Characters) == 0 || p.Drawn != nil {
			continue
		}
		plane, at := "WL", p.Anchor.WL.Inches()
		if p.Face() != layouts.NoFace {
			plane, at = "FS", p.Anchor.FS.Inches()
		}
		found := false
		for k := range out {
			r := &out[k]
			if r.On == p.On && r.Side == p.Side && math.Abs(r.At-at) <= sameRow {
				r.Markings, found = append(r.Markings, tilings[i].Laid.ID()), true
			}
		}
		if !found {
			out = append(out, TextRow{Markings: []string{tilings[i].Laid.ID()}, On: p.On, Side: p.Side, Plane: plane, At: at})
		}
	}
	rows := out[:0]
	for _, r := range out {
		if len(r.Markings) > 1 {
			r.Ends = [2]RowEnd{rowEnd(placings, r.Markings[0], false), rowEnd(placings, r.Markings[len(r.Markings)-1], true)}
			rows = append(rows, r)
		}
	}
	return rows
}

// rowEnd returns the mark of a text that sets the string at one end of its row: of the
// marks that set its film the farthest out.
func rowEnd(placings []Placing, id string, last bool) RowEnd {
	out, far := RowEnd{Marking: id}, 0.0
	for _, p := range placings {
		for _, q := range p.Points {
			if _, found := q.Way(); p.Marking != id || q.Use != Sets || !found {
				continue
			}
			at := q.Point.Mark.Film
			if out.Name == "" || (at.X > far) == last {
				out.Name, out.Above, far = q.Name, g.Length(at.Y), at.X
			}
		}
	}
	return out
}
