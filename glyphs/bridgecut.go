package glyphs

import (
	"math"
	"sort"

	g "maskloft/geometry"
)

// features counts what paint and film have that is not narrower than a width, and
// what is: slivers. Shrunk by half the width and grown again, with mitres, a
// region is itself but for its slivers and the tips of its sharpest corners.
type features struct {
	pieces, thick int // pieces of paint; what is left of them when shrunk
	islands       int // of film
	wide          int // those left when the paint is grown
	slivers       int // of paint
	slits         int // of film
}

// measureFineness is the least feature over the tolerance with which it is looked
// for, of offsets and of the chords that curves are taken as.
const measureFineness = 20

// count counts pieces and islands.
func (f *features) count(paint g.Path) {
	f.islands = CountIslands(paint)
	f.pieces = len(paint) - f.islands
}

// measure counts all features of paint.
func (f *features) measure(paint g.Path, least g.Length) error {
	f.count(paint)
	var chords g.Path
	for _, c := range paint {
		chords = append(chords, g.Polygon(c.Flattened(float64(least)/measureFineness)...))
	}
	paint = chords
	half := least / 2 * (1 - 1e-3) // what is just as wide as asked may stay
	thin, err := g.Offset(paint, -half, g.MiterJoin, float64(least)/measureFineness)
	if err != nil {
		return err
	}
	f.thick = len(thin) - CountIslands(thin)
	grown, err := g.Offset(paint, half, g.MiterJoin, float64(least)/measureFineness)
	if err != nil {
		return err
	}
	f.wide = CountIslands(grown)
	opened, err := g.Offset(thin, half, g.MiterJoin, float64(least)/measureFineness)
	if err != nil {
		return err
	}
	closed, err := g.Offset(grown, -half, g.MiterJoin, float64(least)/measureFineness)
	if err != nil {
		return err
	}
	if f.slivers, err = slivers(paint, opened, least); err != nil {
		return err
	}
	f.slits, err = slivers(closed, paint, least)
	return err
}

// slivers counts the pieces of a that b lacks, but for tips: the point of a corner
// of 20 degrees has 1.07 of the least feature's square in it (derived), and for
// the seams that the tolerance of offsets leaves along curves.
func slivers(a, b g.Path, least g.Length) (int, error) {
	rest, err := g.Subtract(a, b)
	n := 0
	for _, c := range rest {
		if area := c.Area(); area > 1.07*float64(least*least) && 2*area/c.Length() > 4*float64(least)/measureFineness {
			n++
		}
	}
	return n, err
}

// attempt is what a cut makes of the paint, or why it will not do.
type attempt struct {
	paint   g.Path
	body    features
	bridges []Bridge
	ends    []g.Point // just beyond each bridge
	why     error
}

// cut lays bridges from an island in some directions, moved by shift from its
// middle, and looks whether what remains is wide enough.
func (h *holder) cut(s *island, dirs []int, shift float64) (attempt, error) {
	a := attempt{paint: h.paint}
	for _, d := range dirs {
		b, end, err := h.bridge(a.paint, s, d, shift)
		if err != nil {
			return a, err
		}
		if b.Across == nil {
			a.why = g.Errorf("a bridge %v wide does not cross one stroke %s", h.Width, directionNames[d])
			return a, nil
		}
		if a.paint, err = g.Subtract(a.paint, b.Across); err != nil {
			return a, err
		}
		a.bridges, a.ends = append(a.bridges, b), append(a.ends, end)
	}
	a.body.count(a.paint)
	joined := h.body.islands - a.body.islands
	switch {
	case joined < 1 && h.body.islands > 0 && !s.joined():
		a.why = g.Errorf("a bridge %v wide does not reach the field %s", h.Width, directionNames[dirs[0]])
	case a.body.pieces-a.body.islands != h.body.pieces-h.body.islands+len(dirs): // Euler: each bridge makes one piece, or opens one island
		a.why = g.Errorf("a bridge %v wide cuts off a piece of the stroke", h.Width)
	}
	if a.why != nil {
		return a, nil
	}
	if err := a.body.measure(a.paint, h.Least); err != nil {
		return a, err
	}
	vanished := max(0, h.body.islands-h.body.wide)
	switch {
	case a.body.thick-h.body.thick != a.body.pieces-h.body.pieces || a.body.slivers > h.body.slivers:
		a.why = g.Errorf("a bridge %v wide leaves paint narrower than %v", h.Width, h.Least)
	case h.body.wide-a.body.wide < joined-vanished || a.body.slits > h.body.slits:
		a.why = g.Errorf("a bridge %v wide leaves film narrower than %v", h.Width, h.Least)
	}
	return a, nil
}

var directionNames = [4]string{"upwards", "downwards", "to the right", "to the left"}

// joined tells whether a bridge holds the island already.
func (s *island) joined() bool { return s.open != [4]bool{} }

// bridge returns the piece of paint that a strip from an island crosses first in a
// direction, and a point just beyond it. There is none where that piece does not
// fill the strip from side to side, or the island lies beyond it again.
func (h *holder) bridge(paint g.Path, s *island, d int, shift float64) (Bridge, g.Point, error) {
	along := [4]g.Vec{up: {Y: 1}, down: {Y: -1}, right: {X: 1}, left: {X: -1}}[d]
	across := g.Vec{X: math.Abs(along.Y), Y: math.Abs(along.X)}
	from, ok := within(s.ring, s.middle.Add(across.Scale(shift)), along)
	if !ok {
		return Bridge{}, g.Point{}, nil
	}
	w, far := h.Width.Inches()/2, paint.Bounds()
	reachOut := far.Width() + far.Height()
	strip := g.BoundsOf(from.Add(across.Scale(w)), from.Add(across.Scale(-w)), from.Add(along.Scale(reachOut)).Add(across.Scale(w)))
	crossed, err := g.Intersect(paint, g.Path{g.Rectangle(strip)})
	if err != nil {
		return Bridge{}, g.Point{}, err
	}
	var piece g.Path
	first := math.Inf(1)
	for i := 0; i < len(crossed); { // an outer contour and its holes
		k := i + 1
		for k < len(crossed) && crossed[k].Area() < 0 {
			k++
		}
		if near, _ := reach(crossed[i], from, along); near < first {
			piece, first = crossed[i:k:k], near
		}
		i = k
	}
	if piece == nil {
		return Bridge{}, g.Point{}, nil
	}
	_, end := reach(piece[0], from, along)
	beyond := from.Add(along.Scale(end + 0.001))
	b := piece.Bounds()
	width := b.Max.Sub(b.Min).Dot(across)
	if width < 2*w-g.SnapTolerance || s.ring.Contains(beyond, g.FlattenTolerance) {
		return Bridge{}, g.Point{}, nil
	}
	return Bridge{Across: piece, Moved: g.Length(shift), Length: g.Length(lengthAlong(piece, from, along))}, beyond, nil
}

// within returns the middle of the longest stretch of a line that lies within a
// region.
func within(p g.Path, on g.Point, along g.Vec) (g.Point, bool) {
	ts := crossings(p, on, along)
	best, at := 0.0, 0.0
	for i := 0; i+1 < len(ts); i += 2 {
		if d := ts[i+1] - ts[i]; d > best {
			best, at = d, (ts[i]+ts[i+1])/2
		}
	}
	return on.Add(along.Scale(at)), best > 0
}

// crossings returns where a line crosses the outlines of a region, curves taken as
// chords, in order.
func crossings(p g.Path, on g.Point, along g.Vec) []float64 {
	var ts []float64
	for _, c := range p {
		pts := c.Flattened(g.FlattenTolerance)
		for i, b := range pts {
			a := pts[(i+len(pts)-1)%len(pts)]
			sa, sb := along.Cross(a.Sub(on)), along.Cross(b.Sub(on))
			if (sa > 0) != (sb > 0) {
				ts = append(ts, a.Lerp(b, sa/(sa-sb)).Sub(on).Dot(along))
			}
		}
	}
	sort.Float64s(ts)
	return ts
}

// reach returns how far the extents of a contour lie from m along a direction.
func reach(c g.Contour, m g.Point, along g.Vec) (near, end float64) {
	b := c.Bounds()
	p, q := b.Min.Sub(m).Dot(along), b.Max.Sub(m).Dot(along)
	return math.Min(p, q), math.Max(p, q)
}

// lengthAlong returns how much of a line lies within a region.
func lengthAlong(p g.Path, on g.Point, along g.Vec) float64 {
	sum := 0.0
	ts := crossings(p, on, along)
	for i := 0; i+1 < len(ts); i += 2 {
		sum += ts[i+1] - ts[i]
	}
	return sum
}
