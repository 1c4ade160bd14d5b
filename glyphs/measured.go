package glyphs

import (
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/document"
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
	doc, root, ok := document.Parse(file, data, measuredForm)
	var m Measured
	if !ok {
		return m, doc.Problems()
	}
	f := root.Fields("the measurement", "", "height widths stroke gap corner waists slant forms")
	read := func(v document.Value) Value { return measuredRatio(v, Value{}) }
	if v := f.At("height"); v.Written() {
		height := measuredLength(v)
		if height.V <= 0 {
			v.Fail("write height: 12 in +- 1/16 in", "height is not above 0")
			return m, doc.Problems()
		}
		read = func(v document.Value) Value { return measuredRatio(v, height) }
	}
	of := func(v document.Value, known string) map[rune]Value {
		out := map[rune]Value{}
		for _, e := range entries(v) {
			k := e.Key.Name
			if len(k) != 1 || !strings.Contains(known, k) {
				e.Key.Fail("write one of "+known+"; a figure in quotes", "%s: %q has none", v.Name, k)
				continue
			}
			out[rune(k[0])] = read(e.Value)
		}
		return out
	}
	m.Widths, m.Waists = of(f.At("widths"), all), of(f.At("waists"), sortedCharacters(waists))
	s := f.At("stroke").Fields("stroke", "", "vertical horizontal")
	m.StrokeV, m.StrokeH, m.Gap = read(s.At("vertical")), read(s.At("horizontal")), read(f.At("gap"))
	cut := func(f document.Fields) MeasuredCut {
		return MeasuredCut{document.Choice(f.At("kind"), "", SquareCut, ChamferCut, RoundCut), read(f.At("size"))}
	}
	c := f.At("corner").Fields("corner", "", "kind size inner")
	m.Corner, m.Inner = cut(c), cut(c.At("inner").Fields("inner", "", "kind size"))
	m.Slant, m.Forms = measuredRatio(f.At("slant"), Value{}), readForms(f.At("forms"))
	if len(m.Widths)+len(m.Waists) == 0 && !m.StrokeV.Given() && !m.StrokeH.Given() && len(doc.Problems()) == 0 {
		root.Fail("write widths: {A: 0.667 +- 0.01}", "nothing is measured")
	}
	if problems := doc.Problems(); len(problems) > 0 {
		return m, problems
	}
	return m, nil
}

var measuredForm = document.Form{Kind: "measurement", Begin: "write widths: {A: 0.667 +- 0.01}", Example: func(_, key string) string {
	return map[string]string{
		"the file": "widths: {A: 0.667 +- 0.01}", "widths": "widths: {A: 0.667 +- 0.01}", "waists": "waists: {A: 0.4 +- 0.01}",
		"stroke": "stroke: {vertical: 0.167 +- 0.01}", "corner": "corner: {kind: chamfer, size: 0.167 +- 0.01}", "inner": "inner: {kind: square}", "forms": examples["forms"],
	}[key]
}}

// halves returns the texts before and after the plus-or-minus.
func halves(v document.Value) (string, string, bool) {
	text := strings.ReplaceAll(v.Text(), "±", "+-")
	a, b, ok := strings.Cut(text, "+-")
	if v.Written() && !ok {
		v.Fail("write the value and its plus-or-minus, 0.167 +- 0.005", "%s: %q says no plus-or-minus", v.Name, text)
	}
	return a, b, ok
}

// measuredRatio reads a ratio, or a length over the height where that is given; the
// plus-or-minus of both count.
func measuredRatio(v document.Value, height Value) Value {
	if !v.Written() {
		return Value{}
	}
	if height.V > 0 {
		l := measuredLength(v)
		ratio := l.V / height.V
		return Value{ratio, same.Hypot(l.PM/height.V, ratio*height.PM/height.V)}
	}
	a, b, ok := halves(v)
	out := Value{parseRatio(a), parseRatio(b)}
	if ok && !(out.PM > 0 && !math.IsNaN(out.V)) {
		v.Fail("write numbers or fractions, 1/6 +- 0.005, the second above 0; lengths want height:", "%s: %q is no ratio with its plus-or-minus", v.Name, v.Text())
	}
	return out
}

func measuredLength(v document.Value) Value {
	a, b, ok := halves(v)
	if !ok {
		return Value{}
	}
	x, err := g.ParseLength(strings.TrimSpace(a), 0)
	y, bad := g.ParseLength(strings.TrimSpace(b), 0)
	if err != nil || bad != nil || y <= 0 {
		v.Fail("write both with their units, 12 in +- 1/16 in, the second above 0", "%s: %q is no length with its plus-or-minus", v.Name, v.Text())
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
