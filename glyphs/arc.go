package glyphs

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Arc is a baseline along a circle.
type Arc struct {
	Radius g.Length // of the last line's baseline
	Reads  Reading
}

// Reading says on which side of the circle a text stands.
type Reading string

// Values of Reading.
const (
	ReadsOver  Reading = "over"  // over the top, letters outside the circle, their tops away from its centre
	ReadsUnder Reading = "under" // under the bottom, letters inside the circle, their tops towards its centre
)

// bend places lines along concentric arcs, each centred on the vertical through
// the circle's centre. The middle of a character's width is at its distance
// along the baseline, and the character stands square to the radius there.
//
// With s the distance of that middle from the middle of the line and R the
// radius of the line, the character turns by -s/R over and by s/R under.
func (r *Lettering) bend(lines []line, leading g.Length, arc Arc) error {
	sign := 1.0 // over: the centre lies below
	if arc.Reads == ReadsUnder {
		sign = -1
	}
	if arc.Radius <= 0 {
		return g.Errorf("arc radius %v: it must be above 0", arc.Radius)
	}
	x0, yc := r.Width.Inches()/2, float64(-sign*arc.Radius.Inches())
	for i, l := range lines {
		rise := leading * g.Length(len(lines)-1-i)
		radius := arc.Radius.Inches() + float64(sign*rise.Inches())
		w := l.width().Inches()
		cap := (r.Height - g.Length(leading*g.Length(len(lines)-1))).Inches()
		if sign < 0 && radius <= cap {
			return g.Errorf("arc radius %v: the tops of line %d would meet at its centre: write a radius above %v", arc.Radius, i+1, ceil(arc.Radius+g.Length(cap-radius)))
		}
		if w >= 2*math.Pi*radius {
			return g.Errorf("arc radius %v: line %d is %v long, more than once round: write a radius above %v", arc.Radius, i+1, g.Length(w), ceil(arc.Radius+g.Length(w/2/math.Pi-radius)))
		}
		s := -w / 2
		for k, glyph := range l.glyphs {
			half := glyph.Width.Inches() / 2
			turn := -sign * (s + half) / radius
			sin, cos := same.Sincos(turn)
			// the middle of the baseline, then half a width back along it
			mx, my := x0-float64(sign*radius*sin), yc+float64(sign*radius*cos)
			r.Glyphs = append(r.Glyphs, PlacedGlyph{
				Glyph: glyph, X: g.Length(mx - float64(half*cos)), Y: g.Length(my - float64(half*sin)), Angle: turn, Line: i,
			})
			if s += 2 * half; k < len(l.gaps) {
				s += l.gaps[k].Inches()
			}
		}
	}
	return r.apartOnArc(arc)
}

// apartOnArc reports neighbours that run into each other: at their tops inside a
// circle, at their feet outside it.
func (r *Lettering) apartOnArc(arc Arc) error {
	for i := range r.Glyphs {
		for k := 0; k < i; k++ {
			a, b := r.Glyphs[k], r.Glyphs[i]
			pa, pb := a.Placed(), b.Placed()
			ba, bb := pa.Bounds(), pb.Bounds()
			if ba.Max.X < bb.Min.X || bb.Max.X < ba.Min.X || ba.Max.Y < bb.Min.Y || bb.Max.Y < ba.Min.Y {
				continue
			}
			both, err := g.Intersect(pa, pb)
			if err != nil {
				return err
			}
			if len(both) > 0 {
				return g.Errorf("arc radius %v: %q and %q run into each other: write a larger radius, a larger gap or a larger leading", arc.Radius, a.Rune, b.Rune)
			}
		}
	}
	return nil
}
