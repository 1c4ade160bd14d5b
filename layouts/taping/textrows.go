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
}

// sameRow is how far the lines of two texts may lie apart to be one, in inches.
const sameRow = 1.0 / 8

// TextRows returns the rows of two texts and more.
func TextRows(tilings []masks.Tiling) []TextRow {
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
			out = append(out, TextRow{[]string{tilings[i].Laid.ID()}, p.On, p.Side, plane, at})
		}
	}
	rows := out[:0]
	for _, r := range out {
		if len(r.Markings) > 1 {
			rows = append(rows, r)
		}
	}
	return rows
}
