package skin

import (
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
