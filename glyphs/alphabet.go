package glyphs

import (
	"bytes"
	"embed"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"
)

//go:embed alphabets/*.yaml
var files embed.FS

// Alphabet is a set of block letters as ratios: lengths in units of its grid,
// of which Height make the cap height.
type Alphabet struct {
	Name   string             `yaml:"name"`
	Title  string             `yaml:"title"`
	Height float64            `yaml:"height"`
	Width  float64            `yaml:"width"`  // of a character, where Widths does not say otherwise
	Stroke float64            `yaml:"stroke"` // width of every stroke
	Gap    float64            `yaml:"gap"`    // between the extents of two characters
	Word   float64            `yaml:"word"`   // width of a space
	Corner Corner             `yaml:"corner"`
	Widths map[string]float64 `yaml:"widths"` // those that differ, by character
	Forms  map[string]string  `yaml:"forms"`  // forms that differ from the first of each character's, see forms.go
	Source string             `yaml:"source"`
}

// Corner says how the bends of strokes look from outside.
type Corner struct {
	Kind string  `yaml:"kind"` // square or chamfer
	Size float64 `yaml:"size"` // legs of the 45 degree cut at the outer corner; 0 for square
}

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
		a, err := parse(data)
		if err != nil {
			return nil, fmt.Errorf("alphabet %s: %w", e.Name(), err)
		}
		out[a.Name] = a
	}
	return out, nil
})

// parse reads an alphabet file; a key that it does not know is an error.
func parse(data []byte) (*Alphabet, error) {
	a := &Alphabet{}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(a); err != nil {
		return nil, err
	}
	return a, a.check()
}

// check refuses an alphabet whose strokes would run into each other.
func (a *Alphabet) check() error {
	switch {
	case a.Name == "" || a.Source == "":
		return fmt.Errorf("an alphabet needs a name and a source")
	case a.Height <= 0 || a.Width <= 0 || a.Stroke <= 0 || a.Gap <= 0 || a.Word <= 0:
		return fmt.Errorf("height, width, stroke, gap and word are above 0")
	case 3*a.Stroke >= a.Width || 5*a.Stroke >= a.Height+1e-9:
		return fmt.Errorf("stroke %g is too wide for a grid of %g x %g: the counters would close", a.Stroke, a.Width, a.Height)
	case a.Corner.Kind != "square" && a.Corner.Kind != "chamfer":
		return fmt.Errorf("corner kind %q: write square or chamfer", a.Corner.Kind)
	case a.Corner.Kind == "square" && a.Corner.Size != 0:
		return fmt.Errorf("corner size %g: a square corner has size 0, or write kind: chamfer", a.Corner.Size)
	case a.Corner.Kind == "chamfer" && (a.Corner.Size <= (2-math.Sqrt2)*a.Stroke || a.Corner.Size > a.Width/3):
		return fmt.Errorf("corner size %g: a chamfer lies above %.4g, where its inner edge vanishes, and not above %.4g, a third of the width", a.Corner.Size, (2-math.Sqrt2)*a.Stroke, a.Width/3)
	}
	for _, c := range sorted(a.Widths) {
		if w := a.Widths[c]; !strings.Contains(all, c) || len(c) != 1 || w < a.Stroke {
			return fmt.Errorf("widths: %q: %g: write one of %s with a width not below the stroke %g", c, w, all, a.Stroke)
		}
	}
	for _, c := range sorted(a.Forms) {
		if known := forms[c]; !slices.Contains(known, a.Forms[c]) {
			return fmt.Errorf("forms: %q has no form %q: it has %q", c, a.Forms[c], known)
		}
	}
	if a.form('I') == "barred" && a.WidthOf('I') < 3*a.Stroke {
		return fmt.Errorf("widths: I: %g: a barred I is at least three strokes wide, %g", a.WidthOf('I'), 3*a.Stroke)
	}
	return nil
}

// sorted returns the keys of m in order.
func sorted[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// Load returns an alphabet by name. Error: an unknown name, with the known ones.
func Load(name string) (*Alphabet, error) {
	all, err := loaded()
	if err != nil {
		return nil, err
	}
	a, ok := all[name]
	if !ok {
		return nil, fmt.Errorf("unknown alphabet %q: write one of %s", name, strings.Join(Names(), ", "))
	}
	return a, nil
}

// Names returns the names of the embedded alphabets in order.
func Names() []string {
	all, _ := loaded()
	return sorted(all)
}
