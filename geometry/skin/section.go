package skin

import (
	"fmt"

	g "maskloft/geometry"
)

// SectionCurve is the outline of a cross-section, symmetrical about BL 0 and
// closed: [CircleSection], [EllipseSection], [SuperellipseSection],
// [RoundedRectangleSection], [SplineSection] or [PolylineSection].
//
// Its right half is cut into pieces at landmarks, crown first and keel last.
// Along a piece a point is named by the girth fraction: its length from the upper
// landmark over that of the piece. Sections of one body must have the same
// landmarks, which the skin joins from section to section.
type SectionCurve interface {
	half() (halfSection, error)
}

// halfSection is the right half of a section; names and smooth have one entry a
// landmark, one more than there are pieces.
type halfSection struct {
	pieces []girthPiece
	names  []string
	// smooth tells that neither the outline's curvature nor its length by girth
	// fraction jumps there, so that no grid line is needed.
	smooth []bool
}

// girthPiece is a piece of outline between two landmarks.
type girthPiece interface {
	// at returns the point (BL, WL) at girth fraction t and its derivative by t;
	// a little beyond 0 and 1 it continues smoothly.
	at(t float64) (g.Point, g.Vec)
	length() float64
}

// Perimeter returns the length once round a section, to about 1e-13 of itself.
//
// Errors: as for a section of [NewFairedSkin].
func Perimeter(c SectionCurve) (g.Length, error) {
	h, err := c.half()
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for _, p := range h.pieces {
		sum += p.length()
	}
	return g.Length(2 * sum), nil
}

// RadiusOfArc returns the radius of the circular arc that rises by rise over the
// middle of a chord: chord^2/(8 rise) + rise/2 (intersecting chords, Euclid III.35).
//
// Error: chord or rise is not above 0.
func RadiusOfArc(chord, rise g.Length) (g.Length, error) {
	c, h := chord.Inches(), rise.Inches()
	if !(c > 0) || !(h > 0) {
		return 0, fmt.Errorf("chord %v and rise %v must be above 0: a straight line has no radius", chord, rise)
	}
	return g.Length(c*c/(8*h) + h/2), nil
}
