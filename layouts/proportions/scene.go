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
	Name    string // of the element, for messages; or empty
	Path    geometry.Path
	Fill    string // "#rrggbb"; empty: not filled
	EvenOdd bool   // the rule of the filling; else non-zero
	Stroke  string // "#rrggbb"; empty: no line along it
	Width   geometry.Length
}

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
	items   []Drawn
	areas   []filledOutline
	chords  []sceneChord
	bands   []int32 // where the chords that cross each level band begin in crossed; one more at the end
	crossed []int32 // chords, band by band
	low     float64
	height  float64 // of a band, inches
	page    float64 // larger extent of the drawing
	known   bool    // there are paints that tell parts apart
	bare    []Drawn // the outlines to measure: those of which something is seen
}

// filledOutline is an outline of what is filled, by its item.
type filledOutline struct {
	item int32
	box  geometry.Rect
}

type sceneChord struct {
	outline int32
	a, b    geometry.Point
}

// Bands of a scene, how finely its curves are cut, of an outline's larger extent, and
// what a scene may hold.
const (
	fewestBands    = 512
	mostBands      = 8192
	chordsOfBand   = 64
	sceneTolerance = 2e-5
	crowdTolerance = 4e-3 // of outlines that are small beside the page, where there are many
	manyOutlines   = 2000
	smallOutline   = 0.02 // of the page
	mostCrossings  = 3_000_000
	mostSceneChord = 600_000
)

// newScene indexes the painted items of a drawing.
//
// Errors: areas with more edges than can be told apart.
func newScene(list []Drawn) (*scene, error) {
	s := &scene{items: list, bare: list}
	all := outlines(list)
	if err := traceable(list); err != nil {
		return nil, err
	}
	box := all.Bounds()
	if !(box.Height() > 0) || math.IsInf(box.Height(), 0) {
		return s, nil
	}
	s.page = math.Max(box.Width(), box.Height())
	for i, d := range list {
		if d.Fill == "" {
			continue
		}
		for _, c := range d.Path {
			own := c.Bounds()
			extent := math.Max(own.Width(), own.Height())
			tolerance := sceneTolerance * extent
			if len(all) > manyOutlines && extent < smallOutline*s.page {
				tolerance = crowdTolerance * extent
			}
			pts := c.Flattened(tolerance)
			if len(s.chords)+len(pts) > mostSceneChord {
				return nil, crowded(d)
			}
			for k, a := range pts { // an open outline is filled as if it were closed
				s.chords = append(s.chords, sceneChord{int32(len(s.areas)), a, pts[(k+1)%len(pts)]})
			}
			s.areas = append(s.areas, filledOutline{int32(i), own.Grown(2 * tolerance)})
		}
	}
	if err := s.index(box); err != nil {
		return nil, err
	}
	s.known = s.tells()
	s.bare = s.seen()
	return s, nil
}

func crowded(d Drawn) error {
	return fmt.Errorf("%sthe edges of filled areas lie too thick to be told apart: simplify them, or send the insignia alone", named(d))
}

func named(d Drawn) string {
	if d.Name == "" {
		return ""
	}
	return d.Name + ": "
}

// What is cut into edges and arcs: segments, and the length of the outlines, in extents of
// all that is drawn, and of one in its own. What a check costs grows with the length: each
// step of it is held against each form that the drawing may be of.
const (
	mostTraced = 60_000
	mostLength = 500
)

// mostLarge bounds the outlines that are largeShare of all that is drawn and more.
const (
	mostLarge  = 1000
	largeShare = 0.2
)

// traceable tells of outlines with too many points to be measured.
func traceable(list []Drawn) error {
	type outline struct {
		contour  geometry.Contour
		extent   float64
		segments int
		item     int
	}
	var all []outline
	for i, d := range list {
		for _, c := range d.Path {
			all = append(all, outline{c, extentOf(c), len(c.Segments), i})
		}
	}
	slices.SortStableFunc(all, func(a, b outline) int { return cmp.Compare(b.extent, a.extent) })
	large := 0
	box := outlines(list).Bounds()
	page := math.Max(box.Width(), box.Height())
	for _, o := range all {
		if o.extent > largeShare*page {
			large++
		}
	}
	if large > mostLarge {
		return fmt.Errorf("%sit is one of %d outlines that are as large as a figure; more than %d are not measured: send the insignia alone", named(list[all[0].item]), large, mostLarge)
	}
	sum, most := 0, outline{}
	for _, o := range all[:min(len(all), mostContours)] {
		if sum += o.segments; o.segments > most.segments {
			most = o
		}
	}
	if sum > mostTraced {
		return fmt.Errorf("%sits outlines have %d points, one of them %d; more than %d are not measured: simplify them, or send the insignia alone", named(list[most.item]), sum, most.segments, mostTraced)
	}
	length, longest := 0.0, 0.0
	for _, o := range all[:min(len(all), mostContours)] {
		own := o.contour.Length()
		if length += own; own > longest {
			longest, most = own, o
		}
		if length > mostLength*page || own > mostLength*o.extent {
			return fmt.Errorf("%sits lines lie too thick to be told apart, with others more than %d times as long as the drawing is large: leave out scribbles and hatching, or send the insignia alone", named(list[most.item]), mostLength)
		}
	}
	return nil
}

// index puts the chords into bands.
func (s *scene) index(box geometry.Rect) error {
	n := min(max(len(s.chords)/chordsOfBand, fewestBands), mostBands)
	s.low, s.height = box.Min.Y, box.Height()/float64(n)
	s.bands = make([]int32, n+1)
	all := 0
	for _, c := range s.chords {
		from, to := s.span(c)
		if all += to - from + 1; all > mostCrossings {
			return crowded(s.items[s.areas[c.outline].item])
		}
		for k := from; k <= to; k++ {
			s.bands[k+1]++
		}
	}
	for k := range n {
		s.bands[k+1] += s.bands[k]
	}
	s.crossed = make([]int32, all)
	next := slices.Clone(s.bands)
	for i, c := range s.chords {
		for k, to := s.span(c); k <= to; k++ {
			s.crossed[next[k]] = int32(i)
			next[k]++
		}
	}
	return nil
}

// span returns the first and the last band that a chord crosses.
func (s *scene) span(c sceneChord) (from, to int) {
	return s.band(math.Min(c.a.Y, c.b.Y)), s.band(math.Max(c.a.Y, c.b.Y))
}

func (s *scene) band(y float64) int {
	return min(max(int((y-s.low)/s.height), 0), len(s.bands)-2)
}

// tells tells whether the fills are paints: more than one, or one that is no
// black, grey or white, which is what programs fill with where nothing was chosen.
func (s *scene) tells() bool {
	one := ""
	for _, d := range s.items {
		switch {
		case d.Fill == "" || d.Fill == one:
		case one != "":
			return true
		default:
			one = d.Fill
		}
	}
	return one != "" && !neutral(one)
}

// at returns the fill that shows at q; empty where there is none.
func (s *scene) at(q geometry.Point) string {
	if s.bands == nil || q.Y < s.low || q.Y > s.low+float64(s.height*float64(len(s.bands)-1)) {
		return ""
	}
	type turns struct {
		item  int32
		wound int
	}
	var list [8]turns
	wound := list[:0]
	n := s.band(q.Y)
	for _, i := range s.crossed[s.bands[n]:s.bands[n+1]] {
		c := &s.chords[i]
		if (c.a.Y > q.Y) == (c.b.Y > q.Y) || !s.areas[c.outline].box.Contains(q) || !geometry.RayCrosses(q, c.a, c.b) {
			continue
		}
		item := s.areas[c.outline].item
		k := slices.IndexFunc(wound, func(t turns) bool { return t.item == item })
		if k < 0 {
			wound, k = append(wound, turns{item: item}), len(wound)
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

// seen returns the outlines of which something is seen: all, where no paints tell. A line
// along the outline of what is filled is that outline once more.
func (s *scene) seen() []Drawn {
	filled := map[string]bool{}
	key := func(c geometry.Contour) string {
		b := c.Bounds()
		return fmt.Sprintf("%.5g %.5g %.5g %.5g %d", b.Min.X, b.Min.Y, b.Max.X, b.Max.Y, len(c.Segments))
	}
	for _, d := range s.items {
		for _, c := range d.Path {
			if s.known && d.Fill != "" {
				filled[key(c)] = true
			}
		}
	}
	least := s.leastSeen()
	if least == 0 && !s.known {
		return s.items
	}
	var out []Drawn
	for _, d := range s.items {
		var seen geometry.Path
		for _, c := range d.Path {
			if extentOf(c) < least {
				continue
			}
			if !s.known || d.Fill == "" && !filled[key(c)] || d.Fill != "" && s.sees(c) {
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

// leastSeen is the extent below which outlines are too small beside the others to be
// an insignia's: 0 where there are not so many.
func (s *scene) leastSeen() float64 {
	var all []float64
	for _, d := range s.items {
		for _, c := range d.Path {
			all = append(all, extentOf(c))
		}
	}
	if len(all) <= manyOutlines {
		return 0
	}
	slices.Sort(all)
	return all[len(all)-manyOutlines]
}

func extentOf(c geometry.Contour) float64 {
	b := c.Bounds()
	return math.Max(b.Width(), b.Height())
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
	extent := math.Max(box.Width(), box.Height())
	off := besideShare * extent
	if len(s.areas) > manyOutlines && extent < smallOutline*s.page {
		off = 3 * crowdTolerance * extent
	}
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
