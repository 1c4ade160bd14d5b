package standards

import (
	"errors"
	"fmt"
	"slices"
	"sort"
)

// The files as they are written.
type (
	otherDateFile struct {
		What       string
		Also       Date
		Provenance provenanceFile
	}
	sizesFile struct {
		Inches     []float64
		Steps      *stepsFile
		Provenance provenanceFile
	}
	stepsFile struct{ From, To, By float64 }
	fitFile   struct {
		Height     Formula
		FromTip    Formula `yaml:"from_tip"`
		Provenance provenanceFile
	}
	placeFile struct {
		Where      []string
		From, To   Date
		Provenance provenanceFile
	}
)

// circumstances adds to a rule what stands round its drawing: its succession, other
// dates, sizes, how it fits, and where it stood.
func (f ruleFile) circumstances(r *Rule) error {
	r.Lines = f.Lines
	for _, d := range f.Dates {
		p, err := d.Provenance.checked()
		if err == nil && d.What != "valid_from" && d.What != "valid_to" {
			err = fmt.Errorf("dates: %q is neither valid_from nor valid_to", d.What)
		}
		if err == nil && (d.What == "valid_from" && r.ValidFrom == "" || d.What == "valid_to" && r.ValidTo == "") {
			err = fmt.Errorf("dates: the rule has no %s", d.What)
		}
		if err == nil && d.Also == "" {
			err = errors.New("dates: no date in also:")
		}
		if err == nil {
			err = datesOK(d.Also)
		}
		if err != nil {
			return err
		}
		r.Dates = append(r.Dates, OtherDate{What: d.What, Also: d.Also, Provenance: p})
	}
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
	for _, w := range f.Places {
		p, err := w.Provenance.checked()
		if err == nil {
			err = datesOK(w.From, w.To)
		}
		if err == nil && len(w.Where) == 0 {
			err = errors.New("nothing under where:")
		}
		for _, spot := range w.Where {
			if err == nil && !slices.Contains(Spots, spot) {
				err = fmt.Errorf("unknown spot %q", spot)
			}
		}
		if err != nil {
			return fmt.Errorf("places: %w", err)
		}
		r.Places = append(r.Places, Place{Where: w.Where, From: w.From, To: w.To, Provenance: p})
	}
	return nil
}

func (s sizesFile) sizes() (Sizes, error) {
	p, err := s.Provenance.checked()
	if err != nil {
		return Sizes{}, err
	}
	list := slices.Clone(s.Inches)
	if t := s.Steps; t != nil {
		if !(t.From > 0 && t.By > 0 && t.To >= t.From && (t.To-t.From)/t.By < 200) {
			return Sizes{}, errors.New("steps run from: to: by:, all above 0")
		}
		for n := 0; t.From+float64(n)*t.By <= t.To+1e-9; n++ {
			list = append(list, t.From+float64(n)*t.By)
		}
	}
	sort.Float64s(list)
	if len(list) == 0 || list[0] <= 0 {
		return Sizes{}, errors.New("no sizes above 0")
	}
	return Sizes{Inches: slices.Compact(list), Provenance: p}, nil
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
