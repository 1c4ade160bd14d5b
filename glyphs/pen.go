package glyphs

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// node is a point of a skeleton, in inches. At a bend the stroke turns a corner
// as the alphabet's corners are; elsewhere its edges run on until they meet.
type node struct {
	x, y float64
	bend bool
}

func at(x, y float64) node   { return node{x: x, y: y} }
func bend(x, y float64) node { return node{x: x, y: y, bend: true} }

// stroke is a run of centre lines; loop joins its ends. What lies in less is
// taken away from it.
type stroke struct {
	nodes []node
	loop  bool
	less  *g.Rect
}

func strokeThrough(n ...node) stroke { return stroke{nodes: n} }
func ring(n ...node) stroke          { return stroke{nodes: n, loop: true} }

func join(lists ...[]node) []node {
	var out []node
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// pen holds the lines that the skeleton of one character is drawn on, in inches:
// l and r the centre lines of the outer uprights, b and t those of the lower and
// upper bars, mid the middle of the cell.
type pen struct {
	alphabet     *Alphabet
	char         rune    // the character
	k            float64 // inches to the unit of the grid
	w, h, sv, sh float64
	l, r, b, t   float64
	mid          float64
}

// pen returns the lines for a character, with k inches to the unit of the grid.
func (a *Alphabet) pen(r rune, k float64) pen {
	p := pen{alphabet: a, char: r, k: k, w: a.WidthOf(r) * k, h: a.Height * k, sv: a.Stroke.Vertical * k, sh: a.Stroke.Horizontal * k}
	p.l, p.r, p.b, p.t, p.mid = p.sv/2, p.w-p.sv/2, p.sh/2, p.h-p.sh/2, p.w/2
	return p
}

func (p pen) form() string { return p.alphabet.Form(p.char) }

// waist returns the height of the character's middle bar, on its centre line.
func (p pen) waist() float64 { return float64(p.alphabet.WaistOf(p.char) * p.k) }

// hook returns how far the ends of the character's hooks lie from the cap line
// or the baseline that they come from.
func (p pen) hook() float64 { return float64(p.alphabet.HookOf(p.char) * p.k) }

// half returns half the width of a stroke that leans from upright by an angle in
// radians: that of an upright at 0, of a bar at a quarter turn.
func (p pen) half(lean float64) float64 {
	sin, cos := same.Sincos(lean)
	return (float64(p.sv*cos*cos) + float64(p.sh*sin*sin)) / 2
}

// across returns half the level width of a stroke that leans from upright.
func (p pen) across(lean float64) float64 { return p.half(lean) / same.Cos(lean) }

func (p pen) stem() stroke  { return strokeThrough(at(p.l, 0), at(p.l, p.h)) }
func (p pen) stemR() stroke { return strokeThrough(at(p.r, 0), at(p.r, p.h)) }

// bowl returns the bends round the right side from the bar at y1 to that at y0.
func (p pen) bowl(y1, y0 float64) []node { return []node{bend(p.r, y1), bend(p.r, y0)} }

// box returns the closed loop between two bars.
func (p pen) box(y1, y0 float64) stroke {
	return ring(append(p.bowl(y1, y0), bend(p.l, y0), bend(p.l, y1))...)
}

// ray returns the stroke from a through c and on beyond the cell, which cuts it.
func (p pen) ray(a, c node) stroke {
	d := same.Hypot(c.x-a.x, c.y-a.y)
	return strokeThrough(a, at(c.x+p.h*(c.x-a.x)/d, c.y+p.h*(c.y-a.y)/d))
}

// line returns the stroke through a and c, running beyond the cell at both ends.
func (p pen) line(a, c node) stroke {
	return strokeThrough(p.ray(c, a).nodes[1], p.ray(a, c).nodes[1])
}

// to returns the diagonal from a point to where its outer edge meets the edge of
// the cell at height y.
func (p pen) to(from node, y, edge float64) stroke { return p.ray(from, p.reach(from, y, edge)) }

// solve applies f until it settles; every use contracts by half or more a turn.
func solve(x float64, f func(float64) float64) float64 {
	for i := 0; i < 60; i++ {
		x = f(x)
	}
	return x
}

// reach returns where the centre line of a diagonal from a point inside the cell
// ends at height y, if its outer edge is to meet the edge of the cell there.
func (p pen) reach(from node, y, edge float64) node {
	return at(solve(edge, func(x float64) float64 {
		lean := same.Atan2(math.Abs(x-from.x), math.Abs(y-from.y))
		return edge - math.Copysign(p.across(lean), edge-from.x)
	}), y)
}

// elbow returns where the centre line of the upper bar bends into a diagonal
// that runs to a point below, if the mitre of the two is to come to the corner
// of the cell. With the lean a of the diagonal from upright, its right edge
// meets the cap line b tan a + half(a)/cos a right of the bend (derived).
func (p pen) elbow(to node) float64 {
	return solve(p.r, func(x float64) float64 {
		a := same.Atan2(x-to.x, p.t-to.y)
		return p.w - float64(p.b*same.Tan(a)) - p.across(a)
	})
}

// point returns how high above the baseline the centre lines of a V that leans
// by a stand where they meet, if the V is to be cut flush there a little wider
// than an upright.
func (p pen) point(a float64) float64 { return (p.across(a) - float64(0.6*p.sv)) / same.Tan(a) }

// vee returns a V between two edges whose arms reach the cap line at the edges
// and whose point is cut flush at the baseline.
func (p pen) vee(x0, x1 float64) stroke {
	mid, half := (x0+x1)/2, (x1-x0)/2
	// An arm's centre line passes half its level width within the edge at the
	// cap line; the outer edges stand 0.1 of an upright beside the middle where
	// the centre lines are, produced, at the baseline.
	a := solve(0, func(a float64) float64 { return same.Atan((half - p.across(a) - float64(p.sv*0.1)) / p.h) })
	top := half - p.across(a)
	end := func(sign float64) node { return at(mid+float64(sign*(top+float64(same.Tan(a)*p.h))), 2*p.h) }
	return strokeThrough(end(-1), at(mid, p.h-top/same.Tan(a)), end(1))
}

// flipped returns a stroke turned upside down within the cell.
func (p pen) flipped(s stroke) stroke {
	out := stroke{loop: s.loop}
	for _, n := range s.nodes {
		out.nodes = append(out.nodes, node{x: n.x, y: p.h - n.y, bend: n.bend})
	}
	return out
}
