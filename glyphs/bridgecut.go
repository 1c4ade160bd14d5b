package glyphs

import (
	"fmt"
	"math"

	g "maskloft/geometry"
)

// features counts what paint and film have that is not narrower than a width,
// and the area of what is: slivers. Shrunk by half the width and grown again,
// with mitres, a region is itself but for its slivers.
type features struct {
	pieces, thick int     // pieces of paint; what is left of them when shrunk
	islands       int     // of film
	wide          int     // those left when the paint is grown
	slivers       float64 // of paint, in square inches
	slits         float64 // of film
}

// measure counts the features of paint.
func measure(paint g.Path, least g.Length) (features, error) {
	f := features{islands: CountIslands(paint), pieces: len(paint) - CountIslands(paint)}
	half := least / 2 * (1 - 1e-3) // what is just as wide as asked may stay
	thin, err := g.Offset(paint, -half, g.MiterJoin, g.OutlineTolerance)
	if err != nil {
		return f, err
	}
	f.thick = len(thin) - CountIslands(thin)
	grown, err := g.Offset(paint, half, g.MiterJoin, g.OutlineTolerance)
	if err != nil {
		return f, err
	}
	f.wide = CountIslands(grown)
	opened, err := g.Offset(thin, half, g.MiterJoin, g.OutlineTolerance)
	if err != nil {
		return f, err
	}
	closed, err := g.Offset(grown, -half, g.MiterJoin, g.OutlineTolerance)
	f.slivers, f.slits = paint.Area()-opened.Area(), closed.Area()-paint.Area()
	return f, err
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
			a.why = fmt.Errorf("nothing to cross %s", directionNames[d])
			return a, nil
		}
		if a.paint, err = g.Subtract(a.paint, b.Across); err != nil {
			return a, err
		}
		a.bridges, a.ends = append(a.bridges, b), append(a.ends, end)
	}
	var err error
	if a.body, err = measure(a.paint, h.Least); err != nil {
		return a, err
	}
	joined := h.body.islands - a.body.islands
	vanished := max(0, h.body.islands-h.body.wide)
	sliver := float64(h.Least * h.Least) // smaller ones are the tips of sharp corners
	switch {
	case joined < 1 && h.body.islands > 0 && !s.joined():
		a.why = fmt.Errorf("a bridge %v wide does not reach the field %s", h.Width, directionNames[dirs[0]])
	case a.body.thick-h.body.thick != a.body.pieces-h.body.pieces || a.body.slivers-h.body.slivers > sliver:
		a.why = fmt.Errorf("a bridge %v wide leaves paint narrower than %v", h.Width, h.Least)
	case h.body.wide-a.body.wide < joined-vanished || a.body.slits-h.body.slits > sliver:
		a.why = fmt.Errorf("a bridge %v wide leaves film narrower than %v", h.Width, h.Least)
	}
	return a, nil
}

var directionNames = [4]string{"upwards", "downwards", "to the right", "to the left"}

// joined tells whether a bridge holds the island already.
func (s *island) joined() bool { return s.open != [4]bool{} }

// bridge returns the first piece of paint that a strip from the middle of an
// island meets in a direction, and a point just beyond it.
func (h *holder) bridge(paint g.Path, s *island, d int, shift float64) (Bridge, g.Point, error) {
	m, w := s.box.Centre(), h.Width.Inches()/2
	far := paint.Bounds().Grown(1)
	strip := g.Rect{Min: g.Point{X: m.X + shift - w, Y: m.Y + shift - w}, Max: g.Point{X: m.X + shift + w, Y: m.Y + shift + w}}
	along := g.Vec{X: 1}
	switch d {
	case up:
		strip.Min.Y, strip.Max.Y, along = m.Y, far.Max.Y, g.Vec{Y: 1}
	case down:
		strip.Min.Y, strip.Max.Y, along = far.Min.Y, m.Y, g.Vec{Y: -1}
	case right:
		strip.Min.X, strip.Max.X = m.X, far.Max.X
	case left:
		strip.Min.X, strip.Max.X, along = far.Min.X, m.X, g.Vec{X: -1}
	}
	crossed, err := g.Intersect(paint, g.Path{g.Rectangle(strip)})
	if err != nil {
		return Bridge{}, g.Point{}, err
	}
	var piece g.Path
	from, to := math.Inf(1), 0.0
	for i, c := range crossed {
		if c.Area() < 0 {
			if len(piece) > 0 && from == nearest(crossed, i, m, along) {
				piece = append(piece, c)
			}
			continue
		}
		if near, end := reach(c, m, along); near < from {
			piece, from, to = g.Path{c}, near, end
		}
	}
	if piece == nil {
		return Bridge{}, g.Point{}, nil
	}
	axis := m.Add(along.Perp().Scale(shift * along.Perp().Dot(g.Vec{X: 1, Y: 1})))
	b := Bridge{Across: piece, Moved: g.Length(shift), Length: g.Length(lengthAlong(piece, axis, along))}
	return b, axis.Add(along.Scale(to + 0.001)), nil
}

// reach returns how far the extents of a contour lie from m along a direction.
func reach(c g.Contour, m g.Point, along g.Vec) (near, end float64) {
	b := c.Bounds()
	p, q := b.Min.Sub(m).Dot(along), b.Max.Sub(m).Dot(along)
	return math.Min(p, q), math.Max(p, q)
}

// nearest returns the reach of the outer contour that the hole i belongs to.
func nearest(p g.Path, i int, m g.Point, along g.Vec) float64 {
	for i >= 0 && p[i].Area() < 0 {
		i--
	}
	if i < 0 {
		return math.NaN()
	}
	near, _ := reach(p[i], m, along)
	return near
}

// lengthAlong returns how much of a line lies within a region, curves taken as
// chords.
func lengthAlong(p g.Path, from g.Point, along g.Vec) float64 {
	sum := 0.0
	for _, c := range p {
		pts := c.Flattened(g.FlattenTolerance)
		for i, b := range pts {
			a := pts[(i+len(pts)-1)%len(pts)]
			sa, sb := along.Cross(a.Sub(from)), along.Cross(b.Sub(from))
			if (sa > 0) == (sb > 0) {
				continue
			}
			t := a.Lerp(b, sa/(sa-sb)).Sub(from).Dot(along)
			if sb > 0 { // it enters or leaves as the contour crosses the line
				sum -= t
			} else {
				sum += t
			}
		}
	}
	return math.Abs(sum)
}
