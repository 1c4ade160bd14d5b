package standards

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/geometry"
)

// numberNames returns the names of the numbers of a kind of part in a unit, and
// how each scales.
func numberNames(k PartKind, u Unit) ([]string, []Dimension) {
	row := partKinds[k]
	var names []string
	for _, n := range row.numbers {
		if a, b, two := strings.Cut(n, "|"); two {
			n = a
			if u == Diameter {
				n = b
			}
		}
		names = append(names, n)
	}
	return names, row.dims
}

// Value is a number of a part, computed.
type Value struct {
	Part, Name string
	Formula    Formula
	Value      float64
	Dimension  Dimension
}

// Text writes v with up to 6 decimals in the unit of its rule, an angle with deg.
func (v Value) Text() string {
	s := geometry.FormatNumber(v.Value, 6)
	if v.Dimension == Degrees {
		s += " deg"
	}
	return s
}

// Scaled returns v at the given size of the governing disc, its diameter in
// inches: a radius for a circle, a length, an angle in degrees or a count.
func (v Value) Scaled(unit Unit, size float64) float64 {
	switch {
	case unit == Inches:
		return v.Value
	case v.Dimension == Circular:
		return v.Value * size / 2 // a radius in R, or a diameter in D: the same
	case !v.Dimension.IsLength():
		return v.Value
	case unit == Diameter:
		return v.Value * size
	}
	return v.Value * size / 2
}

// Values computes every number of the rule's parts, in order of part and number.
// For each option not picked the default is taken. A rule whose numbers depend on
// the governing size is computed at [NominalSize]; see [Rule.ValuesAt].
//
// Errors: an unknown option or choice, with the known ones; an option picked
// twice.
func (r *Rule) Values(picks []Pick) ([]Value, error) { return r.ValuesAt(NominalSize, picks) }

// NominalSize is the governing size, in inches, at which a rule is shown where
// none is given.
const NominalSize = 40.0

// ValuesAt is Values at a governing size in inches.
func (r *Rule) ValuesAt(size float64, picks []Pick) ([]Value, error) {
	known, err := r.chosen(picks)
	if err != nil {
		return nil, err
	}
	known["size"] = size
	var out []Value
	for _, p := range r.Parts {
		names, dims := numberNames(p.Kind, r.Unit)
		for i, name := range names {
			f := p.Number(name)
			v, err := f.Eval(known)
			if err != nil {
				return nil, fmt.Errorf("rule %s: %s.%s: %w", r.ID, p.ID, name, err)
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, fmt.Errorf("rule %s: %s.%s: %s is not a number", r.ID, p.ID, name, f)
			}
			out = append(out, Value{Part: p.ID, Name: name, Formula: f, Value: v, Dimension: dims[i]})
		}
	}
	return out, nil
}

// chosen returns the numbers of the choices taken, by name.
func (r *Rule) chosen(picks []Pick) (map[string]float64, error) {
	taken := map[string]string{}
	for _, p := range picks {
		if _, twice := taken[p.Option]; twice {
			return nil, fmt.Errorf("option %q is given twice: keep one", p.Option)
		}
		taken[p.Option] = p.Choice
		if _, ok := r.option(p.Option); !ok {
			var names []string
			for _, o := range r.Options {
				names = append(names, o.Name)
			}
			if len(names) == 0 {
				return nil, fmt.Errorf("rule %s has no options: take %q out", r.ID, p.Option)
			}
			return nil, fmt.Errorf("rule %s has no option %q: write one of %s", r.ID, p.Option, strings.Join(names, ", "))
		}
	}
	known := map[string]float64{}
	for _, o := range r.Options {
		want := o.Default
		if c, ok := taken[o.Name]; ok {
			want = c
		}
		c, ok := o.choice(want)
		if !ok {
			var names []string
			for _, c := range o.Choices {
				names = append(names, c.Name)
			}
			return nil, fmt.Errorf("option %s of rule %s has no choice %q: write one of %s", o.Name, r.ID, want, strings.Join(names, ", "))
		}
		for _, n := range c.Numbers {
			v, err := n.Formula.Eval(nil)
			if err != nil {
				return nil, fmt.Errorf("rule %s: option %s: %s: %w", r.ID, o.Name, n.Name, err)
			}
			known[n.Name] = v
		}
	}
	return known, nil
}

func (r *Rule) option(name string) (Option, bool) {
	for _, o := range r.Options {
		if o.Name == name {
			return o, true
		}
	}
	return Option{}, false
}

func (o Option) choice(name string) (Choice, bool) {
	for _, c := range o.Choices {
		if c.Name == name {
			return c, true
		}
	}
	return Choice{}, false
}

// reading returns how a number is known that hangs on a reading, taken by picks or by
// default, which is remembered only.
func (r *Rule) reading(what string, picks []Pick) (Provenance, bool) {
	p, ok := r.partOf(what)
	if !ok {
		return Provenance{}, false
	}
	_, number, _ := strings.Cut(what, ".")
	used := p.Number(number).names()
	for _, o := range r.Options {
		want := o.Default
		for _, k := range picks {
			if k.Option == o.Name {
				want = k.Choice
			}
		}
		c, ok := o.choice(want)
		if !ok || c.Provenance.Kind != Memory {
			continue
		}
		for _, n := range c.Numbers {
			if slices.Contains(used, n.Name) {
				return c.Provenance, true
			}
		}
	}
	return Provenance{}, false
}

// partOf returns the part that a value belongs to, named as in [MemoryField].
func (r *Rule) partOf(what string) (Part, bool) {
	part, _, _ := strings.Cut(what, ".")
	return r.Part(part)
}

// OfPaint returns the rule as a film of one paint has it: the parts of other paints are
// left out, and show nothing.
func (r *Rule) OfPaint(paint string) *Rule {
	out := *r
	out.Parts = slices.Clone(r.Parts)
	for i := range out.Parts {
		if out.Parts[i].Colour != paint {
			out.Parts[i].LeftOut = "1"
		}
	}
	return &out
}

// Painted returns the ids of the parts that are painted under the readings taken;
// the others show the aircraft's own finish.
func (r *Rule) Painted(picks []Pick) (map[string]bool, error) {
	known, err := r.chosen(picks)
	if err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for _, p := range r.Parts {
		v := 0.0
		if p.LeftOut != "" {
			if v, err = p.LeftOut.Eval(known); err != nil {
				return nil, fmt.Errorf("rule %s: %s: left_out: %w", r.ID, p.ID, err)
			}
		}
		out[p.ID] = v == 0
	}
	return out, nil
}
