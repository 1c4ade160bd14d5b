package audit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"maskloft/export/drawing"

	g "maskloft/geometry"
)

// Distances of the hygiene of an outline, in inches.
const (
	// hygieneChords bounds the chords that stand for curves: a fifth of
	// FlattenTolerance, as in the plane booleans.
	hygieneChords = g.FlattenTolerance / 5

	// hygieneDepth is how deep one outline may reach over another and still
	// count as touching it: where a point lies on a curve, the curve's chord
	// passes it by up to hygieneChords. It is a fifth of the step of a cutter.
	hygieneDepth = g.FlattenTolerance

	// hygieneOverlap is the length over which two straight pieces of outline
	// may lie on one another before the blade is said to cut the line twice.
	hygieneOverlap = 0.001
)

// Hygiene tells whether the outline is fit to be cut: every contour closed, no
// segment of no length, no contour there twice, no line cut twice, no crossing
// of a contour with itself or another, and the same area by the even-odd rule,
// by the non-zero rule and by the direction of the contours, so that every
// reader takes the same side for film. Contours may touch. The error names the
// contour, the place in inches, and what is wrong. The cost grows with the
// chords times those that overlap in x.
func Hygiene(p g.Path) error {
	chords, err := uncrossed(p)
	if err != nil {
		return err
	}
	evenOdd, nonZero := chordAreas(chords)
	signed, length := 0.0, 0.0
	for _, c := range chords {
		signed += float64(float64(c.a.X*c.b.Y)-float64(c.a.Y*c.b.X)) / 2
		length += c.a.Dist(c.b)
	}
	// Contours that touch may reach hygieneChords over one another, over a small
	// part of their length; 1e-6 in of width over all of it bounds that.
	slack := 1e-6 * length
	switch {
	case math.Abs(evenOdd-nonZero) > slack:
		return fmt.Errorf("the area is %.6f in2 by the even-odd rule and %.6f in2 by the non-zero rule: contours overlap or run the wrong way: unite them and nest them again", evenOdd, nonZero)
	case math.Abs(evenOdd-signed) > slack:
		return fmt.Errorf("the area is %.6f in2 by the even-odd rule and %.6f in2 by the direction of the contours: one runs the wrong way or crosses itself at a node: nest them again", evenOdd, signed)
	}
	return nil
}

// Uncrossed tells whether a knife can follow the outlines, whatever their directions: as
// [Hygiene], without its areas.
func Uncrossed(p g.Path) error {
	_, err := uncrossed(p)
	return err
}

func uncrossed(p g.Path) ([]chord, error) {
	chords, err := hygieneOutline(p)
	if err == nil {
		err = hygieneTwice(p)
	}
	if err == nil {
		err = hygieneCrossings(chords)
	}
	return chords, err
}

// chord is a straight piece of contour; line tells that it is a whole segment
// of the outline and not a piece of a curve.
type chord struct {
	a, b    g.Point
	contour int
	line    bool
}

func (c chord) minX() float64 { return math.Min(c.a.X, c.b.X) }
func (c chord) maxX() float64 { return math.Max(c.a.X, c.b.X) }

// hygieneOutline checks each contour by itself and returns the chords of all.
func hygieneOutline(p g.Path) ([]chord, error) {
	var out []chord
	for i, c := range p {
		if !drawing.Finite(c) {
			return nil, fmt.Errorf("contour %d: a coordinate is not a number below %g in", i+1, g.Farthest)
		}
		if !c.Closed() {
			return nil, fmt.Errorf("contour %d is open: it ends at %s, %.3g in from its start: close it", i+1, inInches(c.End()), c.End().Dist(c.Start))
		}
		for k, s := range c.Segments {
			a := c.From(k)
			reach := a.Dist(s.End)
			if s.Kind == g.Cubic {
				reach = math.Max(reach, math.Max(a.Dist(s.C1), a.Dist(s.C2)))
			}
			if reach < g.SnapTolerance {
				return nil, fmt.Errorf("contour %d, segment %d at %s: %.3g in long, below the limit of %g in: join its ends", i+1, k+1, inInches(a), reach, g.SnapTolerance)
			}
		}
		samples := c.Sampled(hygieneChords)
		for k, s := range samples {
			next := samples[(k+1)%len(samples)]
			out = append(out, chord{s.Point, next.Point, i, c.Segments[s.Segment].Kind == g.Line})
		}
	}
	return out, nil
}

// hygieneTwice finds a contour that lies on another.
func hygieneTwice(p g.Path) error {
	bounds := make([]g.Rect, len(p))
	for i, c := range p {
		bounds[i] = c.Bounds()
	}
	for i := range p {
		for j := 0; j < i; j++ {
			a, b := bounds[i], bounds[j]
			if a.Min.Dist(b.Min) > hygieneDepth || a.Max.Dist(b.Max) > hygieneDepth {
				continue
			}
			if liesOn(p[i], p[j]) && liesOn(p[j], p[i]) {
				return fmt.Errorf("contour %d at %s is contour %d again: remove one", i+1, inInches(p[i].Start), j+1)
			}
		}
	}
	return nil
}

// liesOn tells whether every point of c is within hygieneDepth of d.
func liesOn(c, d g.Contour) bool {
	for _, q := range c.Flattened(hygieneDepth) {
		if (g.Path{d}).Distance(q, hygieneChords) > hygieneDepth {
			return false
		}
	}
	return true
}

// hygieneCrossings finds two chords that cross or lie on one another.
func hygieneCrossings(chords []chord) error {
	order := append([]chord(nil), chords...)
	slices.SortStableFunc(order, func(c, d chord) int { return cmp.Compare(c.minX(), d.minX()) })
	for i, c := range order {
		lo, hi, end := math.Min(c.a.Y, c.b.Y), math.Max(c.a.Y, c.b.Y), c.maxX()
		for _, d := range order[i+1:] {
			if d.minX() > end {
				break
			}
			if (d.a.Y < lo && d.b.Y < lo) || (d.a.Y > hi && d.b.Y > hi) {
				continue
			}
			what, at := meeting(c, d)
			if what == "" {
				continue
			}
			if c.contour == d.contour {
				return fmt.Errorf("contour %d %s itself at %s: take the overlap away", c.contour+1, what, inInches(at))
			}
			first, second := min(c.contour, d.contour)+1, max(c.contour, d.contour)+1
			return fmt.Errorf("contour %d %s contour %d at %s: unite the two, or take one out of the other", first, what, second, inInches(at))
		}
	}
	return nil
}

// meeting says how two chords meet: "crosses", "runs along", or not at all.
func meeting(c, d chord) (string, g.Point) {
	v, w := c.b.Sub(c.a), d.b.Sub(d.a)
	lv, lw := v.Norm(), w.Norm()
	if lv == 0 || lw == 0 {
		return "", g.Point{}
	}
	// Signed distances of the ends of each from the line of the other.
	da, db := v.Cross(d.a.Sub(c.a))/lv, v.Cross(d.b.Sub(c.a))/lv
	ca, cb := w.Cross(c.a.Sub(d.a))/lw, w.Cross(c.b.Sub(d.a))/lw
	if c.line && d.line && math.Abs(da) < g.SnapTolerance && math.Abs(db) < g.SnapTolerance {
		u := v.Scale(1 / lv)
		s, t := u.Dot(d.a.Sub(c.a)), u.Dot(d.b.Sub(c.a))
		from, to := math.Max(0, math.Min(s, t)), math.Min(lv, math.Max(s, t))
		if to-from > hygieneOverlap {
			return "runs along", c.a.Add(u.Scale((from + to) / 2))
		}
		return "", g.Point{}
	}
	apart := func(x, y float64) bool {
		return x*y < 0 && math.Min(math.Abs(x), math.Abs(y)) > hygieneDepth
	}
	if apart(da, db) && apart(ca, cb) {
		return "crosses", d.a.Lerp(d.b, da/(da-db))
	}
	return "", g.Point{}
}

func inInches(p g.Point) string {
	return "(" + g.FormatNumber(p.X, 4) + ", " + g.FormatNumber(p.Y, 4) + ") in"
}
