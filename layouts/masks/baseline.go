package masks

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// bent is the waterline of an anchor as a curve of the flat: its points a step
// apart, from first on.
type bent struct {
	first, step float64
	pts         []g.Point
}

// WaterlineInFlat follows the waterline of a placement over the range [x0, x1] of
// the drawing's x, in the flat.
func WaterlineInFlat(p layouts.Placement, m *skin.FlatMap, x0, x1 float64) (bent, error) {
	const step = 0.5
	b := bent{first: math.Floor(x0/step-2) * step, step: step}
	for x := b.first; x <= x1+2*step; x += step {
		uv, err := skin.Waterline(p.Surface, p.Frame.At, g.Length(p.Side.Reading()*x))
		if err != nil {
			return b, err
		}
		q, ok := m.ToFlat(uv)
		if !ok {
			return b, g.Errorf("the waterline at %v lies outside the patch laid flat", g.PositionOf(skin.PointAt(p.Surface, uv)))
		}
		b.pts = append(b.pts, q)
	}
	return b, nil
}

// At returns the point of the curve at x and its direction, by the cubic through
// the four points nearest.
func (b bent) At(x float64) (g.Point, g.Vec) {
	t := (x - b.first) / b.step
	k := max(0, min(len(b.pts)-4, int(math.Floor(t))-1))
	t -= float64(k)
	var p g.Point
	var d g.Vec
	for i := 0; i < 4; i++ {
		w, dw := 1.0, 0.0
		for j := 0; j < 4; j++ {
			if j == i {
				continue
			}
			f := 1 / float64(i-j)
			dw = float64(dw*(t-float64(j))*f) + float64(w*f)
			w *= (t - float64(j)) * f
		}
		q := b.pts[k+i]
		p.X, p.Y = p.X+float64(w*q.X), p.Y+float64(w*q.Y)
		d.X, d.Y = d.X+float64(dw*q.X), d.Y+float64(dw*q.Y)
	}
	return p, d.Unit()
}

// alongWaterline bends a drawing so that its x runs along the waterline of the
// anchor and its y square to that, both true along the skin. Its outlines are
// fitted to the tolerance; the largest deviation is returned.
func alongWaterline(p layouts.Placement, m *skin.FlatMap, tolerance float64) (layouts.Figure, float64, error) {
	box := p.Figure.Bounds()
	curve, err := WaterlineInFlat(p, m, box.Min.X, box.Max.X)
	if err != nil {
		return layouts.Figure{}, 0, err
	}
	return carried(p.Figure, tolerance, nil, func(q g.Point) (g.Point, error) {
		c, d := curve.At(q.X)
		return c.Add(d.Perp().Scale(q.Y)), nil
	})
}

// carried maps every outline of a figure through a map of the plane, fitted to
// the tolerance. Prepare, where given, breaks an outline where the map kinks.
func carried(f layouts.Figure, tolerance float64, prepare func(g.Contour) (g.Contour, error), to func(g.Point) (g.Point, error)) (layouts.Figure, float64, error) {
	f.Layers = append([]layouts.Layer(nil), f.Layers...)
	worst := 0.0
	for i, layer := range f.Layers {
		var out g.Path
		for _, c := range layer.Outline {
			if prepare != nil {
				var err error
				if c, err = prepare(c); err != nil {
					return f, 0, err
				}
			}
			fitted, report, err := g.FitMap(c, to, tolerance)
			if err != nil {
				return f, 0, err
			}
			worst = max(worst, report.MaxDeviation)
			out = append(out, fitted)
		}
		f.Layers[i].Outline = out
	}
	f.Characters = carriedCells(f.Characters, tolerance, to)
	return f, worst, nil
}

// carriedCells maps the cells of characters; none where a corner has no image.
func carriedCells(characters []layouts.Character, tolerance float64, to func(g.Point) (g.Point, error)) []layouts.Character {
	var out []layouts.Character
	for _, c := range characters {
		var corners []g.Point
		for _, q := range g.Rectangle(c.Cell).Flattened(tolerance) {
			p, err := to(q)
			if err != nil {
				return nil
			}
			corners = append(corners, p)
		}
		out = append(out, layouts.Character{Rune: c.Rune, Cell: g.BoundsOf(corners...)})
	}
	return out
}

// Baselines reports how far apart the two baselines run at the ends of a marking,
// where that can be seen.
func Baselines(l Laid) (layouts.Finding, bool) {
	box := l.Placement.Figure.Bounds()
	if l.Placement.Marking.True == layouts.TrueSide || l.Placement.Marking.Where.Align != layouts.AlignWaterline || l.Placement.Marking.Where.Angle != 0 {
		return layouts.Finding{}, false
	}
	curve, err := WaterlineInFlat(l.Placement, l.Map, box.Min.X, box.Max.X)
	if err != nil {
		return layouts.Finding{}, false // the waterline leaves the patch before the marking ends: nothing to compare
	}
	fore, _ := curve.At(box.Min.X)
	aft, _ := curve.At(box.Max.X)
	d := fore.Y
	if math.Abs(aft.Y) > math.Abs(d) {
		d = aft.Y
	}
	if math.Abs(d) <= g.SayDifference {
		return layouts.Finding{}, false
	}
	follows, other := "the straight line along the skin", "the waterline"
	if l.Placement.Marking.Where.Baseline == layouts.WaterlineBaseline {
		follows, other = other, follows
	}
	return layouts.Finding{
		Level: layouts.Note, Rule: "two-baselines", Where: l.Placement.Anchor,
		Message:  fmt.Sprintf("%s: its baseline follows %s; %s runs %s from it at the end", l.ID(), follows, other, l.Placement.Read.Fixed(g.Length(math.Abs(d)), 3)),
		Hint:     "write where: baseline: waterline, or straight",
		Measured: l.Placement.Read.Fixed(g.Length(math.Abs(d)), 3), Expected: "0", Tolerance: l.Placement.Read.Fraction(g.SayDifference, 32), Source: "derived",
	}, true
}
