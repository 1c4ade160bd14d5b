package proportions

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"maskloft/geometry"
)

// Drawn is one painted outline of a drawing, in inches, y up.
type Drawn struct {
	Path    geometry.Path
	Fill    string // "#rrggbb"; empty: not filled
	EvenOdd bool   // the rule of the filling; else non-zero
	Stroke  string // "#rrggbb"; empty: no line along it
	Width   geometry.Length
}

// OutlinesOf returns outlines of which no paint is known.
func OutlinesOf(p geometry.Path) []Drawn { return []Drawn{{Path: p}} }

// outlines returns all contours.
func outlines(list []Drawn) geometry.Path {
	var out geometry.Path
	for _, d := range list {
		out = append(out, d.Path...)
	}
	return out
}

// scene is a drawing as it is seen: what is painted later covers what was before.
type scene struct {
	items  []Drawn
	bands  [][]bandChord // chords that cross each level band
	low    float64
	height float64 // of a band, inches
	known  bool    // there are paints that tell parts apart
	bare   []Drawn // the outlines to measure: those of which something is seen
}

type bandChord struct {
	item int32
	a, b geometry.Point
}

// Bands of a scene, and how finely its curves are cut, of its larger extent.
const (
	sceneBands     = 512
	sceneTolerance = 2e-5
)

// newScene indexes the painted items of a drawing.
func newScene(list []Drawn) *scene {
	s := &scene{items: list, bare: list}
	box := outlines(list).Bounds()
	if !(box.Height() > 0) || math.IsInf(box.Height(), 0) {
		return s
	}
	s.low, s.height = box.Min.Y, box.Height()/sceneBands
	s.bands = make([][]bandChord, sceneBands)
	tolerance := sceneTolerance * math.Max(box.Width(), box.Height())
	for i, d := range list {
		if d.Fill == "" {
			continue
		}
		for _, c := range d.Path {
			own := c.Bounds()
			pts := c.Flattened(math.Min(tolerance, sceneTolerance*math.Max(own.Width(), own.Height())))
			for k, a := range pts { // an open outline is filled as if it were closed
				b := pts[(k+1)%len(pts)]
				from, to := s.band(math.Min(a.Y, b.Y)), s.band(math.Max(a.Y, b.Y))
				for n := from; n <= to; n++ {
					s.bands[n] = append(s.bands[n], bandChord{int32(i), a, b})
				}
			}
		}
	}
	if s.known = s.tells(); s.known {
		s.bare = s.seen()
	}
	return s
}

func (s *scene) band(y float64) int {
	return min(max(int((y-s.low)/s.height), 0), sceneBands-1)
}

// tells tells whether the fills are paints: more than one, or one that is no
// black, grey or white, which is what programs fill with where nothing was chosen.
func (s *scene) tells() bool {
	var seen []string
	for _, d := range s.items {
		if d.Fill != "" && !slices.Contains(seen, d.Fill) {
			seen = append(seen, d.Fill)
		}
	}
	return len(seen) > 1 || len(seen) == 1 && !neutral(seen[0])
}

// at returns the fill that shows at q; empty where there is none.
func (s *scene) at(q geometry.Point) string {
	if s.bands == nil || q.Y < s.low || q.Y > s.low+s.height*sceneBands {
		return ""
	}
	type turns struct {
		item  int32
		wound int
	}
	var list [8]turns
	wound := list[:0]
	for _, c := range s.bands[s.band(q.Y)] {
		if !geometry.RayCrosses(q, c.a, c.b) {
			continue
		}
		k := slices.IndexFunc(wound, func(t turns) bool { return t.item == c.item })
		if k < 0 {
			wound, k = append(wound, turns{item: c.item}), len(wound)
		}
		if c.b.Y > c.a.Y {
			wound[k].wound++
		} else {
			wound[k].wound--
		}
	}
	top := int32(-1)
	for _, t := range wound {
		if odd := t.wound%2 != 0; (odd || t.wound != 0 && !s.items[t.item].EvenOdd) && t.item > top {
			top = t.item
		}
	}
	if top < 0 {
		return ""
	}
	return s.items[top].Fill
}

// seen returns the outlines of which something is seen. A line along the outline of
// what is filled is that outline once more.
func (s *scene) seen() []Drawn {
	filled := map[string]bool{}
	key := func(c geometry.Contour) string {
		b := c.Bounds()
		return fmt.Sprintf("%.5g %.5g %.5g %.5g %d", b.Min.X, b.Min.Y, b.Max.X, b.Max.Y, len(c.Segments))
	}
	for _, d := range s.items {
		for _, c := range d.Path {
			if d.Fill != "" {
				filled[key(c)] = true
			}
		}
	}
	var out []Drawn
	for _, d := range s.items {
		var seen geometry.Path
		for _, c := range d.Path {
			if d.Fill == "" && !filled[key(c)] || d.Fill != "" && s.sees(c) {
				seen = append(seen, c)
			}
		}
		d.Path = seen
		if len(seen) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// Points along an outline where it is looked at, and what is needed of them.
const (
	seenPoints  = 48
	seenLeast   = 2
	besideShare = 1e-4 // of the outline's extent: how far beside it paints are compared
)

// sees tells whether paints differ on the two sides of an outline, anywhere.
func (s *scene) sees(c geometry.Contour) bool {
	box := c.Bounds()
	off := besideShare * math.Max(box.Width(), box.Height())
	seen := 0
	for i := range c.Segments {
		n := max(1, seenPoints/len(c.Segments))
		for k := range n {
			t := (float64(k) + 0.5) / float64(n)
			v := c.Velocity(i, t).Unit().Perp().Scale(off)
			if q := c.At(i, t); s.at(q.Add(v)) != s.at(q.Add(v.Scale(-1))) {
				if seen++; seen >= seenLeast || len(c.Segments) == 1 {
					return true
				}
			}
		}
	}
	return false
}

// pens returns the widths of the lines of items that are not filled, the widest
// first.
func pens(list []Drawn) []geometry.Length {
	var out []geometry.Length
	for _, d := range list {
		if d.Fill == "" && d.Stroke != "" && d.Width > 0 && !slices.Contains(out, d.Width) {
			out = append(out, d.Width)
		}
	}
	slices.SortFunc(out, func(a, b geometry.Length) int { return cmp.Compare(b, a) })
	return out
}
