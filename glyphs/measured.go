package glyphs

import (
	"math"
	"strings"

	g "maskloft/geometry"
)

// Value is a measured ratio with its plus-or-minus; not measured where that is 0.
type Value struct{ V, PM float64 }

// Given tells whether there is a measure.
func (v Value) Given() bool { return v.PM > 0 }

// MeasuredCut is a corner as measured.
type MeasuredCut struct {
	Kind CutKind // empty: not seen
	Size Value
}

// Measured is what was measured of a set of letters, on a photograph or on old
// paint: ratios to the cap height, each with its plus-or-minus (one standard
// deviation).
type Measured struct {
	Widths, Waists        map[rune]Value
	StrokeV, StrokeH, Gap Value
	Corner, Inner         MeasuredCut
	Slant                 Value // degrees
	Forms                 map[string]string
}

// ReadMeasured reads a file of measurements; file names it in problems. The
// values are ratios, or with height: lengths:
//
//	height: 12 in +- 1/16 in          # left out, all values are ratios to it
//	widths: {A: 8 in +- 1/8 in, "4": 7.9 in +- 1/8 in}
//	stroke: {vertical: 2 in +- 1/16 in, horizontal: 2 in +- 1/16 in}
//	gap: 2 in +- 1/8 in
//	corner: {kind: chamfer, size: 2 in +- 1/8 in, inner: {kind: square}}
//	waists: {A: 4.5 in +- 1/8 in}     # above the baseline, to the bar's centre line
//	slant: 10 +- 1                    # degrees
//	forms: {"4": open}
//
// The error is of type [Problems].
func ReadMeasured(file string, data []byte) (Measured, error) {
	r, root := readDocument(file, data)
	var m Measured
	if len(r.problems) > 0 {
		return m, r.flush()
	}
	f := root.fields("widths: {A: 0.667 +- 0.01}", "height", "widths", "stroke", "gap", "corner", "waists", "slant", "forms")
	read := func(v item) Value { return v.measured(Value{}) }
	if v := f["height"]; v.written() {
		height := v.measuredLength()
		if height.V <= 0 {
			v.fail("write height: 12 in +- 1/16 in", "height is not above 0")
			return m, r.flush()
		}
		read = func(v item) Value { return v.measured(height) }
	}
	of := func(v item, known string) map[rune]Value {
		out := map[rune]Value{}
		for _, e := range v.entries(v.name + ": {A: 0.667 +- 0.01}") {
			k := e.key.node.Value
			if len(k) != 1 || !strings.Contains(known, k) {
				e.key.fail("write one of "+known+"; a figure in quotes", "%s: %q has none", v.name, k)
				continue
			}
			out[rune(k[0])] = read(e.value)
		}
		return out
	}
	m.Widths, m.Waists = of(f["widths"], all), of(f["waists"], sortedCharacters(waists))
	s := f["stroke"].fields("stroke: {vertical: 0.167 +- 0.01}", "vertical", "horizontal")
	m.StrokeV, m.StrokeH, m.Gap = read(s["vertical"]), read(s["horizontal"]), read(f["gap"])
	cut := func(f map[string]item) MeasuredCut {
		return MeasuredCut{CutKind(f["kind"].choice(string(SquareCut), string(ChamferCut), string(RoundCut))), read(f["size"])}
	}
	c := f["corner"].fields("corner: {kind: chamfer, size: 0.167 +- 0.01}", "kind", "size", "inner")
	m.Corner, m.Inner = cut(c), cut(c["inner"].fields("inner: {kind: square}", "kind", "size"))
	m.Slant, m.Forms = f["slant"].measured(Value{}), readForms(f["forms"])
	if len(m.Widths)+len(m.Waists) == 0 && !m.StrokeV.Given() && !m.StrokeH.Given() && len(r.problems) == 0 {
		root.fail("write widths: {A: 0.667 +- 0.01}", "nothing is measured")
	}
	return m, r.flush()
}

// halves returns the texts before and after the plus-or-minus.
func (v item) halves() (string, string, bool) {
	text := strings.ReplaceAll(v.text(), "±", "+-")
	a, b, ok := strings.Cut(text, "+-")
	if v.written() && !ok {
		v.fail("write the value and its plus-or-minus, 0.167 +- 0.005", "%s: %q says no plus-or-minus", v.name, text)
	}
	return a, b, ok
}

// measured reads a ratio, or a length over the height where that is given; the
// plus-or-minus of both count.
func (v item) measured(height Value) Value {
	if !v.written() {
		return Value{}
	}
	if height.V > 0 {
		l := v.measuredLength()
		ratio := l.V / height.V
		return Value{ratio, math.Hypot(l.PM/height.V, ratio*height.PM/height.V)}
	}
	a, b, ok := v.halves()
	out := Value{parseRatio(a), parseRatio(b)}
	if ok && !(out.PM > 0 && !math.IsNaN(out.V)) {
		v.fail("write numbers or fractions, 1/6 +- 0.005, the second above 0; lengths want height:", "%s: %q is no ratio with its plus-or-minus", v.name, v.node.Value)
	}
	return out
}

func (v item) measuredLength() Value {
	a, b, ok := v.halves()
	if !ok {
		return Value{}
	}
	x, err := g.ParseLength(strings.TrimSpace(a), 0)
	y, bad := g.ParseLength(strings.TrimSpace(b), 0)
	if err != nil || bad != nil || y <= 0 {
		v.fail("write both with their units, 12 in +- 1/16 in, the second above 0", "%s: %q is no length with its plus-or-minus", v.name, v.node.Value)
	}
	return Value{x.Inches(), y.Inches()}
}

// leastSlant is the least plus-or-minus of a slant, in degrees: a plumb line on a
// letter tells no less (common practice, no source).
const leastSlant = 0.5

// Survey measures the outlines of all characters that the letters have. Each
// value has the same plus-or-minus, as a part of it. The gap is the letters' own
// where they say it, as an [Alphabet] does; a font does not.
func Survey(l Letters, part float64) Measured {
	m := Measured{Widths: map[rune]Value{}, Waists: map[rune]Value{}}
	give := func(to *Value, x float64) {
		if x > 0 {
			*to = Value{x, part * x}
		}
	}
	const height = 10 * g.Inch // the booleans' tolerance is then 1e-7 of it
	outlines := map[rune]g.Path{}
	lean, leans := 0.0, false
	for _, r := range all {
		if glyph, err := l.Glyph(r, height); err == nil && len(glyph.Outline) > 0 {
			outlines[r] = glyph.Outline
		}
	}
	for _, r := range upStanding {
		if o, ok := outlines[r]; ok && !leans {
			lean, leans = Lean(o, r)
		}
	}
	if leans {
		m.Slant = Value{lean, math.Max(part*math.Abs(lean), leastSlant)}
	}
	var uprights, bars []float64
	found := map[rune]Ratios{}
	for _, r := range all {
		o, ok := outlines[r]
		if !ok {
			continue
		}
		if math.Abs(lean) > leastSlant {
			o = stoodUp(o, lean)
		}
		q := Measure(o, r, height)
		found[r] = q
		m.Widths[r] = Value{q.Width, part * q.Width}
		if q.Waist > 0 {
			m.Waists[r] = Value{q.Waist, part * q.Waist}
		}
		if q.StrokeV > 0 {
			uprights = append(uprights, q.StrokeV)
		}
		if q.StrokeH > 0 {
			bars = append(bars, q.StrokeH)
		}
	}
	give(&m.StrokeV, median(uprights))
	give(&m.StrokeH, median(bars))
	for _, r := range withCorners {
		if q := found[r]; q.Corner != nil && m.Corner.Kind == "" {
			m.Corner.Kind = q.Corner.Kind
			give(&m.Corner.Size, q.Corner.Size)
		}
		if q := found[r]; q.Inner != nil && m.Inner.Kind == "" {
			m.Inner.Kind = q.Inner.Kind
			give(&m.Inner.Size, q.Inner.Size)
		}
	}
	if a, ok := l.(*Alphabet); ok {
		give(&m.Gap, a.Gap/a.Height)
		m.Forms = map[string]string{}
		for k := range forms {
			m.Forms[k] = a.Form(rune(k[0]))
		}
	}
	return m
}
