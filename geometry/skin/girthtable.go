package skin

import (
	"math"
	"sort"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// linePiece is a straight piece from a to b.
type linePiece struct{ a, b g.Point }

func (p linePiece) at(t float64) (g.Point, g.Vec) { return p.a.Lerp(p.b, t), p.b.Sub(p.a) }
func (p linePiece) length() float64               { return p.a.Dist(p.b) }

// arcPiece is a circular arc; angles in radians from straight up towards the
// right.
type arcPiece struct {
	centre             g.Point
	radius, from, turn float64
}

func (p arcPiece) at(t float64) (g.Point, g.Vec) {
	sin, cos := same.Sincos(p.from + float64(t*p.turn))
	r, w := p.radius, p.radius*p.turn
	return g.Point{X: p.centre.X + float64(r*sin), Y: p.centre.Y + float64(r*cos)}, g.Vec{X: w * cos, Y: -w * sin}
}
func (p arcPiece) length() float64 { return p.radius * math.Abs(p.turn) }

// mirroredPiece is a piece mirrored about a waterline and run backwards.
type mirroredPiece struct {
	of girthPiece
	wl float64
}

func (p mirroredPiece) at(t float64) (g.Point, g.Vec) {
	q, d := p.of.at(1 - t)
	return g.Point{X: q.X, Y: 2*p.wl - q.Y}, g.Vec{X: -d.X, Y: d.Y}
}
func (p mirroredPiece) length() float64 { return p.of.length() }

// smoothArc is a curve and its derivative by a parameter from q0 to q1, smooth
// in between; at the ends it may be smooth only once.
type smoothArc struct {
	f      func(q float64) (g.Point, g.Vec)
	q0, q1 float64
}

// girthTable is a curve by girth fraction: polynomials of degree 7 through the
// true curve at points of known length along it, in spans cut until they lie
// within 1e-13 of the curve's size. So a point costs a search and a polynomial,
// and no inversion of an integral.
type girthTable struct {
	total float64
	start []float64 // length along the curve at the start of each span
	spans []girthSpan
	parts [tableParts + 1]int // the last span that starts at each of equal parts of the length, or before
}

const tableParts = 32 // a power of two, so that the part that holds a fraction is exact

// girthSpan holds the coefficients of x and y by the powers of s in [-1, 1],
// which runs along the span's length.
type girthSpan struct {
	length float64
	x, y   [tableNodes]float64
}

const tableNodes = 8

// legendreX, legendreW are the 10-point Gauss-Legendre rule on [-1, 1] (Abramowitz and Stegun,
// Handbook of Mathematical Functions, table 25.4).
var (
	legendreX = [10]float64{
		0.973906528517171720, 0.865063366688984511, 0.679409568299024406, 0.433395394129247191, 0.148874338981631211,
		-0.148874338981631211, -0.433395394129247191, -0.679409568299024406, -0.865063366688984511, -0.973906528517171720,
	}
	legendreW = [10]float64{
		0.066671344308688138, 0.149451349150580593, 0.219086362515982044, 0.269266719309996355, 0.295524224714752870,
		0.295524224714752870, 0.269266719309996355, 0.219086362515982044, 0.149451349150580593, 0.066671344308688138,
	}
)

// chebyshevNodes are the Chebyshev-Lobatto points, ends included; fromValues
// turns values there into coefficients by powers.
var chebyshevNodes, fromValues = func() (x [tableNodes]float64, m [tableNodes][tableNodes]float64) {
	const n = tableNodes
	for i := range x {
		x[i] = -same.Cos(math.Pi * float64(i) / (n - 1))
	}
	for i := range x { // the Lagrange polynomial of node i, multiplied out
		c := [n + 1]float64{1}
		for j, deg := 0, 0; j < n; j++ {
			if j == i {
				continue
			}
			s := 1 / (x[i] - x[j])
			for k := deg + 1; k >= 0; k-- {
				low := 0.0
				if k > 0 {
					low = c[k-1]
				}
				c[k] = (low - float64(x[j]*c[k])) * s
			}
			deg++
		}
		for k := 0; k < n; k++ {
			m[k][i] = c[k]
		}
	}
	return
}()

// arcLength integrates the speed of a curve from a to b by one Gauss-Legendre rule.
func (c smoothArc) arcLength(a, b float64) float64 {
	m, h, sum := (a+b)/2, (b-a)/2, 0.0
	for i, x := range legendreX {
		_, d := c.f(m + float64(h*x))
		sum += float64(legendreW[i] * d.Norm())
	}
	return sum * h
}

// newGirthTable returns the table of curves joined end to end.
func newGirthTable(arcs []smoothArc) *girthTable {
	t := &girthTable{}
	for _, c := range arcs {
		p, _ := c.f(c.q0)
		m, _ := c.f((c.q0 + c.q1) / 2)
		q, _ := c.f(c.q1)
		t.add(c, c.q0, c.q1, 1e-13*(p.Dist(m)+m.Dist(q)), 0)
	}
	for k := range t.parts {
		t.parts[k] = max(0, sort.Search(len(t.start), func(i int) bool { return t.start[i] > float64(k)/tableParts*t.total })-1)
	}
	return t
}

// add appends the spans of c from qa to qb. After 40 halvings, next to a point
// where the curvature has no limit, a span is taken as it is.
func (t *girthTable) add(c smoothArc, qa, qb, tolerance float64, depth int) {
	qm := (qa + qb) / 2
	l := c.arcLength(qa, qb)
	halves := c.arcLength(qa, qm) + c.arcLength(qm, qb)
	fit, ok := girthSpan{length: l}, math.Abs(l-halves) <= tolerance
	if ok || depth >= 40 {
		var xs, ys [tableNodes]float64
		origin, _ := c.f(qa)
		q, s := qa, 0.0
		for i, node := range chebyshevNodes {
			target := l * (1 + node) / 2
			switch i {
			case tableNodes - 1:
				q = qb
			default:
				q, s = c.advance(q, s, target), target
			}
			p, _ := c.f(q)
			xs[i], ys[i] = p.X-origin.X, p.Y-origin.Y
		}
		for k := range fit.x {
			for i := range xs {
				fit.x[k] += float64(fromValues[k][i] * xs[i])
				fit.y[k] += float64(fromValues[k][i] * ys[i])
			}
		}
		fit.x[0] += origin.X
		fit.y[0] += origin.Y
		q, s = qa, 0
		for i := 0; ok && i+1 < tableNodes; i++ {
			node := (chebyshevNodes[i] + chebyshevNodes[i+1]) / 2
			target := l * (1 + node) / 2
			q, s = c.advance(q, s, target), target
			p, _ := c.f(q)
			f, _, _ := fit.at(node)
			ok = p.Dist(f) <= tolerance+float64(4e-16*(math.Abs(p.X)+math.Abs(p.Y)))
		}
	}
	if !ok && depth < 40 {
		t.add(c, qa, qm, tolerance, depth+1)
		t.add(c, qm, qb, tolerance, depth+1)
		return
	}
	t.start, t.spans = append(t.start, t.total), append(t.spans, fit)
	t.total += l
}

// advance returns the parameter at length target along the curve, by Newton from
// the parameter q at length s.
func (c smoothArc) advance(q, s, target float64) float64 {
	from, base := q, s
	for i := 0; i < 8; i++ {
		_, d := c.f(q)
		step := (target - s) / d.Norm()
		q += step
		if math.Abs(step) <= 1e-15*(math.Abs(q)+math.Abs(c.q1-c.q0)) {
			break
		}
		s = base + c.arcLength(from, q)
	}
	return q
}

// at returns the point at s in [-1, 1] and its first two derivatives by s.
func (p *girthSpan) at(s float64) (v g.Point, d, dd g.Vec) {
	for k := tableNodes - 1; k >= 0; k-- {
		dd.X, dd.Y = float64(dd.X*s)+2*d.X, float64(dd.Y*s)+2*d.Y
		d.X, d.Y = float64(d.X*s)+v.X, float64(d.Y*s)+v.Y
		v.X, v.Y = float64(v.X*s)+p.x[k], float64(v.Y*s)+p.y[k]
	}
	return
}

// slope is at without the second derivative.
func (p *girthSpan) slope(s float64) (v g.Point, d g.Vec) {
	for k := tableNodes - 1; k >= 0; k-- {
		d.X, d.Y = float64(d.X*s)+v.X, float64(d.Y*s)+v.Y
		v.X, v.Y = float64(v.X*s)+p.x[k], float64(v.Y*s)+p.y[k]
	}
	return
}

func (t *girthTable) length() float64 { return t.total }

func (t *girthTable) at(f float64) (g.Point, g.Vec) {
	inside := max(0, min(1, f))
	l := float64(inside * t.total)
	part := int(inside * tableParts)
	lo, hi := t.parts[part], t.parts[min(part+1, tableParts)] // the last span that starts at l or before is one of these
	for lo < hi {
		if m := (lo + hi + 1) / 2; t.start[m] > l {
			hi = m - 1
		} else {
			lo = m
		}
	}
	span := &t.spans[lo]
	scale := 2 * t.total / span.length
	x := (l-t.start[lo])*2/span.length - 1
	beyond := f - inside
	if beyond == 0 {
		p, d := span.slope(x)
		return p, d.Scale(scale)
	}
	p, d, dd := span.at(x)
	d, dd = d.Scale(scale), dd.Scale(scale*scale)
	if span.length < 1e-3*t.total {
		dd = g.Vec{} // at a point of no finite curvature: go on straight
	}
	p = p.Add(d.Scale(beyond)).Add(dd.Scale(beyond * beyond / 2))
	return p, d.Add(dd.Scale(beyond))
}
