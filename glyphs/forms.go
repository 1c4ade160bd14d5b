package glyphs

import "math"

// xy is a point of a skeleton in units of the grid.
type xy struct{ x, y float64 }

// stroke is a run of centre lines with mitred bends; loop joins its ends.
type stroke struct {
	pts  []xy
	loop bool
}

// pen holds the lines of the grid that skeletons are drawn on: l and r the
// centre lines of the outer uprights, b, m and t those of the lower, middle and
// upper bars, and q the legs of the chamfer on the centre line.
type pen struct {
	w, h, l, r, b, m, t, q float64
	form                   func(rune) string
}

// forms are the characters with more than one form; the first is the one meant
// where an alphabet says nothing.
var forms = map[string][]string{"4": {"closed", "open"}, "I": {"plain", "barred"}}

// form returns the form of a character that has more than one.
func (a *Alphabet) form(r rune) string {
	if f, ok := a.Forms[string(r)]; ok {
		return f
	}
	return forms[string(r)][0]
}

func (a *Alphabet) pen(w float64) pen {
	s := a.Stroke
	// Moving a 45 degree cut inwards by half a stroke shortens its legs by
	// (2 - sqrt 2) of that (derived from the mitres of its two corners).
	q := math.Max(0, a.Corner.Size-(2-math.Sqrt2)*s/2)
	return pen{w: w, h: a.Height, l: s / 2, r: w - s/2, b: s / 2, m: a.Height / 2, t: a.Height - s/2, q: q, form: a.form}
}

func run(p ...xy) stroke  { return stroke{pts: p} }
func ring(p ...xy) stroke { return stroke{pts: p, loop: true} }

// bowl returns the bends round the right side from the upper bar at y1 to the
// lower bar at y0, ends on the bars left out.
func (p pen) bowl(y1, y0 float64) []xy {
	return []xy{{p.r - p.q, y1}, {p.r, y1 - p.q}, {p.r, y0 + p.q}, {p.r - p.q, y0}}
}

// box returns the closed loop between two bars.
func (p pen) box(y1, y0 float64) stroke {
	return ring(append(p.bowl(y1, y0), xy{p.l + p.q, y0}, xy{p.l, y0 + p.q}, xy{p.l, y1 - p.q}, xy{p.l + p.q, y1})...)
}

func join(lists ...[]xy) []xy {
	var out []xy
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// skeleton returns the strokes of a character; nil where there is no such form.
// Where a hook ends is a matter of taste: a fifth of the height below the cap
// line or above the baseline (common practice, no source).
func (p pen) skeleton(r rune) []stroke {
	up, down := p.h*0.71, p.h*0.29 // ends of hooks
	stem := run(xy{p.l, 0}, xy{p.l, p.h})
	stemR := run(xy{p.r, 0}, xy{p.r, p.h})
	mid := p.w / 2
	over := p.h // a diagonal runs this far beyond its end and is cut flush
	ray := func(a, c xy) stroke {
		d := math.Hypot(c.x-a.x, c.y-a.y)
		u := xy{(c.x - a.x) / d, (c.y - a.y) / d}
		return run(a, xy{c.x + over*u.x, c.y + over*u.y})
	}
	to := func(from xy, y, edge float64) stroke { return ray(from, p.reach(from, y, edge)) }
	line := func(a, c xy) stroke { s := ray(a, c); e := ray(c, a); return run(e.pts[1], s.pts[1]) }
	topLeft := []xy{{p.l, up}, {p.l, p.t - p.q}, {p.l + p.q, p.t}}   // hook at the upper left
	lowLeft := []xy{{p.l + p.q, p.b}, {p.l, p.b + p.q}, {p.l, down}} // hook at the lower left
	roundC := []xy{{p.r, up}, {p.r, p.t - p.q}, {p.r - p.q, p.t}, {p.l + p.q, p.t}, {p.l, p.t - p.q}, {p.l, p.b + p.q}, {p.l + p.q, p.b}, {p.r - p.q, p.b}}
	lower := p.h * 0.46 // waist of B, P and R, a little below the middle
	switch r {
	case '0', 'O':
		return []stroke{p.box(p.t, p.b)}
	case 'I':
		if p.form(r) == "barred" {
			return []stroke{run(xy{0, p.t}, xy{p.w, p.t}), run(xy{mid, 0}, xy{mid, p.h}), run(xy{0, p.b}, xy{p.w, p.b})}
		}
		return []stroke{run(xy{mid, 0}, xy{mid, p.h})}
	case '1':
		return []stroke{run(xy{mid, 0}, xy{mid, p.h})}
	case '2':
		return []stroke{run(join(topLeft, []xy{{p.r - p.q, p.t}, {p.r, p.t - p.q}, {p.r, p.m + p.q}, {p.r - p.q, p.m},
			{p.l + p.q, p.m}, {p.l, p.m - p.q}, {p.l, p.b}, {p.w, p.b}})...)}
	case '3':
		return []stroke{
			run(join(topLeft, p.bowl(p.t, p.m), []xy{{mid - p.w/8, p.m}})...),
			run(join([]xy{{mid - p.w/8, p.m}}, p.bowl(p.m, p.b), lowLeft)...),
		}
	case '4':
		x, y := p.w*0.72, p.h*0.28
		if p.form(r) == "open" {
			return []stroke{run(xy{x, 0}, xy{x, p.h}), run(xy{p.l, p.h}, xy{p.l, y}, xy{p.w, y})}
		}
		// the mitre of bar and diagonal comes to the left edge of the cell
		left := 0.0
		for i := 0; i < 60; i++ {
			left = p.l / math.Tan(math.Atan2(p.h-y, x-left)/2)
		}
		return []stroke{run(xy{x, 0}, xy{x, p.h}), run(xy{p.w, y}, xy{left, y}, xy{x, p.h})}
	case '5':
		y := p.h * 0.57
		return []stroke{run(join([]xy{{p.w, p.t}, {p.l, p.t}, {p.l, y}}, p.bowl(y, p.b), lowLeft)...)}
	case '6':
		y := p.h * 0.55
		return []stroke{p.box(y, p.b), run(xy{p.l, p.b + p.q}, xy{p.l, p.t - p.q}, xy{p.l + p.q, p.t}, xy{p.r - p.q, p.t}, xy{p.r, p.t - p.q}, xy{p.r, up})}
	case '7':
		s := ray(xy{p.elbow(xy{p.w * 0.36, 0}), p.t}, xy{p.w * 0.36, 0})
		return []stroke{run(xy{0, p.t}, s.pts[0], s.pts[1])}
	case '8':
		return []stroke{p.box(p.t, p.m), p.box(p.m, p.b)}
	case '9':
		y := p.h * 0.45
		return []stroke{p.box(p.t, y), run(xy{p.r, p.t - p.q}, xy{p.r, p.b + p.q}, xy{p.r - p.q, p.b}, xy{p.l + p.q, p.b}, xy{p.l, p.b + p.q}, xy{p.l, down})}
	case 'A':
		return []stroke{run(xy{p.l, 0}, xy{p.l, p.t - p.q}, xy{p.l + p.q, p.t}, xy{p.r - p.q, p.t}, xy{p.r, p.t - p.q}, xy{p.r, 0}), run(xy{p.l, p.h * 0.4}, xy{p.r, p.h * 0.4})}
	case 'B':
		return []stroke{stem, run(join([]xy{{0, p.t}}, p.bowl(p.t, p.m), []xy{{p.l, p.m}})...), run(join([]xy{{p.l, p.m}}, p.bowl(p.m, p.b), []xy{{0, p.b}})...)}
	case 'C':
		return []stroke{run(join(roundC, []xy{{p.r, p.b + p.q}, {p.r, down}})...)}
	case 'D':
		return []stroke{stem, run(join([]xy{{0, p.t}}, p.bowl(p.t, p.b), []xy{{0, p.b}})...)}
	case 'E':
		return []stroke{stem, run(xy{0, p.t}, xy{p.w, p.t}), run(xy{0, p.m}, xy{p.w * 0.8, p.m}), run(xy{0, p.b}, xy{p.w, p.b})}
	case 'F':
		return []stroke{stem, run(xy{0, p.t}, xy{p.w, p.t}), run(xy{0, p.m}, xy{p.w * 0.8, p.m})}
	case 'G':
		return []stroke{run(join(roundC, []xy{{p.r, p.b + p.q}, {p.r, p.h * 0.46}, {mid, p.h * 0.46}})...)}
	case 'H':
		return []stroke{stem, stemR, run(xy{p.l, p.m}, xy{p.r, p.m})}
	case 'J':
		return []stroke{run(join([]xy{{p.r, p.h}, {p.r, p.b + p.q}, {p.r - p.q, p.b}}, lowLeft)...)}
	case 'K':
		return []stroke{stem, to(xy{p.l, p.h * 0.37}, p.h, p.w), to(xy{p.w * 0.38, p.h * 0.55}, 0, p.w)}
	case 'L':
		return []stroke{stem, run(xy{0, p.b}, xy{p.w, p.b})}
	case 'M':
		v := xy{mid, p.h * 0.3}
		a, c := ray(v, xy{p.l, p.h}), ray(v, xy{p.r, p.h})
		return []stroke{stem, stemR, run(a.pts[1], v, c.pts[1])}
	case 'N':
		return []stroke{stem, stemR, line(p.reach(xy{mid, p.m}, p.h, 0), p.reach(xy{mid, p.m}, 0, p.w))}
	case 'P':
		return []stroke{stem, run(join([]xy{{0, p.t}}, p.bowl(p.t, lower), []xy{{p.l, lower}})...)}
	case 'Q':
		// O with a square corner, and a tail that runs out of it at 45 degrees
		o := ring(append(p.bowl(p.t, p.b)[:2], xy{p.r, p.b}, xy{p.l + p.q, p.b}, xy{p.l, p.b + p.q}, xy{p.l, p.t - p.q}, xy{p.l + p.q, p.t})...)
		d := 1.6 * p.l // how far the tail stands into the counter, beside its corner
		return []stroke{o, run(xy{p.r - p.l - d, p.b + p.l + d}, xy{p.w, 0})}
	case 'R':
		return []stroke{stem, run(join([]xy{{0, p.t}}, p.bowl(p.t, lower), []xy{{p.l, lower}})...), to(xy{mid - p.w*0.02, lower}, 0, p.w)}
	case 'S':
		return []stroke{run(join([]xy{{p.r, up}, {p.r, p.t - p.q}, {p.r - p.q, p.t}, {p.l + p.q, p.t}, {p.l, p.t - p.q}, {p.l, p.m + p.q}, {p.l + p.q, p.m}},
			p.bowl(p.m, p.b), lowLeft)...)}
	case 'T':
		return []stroke{run(xy{0, p.t}, xy{p.w, p.t}), run(xy{mid, 0}, xy{mid, p.h})}
	case 'U':
		return []stroke{run(xy{p.l, p.h}, xy{p.l, p.b + p.q}, xy{p.l + p.q, p.b}, xy{p.r - p.q, p.b}, xy{p.r, p.b + p.q}, xy{p.r, p.h})}
	case 'V':
		return []stroke{p.vee(0, p.w)}
	case 'W':
		return []stroke{p.vee(0, p.w*0.56), p.vee(p.w*0.44, p.w)}
	case 'X':
		return []stroke{line(p.reach(xy{mid, p.m}, 0, 0), p.reach(xy{mid, p.m}, p.h, p.w)), line(p.reach(xy{mid, p.m}, p.h, 0), p.reach(xy{mid, p.m}, 0, p.w))}
	case 'Y':
		v := xy{mid, p.h * 0.44}
		a, c := to(v, p.h, 0), to(v, p.h, p.w)
		return []stroke{run(a.pts[1], v, c.pts[1]), run(xy{mid, 0}, v)}
	case 'Z':
		x := p.elbow(xy{mid, p.m}) // Z looks the same upside down
		return []stroke{run(xy{0, p.t}, xy{x, p.t}, xy{p.w - x, p.b}, xy{p.w, p.b})}
	case '-':
		return []stroke{run(xy{0, p.m}, xy{p.w, p.m})}
	}
	return nil
}

// reach returns where the centre line of a diagonal from a point inside the cell
// ends at height y, if its outer edge is to meet the edge of the cell there.
func (p pen) reach(from xy, y, edge float64) xy {
	end := xy{edge, y}
	for i := 0; i < 60; i++ {
		lean := math.Atan2(math.Abs(end.x-from.x), math.Abs(y-from.y))
		end.x = edge - math.Copysign(p.l/math.Cos(lean), edge-from.x)
	}
	return end
}

// elbow returns where the centre line of the upper bar bends into a diagonal
// that runs to a point below, if the mitre of the two is to come to the corner
// of the cell. With the lean a of the diagonal from upright, its right edge
// meets the cap line p.l*(tan a + 1/cos a) right of the bend (derived).
func (p pen) elbow(to xy) float64 {
	x := p.r
	for i := 0; i < 60; i++ {
		a := math.Atan2(x-to.x, p.t-to.y)
		x = p.w - p.l*(math.Tan(a)+1/math.Cos(a))
	}
	return x
}

// vee returns a V between two edges whose arms reach the cap line at the edges
// and whose point is cut flush at the baseline.
func (p pen) vee(x0, x1 float64) stroke {
	s := 2 * p.l // the stroke
	mid, half := (x0+x1)/2, (x1-x0)/2
	// An arm leans by angle a from upright; its width across is s/cos a. Its
	// centre line passes half of that within the edge at the cap line, and the
	// two meet where the flat at the baseline is as wide as the stroke.
	a := 0.0
	for i := 0; i < 60; i++ {
		a = math.Atan((half - s/2/math.Cos(a) - s*0.1) / p.h)
	}
	top := half - s/2/math.Cos(a)
	low := xy{mid, p.h - top/math.Tan(a)}
	end := func(sign float64) xy { return xy{mid + sign*(top+math.Tan(a)*p.h), 2 * p.h} }
	return run(end(-1), low, end(1))
}

// all are the characters that have a form, in order.
const all = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-"
