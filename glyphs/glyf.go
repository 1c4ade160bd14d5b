package glyphs

import (
	"encoding/binary"
	"errors"
	"math"

	g "maskloft/geometry"
)

// glyfTable reads the outlines of a TrueType font to the last fraction of a unit
// (OpenType specification 1.9, tables glyf and loca). The general tableReader rounds
// each point that two control points imply between them to whole units: by half
// a unit, 0.004 in on a letter 12 in high.
type glyfTable struct {
	glyf, loca []byte
	long       bool // loca holds 32 bit offsets
	hmtx       []byte
	full       int // of the entries of hmtx, those that hold an advance
}

var errGlyf = errors.New("the outline is damaged")

// newGlyfTable returns the outlines of a font; ok is false where it has none of
// this kind.
func newGlyfTable(tables map[string][]byte) (t glyfTable, ok bool) {
	head := tables["head"]
	t = glyfTable{glyf: tables["glyf"], loca: tables["loca"]}
	if len(head) < 54 || len(t.glyf) == 0 || len(t.loca) == 0 {
		return t, false
	}
	t.long = binary.BigEndian.Uint16(head[50:]) != 0
	if hhea := tables["hhea"]; len(hhea) >= 36 {
		t.hmtx, t.full = tables["hmtx"], int(binary.BigEndian.Uint16(hhea[34:]))
	}
	return t, true
}

// outline returns a glyph from its origin: its left edge stands where hmtx says,
// which may differ from its coordinates.
func (t glyfTable) outline(i int) (g.Path, error) {
	p, err := t.contours(i, 0)
	if err != nil || len(p) == 0 {
		return nil, err
	}
	at := 4*i + 2
	if i >= t.full {
		at = 4*t.full + 2*(i-t.full)
	}
	if at+2 > len(t.hmtx) {
		return p, nil
	}
	data, err := t.data(i)
	if err != nil || len(data) < 4 {
		return nil, errGlyf
	}
	left := int16(binary.BigEndian.Uint16(t.hmtx[at:])) - int16(binary.BigEndian.Uint16(data[2:]))
	return p.Moved(g.Vec{X: float64(left)}), nil
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

// contours returns the outline of a glyph in units, y up.
func (t glyfTable) contours(i, depth int) (g.Path, error) {
	data, err := t.data(i)
	if err != nil || len(data) == 0 {
		return nil, err
	}
	in := tableReader{data: data}
	n := int(in.int16())
	in.skip(8) // the bounds
	switch {
	case n >= 0:
		return in.simple(n)
	case depth > 7:
		return nil, errGlyf
	}
	var out g.Path
	for more := true; more && in.ok(); {
		c := in.component()
		more = c.more
		if c.byPoints {
			return nil, errors.New("its parts are joined by point numbers, which cannot be read")
		}
		part, err := t.contours(c.glyph, depth+1)
		if err != nil {
			return nil, err
		}
		for _, k := range part { // not Path.Map: a mirrored part keeps its direction of winding
			out = append(out, k.Map(c.place))
		}
	}
	return out, in.err
}

// component is a part of a compound glyph.
type component struct {
	glyph          int
	xx, xy, yx, yy float64
	dx, dy         float64
	byPoints, more bool
}

func (c component) place(p g.Point) g.Point {
	return g.Point{X: p.X*c.xx + p.Y*c.yx + c.dx, Y: p.X*c.xy + p.Y*c.yy + c.dy}
}

func (in *tableReader) component() component {
	flags := in.uint16()
	c := component{glyph: int(in.uint16()), xx: 1, yy: 1, more: flags&0x20 != 0, byPoints: flags&0x2 == 0}
	if flags&0x1 != 0 {
		c.dx, c.dy = float64(in.int16()), float64(in.int16())
	} else {
		c.dx, c.dy = float64(int8(in.byte())), float64(int8(in.byte()))
	}
	fraction := func() float64 { return float64(in.int16()) / (1 << 14) }
	switch {
	case flags&0x8 != 0:
		c.xx = fraction()
		c.yy = c.xx
	case flags&0x40 != 0:
		c.xx, c.yy = fraction(), fraction()
	case flags&0x80 != 0:
		c.xx, c.xy, c.yx, c.yy = fraction(), fraction(), fraction(), fraction()
	}
	if flags&0x1800 == 0x800 { // the offset is scaled with the part
		c.dx, c.dy = c.dx*math.Hypot(c.xx, c.xy), c.dy*math.Hypot(c.yx, c.yy)
	}
	return c
}

// glyfPoint is a point of an outline, on the curve or a control point.
type glyfPoint struct {
	g.Point
	on bool
}

// simple reads n contours.
func (in *tableReader) simple(n int) (g.Path, error) {
	ends := make([]int, n)
	total := 0
	for i := range ends {
		ends[i] = int(in.uint16())
		if ends[i] < total-1 || (i > 0 && ends[i] < ends[i-1]) {
			return nil, errGlyf
		}
		total = ends[i] + 1
	}
	in.skip(int(in.uint16())) // hinting
	flags := make([]byte, 0, total)
	for len(flags) < total && in.ok() {
		f := in.byte()
		flags = append(flags, f)
		if f&0x8 != 0 {
			for k := in.byte(); k > 0 && len(flags) < total; k-- {
				flags = append(flags, f)
			}
		}
	}
	pts := make([]glyfPoint, len(flags))
	row := func(short, same byte, set func(i int, v float64)) {
		v := 0
		for i, f := range flags {
			switch {
			case f&short != 0 && f&same != 0:
				v += int(in.byte())
			case f&short != 0:
				v -= int(in.byte())
			case f&same == 0:
				v += int(in.int16())
			}
			set(i, float64(v))
		}
	}
	row(0x2, 0x10, func(i int, v float64) { pts[i].X, pts[i].on = v, flags[i]&1 != 0 })
	row(0x4, 0x20, func(i int, v float64) { pts[i].Y = v })
	if in.err != nil {
		return nil, in.err
	}
	var out g.Path
	from := 0
	for _, end := range ends {
		if c, ok := quadratics(pts[from : end+1]); ok {
			out = append(out, c)
		}
		from = end + 1
	}
	return out, nil
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

// tableReader takes big-endian numbers off data; past the end they are 0 and err says so.
type tableReader struct {
	data []byte
	err  error
}

func (in *tableReader) ok() bool { return in.err == nil }

func (in *tableReader) skip(n int) []byte {
	if n > len(in.data) {
		in.data, in.err = nil, errGlyf
		return make([]byte, n)
	}
	head := in.data[:n]
	in.data = in.data[n:]
	return head
}

func (in *tableReader) byte() byte     { return in.skip(1)[0] }
func (in *tableReader) uint16() uint16 { return binary.BigEndian.Uint16(in.skip(2)) }
func (in *tableReader) int16() int16   { return int16(in.uint16()) }
