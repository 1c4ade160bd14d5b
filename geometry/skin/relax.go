package skin

import (
	"math"

	g "maskloft/geometry"
)

// poisson is the ratio of lateral to lengthwise strain of film: 0.4 for soft PVC, and
// from leastPoisson to mostPoisson with plasticiser, paint and heat (common practice, no
// source). To first order the outline of a free film does not depend on it; its strain
// does.
const (
	poisson      = 0.4
	leastPoisson = 0.3
	mostPoisson  = 0.45
)

// sample is a point of the net at which the strain of the flat is taken: the
// derivatives of the flat position along two orthonormal directions of the skin
// are sums of the sixteen nodes of its stencil (see [stencil]).
type sample struct {
	nodes  [16]int32
	w1, w2 [16]float64
	area   float64 // of skin that it stands for
}

// gauss are the two Gauss points of the unit interval.
var gauss = [2]float64{0.5 - 0.5/math.Sqrt(3), 0.5 + 0.5/math.Sqrt(3)}

// samples returns two by two Gauss points in every cell, cell after cell. Between nodes
// the flat is interpolated by cubics, panel by panel, so that the flat of a smooth skin
// errs by the fourth power of the spacing or better (asserted by test).
func (n *Net) samples() []sample {
	rows := n.nv() - 1
	out := make([]sample, 4*(n.nu()-1)*rows)
	along := make([][2]stencil, n.nu()-1)
	for i := range along {
		for k, x := range gauss {
			along[i][k] = n.alongU(gaussPlace(n.us[i], n.us[i+1], x))
		}
	}
	for j := range rows {
		for l, y := range gauss {
			v := gaussPlace(n.vs[j], n.vs[j+1], y)
			across, tangents := n.acrossV(v), tangentsAlong(n.s, v)
			for i := range along {
				for k, x := range gauss {
					s := &out[4*(i*rows+j)+2*k+l]
					n.sampleOf(s, &along[i][k], &across, tangents(gaussPlace(n.us[i], n.us[i+1], x)))
					s.area *= (n.us[i+1] - n.us[i]) * (n.vs[j+1] - n.vs[j]) / 4
				}
			}
		}
	}
	return out
}

// gaussPlace is a Gauss point x of the unit interval, from a to b.
func gaussPlace(a, b, x float64) float64 { return a + float64(x*(b-a)) }

// gaussIn appends the two by two Gauss points of a rectangle of parameters.
func (n *Net) gaussIn(out []sample, a, b UV) []sample {
	for _, x := range gauss {
		for _, y := range gauss {
			s := n.sampleAt(UV{gaussPlace(a.U, b.U, x), gaussPlace(a.V, b.V, y)})
			s.area *= (b.U - a.U) * (b.V - a.V) / 4
			out = append(out, s)
		}
	}
	return out
}

// sampleAt returns the sample at uv; its area is that of a unit of U by a unit
// of V.
func (n *Net) sampleAt(uv UV) (s sample) {
	u, v := n.alongU(uv.U), n.acrossV(uv.V)
	su, sv, _ := Tangents(n.s, uv)
	n.sampleOf(&s, &u, &v, [2]g.Vec3{su, sv})
	return s
}

// tangentsAlong returns the derivatives of a surface by U and V along a line of constant
// v, as [Tangents] has them.
func tangentsAlong(s Surface, v float64) func(u float64) [2]g.Vec3 {
	if f, ok := s.(*FairedSkin); ok {
		l := f.lineKept(v, v)
		return func(u float64) [2]g.Vec3 {
			_, su, sv := l.at(u, u)
			return [2]g.Vec3{su, sv}
		}
	}
	return func(u float64) [2]g.Vec3 {
		su, sv, _ := Tangents(s, UV{u, v})
		return [2]g.Vec3{su, sv}
	}
}

// sampleOf makes the sample at the place of two stencils, where the surface has the
// given derivatives.
func (n *Net) sampleOf(s *sample, u, v *stencil, tangents [2]g.Vec3) {
	su, sv := tangents[0], tangents[1]
	e, f, g := su.Dot(su), su.Dot(sv), sv.Dot(sv)
	across := math.Sqrt(g - f*f/e)
	e1 := 1 / math.Sqrt(e)
	byRow := n.nv() > n.nu()
	for a := range u.w {
		for b := range v.w {
			k := 4*a + b // in the order of the nodes' numbers
			if byRow {
				k = 4*b + a
			}
			s.nodes[k] = int32(n.node(u.first+a, v.first+b))
			du, dv := u.d[a]*v.w[b], float64(u.w[a]*v.d[b])
			s.w1[k] = du * e1
			s.w2[k] = (dv - float64(f/e*du)) / across
		}
	}
	s.area = math.Sqrt(e) * across
}

// gradient returns the derivatives of the flat position at a sample.
func (s *sample) gradient(pos []g.Point) (f1, f2 g.Vec) {
	for k, n := range s.nodes {
		p := pos[n]
		f1.X, f1.Y = f1.X+float64(s.w1[k]*p.X), f1.Y+float64(s.w1[k]*p.Y)
		f2.X, f2.Y = f2.X+float64(s.w2[k]*p.X), f2.Y+float64(s.w2[k]*p.Y)
	}
	return
}

// unfold lays the triangles of the net into the plane one after another, each
// against an edge that lies already, from the middle of the net outwards: exact
// where the net can be unrolled, a start for [Net.relax] elsewhere.
func (n *Net) unfold() []g.Point {
	tris, across := n.triangles(), newMesh(n).across
	pos := make([]g.Point, n.nodes())
	laid := make([]bool, n.nodes())
	done := make([]bool, len(tris))
	start := ((n.nu()-1)/2*(n.nv()-1) + (n.nv()-1)/2) * 2
	first := tris[start]
	pos[first.n[1]] = g.Point{X: first.l[0]}
	laid[first.n[0]], laid[first.n[1]] = true, true
	queue := []int{start}
	done[start] = true
	for len(queue) > 0 {
		t := queue[0]
		queue = queue[1:]
		tri := tris[t]
		for k := range tri.n {
			a, b, c := tri.n[k], tri.n[(k+1)%3], tri.n[(k+2)%3]
			if laid[a] && laid[b] && !laid[c] {
				pos[c] = third(pos[a], pos[b], tri.l[(k+2)%3], tri.l[(k+1)%3])
				laid[c] = true
			}
		}
		for _, o := range across[t] {
			if o >= 0 && !done[o] {
				done[o] = true
				queue = append(queue, o)
			}
		}
	}
	return pos
}

// relax moves the flat nodes to the least elastic strain energy
//
//	sum A [ (1+nu)/2 (e11+e22)^2 + (1-nu)/2 (e11-e22)^2 + 2 (1-nu) e12^2 ]
//
// of the Green strain e of the map from skin to flat (plane stress; any text on
// elasticity) over samples, by Gauss-Newton with a banded Cholesky factorisation, kept while it
// serves: nodes times the square of the band each, a handful of steps, until none of those that
// counts, all where that is nil, moves by settledPart of the tolerance. Three coordinates are held
// against rigid motion: the film is free, so they carry no load. The energy is returned
// with the flat, and whether it came to rest within mostSteps.
//
// Errors: the patch folds over itself; a node still moves by more than the tolerance in the
// last step; the film has taken its operations (see [mostOperations]); the work is called off.
func (n *Net) relax(pos []g.Point, samples []sample, nu float64, f *flattening, counts []bool) (flat []g.Point, least float64, rested bool, err error) {
	k := n.band()
	size := 2 * n.nodes()
	pinA, pinB := n.node(n.nu()/2, n.nv()/2), n.node(n.nu()-1, n.nv()/2)
	now := energy(samples, pos, nu)
	fall, settled, again := keptFall, settledPart, true
	switch {
	case n.work() > longWork: // the matrix of another part of the film, or another law, serves too
		fall, settled, again = keptLong, settledLong, f.factor.of != n
	case nu != poisson: // with the matrix of the usual law the moves fall to a sixth from step to step
		fall, again = keptLong, f.factor.of != n
	}
	if again && f.tooLong(n) {
		return nil, 0, false, f.unsettled()
	}
	f.band = resized(f.band, size*(k+1))
	h, rhs := f.band, make([]float64, size)
	before := math.Inf(1)
	for range mostSteps {
		if err := f.ended(); err != nil {
			return nil, 0, false, err
		}
		clear(rhs)
		if again {
			if f.operations += n.matrixOperations(); f.operations > f.most() {
				return nil, 0, false, f.unsettled()
			}
			clear(h)
			assemble(samples, pos, nu, h, rhs, k)
			if err := f.ended(); err != nil { // as long again is the factorisation
				return nil, 0, false, err
			}
			stiff := 0.0
			for i := 0; i < size; i++ {
				stiff = max(stiff, h[i*(k+1)])
			}
			d := pos[pinB].Sub(pos[pinA])
			f.factor = factor{of: n, pins: [3]int{2 * pinA, 2*pinA + 1, 2*pinB + 1}}
			if math.Abs(d.Y) > math.Abs(d.X) {
				f.factor.pins[2] = 2 * pinB
			}
			for _, dof := range f.factor.pins {
				hold(h, k, dof, stiff)
			}
			f.factor.banded = banded{h, size, k}
			if !f.factor.factorise() {
				return nil, 0, false, f.refused("the net folds over itself: the patch is too strongly curved to lie flat: make the marking smaller, or paint it in pieces")
			}
		} else {
			slope(samples, pos, nu, rhs)
		}
		for _, dof := range f.factor.pins {
			rhs[dof] = 0
		}
		f.factor.solve(rhs)
		largest := 0.0
		for i, m := range rhs {
			if counts == nil || counts[i/2] {
				largest = max(largest, math.Abs(m))
			}
		}
		next, e := make([]g.Point, len(pos)), 0.0
		for scale := 1.0; scale > 1e-4; scale /= 2 {
			for i := range pos {
				next[i] = g.Point{X: pos[i].X + float64(scale*rhs[2*i]), Y: pos[i].Y + float64(scale*rhs[2*i+1])}
			}
			if e = energy(samples, next, nu); e <= float64(now*(1+1e-12))+1e-24 {
				break
			}
		}
		pos, now = next, e
		if largest < f.tolerance*settled {
			return pos, now, true, nil
		}
		again, before = largest > fall*before, largest
	}
	if before > f.tolerance {
		return nil, 0, false, f.refused("the flat does not come to rest: the last of %d steps still moves it by more than %v: the skin is too strongly curved to lie flat: make the marking smaller, or paint it in pieces",
			mostSteps, g.Length(f.tolerance))
	}
	return pos, now, false, nil
}

// mostSteps is how many steps one relaxation may take. Films of the demos and lessons
// take nine at most.
const mostSteps = 40

// keptFall is the fall of the largest move, from one step to the next, by which a matrix
// is good enough for one more: it costs ten times what a step with it costs. The moves
// of a net that has nearly settled fall to its strain with a matrix that is kept.
const keptFall = 0.1

// keptLong and settledLong are that fall, and [settledPart], for a net of more than
// [longWork], whose matrix costs hundreds of steps.
const (
	keptLong    = 0.5
	settledLong = 1e-3
)

// factor is a matrix of a net, factorised, and the coordinates that are held.
type factor struct {
	banded
	of   *Net
	pins [3]int
}

// hold takes one unknown out of the matrix: its move is zero.
func hold(h []float64, k, dof int, diagonal float64) {
	for i := max(0, dof-k); i < dof; i++ {
		h[i*(k+1)+dof-i] = 0
	}
	clear(h[dof*(k+1)+1 : (dof+1)*(k+1)])
	h[dof*(k+1)] = diagonal
}

func energy(samples []sample, pos []g.Point, nu float64) float64 {
	sum := 0.0
	for i := range samples {
		s := &samples[i]
		f1, f2 := s.gradient(pos)
		e11, e22, e12 := (f1.Dot(f1)-1)/2, (f2.Dot(f2)-1)/2, f1.Dot(f2)/2
		p, d := e11+e22, e11-e22
		sum += float64(s.area * (float64((1+nu)/2*p*p) + float64((1-nu)/2*d*d) + float64(2*(1-nu)*e12*e12)))
	}
	return sum
}

// slope adds the right-hand side of every sample, as [assemble] does.
func slope(samples []sample, pos []g.Point, nu float64, rhs []float64) {
	for i := range samples {
		s := &samples[i]
		f1, f2 := s.gradient(pos)
		e11, e22, e12 := (f1.Dot(f1)-1)/2, (f2.Dot(f2)-1)/2, f1.Dot(f2)/2
		ca, cb, cc := math.Sqrt(s.area*(1+nu)/2), math.Sqrt(s.area*(1-nu)/2), math.Sqrt(2*s.area*(1-nu))
		r0, r1, r2 := ca*(e11+e22), cb*(e11-e22), cc*e12
		for m, n := range s.nodes {
			w1, w2 := s.w1[m], s.w2[m]
			xx, xy := float64(w1*f1.X), float64(w1*f1.Y)
			yx, yy := float64(w2*f2.X), float64(w2*f2.Y)
			rhs[2*n] -= float64(ca*(xx+yx)*r0) + float64(cb*(xx-yx)*r1) + float64(cc*(float64(w1*f2.X)+float64(w2*f1.X))/2*r2)
			rhs[2*n+1] -= float64(ca*(xy+yy)*r0) + float64(cb*(xy-yy)*r1) + float64(cc*(float64(w1*f2.Y)+float64(w2*f1.Y))/2*r2)
		}
	}
}

// assemble adds the Gauss-Newton matrix (upper band, k above the diagonal) and
// the right-hand side of every sample. The nodes of a sample rise, in four runs of
// neighbours each (see [Net.sampleAt]), so that a row of the matrix takes four runs of
// eight numbers.
func assemble(samples []sample, pos []g.Point, nu float64, h, rhs []float64, k int) {
	var j0, j1, j2 [4][8]float64 // by run and place in it
	for i := range samples {
		s := &samples[i]
		f1, f2 := s.gradient(pos)
		e11, e22, e12 := (f1.Dot(f1)-1)/2, (f2.Dot(f2)-1)/2, f1.Dot(f2)/2
		ca, cb, cc := math.Sqrt(s.area*(1+nu)/2), math.Sqrt(s.area*(1-nu)/2), math.Sqrt(2*s.area*(1-nu))
		r0, r1, r2 := ca*(e11+e22), cb*(e11-e22), cc*e12
		for m := range s.nodes {
			w1, w2 := s.w1[m], s.w2[m]
			xx, xy := float64(w1*f1.X), float64(w1*f1.Y)
			yx, yy := float64(w2*f2.X), float64(w2*f2.Y)
			q, c := m/4, 2*(m%4)
			j0[q][c], j1[q][c], j2[q][c] = ca*(xx+yx), cb*(xx-yx), cc*(float64(w1*f2.X)+float64(w2*f1.X))/2
			j0[q][c+1], j1[q][c+1], j2[q][c+1] = ca*(xy+yy), cb*(xy-yy), cc*(float64(w1*f2.Y)+float64(w2*f1.Y))/2
		}
		for q := range j0 {
			for a := 0; a < 8; a += 2 { // both rows of a node at once: what they add is read once
				x0, x1, x2 := j0[q][a], j1[q][a], j2[q][a]
				y0, y1, y2 := j0[q][a+1], j1[q][a+1], j2[q][a+1]
				ra := 2*int(s.nodes[4*q]) + a
				rhs[ra] -= float64(x0*r0) + float64(x1*r1) + float64(x2*r2)
				rhs[ra+1] -= float64(y0*r0) + float64(y1*r1) + float64(y2*r2)
				rowX, rowY := h[ra*(k+1):(ra+1)*(k+1)], h[(ra+1)*(k+1):(ra+2)*(k+1)]
				for c := a; c < 8; c++ {
					u, v, w := j0[q][c], j1[q][c], j2[q][c]
					rowX[c-a] += float64(x0*u) + float64(x1*v) + float64(x2*w)
					if c > a {
						rowY[c-a-1] += float64(y0*u) + float64(y1*v) + float64(y2*w)
					}
				}
				for o := q + 1; o < len(j0); o++ {
					at := 2*int(s.nodes[4*o]) - ra
					toX, toY := (*[8]float64)(rowX[at:at+8]), (*[8]float64)(rowY[at-1:at+7])
					p0, p1, p2 := &j0[o], &j1[o], &j2[o]
					for c := range toX {
						u, v, w := p0[c], p1[c], p2[c]
						toX[c] += float64(x0*u) + float64(x1*v) + float64(x2*w)
						toY[c] += float64(y0*u) + float64(y1*v) + float64(y2*w)
					}
				}
			}
		}
	}
}
