package glyphs

import (
	"embed"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strings"
	"sync"

	g "maskloft/geometry"
)

//go:embed alphabets/*.yaml
var files embed.FS

// Letters are what gives an outline for a character: an alphabet of ratios, or
// the outlines of a font.
type Letters interface {
	Glyph(r rune, height g.Length) (Glyph, error)
}

// Alphabet is a set of block letters as ratios: lengths in units of its grid, of
// which Height make the cap height. A file says what its keys mean, see
// alphabets/block-6x4.yaml.
type Alphabet struct {
	Name     string
	Title    string
	Height   float64
	Width    float64 // of a character, where Widths does not say otherwise
	Stroke   Stroke
	Gap      float64 // between the extents of two characters
	Word     float64 // width of a space
	Corner   Corner
	Widths   map[string]float64 // those that differ, by character
	Waists   map[string]float64 // heights of middle bars that differ from the usual ones, by character
	Hook     float64            // how far the ends of hooks lie from the cap line or the baseline
	Hooks    map[string]float64 // those that differ, by character
	Pairs    map[string]float64 // gaps that differ, by the two characters
	Forms    map[string]string  // forms that differ from the first of each character's, see forms.go
	Slant    float64            // degrees to the right; widths and strokes of uprights are then those along the baseline
	Inferred []string           // what a fit had no measure for: characters, and the keys of other ratios
	Source   string
	Sources  map[string]string // where one ratio has a source of its own, by key
}

// Stroke is the width of upright and of level strokes; a diagonal's lies between
// by its lean, cos^2 to sin^2.
type Stroke struct{ Vertical, Horizontal float64 }

// CutKind says how a corner is cut back.
type CutKind string

// Kinds of corner.
const (
	SquareCut  CutKind = "square"
	ChamferCut CutKind = "chamfer" // at 45 degrees; the size is that of its legs
	RoundCut   CutKind = "round"   // the size is the radius
)

// Cut is a corner with its size; 0 for a square one.
type Cut struct {
	Kind CutKind
	Size float64
}

// Corner says how the bends of strokes look: outside, and inside. A corner that
// has no room between its neighbours is smaller.
type Corner struct {
	Cut
	Inner *Cut // nil: so that the stroke keeps its width round the bend, as far as it can
}

// WidthOf returns the width of a character in units of the grid. Where the file
// does not say otherwise the stop, 1 and I are one stroke wide; 1 with a flag is
// two, I with bars three (common practice, no source).
func (a *Alphabet) WidthOf(r rune) float64 {
	if w, ok := a.Widths[string(r)]; ok {
		return w
	}
	switch form := a.Form(r); {
	case r == '.' || (r == '1' || r == 'I') && form == "plain":
		return a.Stroke.Vertical
	case r == '1':
		return 2 * a.Stroke.Vertical
	case r == 'I':
		return 3 * a.Stroke.Vertical
	}
	return a.Width
}

// WaistOf returns the height of the centre line of a character's middle bar in
// units of the grid; 0 where it has none. For the inner points of M and W it is
// that of the bend of the centre lines, for K that of the arm's centre line on
// the upright's.
func (a *Alphabet) WaistOf(r rune) float64 {
	if y, ok := a.Waists[string(r)]; ok {
		return y
	}
	return waists[string(r)] * a.Height
}

// HookOf returns how far the ends of a character's hooks lie from the cap line
// or the baseline, in units of the grid.
func (a *Alphabet) HookOf(r rune) float64 {
	if y, ok := a.Hooks[string(r)]; ok {
		return y
	}
	if a.Hook > 0 {
		return a.Hook
	}
	return usualHook * a.Height
}

// GapOf returns the gap between the extents of two neighbours in units of the
// grid.
func (a *Alphabet) GapOf(left, right rune) float64 {
	if gap, ok := a.Pairs[string([]rune{left, right})]; ok {
		return gap
	}
	return a.Gap
}

// Form returns the form of a character; empty where it has but one.
func (a *Alphabet) Form(r rune) string {
	if f, ok := a.Forms[string(r)]; ok {
		return f
	}
	if known := forms[string(r)]; len(known) > 0 {
		return known[0]
	}
	return ""
}

// Has tells whether the alphabet draws a character.
func (a *Alphabet) Has(r rune) bool { return strings.ContainsRune(all, r) }

// Characters returns all that an alphabet draws, in order.
func Characters() []rune { return []rune(all) }

var loaded = sync.OnceValues(func() (map[string]*Alphabet, error) {
	entries, err := files.ReadDir("alphabets")
	if err != nil {
		return nil, err
	}
	out := map[string]*Alphabet{}
	for _, e := range entries {
		data, err := files.ReadFile("alphabets/" + e.Name())
		if err != nil {
			return nil, err
		}
		a, err := Parse(e.Name(), data)
		if err != nil {
			return nil, err
		}
		out[a.Name] = a
		drawnOf.Store(a, &drawnGlyphs{of: a})
	}
	return out, nil
})

// Load returns an embedded alphabet by name. Error: an unknown name, with the
// known ones.
func Load(name string) (*Alphabet, error) {
	all, err := loaded()
	if err != nil {
		return nil, err
	}
	a, ok := all[name]
	if !ok {
		return nil, fmt.Errorf("unknown alphabet %q: write one of %s, or the name of a file that ends in .yaml", name, strings.Join(Names(), ", "))
	}
	return a, nil
}

// LoadFile reads an alphabet from a file. The error is of type [Problems] where
// the file can be read.
func LoadFile(path string) (*Alphabet, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the alphabet: %w: check the name and the folder", err)
	}
	defer f.Close()
	const most = 4 << 20
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("cannot read the alphabet: %w: give a file of ratios", err)
	case len(data) > most:
		return nil, fmt.Errorf("cannot read the alphabet %s: it is larger than %d MB: is this the right file?", path, most>>20)
	}
	return Parse(path, data)
}

// Names returns the names of the embedded alphabets in order.
func Names() []string {
	all, _ := loaded()
	return sorted(all)
}

// sorted returns the keys of m in order.
func sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
