package standards

import (
	"errors"
	"fmt"
	"slices"
	"sort"
)

// The files as they are written.
type (
	sizesFile struct {
		Inches, Cm  []float64
		Steps       *stepsFile
		Place, Type stringList
		Provenance  provenanceFile
		knownFile   // in the file of a nation, in place of provenance
	}
	stepsFile struct{ From, To, By float64 }
	fitFile   struct {
		Height     Formula
		FromTip    Formula
		Provenance provenanceFile
	}
)

// circumstances adds to a rule what stands round its drawing: sizes and how it fits.
func (f ruleFile) circumstances(r *Rule) error {
	for _, s := range f.Sizes {
		one, err := s.sizes()
		if err != nil {
			return fmt.Errorf("sizes: %w", err)
		}
		r.Sizes = append(r.Sizes, one)
	}
	if f.Fit != nil {
		p, err := f.Fit.Provenance.checked()
		if err != nil {
			return fmt.Errorf("fit: %w", err)
		}
		for _, k := range []Formula{f.Fit.Height, f.Fit.FromTip} {
			if k == "" {
				continue
			}
			if v, err := k.Eval(nil); err != nil || !(v > 0 && v <= 1) {
				return fmt.Errorf("fit: %q is no part of a height above 0 and at most 1", string(k))
			}
		}
		r.Fit = &Fit{Height: f.Fit.Height, FromTip: f.Fit.FromTip, Provenance: p}
	}
	return nil
}

func (s sizesFile) sizes() (Sizes, error) {
	p, err := s.Provenance.checked()
	if err != nil {
		return Sizes{}, err
	}
	list := slices.Clone(s.Inches)
	for _, cm := range s.Cm {
		list = append(list, cm/2.54)
	}
	if t := s.Steps; t != nil {
		if !(t.From > 0 && t.By > 0 && t.To >= t.From && (t.To-t.From)/t.By < 200) {
			return Sizes{}, errors.New("steps run from: to: by:, all above 0")
		}
		for n := 0; t.From+float64(float64(n)*t.By) <= t.To+1e-9; n++ {
			list = append(list, t.From+float64(float64(n)*t.By))
		}
	}
	sort.Float64s(list)
	if len(list) == 0 || list[0] <= 0 {
		return Sizes{}, errors.New("no sizes above 0")
	}
	return Sizes{Inches: slices.Compact(list), Places: s.Place, Types: s.Type, Provenance: p}, nil
}

// HeightLimit is the largest part of the height of a surface that a marking may
// take; false where the rule does not say.
func (r *Rule) HeightLimit() (float64, bool) {
	if r.Fit == nil || r.Fit.Height == "" {
		return 0, false
	}
	v, err := r.Fit.Height.Eval(nil) // the loader computed it once
	return v, err == nil
}

// OwnSize is the size at which a form is shown, in inches: of the sizes that are told
// for it anywhere on any aircraft the first, else the first of all, else
// [NominalSize].
func (r *Rule) OwnSize() float64 {
	for _, general := range []bool{true, false} {
		for _, s := range r.Sizes {
			if !general || len(s.Places)+len(s.Types) == 0 {
				return s.Inches[0]
			}
		}
	}
	return NominalSize
}

// OfferedAt returns the sizes that are told for a place and types of aircraft, general
// ones with them, and how the best known of them is known. An empty place is not said;
// without types, sizes told for some types are left out.
func (r *Rule) OfferedAt(place string, types []string) ([]float64, Provenance) {
	v, err := words()
	if err != nil {
		return nil, Provenance{}
	}
	var out []float64
	var known Provenance
	for _, s := range r.Sizes {
		if _, ok := v.places.nearestOf(s.Places, place); !ok {
			continue
		}
		fits := len(s.Types) == 0
		for _, t := range types {
			_, ok := v.types.nearestOf(s.Types, t)
			fits = fits || ok
		}
		if !fits {
			continue
		}
		if known.Kind == "" || s.Provenance.Force() > known.Force() {
			known = s.Provenance
		}
		for _, x := range s.Inches {
			if !slices.Contains(out, x) {
				out = append(out, x)
			}
		}
	}
	sort.Float64s(out)
	return out, known
}

// Offered returns the sizes of the rule that are at most limit inches, the largest
// first; none where the rule gives no sizes.
func (r *Rule) Offered(limit float64) []float64 {
	var out []float64
	for _, s := range r.Sizes {
		for _, v := range s.Inches {
			if v <= limit+1e-9 && !slices.Contains(out, v) {
				out = append(out, v)
			}
		}
	}
	sort.Sort(sort.Reverse(sort.Float64Slice(out)))
	return out
}
