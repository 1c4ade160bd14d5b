package masks

import (
	"fmt"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// turnsOnto tells whether marks, turned end for end, come to lie on each other within
// the radius of a mark: film laid upside down would then seem to fit. A figure that
// turns onto itself does so about its centroid.
func turnsOnto(marks []g.Point) bool {
	if len(marks) == 0 {
		return false
	}
	var sum g.Vec
	for _, p := range marks {
		sum = sum.Add(g.Vec(p))
	}
	middle := sum.Scale(1 / float64(len(marks)))
	for _, p := range marks {
		turned, met := g.Point(middle.Scale(2).Sub(g.Vec(p))), false
		for _, q := range marks {
			met = met || turned.Dist(q) < MarkRadius
		}
		if !met {
			return false
		}
	}
	return true
}

// staggered tells whether marks stand further in along the n-th line between rows, or
// between columns, of tiles: every second one, the edge of the field being the zeroth.
func staggered(n int) bool { return n%2 == 1 }

// staggeredSeam tells whether they do along the seam between two cells.
func staggeredSeam(a, b Cell) bool {
	if a.Row == b.Row {
		return staggered(min(a.Column, b.Column))
	}
	return staggered(min(a.Row, b.Row))
}

// turnFinding warns of a tile whose marks do not show that it is turned end for end.
func (t *Tiling) turnFinding(film, cell int) layouts.Finding {
	return layouts.Finding{
		Level: layouts.Warn, Rule: "registration-turned", Marking: t.Laid.ID(), Where: t.Laid.Placement.Anchor,
		Message: fmt.Sprintf("%s: %s fits its registration marks upside down too, and has no room for one that would show it: mind the arrow UP",
			t.Laid.ID(), t.tileName(film, cell)),
		Hint: "widen film: field:", Expected: "marks that a tile turned end for end does not meet", Source: "common practice, no source",
	}
}
