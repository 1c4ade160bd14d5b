package skin

import (
	"math"
	"sync"

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
	turn  float64 // radians of the skin between two beads, at most
	in    []UV    // a point of the panel that holds the string between bead i and i+1

	ends [][2]normal // of each piece of string, on the skin: see [beading.seat]
	long []float64   // length of each piece: see [beading.sum]

	// memory for the next string
	path, from, places []UV
	weights, rows      []float64
}

// beadings holds those that are done with: a tape is strung three times or more.
var beadings = sync.Pool{New: func() any { return &beading{} }}

// seat finds the ends of every piece of string on the skin.
func (b *beading) seat() {
	b.ends = resized(b.ends, len(b.in))
	for i, in := range b.in {
		if i > 0 && in == b.in[i-1] {
			b.ends[i][0] = b.ends[i-1][1]
		} else {
			b.ends[i][0] = b.slid(i, i, 0)
		}
		b.ends[i][1] = b.slid(i+1, i, 0)
	}
}

// slid returns where a bead that is slid by x lies on the skin of a piece of string.
func (b *beading) slid(bead, piece int, x float64) (n normal) {
	p, d := b.uv[bead], b.slide[bead]
	p.U, p.V = p.U+float64(x*d.U), p.V+float64(x*d.V)
	return b.seen(p, b.in[piece])
}

// leastAcross is the least sine of the angle between the string and a grid line's
// direction for beads to slide along that.
const leastAcross = 0.3

// aim sets the direction in which each free bead slides: along the nearest grid line
// that its run ends on, so that none slides over that line where the string moves far;
// square to the string where that runs along the line, or the run ends on none.
func (b *beading) aim() {
	before := 0
	for i := 1; i+1 < len(b.uv); i++ {
		if b.line[i] {
			before = i
			continue
		}
		after := i + 1
		for !b.line[after] {
			after++
		}
		along := b.slide[before]
		if after-i < i-before || along == (UV{}) {
			along = b.slide[after]
		}
		t := b.ends[i][1].p.Sub(b.ends[i-1][0].p)
		var su, sv g.Vec3
		if along == (UV{U: 1}) {
			su = tangentU(b.s, b.uv[i])
		}
		if along == (UV{V: 1}) {
			sv = tangentV(b.s, b.uv[i])
		}
		if d := su.Scale(along.U).Add(sv.Scale(along.V)); d.Cross(t).Norm() > leastAcross*d.Norm()*t.Norm() {
			b.slide[i] = UV{along.U / d.Norm(), along.V / d.Norm()}
			continue
		}
		su, sv, _ = Tangents(b.s, b.uv[i])
		// a su + c sv square to t
		a, c := -sv.Dot(t), su.Dot(t)
		if n := su.Scale(a).Add(sv.Scale(c)).Norm(); n > 0 {
			b.slide[i] = UV{a / n, c / n}
		}
	}
}

// tightening is how sliding the beads ended.
type tightening int

const (
	tight     tightening = iota // at the least length
	stretched                   // the string moved so far that its beads must be strung anew
	blocked                     // it runs along a border, or over a corner of panels
)

// tighten slides the beads to the least length (Newton; the matrix is tridiagonal) and
// returns it. A step is taken as far as the string grows no longer, its beads stay in
// their panels, and the skin turns between two beads by no more than twice what they
// were strung for: over a sharp crown a longer piece would cut through the body.
func (b *beading) tighten() (length float64, end tightening) {
	n := len(b.uv)
	b.rows, b.from = resized(b.rows, 5*n), resized(b.from, n)
	row := func(k int) []float64 { return b.rows[k*n : (k+1)*n] }
	grad, diag, off, x, scratch := row(0), row(1), row(2), row(3), row(4)
	b.seat()
	length = b.sum()
	for round := 0; round < 40; round++ {
		b.aim()
		clear(grad)
		clear(diag)
		clear(off)
		var p, q [2]normal // the ends of a piece a step on, and a step back
		eBefore := 0.0
		for i := 0; i+1 < n; i++ {
			p0, q0 := b.ends[i][0], b.ends[i][1]
			o := b.long[i]
			// step of the differences, in inches: theirs and that of rounding are then
			// below 1e-5 of the stiffness
			e := max(1e-5, min(1e-3, o/500))
			slides, next := b.slide[i] != (UV{}), b.slide[i+1] != (UV{})
			if slides {
				if i > 0 && b.in[i] == b.in[i-1] && e == eBefore {
					p = q // seen from the piece before
				} else {
					p = [2]normal{b.slid(i, i, e), b.slid(i, i, -e)}
				}
				on, back := p[0].to(q0), p[1].to(q0)
				grad[i] += (on - back) / (2 * e)
				diag[i] += (on - 2*o + back) / (e * e)
			}
			if next {
				q = [2]normal{b.slid(i+1, i, e), b.slid(i+1, i, -e)}
				on, back := p0.to(q[0]), p0.to(q[1])
				grad[i+1] += (on - back) / (2 * e)
				diag[i+1] += (on - 2*o + back) / (e * e)
			}
			if slides && next {
				off[i] = (p[0].to(q[0]) - p[0].to(q[1]) - p[1].to(q[0]) + p[1].to(q[1])) / (4 * e * e)
			}
			eBefore = e
		}
		tridiagonal(diag, off, grad, x, scratch)
		worst, gain := 0.0, 0.0
		for i := range x {
			worst = max(worst, math.Abs(x[i]))
			gain += float64(grad[i]*x[i]) / 2
		}
		scale := 1.0
		if worst > 2 {
			scale = 2 / worst // the quadratic model holds for small moves
		}
		from, bent, limited := b.from, max(2*b.turn, b.mostBent()), false
		copy(from, b.uv)
		next := 0.0
		for ; ; scale /= 2 {
			for i := range b.uv {
				b.uv[i].U = from[i].U - float64(scale*x[i]*b.slide[i].U)
				b.uv[i].V = from[i].V - float64(scale*x[i]*b.slide[i].V)
			}
			if b.inPanels() {
				if b.seat(); b.mostBent() <= bent {
					if next = b.sum(); next <= length+1e-9 {
						break
					}
				}
			}
			limited = true
			if scale < 1e-3 {
				return 0, blocked
			}
		}
		switch {
		case worst < 1e-6 || math.Abs(gain) < 1e-9:
			return length, tight // the gradient vanishes: what is left is its square
		case limited:
			return length, stretched
		}
		length = next
	}
	return 0, blocked
}

// sum returns the length of the string.
func (b *beading) sum() float64 {
	b.long = resized(b.long, len(b.ends))
	l := 0.0
	for i := range b.ends {
		b.long[i] = b.ends[i][0].to(b.ends[i][1])
		l += b.long[i]
	}
	return l
}

// mostBent returns the most, in radians, that the skin turns between two beads.
func (b *beading) mostBent() float64 {
	most := 0.0 // the square of the longest chord between two normals
	for i := range b.ends {
		d := b.ends[i][0].n.Sub(b.ends[i][1].n)
		most = max(most, d.Dot(d))
	}
	return 2 * math.Asin(min(1, math.Sqrt(most)/2))
}

// turning returns the angle between two unit vectors.
func turning(a, b g.Vec3) float64 { return 2 * math.Asin(min(1, b.Sub(a).Norm()/2)) }

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
// and off[i] between i and i+1. A bead with no stiffness of its own stays. The moves
// are returned in x; d is scratch.
func tridiagonal(diag, off, rhs, x, d []float64) {
	n := len(diag)
	copy(x, rhs)
	copy(d, diag)
	stiff := 0.0
	for _, v := range d {
		stiff = max(stiff, v)
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
		d[i] -= float64(m * off[i-1])
		if d[i] <= 0 {
			d[i] = diag[i]
			continue
		}
		x[i] -= float64(m * x[i-1])
	}
	x[n-1] /= d[n-1]
	for i := n - 2; i >= 0; i-- {
		x[i] = (x[i] - float64(off[i]*x[i+1])) / d[i]
	}
}
