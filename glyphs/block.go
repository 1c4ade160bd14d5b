package glyphs

import (
	"fmt"
	"math"
	"unicode"

	g "maskloft/geometry"
)

// Glyph is one character at its size: inches, baseline at y = 0, left edge at 0.
type Glyph struct {
	Rune    rune
	Outline g.Path
	Width   g.Length
}

// WidthOf returns the width of a character in units of the grid.
func (a *Alphabet) WidthOf(r rune) float64 {
	if w, ok := a.Widths[string(r)]; ok {
		return w
	}
	return a.Width
}

// Glyph returns the outline of a character at a cap height: its strokes, each a
// band of constant width about its centre line with mitred bends, united and cut
// flush with the character's cell.
//
// Errors: the height is not above 0; the alphabet has no such character, and
// what it has.
func (a *Alphabet) Glyph(r rune, height g.Length) (Glyph, error) {
	if height <= 0 {
		return Glyph{}, fmt.Errorf("character height %v: it must be above 0", height)
	}
	w := a.WidthOf(r)
	strokes := a.pen(w).skeleton(r)
	if strokes == nil {
		if up := unicode.ToUpper(r); up != r && a.pen(w).skeleton(up) != nil {
			return Glyph{}, fmt.Errorf("alphabet %s has no small letters: write %q for %q", a.Name, up, r)
		}
		return Glyph{}, fmt.Errorf("alphabet %s has no %q: it has %s and the space", a.Name, r, all)
	}
	k := height.Inches() / a.Height
	var out g.Path
	for _, s := range strokes {
		band, err := a.band(s, k)
		if err == nil {
			out, err = g.Union(out, band)
		}
		if err != nil {
			return Glyph{}, fmt.Errorf("alphabet %s, %q: %w", a.Name, r, err)
		}
	}
	cell := g.Path{g.Rectangle(g.Rect{Max: g.Point{X: w * k, Y: height.Inches()}})}
	out, err := g.Intersect(out, cell)
	if err != nil {
		return Glyph{}, fmt.Errorf("alphabet %s, %q: %w", a.Name, r, err)
	}
	return Glyph{Rune: r, Outline: out, Width: g.Length(w * k)}, nil
}

// band returns the region within half a stroke of a centre line, with mitred
// bends and square ends, scaled by k.
func (a *Alphabet) band(s stroke, k float64) (g.Path, error) {
	var pts []g.Point
	for i, p := range s.pts {
		q := s.pts[(i+len(s.pts)-1)%len(s.pts)]
		if p == q && (i > 0 || s.loop) {
			continue // the two ends of a chamfer without legs
		}
		pts = append(pts, g.Point{X: p.x * k, Y: p.y * k})
	}
	half := a.Stroke * k / 2
	left, right := besides(pts, s.loop, half), besides(pts, s.loop, -half)
	if s.loop {
		outer, inner := g.Polygon(left...), g.Polygon(right...)
		if math.Abs(outer.Area()) < math.Abs(inner.Area()) {
			outer, inner = inner, outer
		}
		return g.Subtract(g.Path{outer}, g.Path{inner})
	}
	for i := len(right) - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	return g.Settle(g.Path{g.Polygon(left...)})
}

// besides returns a run of lines moved to its left by d, with mitred bends.
func besides(pts []g.Point, loop bool, d float64) []g.Point {
	n := len(pts)
	out := make([]g.Point, n)
	for i := range pts {
		var in, on g.Vec
		if i > 0 || loop {
			in = pts[i].Sub(pts[(i+n-1)%n]).Unit().Perp()
		}
		if i < n-1 || loop {
			on = pts[(i+1)%n].Sub(pts[i]).Unit().Perp()
		}
		m := in.Add(on)
		if in == (g.Vec{}) || on == (g.Vec{}) {
			out[i] = pts[i].Add(m.Scale(d))
			continue
		}
		// the mitre: along the sum of the two normals, so that both lines are
		// met at distance d
		out[i] = pts[i].Add(m.Scale(2 * d / m.Dot(m)))
	}
	return out
}
