package skin

import (
	"context"

	g "maskloft/geometry"
)

// Frame is the place and direction of a drawing on the skin.
type Frame struct {
	At UV
	// Up is the direction of the drawing's up; its part in the tangent plane counts.
	Up g.Vec3
}

// Settled says how far a net was refined and what the refinement moved.
type Settled struct {
	Nodes   int
	Spacing float64 // inches between nodes of the finest net, at most
	Moved   float64 // inches: largest movement of any node of the answer in the last halving
}

// FlatMap maps a patch of skin to the plane and back. The flat has its origin at
// the anchor and y along its up-direction, seen from outside.
type FlatMap struct {
	s       Surface
	chart   chart // the parameters of the net
	net     *Net
	flat    []g.Point // position of each of its nodes
	film    g.Rect    // what the strain is least over
	energy  float64   // of the film: see [FlatMap.Energy]
	left    float64   // root mean square strain
	settled Settled
	laws    []law // of a film that is not exact: see [FlatMap.StrainRange]
	bins    bins
}

// Flatten lays film on the skin round a frame into the plane. The film is a rectangle of
// the flat, in inches; its strain is the least that film of that outline can have, as far
// as there is skin under it. What lies beyond it, wide enough that the rectangle need is
// covered as far as there is skin, is laid on to it and has no part in it. The net is
// halved until the answer moves by less than tolerance. Where ctx is done, its error is
// returned a step of a large net later, tens of milliseconds as a rule.
//
// Errors: the frame lies off the surface; the patch folds or overlaps itself, or an
// end of the body where it comes to a point lies in it (see [FlatMap.checkFlat]);
// the answer does not come to rest, or does not settle within 20,000 nodes and
// [mostOperations].
func Flatten(ctx context.Context, s Surface, frame Frame, film, need g.Rect, tolerance float64) (*FlatMap, error) {
	if !s.Contains(frame.At) {
		return nil, g.Errorf("the anchor %v lies off the surface", g.PositionOf(PointAt(s, frame.At)))
	}
	if err := poleAhead(s, frame, need); err != nil {
		return nil, err
	}
	if err := beyondAll(s, frame, need); err != nil {
		return nil, err
	}
	c := chartOf(s)
	at, ok := c.to(frame.At)
	if !ok {
		return nil, g.Errorf("the anchor %v lies off the surface", g.PositionOf(PointAt(s, frame.At)))
	}
	f := flattening{s: s, chart: c, at: Frame{at, frame.Up}, film: film, need: need, tolerance: tolerance, ctx: ctx}
	kept := filmMemories.Get().(*filmMemory)
	f.band, f.onFilm = kept.band, kept.onFilm
	defer func() {
		kept.band, kept.onFilm = f.band, f.onFilm
		filmMemories.Put(kept)
	}()
	w := firstWindow(c.Surface, f.at, need)
	f.cell = max(leastCell, min(widestCell, max(need.Width(), need.Height())/4))
	for try := 0; try < 8; try++ {
		m, err := f.settle(w)
		if ended := f.ended(); ended != nil {
			return nil, ended
		}
		if err != nil {
			return nil, err
		}
		if !m.widen(&w, need) {
			if err := m.checkFlat(need); err != nil {
				return nil, err
			}
			return m, nil
		}
	}
	return nil, g.Errorf("%v: the patch did not come to cover film of %v: move the marking away from where the skin closes, or make it smaller",
		g.PositionOf(PointAt(s, frame.At)), need.Extent(2))
}

// interpolateFrom returns the nodes of n in the flat of a net of half as many.
func (n *Net) interpolateFrom(coarse *Net, flat []g.Point) []g.Point {
	out := make([]g.Point, n.nodes())
	across := make([]stencil, n.nv())
	for j, v := range n.vs {
		across[j] = coarse.acrossV(v)
	}
	for i, u := range n.us {
		along := coarse.alongU(u)
		for j := range across {
			out[n.node(i, j)] = coarse.place(flat, &along, &across[j])
		}
	}
	return out
}

// place returns the flat position at the place of two stencils.
func (n *Net) place(flat []g.Point, u, v *stencil) (p g.Point) {
	for a, wu := range u.w {
		for b, wv := range v.w {
			q := flat[n.node(u.first+a, v.first+b)]
			w := wu * wv
			p.X, p.Y = p.X+float64(w*q.X), p.Y+float64(w*q.Y)
		}
	}
	return p
}

// interpolate returns the flat position at uv and its derivatives by U and V,
// from the four nodes each way that lie nearest in the panel.
func (n *Net) interpolate(flat []g.Point, uv UV) (p g.Point, du, dv g.Vec) {
	u, v := n.alongU(uv.U), n.acrossV(uv.V)
	for a := range u.w {
		for b := range v.w {
			q := flat[n.node(u.first+a, v.first+b)]
			w, wdu, wdv := u.w[a]*v.w[b], u.d[a]*v.w[b], u.w[a]*v.d[b]
			p.X, p.Y = p.X+float64(w*q.X), p.Y+float64(w*q.Y)
			du.X, du.Y = du.X+float64(wdu*q.X), du.Y+float64(wdu*q.Y)
			dv.X, dv.Y = dv.X+float64(wdv*q.X), dv.Y+float64(wdv*q.Y)
		}
	}
	return
}

// stencil are the four lines nearest to a place in its panel, and the Lagrange weights
// of the value and of the derivative there.
type stencil struct {
	first int
	w, d  [4]float64
}

func (n *Net) alongU(x float64) stencil  { return stencilOf(n.us, n.uPanel, n.uInverse, x) }
func (n *Net) acrossV(x float64) stencil { return stencilOf(n.vs, n.vPanel, n.vInverse, x) }

func stencilOf(lines []float64, panel [][2]int, parts []inverses, x float64) (s stencil) {
	c := cellOf(lines, x)
	s.first = max(panel[c][0], min(c-1, panel[c][1]-3))
	t, inverse := lines[s.first:s.first+4], &parts[s.first]
	for a := range s.w {
		b, c, d := (a+1)&3, (a+2)&3, (a+3)&3 // the others, in order
		switch a {
		case 1:
			b, c, d = 0, 2, 3
		case 2:
			b, c, d = 0, 1, 3
		case 3:
			b, c, d = 0, 1, 2
		}
		pb, pc, pd := (x-t[b])/(t[a]-t[b]), (x-t[c])/(t[a]-t[c]), (x-t[d])/(t[a]-t[d])
		s.w[a] = pb * pc * pd
		s.d[a] = float64(inverse[a][b]*pc*pd) + float64(inverse[a][c]*pb*pd) + float64(inverse[a][d]*pb*pc)
	}
	return s
}

// inverses are those of the distances between four lines.
type inverses [4][4]float64

// inversesOf returns them for each of the lines and the three that follow it.
func inversesOf(lines []float64) []inverses {
	out := make([]inverses, max(0, len(lines)-3))
	for k := range out {
		for a, ta := range lines[k : k+4] {
			for b, tb := range lines[k : k+4] {
				if b != a {
					out[k][a][b] = 1 / (ta - tb)
				}
			}
		}
	}
	return out
}

// cellOf returns the cell of ascending lines that holds x, clamped.
func cellOf(lines []float64, x float64) int {
	lo, hi := 0, len(lines)-2
	for lo < hi {
		m := (lo + hi + 1) / 2
		if x >= lines[m] {
			lo = m
		} else {
			hi = m - 1
		}
	}
	return lo
}

// pose is how a flat lies: where its anchor is, which way its up points, and -1 where U
// and V run the other way round in it than seen from outside.
type pose struct {
	o      g.Point
	up     g.Vec
	mirror float64
}

// pose returns how a flat of the net lies with the anchor at f.
func (n *Net) pose(flat []g.Point, f Frame) pose {
	su, sv, normal := Tangents(n.s, f.At)
	// up = a su + b sv, by its products with both
	uu, us, ss := su.Dot(su), su.Dot(sv), sv.Dot(sv)
	det := float64(uu*ss) - float64(us*us)
	pu, pv := f.Up.Dot(su), f.Up.Dot(sv)
	a, b := (float64(pu*ss)-float64(pv*us))/det, (float64(pv*uu)-float64(pu*us))/det
	o, du, dv := n.interpolate(flat, f.At)
	out := pose{o, du.Scale(a).Add(dv.Scale(b)).Unit(), 1}
	if (su.Cross(sv).Dot(normal) < 0) != (du.Cross(dv) < 0) {
		out.mirror = -1
	}
	return out
}

// of returns where a point of the flat lies from the anchor, y along its up-direction,
// seen from outside.
func (p pose) of(q g.Point) g.Point {
	d := q.Sub(p.o)
	return g.Point{X: float64(p.mirror * d.Cross(p.up)), Y: d.Dot(p.up)}
}

// pin turns the flat so that the anchor is the origin and its up-direction is y,
// seen from outside.
func (m *FlatMap) pin(f *flattening) error {
	at, ok := m.wrap(f.at.At)
	if !ok {
		return f.refused("the anchor lies outside its own patch")
	}
	p := m.net.pose(m.flat, Frame{at, f.at.Up})
	for i, q := range m.flat {
		m.flat[i] = p.of(q)
	}
	return nil
}

// Tangents returns the derivatives of the surface at uv by U and V, by central
// differences within the panel, and the normal.
func Tangents(s Surface, uv UV) (su, sv, n g.Vec3) {
	if s, ok := s.(derived); ok {
		_, su, sv = s.derivatives(uv, uv)
		return su, sv, su.Cross(sv).Unit()
	}
	_, n = s.At(uv, uv)
	return tangentU(s, uv), tangentV(s, uv), n
}

// derived is a surface that gives its point and derivatives in the panel that holds in.
type derived interface {
	derivatives(uv, in UV) (p, su, sv g.Vec3)
}

// tangentStep is the step of differences that stand for derivatives: rounding and the third
// derivative then weigh alike on radii of tens of inches.
const tangentStep = 1e-4

// tangentU is the first of [Tangents], at less cost.
func tangentU(s Surface, uv UV) g.Vec3 {
	if s, ok := s.(derived); ok {
		_, su, _ := s.derivatives(uv, uv)
		return su
	}
	return slopeOver(s, UV{uv.U - tangentStep, uv.V}, UV{uv.U + tangentStep, uv.V}, uv)
}

// tangentV is the second of [Tangents], at less cost.
func tangentV(s Surface, uv UV) g.Vec3 {
	if s, ok := s.(derived); ok {
		_, _, sv := s.derivatives(uv, uv)
		return sv
	}
	return slopeOver(s, UV{uv.U, uv.V - tangentStep}, UV{uv.U, uv.V + tangentStep}, uv)
}

func slopeOver(s Surface, a, b, in UV) g.Vec3 {
	pa, _ := s.At(a, in)
	pb, _ := s.At(b, in)
	return pb.Sub(pa).Scale(1 / (2 * tangentStep))
}

// Settled says how far the net was refined.
func (m *FlatMap) Settled() Settled { return m.settled }
