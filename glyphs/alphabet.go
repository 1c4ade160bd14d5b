package glyphs

import (
	"bytes"
	"embed"
	"fmt"
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
	Name    string             `yaml:"name"`
	Title   string             `yaml:"title"`
	Height  float64            `yaml:"height"`
	Width   float64            `yaml:"width"`   // of a character, where Widths does not say otherwise
	Stroke  float64            `yaml:"stroke"`  // width of every stroke
	Gap     float64            `yaml:"gap"`     // between the extents of two characters
	Word    float64            `yaml:"word"`    // width of a space
	Chamfer float64            `yaml:"chamfer"` // legs of the 45 degree cut at outer corners
	Widths  map[string]float64 `yaml:"widths"`
	Source  string             `yaml:"source"`
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
		a := &Alphabet{}
		dec := yaml.NewDecoder(bytes.NewReader(data))
		dec.KnownFields(true)
		if err := dec.Decode(a); err != nil {
			return nil, fmt.Errorf("alphabet %s: %w", e.Name(), err)
		}
		if err := a.check(); err != nil {
			return nil, fmt.Errorf("alphabet %s: %w", e.Name(), err)
		}
		out[a.Name] = a
	}
	return out, nil
})

// check refuses an alphabet whose strokes would run into each other.
func (a *Alphabet) check() error {
	switch {
	case a.Name == "" || a.Source == "":
		return fmt.Errorf("an alphabet needs a name and a source")
	case a.Height <= 0 || a.Width <= 0 || a.Stroke <= 0 || a.Gap <= 0 || a.Word <= 0:
		return fmt.Errorf("height, width, stroke, gap and word are above 0")
	case 3*a.Stroke >= a.Width || 5*a.Stroke >= a.Height+1e-9:
		return fmt.Errorf("stroke %g is too wide for a grid of %g x %g: the counters would close", a.Stroke, a.Width, a.Height)
	case a.Chamfer < 0 || a.Chamfer > a.Width/2:
		return fmt.Errorf("chamfer %g is not between 0 and half the width", a.Chamfer)
	}
	return nil
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
	var out []string
	for n := range all {
		out = append(out, n)
	}
	sort.Strings(out)
	return out
}
