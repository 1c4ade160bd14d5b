package glyphs

import (
	"encoding/binary"
	"errors"
	"fmt"

	g "maskloft/geometry"
)

// glyfTable holds the outlines of a TrueType font (OpenType specification 1.9, tables
// glyf and loca). They are put together here, in double precision, from the points and
// parts that [glyfOf] reads: a coordinate times a fraction of 14 bits is exact, so that
// the outline is the same on every processor.
type glyfTable struct {
	glyf, loca []byte
	long       bool // loca holds 32 bit offsets
}

var errGlyf = errors.New("the outline is damaged")

// Bounds of an outline: those of letters have up to some thousand points. A few hundred
// bytes of parts within parts can make millions.
const (
	mostPoints = 20000  // and parts
	mostLevels = 8      // of parts within parts
	mostSteps  = 100000 // numbers and operators of a CFF outline
)

// newGlyfTable returns the outlines of a font; ok is false where it has none of
// this kind.
func newGlyfTable(from map[string][]byte) (t glyfTable, ok bool) {
	head := from["head"]
	t = glyfTable{glyf: from["glyf"], loca: from["loca"]}
	if len(head) < 54 || len(t.glyf) == 0 || len(t.loca) == 0 {
		return t, false
	}
	t.long = binary.BigEndian.Uint16(head[50:]) != 0
	return t, true
}

// outline returns a glyph in units, y up, and the left end of its stated bounds.
func (t glyfTable) outline(i int) (p g.Path, left float64, err error) {
	left, points, err := t.points(i, mostLevels, new(int))
	if err != nil {
		return nil, 0, err
	}
	from := 0
	for k, q := range points {
		if q.ends {
			if c, ok := quadratics(points[from : k+1]); ok {
				p = append(p, c)
			}
			from = k + 1
		}
	}
	return p, left, nil
}

// data returns the bytes of a glyph; none for one without ink.
func (t glyfTable) data(i int) ([]byte, error) {
	at := func(k int) (int, bool) {
		if t.long {
			if 4*k+4 > len(t.loca) {
				return 0, false
			}
			return int(binary.BigEndian.Uint32(t.loca[4*k:])), true
		}
		if 2*k+2 > len(t.loca) {
			return 0, false
		}
		return 2 * int(binary.BigEndian.Uint16(t.loca[2*k:])), true
	}
	from, ok := at(i)
	to, ok2 := at(i + 1)
	if !ok || !ok2 || from > to || to > len(t.glyf) {
		return nil, errGlyf
	}
	return t.glyf[from:to], nil
}

// points returns the points of a glyph in units, y up, those of its parts in place.
// met counts the points and parts of the whole outline, so that it ends early.
func (t glyfTable) points(i, levels int, met *int) (left float64, points []glyfPoint, err error) {
	data, err := t.data(i)
	if err != nil || len(data) == 0 {
		return 0, nil, err
	}
	points, parts, left, err := glyfOf(data)
	if err != nil {
		return 0, nil, err
	}
	if len(parts) > 0 && levels == 0 {
		return 0, nil, fmt.Errorf("its parts are nested deeper than %d levels", mostLevels)
	}
	if *met += len(points) + len(parts); *met > mostPoints {
		return 0, nil, fmt.Errorf("it has more than %d points and parts", mostPoints)
	}
	for _, c := range parts {
		_, part, err := t.points(c.glyph, levels-1, met)
		if err != nil {
			return 0, nil, err
		}
		if points, err = c.join(points, part); err != nil {
			return 0, nil, err
		}
	}
	return left, points, nil
}

// join puts a part to those before it.
func (c glyfPart) join(before, part []glyfPoint) ([]glyfPoint, error) {
	offset := g.Vec{X: c.dx, Y: c.dy}
	for i, p := range part {
		q := p.Point
		if c.movedFirst {
			q = q.Add(offset)
		}
		q = g.Point{X: float64(q.X*c.xx) + float64(q.Y*c.yx), Y: float64(q.X*c.xy) + float64(q.Y*c.yy)}
		if !c.movedFirst {
			q = q.Add(offset)
		}
		part[i].Point = q
	}
	if c.byPoints {
		if c.to >= len(before) || c.from >= len(part) {
			return nil, errGlyf
		}
		offset = before[c.to].Sub(part[c.from].Point)
		for i, p := range part {
			part[i].Point = p.Add(offset)
		}
	}
	return append(before, part...), nil
}

// quadratics joins the points of a contour by lines and quadratic curves, raised
// to cubics. Between two control points lies a point of the curve, midway. A
// contour of fewer than three points has no area and is left out.
func quadratics(pts []glyfPoint) (g.Contour, bool) {
	n := len(pts)
	if n < 3 {
		return g.Contour{}, false
	}
	first := 0
	for first < n && !pts[first].on {
		first++
	}
	start := pts[0].Lerp(pts[n-1].Point, 0.5) // where no point lies on the curve
	if first < n {
		start = pts[first].Point
		pts = append(append([]glyfPoint{}, pts[first+1:]...), pts[:first+1]...)
	}
	b, here := g.MoveTo(start), start
	quad := func(q, end g.Point) {
		b.CubicTo(here.Lerp(q, 2.0/3), end.Lerp(q, 2.0/3), end)
		here = end
	}
	var control *g.Point
	for _, p := range pts {
		switch {
		case p.on && control == nil:
			b.LineTo(p.Point)
			here = p.Point
		case p.on:
			quad(*control, p.Point)
			control = nil
		case control != nil:
			quad(*control, control.Lerp(p.Point, 0.5))
			control = &g.Point{X: p.X, Y: p.Y}
		default:
			control = &g.Point{X: p.X, Y: p.Y}
		}
	}
	if control != nil {
		quad(*control, start)
	}
	return b.Close(), true
}
