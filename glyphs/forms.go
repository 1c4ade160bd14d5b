package glyphs

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// forms are the characters with more than one form; the first is the one meant
// where an alphabet says nothing.
var forms = map[string][]string{
	"A": {"square", "pointed"},          // two uprights under a bar, or two diagonals
	"G": {"bar", "spur"},                // with a spur the lower right corner is square
	"I": {"plain", "barred"},            // one stroke, or with a bar at head and foot
	"J": {"hook", "flat"},               // the foot turns up, or ends as a bar
	"M": {"middle", "full"},             // the point of the V hangs at the waist, or stands on the baseline
	"Q": {"corner", "inside"},           // the tail runs to a square corner, or stays within an O
	"R": {"diagonal", "straight"},       // the leg
	"W": {"full", "middle"},             // the inner point reaches the cap line, or the waist
	"0": {"plain", "slashed"},           //
	"1": {"plain", "flagged"},           // one stroke, or with a flag at the head
	"2": {"square", "diagonal"},         // bars and uprights, or a diagonal to the foot
	"4": {"closed", "open"},             // a diagonal, or two uprights that do not meet
	"6": {"curled", "flat", "straight"}, // the tail turns down, ends as a bar, or is a diagonal
	"7": {"diagonal", "upright"},        // the leg
	"9": {"curled", "flat", "straight"}, // as 6, upside down
}

// waists are the characters with a middle bar or a point whose height can be
// given, and its usual height as a part of the cap height: common practice, no
// source. For K it is where the arm's centre line meets the upright's.
var waists = map[string]float64{
	"A": 0.4, "B": 0.5, "E": 0.5, "F": 0.5, "G": 0.46, "H": 0.5, "K": 0.37, "M": 0.3, "P": 0.46, "R": 0.46, "S": 0.5, "W": 0.7, "Y": 0.44,
	"2": 0.5, "3": 0.5, "4": 0.28, "5": 0.57, "6": 0.55, "8": 0.5, "9": 0.45, "-": 0.5,
}

// hooked are the characters whose ends hook, and usualHook how far the ends lie
// from the cap line or the baseline, as a part of the cap height: a matter of
// taste (common practice, no source).
const (
	hooked    = "CGJS235679"
	usualHook = 0.29
)

// all are the characters that have a form, in order.
const all = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-./"

// skeleton returns the strokes of a character; nil where there is no such form.
func (p pen) skeleton() []stroke {
	if s := p.sign(); s != nil {
		return s
	}
	y, up, down := p.waist(), p.h-p.hook(), p.hook()
	top, foot := strokeThrough(at(0, p.t), at(p.w, p.t)), strokeThrough(at(0, p.b), at(p.w, p.b))
	roundC := []node{at(p.r, up), bend(p.r, p.t), bend(p.l, p.t), bend(p.l, p.b), bend(p.r, p.b)}
	lobe := func(y1, y0 float64, x1, x0 float64) stroke {
		return strokeThrough(join([]node{at(x1, y1)}, p.bowl(y1, y0), []node{at(x0, y0)})...)
	}
	switch p.char {
	case 'A':
		if p.form() == "pointed" {
			arms := p.flipped(p.vee(0, p.w))
			n := arms.nodes // the apex is the middle one
			at0 := func(e node) node { f := (y - n[1].y) / (e.y - n[1].y); return at(n[1].x+float64(f*(e.x-n[1].x)), y) }
			return []stroke{arms, strokeThrough(at0(n[0]), at0(n[2]))}
		}
		return []stroke{strokeThrough(at(p.l, 0), bend(p.l, p.t), bend(p.r, p.t), at(p.r, 0)), strokeThrough(at(p.l, y), at(p.r, y))}
	case 'B':
		return []stroke{p.stem(), lobe(p.t, y, 0, p.l), lobe(y, p.b, p.l, 0)}
	case 'C':
		return []stroke{strokeThrough(join(roundC, []node{at(p.r, down)})...)}
	case 'D':
		return []stroke{p.stem(), lobe(p.t, p.b, 0, 0)}
	case 'E':
		return []stroke{p.stem(), top, strokeThrough(at(0, y), at(p.w*0.8, y)), foot}
	case 'F':
		return []stroke{p.stem(), top, strokeThrough(at(0, y), at(p.w*0.8, y))}
	case 'G':
		if p.form() == "spur" {
			roundC[4].bend = false
		}
		return []stroke{strokeThrough(join(roundC, []node{at(p.r, y), at(p.mid, y)})...)}
	case 'H':
		return []stroke{p.stem(), p.stemR(), strokeThrough(at(p.l, y), at(p.r, y))}
	case 'I':
		if p.form() == "barred" {
			return []stroke{top, strokeThrough(at(p.mid, 0), at(p.mid, p.h)), foot}
		}
		return []stroke{strokeThrough(at(p.mid, 0), at(p.mid, p.h))}
	case 'J':
		if p.form() == "flat" {
			return []stroke{strokeThrough(at(p.r, p.h), bend(p.r, p.b), at(0, p.b))}
		}
		return []stroke{strokeThrough(at(p.r, p.h), bend(p.r, p.b), bend(p.l, p.b), at(p.l, down))}
	case 'K':
		return []stroke{p.stem(), p.to(at(p.l, y), p.h, p.w), p.to(at(float64(p.w*0.38), y+float64(p.h*0.18)), 0, p.w)}
	case 'L':
		return []stroke{p.stem(), foot}
	case 'M':
		v := at(p.mid, y)
		if p.form() == "full" {
			v.y = solve(0, func(y float64) float64 { return p.point(same.Atan2(p.mid-p.l, p.h-y)) })
		}
		a, c := p.ray(v, at(p.l, p.h)), p.ray(v, at(p.r, p.h))
		return []stroke{p.stem(), p.stemR(), strokeThrough(a.nodes[1], v, c.nodes[1])}
	case 'N':
		m := at(p.mid, p.h/2)
		return []stroke{p.stem(), p.stemR(), p.line(p.reach(m, p.h, 0), p.reach(m, 0, p.w))}
	case 'O':
		return []stroke{p.box(p.t, p.b)}
	case 'P':
		return []stroke{p.stem(), lobe(p.t, y, 0, p.l)}
	case 'Q':
		// how far the tail stands into the counter, beside its corner
		d := math.Min(0.4*(p.sv+p.sh), 0.4*(p.w-2*p.sv))
		in := at(p.w-p.sv-d, p.sh+d)
		if p.form() == "inside" {
			e := float64(depth(p.alphabet.Corner.Cut)*p.k) + (p.sv+p.sh)/4 // within the ink of the corner
			return []stroke{p.box(p.t, p.b), strokeThrough(in, at(p.w-e/math.Sqrt2, e/math.Sqrt2))}
		}
		return []stroke{ring(bend(p.r, p.t), at(p.r, p.b), bend(p.l, p.b), bend(p.l, p.t)), strokeThrough(in, at(p.w, 0))}
	case 'R':
		bowl := lobe(p.t, y, 0, p.l)
		if p.form() == "straight" {
			return []stroke{p.stem(), bowl, strokeThrough(at(p.l, y), bend(p.r, y), at(p.r, 0))}
		}
		return []stroke{p.stem(), bowl, p.to(at(p.w*0.48, y), 0, p.w)}
	case 'S':
		return []stroke{strokeThrough(at(p.r, up), bend(p.r, p.t), bend(p.l, p.t), bend(p.l, y), bend(p.r, y), bend(p.r, p.b), bend(p.l, p.b), at(p.l, down))}
	case 'T':
		return []stroke{top, strokeThrough(at(p.mid, 0), at(p.mid, p.h))}
	case 'U':
		return []stroke{strokeThrough(at(p.l, p.h), bend(p.l, p.b), bend(p.r, p.b), at(p.r, p.h))}
	case 'V':
		return []stroke{p.vee(0, p.w)}
	case 'W':
		if p.form() == "middle" {
			return p.lowW(y)
		}
		return []stroke{p.vee(0, p.w*0.56), p.vee(p.w*0.44, p.w)}
	case 'X':
		m := at(p.mid, p.h/2)
		return []stroke{p.line(p.reach(m, 0, 0), p.reach(m, p.h, p.w)), p.line(p.reach(m, p.h, 0), p.reach(m, 0, p.w))}
	case 'Y':
		v := at(p.mid, y)
		a, c := p.to(v, p.h, 0), p.to(v, p.h, p.w)
		return []stroke{strokeThrough(a.nodes[1], v, c.nodes[1]), strokeThrough(at(p.mid, 0), v)}
	case 'Z':
		x := p.elbow(at(p.mid, p.h/2)) // Z looks the same upside down
		return []stroke{strokeThrough(at(0, p.t), at(x, p.t), at(p.w-x, p.b), at(p.w, p.b))}
	}
	return nil
}

// lowW returns a W of four parallel arms, two and two, whose inner point is cut
// flush at height y.
func (p pen) lowW(y float64) []stroke {
	// From the edge to the middle: half the level width at the cap line, the way
	// down to a foot, the way up to y, and what is left between the two arms there.
	e := float64(0.15 * p.sv)
	a := solve(0.1, func(a float64) float64 {
		return same.Atan((p.mid - p.across(a) - e) / (p.h + y - 2*p.point(a)))
	})
	f := p.point(a)
	foot := p.mid - e - float64((y-f)*same.Tan(a))
	far := float64((2*p.h - f) * same.Tan(a))
	// the foot is in the middle of the two arms: what rises behind it above y goes
	return []stroke{
		{nodes: []node{at(foot-far, 2*p.h), at(foot, f), at(foot+far, 2*p.h)}, less: &g.Rect{Min: g.Point{X: foot, Y: y}, Max: g.Point{X: 2 * p.w, Y: 3 * p.h}}},
		{nodes: []node{at(p.w-foot-far, 2*p.h), at(p.w-foot, f), at(p.w-foot+far, 2*p.h)}, less: &g.Rect{Min: g.Point{X: -p.w, Y: y}, Max: g.Point{X: p.w - foot, Y: 3 * p.h}}},
	}
}
