package glyphs

import (
	"fmt"
	"math"
	"sort"
	"strings"

	g "maskloft/geometry"
)

// Fit returns a new alphabet with the measured ratios. What was not measured is
// the base's, in proportion: widths as the measured widths are to the base's,
// the widths of one-stroke characters, corners and pairs as the strokes or the
// gap are. It is named in inferred, and in the alphabet: a character whose width
// was not measured, and the keys of other ratios; words and hooks always. The
// cap height is 1.
//
// Errors: the ratios make no alphabet, such as strokes that leave no counters;
// it says which.
func Fit(m Measured, base *Alphabet) (fitted *Alphabet, inferred []string, err error) {
	k := 1 / base.Height
	a := &Alphabet{
		Name: base.Name + "-fitted", Title: "fitted to measures, after " + base.Name, Height: 1,
		Forms: map[string]string{}, Widths: map[string]float64{}, Waists: map[string]float64{}, Hooks: map[string]float64{}, Pairs: map[string]float64{},
		Hook: base.Hook * k, Slant: base.Slant,
		Source: "measures; what is inferred stands in the proportions of " + base.Name,
	}
	given := func(key string, v Value, otherwise float64) float64 {
		if v.Given() {
			return v.V
		}
		inferred = append(inferred, key)
		return otherwise
	}
	// strokes: one that was not measured changes as the other one does
	ratio := func(v Value, of float64) float64 {
		if v.Given() {
			return v.V / (of * k)
		}
		return 0
	}
	rv, rh := ratio(m.StrokeV, base.Stroke.Vertical), ratio(m.StrokeH, base.Stroke.Horizontal)
	if rv+rh == 0 {
		rv, rh = 1, 1
	}
	rv, rh = orElse(rv, rh), orElse(rh, rv)
	a.Stroke = Stroke{base.Stroke.Vertical * k * rv, base.Stroke.Horizontal * k * rh}
	if !m.StrokeV.Given() || !m.StrokeH.Given() {
		inferred = append(inferred, "stroke")
	}
	a.Gap = given("gap", m.Gap, base.Gap*k)
	a.Slant = given("slant", m.Slant, base.Slant)
	if math.Abs(a.Slant) < leastSlant {
		a.Slant = 0
	}
	for _, p := range sorted(base.Pairs) {
		a.Pairs[p] = base.Pairs[p] * a.Gap / base.Gap
		inferred = append(inferred, "pair "+p)
	}
	for _, c := range sorted(forms) {
		f, seen := m.Forms[c]
		if !seen {
			f = base.Form(rune(c[0]))
		}
		if f != forms[c][0] {
			a.Forms[c] = f
		}
	}
	if !a.fitCorner(m, base, k*(rv+rh)/2) {
		inferred = append(inferred, "corner")
	}
	inferred = append(inferred, a.fitWidths(m, base, rv)...)
	a.Word = base.Word * a.Width / base.Width
	inferred = append(inferred, "word", "hook")
	for _, c := range hooked {
		if y := base.HookOf(c) * k; !near(y, a.HookOf(c)) {
			a.Hooks[string(c)] = y
		}
	}
	more, err := a.fitWaists(m, base)
	if err != nil {
		return nil, nil, err
	}
	inferred = append(inferred, more...)
	sort.Strings(inferred)
	a.Inferred = inferred
	again, err := Parse(a.Name+".yaml", a.YAML()) // the same checks as for a file
	if err != nil {
		return nil, nil, fmt.Errorf("the measures make no alphabet: %w", err)
	}
	return again, again.Inferred, nil
}

func orElse(x, y float64) float64 {
	if x > 0 {
		return x
	}
	return y
}

// fitCorner takes the measured corners; k scales those of the base. It tells
// whether the outer ones were measured.
func (a *Alphabet) fitCorner(m Measured, base *Alphabet, k float64) bool {
	measured := m.Corner.Kind == SquareCut || m.Corner.Kind != "" && m.Corner.Size.Given()
	if measured {
		a.Corner.Cut = Cut{m.Corner.Kind, m.Corner.Size.V}
	} else {
		a.Corner.Cut = Cut{base.Corner.Kind, base.Corner.Size * k}
		if base.Corner.Inner != nil {
			a.Corner.Inner = &Cut{base.Corner.Inner.Kind, base.Corner.Inner.Size * k}
		}
	}
	if m.Inner.Kind == "" || m.Inner.Kind != SquareCut && !m.Inner.Size.Given() {
		return measured
	}
	inner := Cut{m.Inner.Kind, m.Inner.Size.V}
	usual := Cut{a.Corner.Kind, innerSize(a.Corner.Kind, a.Corner.Size, (a.Stroke.Vertical+a.Stroke.Horizontal)/2)}
	if usual.Size == 0 {
		usual.Kind = SquareCut
	}
	a.Corner.Inner = nil
	if inner.Kind != usual.Kind || math.Abs(inner.Size-usual.Size) > 1e-3*a.Stroke.Vertical {
		a.Corner.Inner = &inner
	}
	return measured
}

// fitWidths takes the measured widths and infers the others; rv is how the
// uprights are to the base's.
func (a *Alphabet) fitWidths(m Measured, base *Alphabet, rv float64) (inferred []string) {
	k := 1 / base.Height
	thin := func(r rune) bool { return base.WidthOf(r) < 1.5*base.Stroke.Vertical }
	var ratios, usual []float64
	for _, r := range all {
		if v := m.Widths[r]; v.Given() && !thin(r) {
			ratios = append(ratios, v.V/(base.WidthOf(r)*k))
			if _, differs := base.Widths[string(r)]; !differs {
				usual = append(usual, v.V)
			}
		}
	}
	scale := 1.0
	if len(ratios) > 0 {
		scale = median(ratios)
	}
	a.Width = base.Width * k * scale
	if len(usual) > 0 {
		a.Width = median(usual)
	} else {
		inferred = append(inferred, "width")
	}
	for _, r := range all {
		v := m.Widths[r]
		w := v.V
		switch _, differs := base.Widths[string(r)]; {
		case v.Given():
		case thin(r):
			w = base.WidthOf(r) * k * rv
		case differs:
			w = base.WidthOf(r) * k * scale
		default:
			w = a.Width
		}
		if !v.Given() {
			inferred = append(inferred, string(r))
		}
		if !near(w, a.WidthOf(r)) {
			a.Widths[string(r)] = w
		}
	}
	return inferred
}

// fitWaists sets the heights of the bars so that they measure on the outlines
// what was measured. Which one a measure means is then the same on both.
func (a *Alphabet) fitWaists(m Measured, base *Alphabet) (inferred []string, err error) {
	upright := *a
	upright.Slant = 0
	const height = 10 * g.Inch
	for _, r := range sortedCharacters(waists) {
		c := string(r)
		y := base.WaistOf(r) / base.Height
		want := m.Waists[r]
		point := strings.ContainsRune("MW", r) && a.Form(r) == "full"
		if point {
			continue // its point runs the full height
		}
		if !want.Given() {
			if m.Widths[r].Given() {
				inferred = append(inferred, "waist "+c)
			}
		} else {
			for i := 0; i < 20; i++ {
				upright.Waists = map[string]float64{c: y}
				glyph, err := upright.Glyph(r, height)
				if err != nil {
					return nil, err
				}
				got := Measure(glyph.Outline, r, height).Waist
				if got == 0 {
					return nil, fmt.Errorf("waist of %s: %.4g of the height is no place for its bar", c, want.V)
				}
				y += want.V - got
				if math.Abs(want.V-got) < 1e-6 {
					break
				}
			}
		}
		if !near(y, waists[c]) {
			a.Waists[c] = y
		}
	}
	return inferred, nil
}
