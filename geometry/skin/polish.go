package skin

import (
	"math"

	g "maskloft/geometry"
)

// beading is a path as beads on a string: the first and the last are fixed, the
// others slide across the path, or along the grid line that the path crosses
// there, until the sum of the distances between neighbours is least. Since each
// of those is a distance along the skin to fifth order of its length, and a
// shortest path is the chain of shortest paths between its points, the sum errs
// by the fourth power of the spacing (asserted by test).
type beading struct {
	s     Surface
	uv    []UV
	slide []UV // movement of each bead by one inch of sliding, about; zero: fixed
	line  []bool
	in    []UV // a point of the panel that holds the string between bead i and i+1
}

// crossing tells which grid lines run through uv.
func crossing(s Surface, uv UV) (onU, onV bool) {
	us, vs, period := s.Breaks()
	for i, u := range us {
		onU = onU || i > 0 && i < len(us)-1 && math.Abs(uv.U-u) < 1e-9
	}
	for i, v := range vs {
		d := uv.V - v
		if period > 0 {
			d = math.Remainder(d, period)
		}
		onV = onV || (period > 0 || i > 0 && i < len(vs)-1) && math.Abs(d) < 1e-9
	}
	return
}

// newBeading strings beads about spacing apart along a path that is given by its
// crossings with a net whose lines hold all grid lines.
func newBeading(s Surface, path []UV, spacing float64) *beading {
	b := &beading{s: s}
	at := func(uv UV) g.Vec3 { return PointAt(s, uv) }
	if path = distinct(s, path); len(path) == 1 {
		path = append(path, path[0])
	}
	add := func(uv UV, line bool, slide UV) {
		b.uv, b.line, b.slide = append(b.uv, uv), append(b.line, line), append(b.slide, slide)
	}
	add(path[0], false, UV{})
	for i := 0; i+1 < len(path); {
		j, length := i+1, at(path[i+1]).Sub(at(path[i])).Norm()
		for ; j+1 < len(path); j++ {
			if onU, onV := crossing(s, path[j]); onU || onV {
				break
			}
			length += at(path[j+1]).Sub(at(path[j])).Norm()
		}
		// the run from i to j lies in one panel
		n := max(1, int(math.Round(length/spacing)))
		in := UV{(path[i].U + path[j].U) / 2, (path[i].V + path[j].V) / 2}
		k, gone := i, 0.0
		for m := 1; m < n; m++ {
			want := length * float64(m) / float64(n)
			for {
				step := at(path[k+1]).Sub(at(path[k])).Norm()
				if gone+step >= want || k+2 > j {
					t := 0.5
					if step > 0 {
						t = (want - gone) / step
					}
					p, q := path[k], path[k+1]
					add(UV{p.U + t*(q.U-p.U), p.V + t*(q.V-p.V)}, false, UV{})
					break
				}
				gone += step
				k++
			}
			b.in = append(b.in, in)
		}
		b.in = append(b.in, in)
		onU, onV := crossing(s, path[j])
		switch {
		case j == len(path)-1 || onU && onV:
			add(path[j], true, UV{})
		case onV:
			add(path[j], true, UV{U: 1})
		default:
			add(path[j], true, UV{V: 1})
		}
		i = j
	}
	return b
}

// distinct returns a path without points that repeat the one before: a path over
// a net does so where it runs through a node.
func distinct(s Surface, path []UV) []UV {
	out := path[:1:1]
	for i, uv := range path[1:] {
		if PointAt(s, uv).Sub(PointAt(s, out[len(out)-1])).Norm() > 1e-9 {
			out = append(out, uv)
		} else if i+2 == len(path) && len(out) > 1 {
			out[len(out)-1] = uv
		}
	}
	return out
}

// length returns the distance between beads i and i+1 slid by x and y.
func (b *beading) length(i int, x, y float64) float64 {
	p, q := b.uv[i], b.uv[i+1]
	p.U, p.V = p.U+x*b.slide[i].U, p.V+x*b.slide[i].V
	q.U, q.V = q.U+y*b.slide[i+1].U, q.V+y*b.slide[i+1].V
	return edgeLength(b.s, p, q, b.in[i])
}

// aim sets the direction in which each free bead slides: square to the string in
// the skin.
func (b *beading) aim() {
	for i := 1; i+1 < len(b.uv); i++ {
		if b.line[i] {
			continue
		}
		p, _ := b.s.At(b.uv[i-1], b.in[i-1])
		q, _ := b.s.At(b.uv[i+1], b.in[i])
		t := q.Sub(p)
		su, sv, _ := Tangents(b.s, b.uv[i])
		// a su + c sv square to t
		a, c := -sv.Dot(t), su.Dot(t)
		if n := su.Scale(a).Add(sv.Scale(c)).Norm(); n > 0 {
			b.slide[i] = UV{a / n, c / n}
		}
	}
}

// tighten slides the beads to the least length (Newton; the matrix is
// tridiagonal) and returns it. It fails where a bead leaves its panel or the
// surface: the string then runs along a border, or over a corner of panels.
func (b *beading) tighten() (length float64, ok bool) {
	const e = 1e-3 // inches: step of the differences
	n := len(b.uv)
	for round := 0; round < 40; round++ {
		b.aim()
		grad, diag, off := make([]float64, n), make([]float64, n), make([]float64, n)
		length = 0
		for i := 0; i+1 < n; i++ {
			f := func(x, y float64) float64 { return b.length(i, x*e, y*e) }
			o := f(0, 0)
			length += o
			if b.slide[i] != (UV{}) {
				p, m := f(1, 0), f(-1, 0)
				grad[i] += (p - m) / (2 * e)
				diag[i] += (p - 2*o + m) / (e * e)
			}
			if b.slide[i+1] != (UV{}) {
				p, m := f(0, 1), f(0, -1)
				grad[i+1] += (p - m) / (2 * e)
				diag[i+1] += (p - 2*o + m) / (e * e)
			}
			if b.slide[i] != (UV{}) && b.slide[i+1] != (UV{}) {
				off[i] = (f(1, 1) - f(1, -1) - f(-1, 1) + f(-1, -1)) / (4 * e * e)
			}
		}
		x := tridiagonal(diag, off, grad)
		worst := 0.0
		for i := range x {
			worst = math.Max(worst, math.Abs(x[i]))
		}
		scale := 1.0
		if worst > 2 {
			scale = 2 / worst // the quadratic model holds for small moves
		}
		for i := range b.uv {
			b.uv[i].U -= scale * x[i] * b.slide[i].U
			b.uv[i].V -= scale * x[i] * b.slide[i].V
		}
		if !b.inPanels() {
			return 0, false
		}
		if worst < 1e-6 {
			return length, true // the gradient vanishes: what is left is its square
		}
	}
	return 0, false
}

// inPanels tells whether every piece of string still lies in its panel.
func (b *beading) inPanels() bool {
	us, vs, period := b.s.Breaks()
	for i := range b.in {
		for _, uv := range [2]UV{b.uv[i], b.uv[i+1]} {
			k := cellOf(us, b.in[i].U)
			if uv.U < us[k]-1e-9 || uv.U > us[k+1]+1e-9 {
				return false
			}
			shift := 0.0
			if period > 0 {
				shift = period * math.Floor((b.in[i].V-vs[0])/period)
			}
			k = cellOf(vs, b.in[i].V-shift)
			if uv.V-shift < vs[k]-1e-9 || uv.V-shift > vs[k+1]+1e-9 {
				return false
			}
		}
	}
	return true
}

// tridiagonal solves for the move of each bead: symmetric, diag on the diagonal
// and off[i] between i and i+1. A bead with no stiffness of its own stays.
func tridiagonal(diag, off, rhs []float64) []float64 {
	n := len(diag)
	x := append([]float64(nil), rhs...)
	d := append([]float64(nil), diag...)
	stiff := 0.0
	for _, v := range d {
		stiff = math.Max(stiff, v)
	}
	for i := range d {
		if d[i] < 1e-9*stiff || d[i] <= 0 {
			d[i], x[i] = 1, 0
			if i > 0 {
				off[i-1] = 0
			}
			off[i] = 0
		}
	}
	for i := 1; i < n; i++ {
		m := off[i-1] / d[i-1]
		d[i] -= m * off[i-1]
		if d[i] <= 0 {
			d[i] = diag[i]
			continue
		}
		x[i] -= m * x[i-1]
	}
	x[n-1] /= d[n-1]
	for i := n - 2; i >= 0; i-- {
		x[i] = (x[i] - off[i]*x[i+1]) / d[i]
	}
	return x
}
