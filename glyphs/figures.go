package glyphs

import (
	"math"

	"maskloft/geometry/same"
)

// sign returns the strokes of a figure, the hyphen, the stop or the slash; nil
// for other characters.
func (p pen) sign() []stroke {
	y, up, down := p.waist(), p.h-p.hook(), p.hook()
	topLeft := []node{at(p.l, up), bend(p.l, p.t)}   // hook at the upper left
	lowLeft := []node{bend(p.l, p.b), at(p.l, down)} // hook at the lower left
	switch p.char {
	case '0':
		if p.form() == "slashed" {
			return []stroke{p.box(p.t, p.b), strokeThrough(at(p.l, p.h*0.25), at(p.r, p.h*0.75))}
		}
		return []stroke{p.box(p.t, p.b)}
	case '1':
		if p.form() == "flagged" {
			// the flag's upper edge leaves the upper left corner of the upright
			x, d := p.w-p.sv, p.half(math.Pi/4)/math.Sqrt2
			return []stroke{p.stemR(), p.ray(at(x+d, p.h-d), at(x+d-p.sv, p.h-d-p.sv))}
		}
		return []stroke{strokeThrough(at(p.mid, 0), at(p.mid, p.h))}
	case '2':
		if p.form() == "diagonal" {
			from := bend(p.r, y+float64(p.h*0.06))
			x := p.w - p.elbow(at(p.w-from.x, p.h-from.y)) // as Z, upside down
			return []stroke{strokeThrough(join(topLeft, []node{bend(p.r, p.t), from, at(x, p.b), at(p.w, p.b)})...)}
		}
		return []stroke{strokeThrough(join(topLeft, p.bowl(p.t, y), []node{bend(p.l, y), at(p.l, p.b), at(p.w, p.b)})...)}
	case '3':
		nib := []node{at(p.mid-p.w/8, y)}
		return []stroke{strokeThrough(join(topLeft, p.bowl(p.t, y), nib)...), strokeThrough(join(nib, p.bowl(y, p.b), lowLeft)...)}
	case '4':
		x := float64(p.w * 0.72)
		if p.form() == "open" {
			return []stroke{strokeThrough(at(x, 0), at(x, p.h)), strokeThrough(at(p.l, p.h), at(p.l, y), at(p.w, y))}
		}
		// The mitre of bar and diagonal comes to the left edge of the cell: their
		// outer edges meet (half + b cos v)/sin v left of the bend, with v the
		// angle between them (derived).
		left := solve(0, func(left float64) float64 {
			v := same.Atan2(p.h-y, x-left)
			return (p.half(math.Pi/2-v) + float64(p.b*same.Cos(v))) / same.Sin(v)
		})
		return []stroke{strokeThrough(at(x, 0), at(x, p.h)), strokeThrough(at(p.w, y), at(left, y), at(x, p.h))}
	case '5':
		return []stroke{strokeThrough(join([]node{at(p.w, p.t), at(p.l, p.t), at(p.l, y)}, p.bowl(y, p.b), lowLeft)...)}
	case '6':
		return []stroke{p.box(y, p.b), p.tail(y, up)}
	case '7':
		if p.form() == "upright" {
			return []stroke{strokeThrough(at(0, p.t), bend(p.r, p.t), at(p.r, 0))}
		}
		foot := at(p.w*0.36, 0)
		s := p.ray(at(p.elbow(foot), p.t), foot)
		return []stroke{strokeThrough(at(0, p.t), s.nodes[0], s.nodes[1])}
	case '8':
		return []stroke{p.box(p.t, y), p.box(y, p.b)}
	case '9':
		// a 6 turned half round about the middle of the cell
		s := p.tail(p.h-y, up)
		for i, n := range s.nodes {
			s.nodes[i] = node{x: p.w - n.x, y: p.h - n.y, bend: n.bend}
		}
		return []stroke{p.box(p.t, y), s}
	case '-':
		return []stroke{strokeThrough(at(0, y), at(p.w, y))}
	case '.':
		return []stroke{strokeThrough(at(0, p.b), at(p.w, p.b))}
	case '/':
		m := at(p.mid, p.h/2)
		return []stroke{p.line(p.reach(m, 0, 0), p.reach(m, p.h, p.w))}
	}
	return nil
}

// tail returns the upper stroke of a 6 whose bowl has its upper bar at y; up is
// where a hook ends.
func (p pen) tail(y, up float64) stroke {
	foot := at(p.l, (y+p.b)/2)
	switch p.form() {
	case "flat":
		return strokeThrough(foot, bend(p.l, p.t), at(p.w, p.t))
	case "straight":
		// upright as far as the bowl, then a diagonal cut flush at the cap line
		knee := bend(p.l, y)
		return strokeThrough(foot, knee, p.to(knee, p.h, p.w).nodes[1])
	}
	return strokeThrough(foot, bend(p.l, p.t), bend(p.r, p.t), at(p.r, up))
}
