package geometry

import "math"

// Chords are the outlines of a region as chords, made ready to be asked many times
// whether they hold a point and how far it is from them: an answer costs a look at the
// boxes of runs of chords, and at the chords of a few.
type Chords struct{ runs []chordRun }

// chordRun is neighbouring points of one outline, each joined to the next.
type chordRun struct {
	points []Point
	box    Rect
}

// runLength is how many chords share a box.
const runLength = 16

// ChordsOf returns the outlines of p as chords within tolerance.
func ChordsOf(p Path, tolerance float64) *Chords {
	var out Chords
	for _, c := range p {
		ring := c.Flattened(tolerance)
		if len(ring) == 0 {
			ring = []Point{c.Start}
		}
		ring = append(ring, ring[0])
		for len(ring) > 1 {
			n := min(runLength, len(ring)-1)
			out.runs = append(out.runs, chordRun{ring[:n+1], BoundsOf(ring[:n+1]...)})
			ring = ring[n:]
		}
	}
	return &out
}

// Contains is [Path.Contains].
func (c *Chords) Contains(q Point) bool {
	in := false
	for _, r := range c.runs {
		switch {
		case q.Y < r.box.Min.Y || q.Y > r.box.Max.Y || q.X > r.box.Max.X:
		case q.X < r.box.Min.X-SnapTolerance: // all that lies across is crossed
			if (r.points[0].Y > q.Y) != (r.points[len(r.points)-1].Y > q.Y) {
				in = !in
			}
		default:
			for i, b := range r.points[1:] {
				if RayCrosses(q, b, r.points[i]) {
					in = !in
				}
			}
		}
	}
	return in
}

// Distance is [Path.Distance] of closed outlines.
func (c *Chords) Distance(q Point) float64 {
	best := math.Inf(1)
	for _, r := range c.runs {
		if further(boxGap(q, r.box), best) {
			continue
		}
		for i, b := range r.points[1:] {
			best = LeastDistance(best, q, r.points[i], b)
		}
	}
	return best
}

// Near tells whether q lies within reach of an outline, as [Chords.Distance] has it.
func (c *Chords) Near(q Point, reach float64) bool {
	for _, r := range c.runs {
		if !r.box.Grown(2 * reach).Contains(q) {
			continue
		}
		for i, b := range r.points[1:] {
			if SegmentDistance(q, r.points[i], b) <= reach {
				return true
			}
		}
	}
	return false
}

// Bounds returns the bounds of all chords; zero where there are none.
func (c *Chords) Bounds() Rect {
	if len(c.runs) == 0 {
		return Rect{}
	}
	out := c.runs[0].box
	for _, r := range c.runs[1:] {
		out = out.Union(r.box)
	}
	return out
}

// boxGap returns how far q lies from a box each way; zero within.
func boxGap(q Point, r Rect) Vec {
	return Vec{max(0, r.Min.X-q.X, q.X-r.Max.X), max(0, r.Min.Y-q.Y, q.Y-r.Max.Y)}
}
