package audit

import (
	"math"

	"maskloft/export/drawing"
	g "maskloft/geometry"
)

// openLine is an outline of a drawing that does not come back to its start, its ends
// joined where they meet.
type openLine struct {
	points []g.Point
	length float64
	gap    float64 // between its ends
	nodes  int
}

// gapMeets is how near two ends must be, of the drawing's extent, to be one.
const gapMeets = 1e-6

// openLines returns the open outlines of a drawing, those that meet end to end joined,
// and apart from them those that close when they are joined: cut in pieces, they are
// whole.
func openLines(d drawing.Drawing) (open []openLine, joined g.Path) {
	var lines, all g.Path
	for _, l := range d.Layers {
		all = append(all, l.Path()...)
	}
	for _, c := range all {
		if !c.Closed() && len(c.Segments) > 0 {
			lines = append(lines, c)
		}
	}
	box := all.Bounds()
	meets := gapMeets * math.Max(box.Width(), box.Height())
	for _, c := range g.Chained(lines, meets) {
		b := c.Bounds()
		pts := c.Flattened(2e-5 * math.Max(b.Width(), b.Height()))
		if len(pts) < 2 {
			continue
		}
		gap := c.Start.Dist(c.End())
		if gap <= meets && len(pts) > 3 {
			joined = append(joined, c)
			continue
		}
		if len(open) > mostPieces {
			break
		}
		o := openLine{points: pts, gap: gap, nodes: len(c.Segments) + 1}
		for k := 1; k < len(pts); k++ {
			o.length += pts[k-1].Dist(pts[k])
		}
		open = append(open, o)
	}
	return open, joined
}

// along returns places along an open line.
func (o openLine) along(n int) []g.Point {
	var out []g.Point
	step := o.length / float64(n)
	since := step
	for i := 1; i < len(o.points); i++ {
		a, b := o.points[i-1], o.points[i]
		for length := a.Dist(b); since+length >= step; length = a.Dist(b) {
			a = a.Lerp(b, (step-since)/length)
			out, since = append(out, a), 0
		}
		since += a.Dist(b)
	}
	return out
}
