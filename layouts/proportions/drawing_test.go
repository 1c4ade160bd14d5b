package proportions

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"maskloft/geometry"
	"maskloft/layouts"
)

// Drawings for the tests, from the formulas of the documents and not through the
// figures of the program. Numbers in governing radii.

type star struct{ outer, inner float64 }

// starAndBars are the numbers of AN-I-9b Amendment 2, para D-1 (ratios read at
// ourairports.biz/?p=6096; star and bar's upper edge derived).
type starAndBars struct {
	disc, length, width, top, border, stripe float64
	star
	end float64 // 0: cos 18 + length
}

func rightStar() star { return star{1, (3 - math.Sqrt(5)) / 2} }

func rightBars() starAndBars {
	return starAndBars{disc: 1, length: 1, width: 0.5, top: math.Sin(math.Pi / 10), border: 0.125, stripe: 1.0 / 6, star: rightStar()}
}

// circleOf draws a circle in n cubics, which leaves it by less the more there are.
func circleOf(r float64, n int) geometry.Contour {
	step := 2 * math.Pi / float64(n)
	k := 4.0 / 3 * math.Tan(step/4)
	p := func(a float64) geometry.Point { return polar(r, a) }
	v := func(a float64) geometry.Vec { return geometry.Vec{X: -math.Sin(a), Y: math.Cos(a)}.Scale(k * r) }
	b := geometry.MoveTo(p(0))
	for i := range n {
		from, to := float64(i)*step, float64((i+1)%n)*step
		b.CubicTo(p(from).Add(v(from)), p(to).Add(v(to).Scale(-1)), p(to))
	}
	return b.Close()
}

func boxOf(x0, y0, x1, y1 float64) geometry.Contour {
	return geometry.Polygon(at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1))
}

func (s star) contour() geometry.Contour {
	var pts []geometry.Point
	for i := range 10 {
		r := s.outer
		if i%2 == 1 {
			r = s.inner
		}
		pts = append(pts, polar(r, math.Pi/2+float64(i)*math.Pi/5))
	}
	return geometry.Polygon(pts...)
}

// layers draws the insignia in painter's order; pieces is the number of cubics of
// a circle.
func (s starAndBars) layers(pieces int, stripe bool) []layouts.Layer {
	end := s.end
	if end == 0 {
		end = math.Cos(math.Pi/10) + s.length
	}
	bottom := s.top - s.width
	var out []layouts.Layer
	put := func(part, colour string, c ...geometry.Contour) {
		out = append(out, layouts.Layer{Part: part, Colour: colour, Outline: c})
	}
	if s.border > 0 {
		put("border-disc", "blue", circleOf(s.disc+s.border, pieces))
		put("border-bars", "blue", boxOf(-end-s.border, bottom-s.border, end+s.border, s.top+s.border))
	}
	put("bars", "white", boxOf(-end, bottom, end, s.top))
	if stripe {
		m := (s.top + bottom) / 2
		put("stripe", "red", boxOf(-end, m-s.stripe/2, end, m+s.stripe/2))
	}
	put("disc", "blue", circleOf(s.disc, pieces))
	put("star", "white", s.contour())
	return out
}

// rings draws discs from the largest; colours alternate so that none merge.
func rings(pieces int, radii ...float64) []layouts.Layer {
	var out []layouts.Layer
	for i, r := range radii {
		out = append(out, layouts.Layer{Part: fmt.Sprint(i), Colour: fmt.Sprint(i), Outline: geometry.Path{circleOf(r, pieces)}})
	}
	return out
}

// courier are the numbers of HCF Order 12, issue 2 (invented).
type courier struct{ disc, outer, inner, apex, arm, width, angle float64 }

func rightCourier() courier { return courier{1, 0.55, 0.40, -0.32, 1, 0.16, 90} }

func (c courier) layers(pieces int) []layouts.Layer {
	half := c.angle * math.Pi / 360
	u, n := geometry.Vec{X: math.Cos(half), Y: math.Sin(half)}, geometry.Vec{X: math.Sin(half), Y: -math.Cos(half)}
	below := func(p geometry.Point) geometry.Point { return at(p.X, -p.Y) }
	point := at(c.apex, 0)
	outer := point.Add(u.Scale(c.arm))
	inner := outer.Add(n.Scale(c.width))
	return []layouts.Layer{
		{Part: "disc", Colour: "blue", Outline: geometry.Path{circleOf(c.disc, pieces)}},
		{Part: "ring", Colour: "white", Outline: geometry.Path{circleOf(c.outer, pieces), circleOf(c.inner, pieces).Reversed()}},
		{Part: "chevron", Colour: "yellow", Outline: geometry.Path{geometry.Polygon(point, below(outer), below(inner), at(c.apex+c.width/math.Sin(half), 0), inner, outer)}},
	}
}

// style is how a drawing is written down.
type style struct {
	disjoint bool
	chords   int     // of a radian of curve; 0: cubics stay
	split    int     // pieces of a line
	asCubics bool    // lines written as cubics
	noise    float64 // largest displacement of a node, in governing radii
	dense    float64 // spacing of nodes along everything, in governing radii; 0: as drawn
	twice    bool    // fill and stroke: every outline there twice
	extras   bool
	reversed bool
	scale    float64
	turn     float64
	move     geometry.Vec
}

// drawn writes layers down in a style.
func (s style) drawn(layers []layouts.Layer, rng *rand.Rand) geometry.Path {
	var out geometry.Path
	if s.disjoint {
		out = apart(layers)
	} else {
		for _, l := range layers {
			out = append(out, l.Outline...)
		}
	}
	if s.twice {
		out = append(out, out...)
	}
	for i, c := range out {
		c = s.restyled(c)
		if s.noise > 0 {
			c = shaken(c, s.noise, rng)
		}
		if s.reversed && rng.IntN(2) == 0 {
			c = c.Reversed()
		}
		out[i] = c
	}
	if s.extras {
		out = append(out, extras(rng)...)
	}
	sin, cos := math.Sincos(s.turn)
	for i, c := range out {
		out[i] = c.Map(func(p geometry.Point) geometry.Point {
			return at(s.scale*(p.X*cos-p.Y*sin), s.scale*(p.X*sin+p.Y*cos)).Add(s.move)
		})
	}
	return out
}

// apart returns what each colour shows of the layers. Outlines cut are kept: the
// same right drawings come again and again.
func apart(layers []layouts.Layer) geometry.Path {
	key := fmt.Sprint(layers)
	out, ok := cut[key]
	if !ok {
		regions, err := layouts.Figure{ID: "drawn", Layers: layers}.Regions()
		if err != nil {
			panic(err)
		}
		for _, r := range regions {
			out = append(out, r.Outline...)
		}
		cut[key] = out
	}
	return slices.Clone(out)
}

var cut = map[string]geometry.Path{}

func (s style) restyled(c geometry.Contour) geometry.Contour {
	b := geometry.MoveTo(c.Start)
	last := len(c.Segments) - 1
	for i, g := range c.Segments {
		from := c.From(i)
		n := 1
		length := from.Dist(g.End)
		switch {
		case s.dense > 0 && g.Kind == geometry.Cubic:
			n = int(math.Ceil(geometry.Contour{Start: from, Segments: []geometry.Segment{g}}.Length() / s.dense))
		case s.dense > 0:
			n = int(math.Ceil(length / s.dense))
		case g.Kind == geometry.Line:
			n = max(1, s.split)
		case s.chords > 0:
			// radians of a cubic from its end tangents
			u, v := g.C1.Sub(from), g.End.Sub(g.C2)
			n = max(1, int(math.Round(float64(s.chords)*math.Abs(math.Atan2(u.Cross(v), u.Dot(v))))))
		}
		if g.Kind == geometry.Cubic && s.chords == 0 && s.dense == 0 {
			b.CubicTo(g.C1, g.C2, g.End)
			continue
		}
		for k := 1; k <= n; k++ {
			p := c.At(i, float64(k)/float64(n))
			if k == n {
				p = g.End
			}
			if i == last && k == n {
				p = c.Start
			}
			if q := c.At(i, float64(k-1)/float64(n)); s.asCubics && g.Kind == geometry.Line {
				b.CubicTo(q.Lerp(p, 0.3), q.Lerp(p, 0.6), p)
				continue
			}
			b.LineTo(p)
		}
	}
	return b.Close()
}

// shaken displaces every node by up to noise each way, its handles with it.
func shaken(c geometry.Contour, noise float64, rng *rand.Rand) geometry.Contour {
	by := func() geometry.Vec {
		return geometry.Vec{X: noise * (2*rng.Float64() - 1), Y: noise * (2*rng.Float64() - 1)}
	}
	d := by()
	out := geometry.Contour{Start: c.Start.Add(d)}
	for i, s := range c.Segments {
		e := by()
		if i == len(c.Segments)-1 {
			e = out.Start.Sub(c.Start)
		}
		out.Segments = append(out.Segments, geometry.Segment{Kind: s.Kind, C1: s.C1.Add(d), C2: s.C2.Add(e), End: s.End.Add(e)})
		d = e
	}
	if out.Segments[len(out.Segments)-1].End = out.Start; !out.Closed() {
		panic("open")
	}
	return out
}

// extras are what a drawing sheet has besides: border, registration crosses,
// dimension lines, targets and a line of lettering.
func extras(rng *rand.Rand) geometry.Path {
	out := geometry.Path{boxOf(-3.1, -2.3, 3.3, 2.1), boxOf(1.4, -2.2, 3.2, -1.6), boxOf(-2.4, -1.4, 2.4, 1.5)}
	for _, p := range []geometry.Point{at(-2.8, 1.8), at(2.9, 1.7), at(-2.7, -1.9)} {
		out = append(out, geometry.Polyline(at(p.X-0.1, p.Y), at(p.X+0.1, p.Y)), geometry.Polyline(at(p.X, p.Y-0.1), at(p.X, p.Y+0.1)),
			circleOf(0.06, 4).Map(func(q geometry.Point) geometry.Point { return q.Add(p.Sub(geometry.Point{})) }))
	}
	y := -1.45 - 0.2*rng.Float64()
	out = append(out, geometry.Polyline(at(-1, y), at(1, y)), geometry.Polyline(at(-1, y-0.1), at(-1, y+0.1)), geometry.Polyline(at(1, y-0.1), at(1, y+0.1)))
	for i := range 6 {
		x := -2 + 0.16*float64(i)
		out = append(out, geometry.Polygon(at(x, -2.1), at(x+0.03, -2.1), at(x+0.03, -2), at(x+0.1, -2.1), at(x+0.13, -2.1), at(x+0.05, -1.96), at(x+0.12, -1.9), at(x, -1.9)))
	}
	return out
}
