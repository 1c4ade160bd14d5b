package skin

import "math"

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

// turnSpacing is the most, in radians, that the skin's normal turns between two beads
// of the first string: there the distance of [edgeLength] errs by about 1e-4 of itself
// on an ellipse (measured), and a crown however sharp is seen.
const turnSpacing = 0.3

// newBeading returns beads on a string: see [beading.along].
func newBeading(s Surface, path []UV, spacing, turn float64) *beading {
	b := &beading{}
	b.along(s, path, spacing, turn)
	return b
}

// along strings beads along a path that is given by its crossings with a net
// whose lines hold all grid lines. They stand about spacing apart, and closer where the
// skin turns: by no more than turn, in radians, from one to the next.
func (b *beading) along(s Surface, path []UV, spacing, turn float64) {
	b.s, b.turn = s, turn
	b.path = distinct(b.path[:0], s, path)
	if path = b.path; len(path) == 1 {
		path = append(path, path[0])
	}
	b.uv, b.line, b.slide, b.in = b.uv[:0], b.line[:0], b.slide[:0], b.in[:0]
	add := func(uv UV, line bool, slide UV) {
		b.uv, b.line, b.slide = append(b.uv, uv), append(b.line, line), append(b.slide, slide)
	}
	add(path[0], false, UV{})
	for i := 0; i+1 < len(path); {
		j := i + 1
		onU, onV := crossing(s, path[j])
		for ; j+1 < len(path) && !onU && !onV; onU, onV = crossing(s, path[j]) {
			j++
		}
		// the run from i to j lies in one panel
		in := UV{(path[i].U + path[j].U) / 2, (path[i].V + path[j].V) / 2}
		n := b.weigh(path[i:j+1], in, spacing)
		for k, m := 1, 1; m < n; m++ {
			var uv UV
			uv, k = b.spread(k, m, n)
			add(uv, false, UV{})
			b.in = append(b.in, in)
		}
		b.in = append(b.in, in)
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
}

// weigh measures a run of path in one panel: the sum of length over spacing and turning
// over turn, whichever is the larger at each place. It returns how many pieces of string
// the run is for.
func (b *beading) weigh(run []UV, in UV, spacing float64) int {
	b.places, b.weights = append(b.places[:0], run[0]), append(b.weights[:0], 0)
	p := b.seen(run[0], in)
	for i := 0; i+1 < len(run); i++ {
		q := b.seen(run[i+1], in)
		b.halve(run[i], run[i+1], in, &p, &q, spacing, 0)
		p = q
	}
	return int(math.Ceil(b.weights[len(b.weights)-1] - 1e-6))
}

// halve weighs a part of a run by its eighths, and by smaller parts where the skin turns.
func (b *beading) halve(from, to, in UV, p, q *normal, spacing float64, depth int) {
	turned := 0.0
	if depth >= 3 {
		turned = turning(p.n, q.n)
	}
	if depth < 3 || turned > b.turn/8 && depth < 12 {
		mid := UV{(from.U + to.U) / 2, (from.V + to.V) / 2}
		m := b.seen(mid, in)
		b.halve(from, mid, in, p, &m, spacing, depth+1)
		b.halve(mid, to, in, &m, q, spacing, depth+1)
		return
	}
	w := max(q.p.Sub(p.p).Norm()/spacing, turned/b.turn)
	b.places, b.weights = append(b.places, to), append(b.weights, b.weights[len(b.weights)-1]+w)
}

// spread returns the place at m of n equal parts of the weight of a run that was weighed,
// at k or later, and k there.
func (b *beading) spread(k, m, n int) (UV, int) {
	want := b.weights[len(b.weights)-1] * float64(m) / float64(n)
	for k+1 < len(b.weights) && b.weights[k] < want {
		k++
	}
	p, q, t := b.places[k-1], b.places[k], 0.5
	if step := b.weights[k] - b.weights[k-1]; step > 0 {
		t = (want - b.weights[k-1]) / step
	}
	return UV{p.U + float64(t*(q.U-p.U)), p.V + float64(t*(q.V-p.V))}, k
}

// seen returns the point and the normal of a place in the panel that holds in.
func (b *beading) seen(uv, in UV) (n normal) {
	n.p, n.n = b.s.At(uv, in)
	return n
}

// distinct appends a path without points that repeat the one before: a path over
// a net does so where it runs through a node.
func distinct(out []UV, s Surface, path []UV) []UV {
	out = append(out, path[0])
	last := PointAt(s, path[0])
	for i, uv := range path[1:] {
		if p := PointAt(s, uv); p.Sub(last).Norm() > 1e-9 {
			out, last = append(out, uv), p
		} else if i+2 == len(path) && len(out) > 1 {
			out[len(out)-1] = uv
		}
	}
	return out
}
