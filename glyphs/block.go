package glyphs

import (
	"fmt"
	"math"
	"unicode"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Glyph is one character at its size: inches, baseline at y = 0, left edge at 0.
// Width is that of its cell, along the baseline; a slanted character leans over
// its neighbour's.
type Glyph struct {
	Rune    rune
	Outline g.Path
	Width   g.Length
}

// Glyph returns the outline of a character at a cap height: its strokes, each a
// band about its centre line, united and cut flush with the character's cell.
//
// Errors: the height is not above 0; the alphabet has no such character, and
// what it has.
func (a *Alphabet) Glyph(r rune, height g.Length) (Glyph, error) {
	if kept, ok := drawnOf.Load(a); ok {
		return kept.(*drawnGlyphs).draw(r, height)
	}
	return a.draw(r, height)
}

// draw is [Alphabet.Glyph].
func (a *Alphabet) draw(r rune, height g.Length) (Glyph, error) {
	if height <= 0 {
		return Glyph{}, g.Errorf("character height %v: it must be above 0", height)
	}
	k := height.Inches() / a.Height
	p := a.pen(r, k)
	strokes := p.skeleton()
	if strokes == nil {
		if up := unicode.ToUpper(r); up != r && a.pen(up, k).skeleton() != nil {
			return Glyph{}, fmt.Errorf("alphabet %s has no small letters: write %q for %q", a.Name, up, r)
		}
		return Glyph{}, fmt.Errorf("alphabet %s has no %q: it has %s and the space", a.Name, r, all)
	}
	var out g.Path
	for _, s := range strokes {
		band, err := p.band(s)
		if err == nil && s.less != nil {
			band, err = g.Subtract(band, g.Path{g.Rectangle(*s.less)})
		}
		if err == nil {
			out, err = g.Union(out, band)
		}
		if err != nil {
			return Glyph{}, fmt.Errorf("alphabet %s, %q: %w", a.Name, r, err)
		}
	}
	cell := g.Path{g.Rectangle(g.Rect{Max: g.Point{X: p.w, Y: height.Inches()}})}
	out, err := g.Intersect(out, cell)
	if err != nil {
		return Glyph{}, fmt.Errorf("alphabet %s, %q: %w", a.Name, r, err)
	}
	if a.Slant != 0 {
		lean := same.Tan(a.Slant * math.Pi / 180)
		out = out.Map(func(q g.Point) g.Point { return g.Point{X: q.X + float64(lean*q.Y), Y: q.Y} })
	}
	return Glyph{Rune: r, Outline: out, Width: g.Length(p.w)}, nil
}

// band returns the region of a stroke: its two sides, joined by square ends.
func (p pen) band(s stroke) (g.Path, error) {
	left, right := p.sides(s)
	if s.loop {
		outer, inner := left.contour(true), right.contour(true)
		if math.Abs(outer.Area()) < math.Abs(inner.Area()) {
			outer, inner = inner, outer
		}
		return g.Subtract(g.Path{outer}, g.Path{inner})
	}
	c, back := left.contour(false), right.contour(false).Reversed()
	c.Segments = append(c.Segments, g.Segment{End: back.Start})
	c.Segments = append(c.Segments, back.Segments...)
	c.Segments = append(c.Segments, g.Segment{End: c.Start})
	return g.Settle(g.Path{c})
}

// vertex is a corner of one side of a stroke.
type vertex struct {
	at      g.Point
	in, out g.Vec   // the directions of the side before and after it
	cut     CutKind // how it is cut back
	size    float64 // of the cut
	inner   bool    // it lies in the bend
}

type side []vertex

// legs returns how much of the side before and after a corner is cut off. Only a
// corner of a quarter turn is chamfered.
func (v vertex) legs() float64 {
	turn := math.Abs(same.Atan2(v.in.Cross(v.out), v.in.Dot(v.out)))
	switch {
	case v.cut == RoundCut:
		return v.size * same.Tan(turn/2)
	case v.cut == ChamferCut && math.Abs(turn-math.Pi/2) < 1e-9:
		return v.size
	}
	return 0
}

// sides returns the left and the right side of a stroke. Each straight piece has
// the half width of its own lean; where two meet, their sides run on until they
// meet, and a bend is cut back as the alphabet's corners are.
func (p pen) sides(s stroke) (left, right side) {
	n := len(s.nodes)
	dirs, halves := make([]g.Vec, n), make([]float64, n) // of the piece after each node
	pt := func(i int) g.Point { q := s.nodes[(i+n)%n]; return g.Point{X: q.x, Y: q.y} }
	for i := range s.nodes {
		dirs[i] = pt(i + 1).Sub(pt(i)).Unit()
		halves[i] = p.half(same.Atan2(dirs[i].X, dirs[i].Y))
	}
	make1 := func(sign float64) side {
		out := make(side, n)
		for i, node := range s.nodes {
			j := (i + n - 1) % n
			in, on := dirs[j], dirs[i]
			v := vertex{at: pt(i), in: in, out: on}
			switch {
			case i == 0 && !s.loop:
				v.at, v.in = v.at.Add(on.Perp().Scale(sign*halves[i])), on
			case i == n-1 && !s.loop:
				v.at, v.out = v.at.Add(in.Perp().Scale(sign*halves[j])), in
			default:
				v.at = meet(v.at, in, on, sign*halves[j], sign*halves[i])
				if node.bend {
					v.inner = (in.Cross(on) > 0) == (sign > 0)
					v.cut, v.size = p.corner(v.inner, math.Inf(1))
				}
			}
			out[i] = v
		}
		return out
	}
	left, right = make1(1), make1(-1)
	left.fit(s.loop)
	right.fit(s.loop)
	for i := range left { // an inner corner follows the outer one as it was fitted
		for _, pair := range [2][2]*vertex{{&left[i], &right[i]}, {&right[i], &left[i]}} {
			if in := pair[0]; in.inner {
				in.cut, in.size = p.corner(true, pair[1].size)
			}
		}
	}
	left.fit(s.loop)
	right.fit(s.loop)
	return left, right
}

// corner returns how an outer or an inner corner is cut back, where the outer
// one has room for no more than the given size.
func (p pen) corner(inner bool, room float64) (CutKind, float64) {
	c := p.alphabet.Corner
	outer := math.Min(c.Size*p.k, room)
	if !inner {
		return c.Kind, outer
	}
	if c.Inner != nil {
		return c.Inner.Kind, c.Inner.Size * p.k
	}
	return c.Kind, innerSize(c.Kind, outer, (p.sv+p.sh)/2)
}

// innerSize returns the size of the inner corner that keeps the stroke as wide
// round the corner as it is beside it, and 0 where the outer corner is too small
// for one. Moving a 45 degree cut inwards by a stroke shortens its legs by
// (2 - sqrt 2) of that (derived from the mitres of its two corners); round
// corners share their centre.
func innerSize(kind CutKind, outer, stroke float64) float64 {
	if kind == ChamferCut {
		return math.Max(0, outer-float64((2-math.Sqrt2)*stroke))
	}
	return math.Max(0, outer-stroke)
}

// meet returns where two lines through q, along in and on, meet when they are
// moved to their left by d and e.
func meet(q g.Point, in, on g.Vec, d, e float64) g.Point {
	cross := in.Cross(on)
	if math.Abs(cross) < 1e-9 { // straight on
		return q.Add(in.Perp().Scale((d + e) / 2))
	}
	// in the direction square to on, d and a way x along in come to e
	x := (float64(d*in.Dot(on)) - e) / cross
	return q.Add(in.Perp().Scale(d)).Add(in.Scale(x))
}

// fit shrinks the cuts that have no room between their neighbours.
func (s side) fit(loop bool) {
	n := len(s)
	shrink := make([]float64, n)
	for i := range shrink {
		shrink[i] = 1
	}
	for i := range s {
		j := (i + 1) % n
		if j == 0 && !loop {
			break
		}
		if room, want := s[i].at.Dist(s[j].at), s[i].legs()+s[j].legs(); want > room {
			shrink[i], shrink[j] = math.Min(shrink[i], room/want), math.Min(shrink[j], room/want)
		}
	}
	for i := range s {
		s[i].size *= shrink[i]
	}
}

// contour returns a side with its corners cut back.
func (s side) contour(loop bool) g.Contour {
	var b *g.Builder
	to := func(q g.Point) {
		if b == nil {
			b = g.MoveTo(q)
		} else if b.Open().End().Dist(q) > 1e-9 {
			b.LineTo(q)
		}
	}
	for _, v := range s {
		legs := v.legs()
		if legs < 1e-9 {
			to(v.at)
			continue
		}
		start := v.at.Add(v.in.Scale(-legs))
		to(start)
		if v.cut == ChamferCut {
			to(v.at.Add(v.out.Scale(legs)))
			continue
		}
		cross := v.in.Cross(v.out)
		b.ArcTo(start.Add(v.in.Perp().Scale(math.Copysign(v.size, cross))), same.Atan2(cross, v.in.Dot(v.out)))
	}
	if loop {
		return b.Close()
	}
	return b.Open()
}
