package skin

import (
	"math"
	"slices"
	"sort"

	g "maskloft/geometry"
)

// Net is a triangulated window of a surface: a grid of nodes on the true surface
// whose grid lines include every hard line, each cell cut into two triangles.
// Nodes are numbered along the shorter direction first, so that neighbours are
// near in number (see [Net.relax]).
type Net struct {
	s      Surface
	us, vs []float64
	// first and last node line of the panel that holds each cell
	uPanel, vPanel     [][2]int
	uInverse, vInverse []inverses // see [stencilOf]
	tris               []triangle // cut on demand: see [Net.triangles]
}

// triangle is three nodes, counter-clockwise in (U, V), with the lengths along
// the skin of the edges 0-1, 1-2 and 2-0.
type triangle struct {
	n [3]int
	l [3]float64
}

// fineness is how often the cells of a net are halved along U and along V.
type fineness struct{ u, v int }

// window is a range of parameters.
type window struct{ u0, u1, v0, v1 float64 }

// newNet returns the net of a window whose cells are h long and wide at most, and
// shorter where the skin turns (see [grading]), each halved as often as level says. Every
// panel has three cells or more each way, so that it can be interpolated to third order.
func newNet(s Surface, w window, h float64, level fineness) *Net {
	ub, vb, period := s.Breaks()
	n := &Net{s: s}
	us, vs := linesBetween(ub, 0, w.u0, w.u1), linesBetween(vb, period, w.v0, w.v1)
	along, across := 1.0, 1.0
	if own, ok := s.(graded); ok {
		along, across = own.cells()
	}
	n.us, n.uPanel = grading{s, h, along, true}.lines(us, vs, level.u, 3)
	n.vs, n.vPanel = grading{s, h, across, false}.lines(vs, us, level.v, 3)
	n.uInverse, n.vInverse = inversesOf(n.us), inversesOf(n.vs)
	return n
}

// newNetThrough returns the net of a window whose cells are about h long and wide, each
// halved level times, with a least number of cells a panel, and with further grid lines
// through the given points, which become nodes.
func newNetThrough(s Surface, w window, h float64, level, least int, through ...UV) *Net {
	ub, vb, period := s.Breaks()
	n := &Net{s: s}
	um, vm := (w.u0+w.u1)/2, (w.v0+w.v1)/2
	us, vs := linesBetween(ub, 0, w.u0, w.u1), linesBetween(vb, period, w.v0, w.v1)
	for _, p := range through {
		us, vs = insertLine(us, p.U), insertLine(vs, p.V)
	}
	n.us, n.uPanel = gridLines(us, h, level, least, func(a, b float64) float64 { return lengthAlong(s, vm, a, b) })
	n.vs, n.vPanel = gridLines(vs, h, level, least, func(a, b float64) float64 { return girthBetween(s, um, a, b) })
	return n
}

// insertLine adds x to ascending lines, in place of one that is the same to
// SnapTolerance: two lines nearer than that would leave slivers that no path finds
// its way through.
func insertLine(lines []float64, x float64) []float64 {
	i := sort.SearchFloat64s(lines, x-g.SnapTolerance)
	if i < len(lines) && math.Abs(lines[i]-x) <= g.SnapTolerance {
		lines[i] = x
		return lines
	}
	return slices.Insert(lines, i, x)
}

// gridLines cuts every piece between neighbouring lines into equal steps of
// about h along the skin.
func gridLines(lines []float64, h float64, level, least int, length func(a, b float64) float64) (out []float64, panel [][2]int) {
	out = []float64{lines[0]}
	for k := 0; k+1 < len(lines); k++ {
		a, b := lines[k], lines[k+1]
		m := max(least, int(math.Ceil(length(a, b)/h-1e-9))) << level
		first := len(out) - 1
		for i := 1; i < m; i++ {
			out = append(out, a+(b-a)*float64(i)/float64(m))
		}
		out = append(out, b)
		for i := 0; i < m; i++ {
			panel = append(panel, [2]int{first, first + m})
		}
	}
	return out, panel
}

// girthBetween returns the length of the section curve at u from v0 to v1: sums of
// chords, and of chords half as long, extrapolated (Richardson), good to 1e-6 of
// itself.
func girthBetween(s Surface, u, v0, v1 float64) float64 {
	_, vb, period := s.Breaks()
	sum := 0.0
	lines := linesBetween(vb, period, min(v0, v1), max(v0, v1))
	for k := 0; k+1 < len(lines); k++ {
		in := UV{u, (lines[k] + lines[k+1]) / 2}
		n := 2 * searchSteps(s, u, lines[k], lines[k+1])
		coarse, fine := 0.0, 0.0
		last, _ := s.At(UV{u, lines[k]}, in)
		before := last
		for i := 1; i <= 2*n; i++ {
			p, _ := s.At(UV{u, lines[k] + (lines[k+1]-lines[k])*float64(i)/float64(2*n)}, in)
			fine += p.Sub(last).Norm()
			if last = p; i%2 == 0 {
				coarse += p.Sub(before).Norm()
				before = p
			}
		}
		sum += fine + (fine-coarse)/3
	}
	return sum
}

// Girth returns the length along the section curve at station u from v0 to v1.
// The section curve is the shortest path only where the body does not taper.
func Girth(s Surface, u g.Station, v0, v1 float64) g.Length {
	return g.Length(girthBetween(s, u.Inches(), v0, v1))
}

// lengthAlong returns the length of the line of constant v between two stations.
func lengthAlong(s Surface, v, a, b float64) float64 {
	const n = 16
	at := LineOf(s, v, v)
	last, _ := at(a, a)
	sum := 0.0
	for i := 1; i <= n; i++ {
		u := a + (b-a)*float64(i)/n
		p, _ := at(u, u)
		sum += p.Sub(last).Norm()
		last = p
	}
	return sum
}

// edgeLength returns the distance along the skin between two near points of one
// panel. The geodesic is taken as the circular arc over their chord c whose ends
// have the normals of the surface there: with x = half the difference of the
// normals along the chord, x = sin(half the turning), the arc is c asin(x)/x.
// Exact for lines and circular arcs; elsewhere the relative error falls with the
// fourth power of the chord (derived; the order is asserted by test).
func edgeLength(s Surface, a, b, in UV) float64 {
	pa, na := s.At(a, in)
	pb, nb := s.At(b, in)
	return arcOver(pa, pb, na, nb)
}

func arcOver(pa, pb, na, nb g.Vec3) float64 {
	d := pb.Sub(pa)
	c := d.Norm()
	if c == 0 {
		return 0
	}
	x := min(1, math.Abs(nb.Sub(na).Dot(d))/(2*c))
	if x < 1e-4 {
		return c * (1 + x*x/6) // the next term is 3x^4/40 < 1e-17
	}
	return c * math.Asin(x) / x
}

func (n *Net) nu() int { return len(n.us) }
func (n *Net) nv() int { return len(n.vs) }

// node returns the number of node i, j: station i, girth j.
func (n *Net) node(i, j int) int {
	if n.nv() <= n.nu() {
		return i*n.nv() + j
	}
	return j*n.nu() + i
}

// lines returns the grid lines of a node: station i, girth j.
func (n *Net) lines(k int) (i, j int) {
	if n.nv() <= n.nu() {
		return k / n.nv(), k % n.nv()
	}
	return k % n.nu(), k / n.nu()
}

// nodeUV returns the parameters of a node.
func (n *Net) nodeUV(k int) UV {
	i, j := n.lines(k)
	return UV{n.us[i], n.vs[j]}
}

func (n *Net) nodes() int { return n.nu() * n.nv() }

// triangles returns the triangles of the net; they are cut when first asked for,
// since relaxing a net needs none.
func (n *Net) triangles() []triangle {
	if n.tris == nil {
		n.cut()
	}
	return n.tris
}

// cut cuts every cell along a diagonal, turned alternately so that the net has
// no preferred direction, and measures the edges in the cell's own panel.
func (n *Net) cut() { n.tris = (&cutting{}).cut(n) }

// third places the third corner of a triangle in the plane, to the left of the
// edge from a to b, at distances la from a and lb from b.
func third(a, b g.Point, la, lb float64) g.Point {
	d := b.Sub(a)
	l := d.Norm()
	x := (la*la - lb*lb + l*l) / (2 * l)
	y := math.Sqrt(max(0, la*la-x*x))
	e := d.Scale(1 / l)
	return a.Add(e.Scale(x)).Add(e.Perp().Scale(y))
}
