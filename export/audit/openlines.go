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
	var runs [][]g.Point
	var all g.Path
	for _, l := range d.Layers {
		all = append(all, l.Path()...)
	}
	box := all.Bounds()
	meets := gapMeets * math.Max(box.Width(), box.Height())
	for _, c := range all {
		if c.Closed() || len(c.Segments) == 0 {
			continue
		}
		b := c.Bounds()
		if pts := c.Flattened(2e-5 * math.Max(b.Width(), b.Height())); len(pts) > 1 {
			runs = append(runs, pts)
		}
		if len(runs) > mostPieces {
			break
		}
	}
	used := make([]bool, len(runs))
	for i := range runs {
		if used[i] {
			continue
		}
		used[i] = true
		line := runs[i]
		for grown := true; grown; {
			grown = false
			for j := range runs {
				if used[j] {
					continue
				}
				next := runs[j]
				end, start := line[len(line)-1], line[0]
				switch {
				case end.Dist(next[0]) <= meets:
					line = append(append([]g.Point{}, line...), next[1:]...)
				case end.Dist(next[len(next)-1]) <= meets:
					line = append(append([]g.Point{}, line...), reversed(next)[1:]...)
				case start.Dist(next[len(next)-1]) <= meets:
					line = append(append([]g.Point{}, next...), line[1:]...)
				case start.Dist(next[0]) <= meets:
					line = append(reversed(next), line[1:]...)
				default:
					continue
				}
				used[j], grown = true, true
			}
		}
		gap := line[0].Dist(line[len(line)-1])
		if gap <= meets && len(line) > 3 {
			joined = append(joined, g.Polygon(line[:len(line)-1]...))
			continue
		}
		o := openLine{points: line, gap: gap, nodes: len(line)}
		for k := 1; k < len(line); k++ {
			o.length += line[k-1].Dist(line[k])
		}
		open = append(open, o)
	}
	return open, joined
}

func reversed(pts []g.Point) []g.Point {
	out := make([]g.Point, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = p
	}
	return out
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
