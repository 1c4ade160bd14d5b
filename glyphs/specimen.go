package glyphs

import (
	"fmt"
	"math"
	"slices"
	"strings"

	g "maskloft/geometry"
)

// Specimen is what a specimen sheet shows of an alphabet.
type Specimen struct {
	Name, Title, Source string
	Height              g.Length // of the glyphs
	Glyphs              []Glyph  // all characters, in order
	Rows                []SpecimenRow
}

// SpecimenRow is one ratio in words, with its own source where it has one.
type SpecimenRow struct {
	What, Value, Source string
	Inferred            bool // a fit had no measure for it
}

// Specimen returns all characters at a cap height, and the key ratios in words.
func (a *Alphabet) Specimen(height g.Length) (Specimen, error) {
	s := Specimen{Name: a.Name, Title: a.Title, Source: a.Source, Height: height}
	for _, r := range all {
		glyph, err := a.Glyph(r, height)
		if err != nil {
			return Specimen{}, err
		}
		s.Glyphs = append(s.Glyphs, glyph)
	}
	row := func(key, what, value string) {
		s.Rows = append(s.Rows, SpecimenRow{What: what, Value: value, Source: a.Sources[key], Inferred: slices.Contains(a.Inferred, key)})
	}
	part := func(x float64) string { return partOf(x / a.Height) }
	row("width", "width", part(a.Width)+" of the height")
	if a.Stroke.Vertical == a.Stroke.Horizontal {
		row("stroke", "stroke", part(a.Stroke.Vertical)+" of the height")
	} else {
		row("stroke", "stroke", part(a.Stroke.Vertical)+" of the height, bars "+part(a.Stroke.Horizontal))
	}
	row("gap", "gap between extents", part(a.Gap)+" of the height")
	row("word", "gap between words", part(a.Word)+" of the height")
	row("corner", "corners", a.cornerWords())
	list := func(key, what string, m map[string]float64) {
		if len(m) > 0 {
			row(key, what, a.grouped(m))
		}
	}
	list("widths", "other widths", a.Widths)
	used := map[string]float64{}
	for k := range waists {
		if a.Form(rune(k[0])) != "full" {
			used[k] = a.WaistOf(rune(k[0]))
		}
	}
	list("waists", "heights of the bars' centre lines", used)
	row("hook", "hooks end", part(a.HookOf('C'))+" of the height from the cap line or the baseline")
	list("hooks", "other hooks", a.Hooks)
	list("pairs", "gaps of pairs", a.Pairs)
	var shapes []string
	for _, k := range sorted(forms) {
		shapes = append(shapes, k+" "+a.Form(rune(k[0])))
	}
	row("forms", "forms", strings.Join(shapes, ", "))
	if a.Slant != 0 {
		row("slant", "slant", g.FormatNumber(a.Slant, 2)+" degrees to the right")
	}
	if len(a.Inferred) > 0 {
		row("inferred", "inferred, not measured", strings.Join(a.Inferred, " "))
	}
	return s, nil
}

func (a *Alphabet) cornerWords() string {
	words := func(c Cut) string {
		size := partOf(c.Size/a.Stroke.Vertical) + " of a stroke"
		switch c.Kind {
		case ChamferCut:
			return "cut at 45 degrees, legs " + size
		case RoundCut:
			return "round, radius " + size
		}
		return "square"
	}
	out := words(a.Corner.Cut)
	if a.Corner.Inner != nil {
		return out + "; inside " + words(*a.Corner.Inner)
	}
	if a.Corner.Kind != SquareCut {
		out += "; inside so that the stroke keeps its width"
	}
	return out
}

// grouped writes values as parts of the height, characters of one value together.
func (a *Alphabet) grouped(m map[string]float64) string {
	by := map[string][]string{}
	var order []string
	for _, k := range sorted(m) {
		v := partOf(m[k] / a.Height)
		if len(by[v]) == 0 {
			order = append(order, v)
		}
		by[v] = append(by[v], k)
	}
	var out []string
	for _, v := range order {
		out = append(out, strings.Join(by[v], " ")+" "+v)
	}
	return strings.Join(out, ", ")
}

// partOf writes a ratio as a fraction of at most thirtieths where it is one, else
// with three decimals.
func partOf(x float64) string {
	for d := 1; d <= 30; d++ {
		n := math.Round(x * float64(d))
		if math.Abs(float64(x*float64(d))-n) < 1e-6*float64(d) {
			if d == 1 {
				return fmt.Sprintf("%d", int(n))
			}
			return fmt.Sprintf("%d/%d", int(n), d)
		}
	}
	return g.FormatNumber(x, 3)
}
