package layouts

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// SkinDrawing draws a figure that follows lines of the skin, such as a band round a
// body or stripes across a rudder. It is drawn in the flat of its film, where lengths
// are those along the skin.
type SkinDrawing interface {
	// InFlat returns the figure in the flat, fitted to the tolerance, inches, and how
	// far its outlines lie from the true curves at most.
	//
	// Errors: a line leaves the patch laid flat, which a larger patch may mend; a
	// boolean or an offset failed.
	InFlat(m *skin.FlatMap, tolerance float64) (Figure, float64, error)
}

// offPatch is the error of a line that leaves the patch laid flat.
type offPatch struct{ at g.Position }

func (e offPatch) Error() string { return e.In(g.ReadInches) }

// In is the text in units.
func (e offPatch) In(u g.Units) string { return u.Position(e.at) + " lies outside the patch laid flat" }

// skinLine is a line on a skin, by a parameter from 0 to 1. It is smooth but for the
// breaks, which stand between in rising order.
type skinLine struct {
	on     skin.Surface
	breaks []float64
	at     func(t float64) (skin.UV, error)
}

// inFlat returns the line in the flat, fitted to the tolerance, and how far the fit
// lies from it.
func (l skinLine) inFlat(m *skin.FlatMap, tolerance float64) (g.Contour, float64, error) {
	nodes := []g.Point{{}}
	for _, b := range l.breaks {
		if b > 1e-9 && b < 1-1e-9 {
			nodes = append(nodes, g.Point{X: b})
		}
	}
	c := g.Polyline(append(nodes, g.Point{X: 1})...)
	fitted, report, err := g.FitMap(c, func(p g.Point) (g.Point, error) {
		uv, err := l.at(math.Max(0, math.Min(1, p.X)))
		if err != nil {
			return g.Point{}, err
		}
		q, ok := m.ToFlat(uv)
		if !ok {
			return q, offPatch{g.PositionOf(skin.PointAt(l.on, uv))}
		}
		return q, nil
	}, tolerance)
	return fitted, report.MaxDeviation, err
}

// strip is one strip beside a line: from one distance to another, along the skin, in
// one paint. Distances are counted to the line's left, negative to its right.
type strip struct {
	from, to    float64 // inches
	part, paint string
}

// beyond returns the region to the left of an open curve as it runs, as far as reach,
// its ends square to the curve. Out lengthens the curve at both ends, straight on.
func beyond(c g.Contour, reach, out float64) (g.Path, error) {
	start, end := c.StartTangent(0).Unit(), c.EndTangent(len(c.Segments)-1).Unit()
	b := g.MoveTo(c.Start.Add(start.Scale(-out)))
	if out > 0 {
		b.LineTo(c.Start)
	}
	b.Follow(c.Segments)
	if out > 0 {
		b.LineTo(c.End().Add(end.Scale(out)))
	}
	// the far side only has to lie beyond every strip: chords beside the curve
	far := []g.Point{b.Open().End().Add(end.Perp().Scale(reach))}
	for i := len(c.Segments) - 1; i >= 0; i-- {
		for _, t := range []float64{1, 0.75, 0.5, 0.25} {
			far = append(far, c.At(i, t).Add(c.Velocity(i, t).Unit().Perp().Scale(reach)))
		}
	}
	far = append(far, c.Start.Add(start.Perp().Scale(reach)), c.Start.Add(start.Scale(-out)).Add(start.Perp().Scale(reach)))
	for _, q := range far {
		b.LineTo(q)
	}
	return g.Filled(g.Path{b.Close()})
}

// stripsBeside returns the strips beside a curve in the flat, each between two
// parallels of it, cut square at the ends of the curve; or, where within is given, what
// that has of the strips as they go straight on beyond those ends. Strips that share a
// distance share their border.
func stripsBeside(c g.Contour, strips []strip, within g.Path) ([]g.Path, error) {
	left, right := 0.0, 0.0
	for _, s := range strips {
		left, right = math.Max(left, s.to), math.Max(right, -s.from)
	}
	const spare = 2.0 // inches beyond the widest strip
	reach := left + right + spare
	whole, err := beyond(c, 2*reach, 2*reach)
	if err != nil {
		return nil, err
	}
	square := len(within) == 0
	if square {
		if within, err = beyond(c, reach, 0); err != nil {
			return nil, err
		}
	}
	if square && right > 0 {
		other, err := beyond(c.Reversed(), reach, 0)
		if err != nil {
			return nil, err
		}
		if within, err = g.Union(within, other); err != nil {
			return nil, err
		}
	}
	kept := map[float64]g.Path{0: whole}
	parallel := func(d float64) (g.Path, error) {
		if p, ok := kept[d]; ok {
			return p, nil
		}
		p, err := g.Offset(whole, g.Length(-d), g.MiterJoin, g.OutlineTolerance/8)
		kept[d] = p
		return p, err
	}
	var out []g.Path
	for _, s := range strips {
		near, err := parallel(s.from)
		if err != nil {
			return nil, err
		}
		far, err := parallel(s.to)
		if err != nil {
			return nil, err
		}
		between, err := g.Subtract(near, far)
		if err != nil {
			return nil, err
		}
		if between, err = g.Intersect(between, within); err != nil {
			return nil, err
		}
		out = append(out, between)
	}
	return out, nil
}

// towards returns the curve, reversed where need be, so that a point of the skin lies
// to its left.
func towards(m *skin.FlatMap, c g.Contour, uv skin.UV) (g.Contour, error) {
	q, ok := m.ToFlat(uv)
	if !ok {
		return c, offPatch{g.PositionOf(skin.PointAt(m.Surface(), uv))}
	}
	best, left := math.Inf(1), true
	for i := range c.Segments {
		for _, t := range []float64{0.125, 0.375, 0.625, 0.875} {
			if p := c.At(i, t); p.Dist(q) < best {
				best, left = p.Dist(q), c.Velocity(i, t).Cross(q.Sub(p)) > 0
			}
		}
	}
	if !left {
		return c.Reversed(), nil
	}
	return c, nil
}

// inLayers returns the layers of strips.
func inLayers(strips []strip, outlines []g.Path) []Layer {
	var out []Layer
	for i, s := range strips {
		if s.paint != "" && len(outlines[i]) > 0 {
			out = append(out, Layer{Part: s.part, Colour: s.paint, Outline: outlines[i]})
		}
	}
	return out
}
