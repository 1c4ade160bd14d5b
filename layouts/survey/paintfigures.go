package survey

import (
	"fmt"
	"math"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Figures of the paint shop.
const (
	WasteFactor = 1.3 // paint mixed over paint that arrives (common practice, no source)
	CupMinimum  = 8.0 // US fluid ounces of a colour that gun and cup need (common practice, no source)

	// DopeLight and DopeHeavy bound the weight of pigmented dope in lb/ft2 (Wood
	// 1947). The text does not say of how many coats: it is taken of each, which is
	// the heavier reading.
	DopeLight, DopeHeavy = 0.0056, 0.0083

	dopeSource = "K. D. Wood 1947: pigmented dope 0.0056 to 0.0083 lb/ft2, taken as of each coat"

	ouncesPerGallon = 128
	squareFoot      = 144 // square inches
)

// Weights bounds a weight or a moment from below and above.
type Weights struct{ Low, High float64 }

// DopeWeight returns the weight in pounds of coats over an area in square feet.
func DopeWeight(area float64, coats int) Weights {
	n := area * float64(coats)
	return Weights{n * DopeLight, n * DopeHeavy}
}

// PaintPass is what one pass of one marking takes.
type PaintPass struct {
	Mask           string
	Paint          string
	Coats, Under   int
	Sprayed, Shows float64 // square feet
	Gallons        float64 // US gallons of the paint with waste, before the least that a cup takes
	Weight         Weights // pounds, under-coats included
}

// UnderCoat names the paint of all under-coats in the totals.
const UnderCoat = "under-coat"

// PaintTotal is what one paint takes over all markings.
type PaintTotal struct {
	Paint          string
	Sprayed, Shows float64 // square feet
	Coated         float64 // square feet times coats
	Gallons        float64 // with waste
	Ounces         float64 // to mix: that, or the least that a cup takes
	Weight         Weights // pounds
}

// PaintFigures are the figures of the whole job.
type PaintFigures struct {
	Passes  []PaintPass
	Totals  []PaintTotal // in the order of the paints, under-coats last
	Balance []Balance    // of every control surface that is painted
}

// FiguresOf adds up areas, quantities and weights. Coverage is that of the layout.
// Findings: control surfaces that are painted.
func FiguresOf(l *layouts.Layout, laid []masks.Laid) (PaintFigures, []layouts.Finding, error) {
	paint := l.Spec.Paint
	var out PaintFigures
	sums := map[string]*PaintTotal{}
	sum := func(name string) *PaintTotal {
		if sums[name] == nil {
			sums[name] = &PaintTotal{Paint: name}
		}
		return sums[name]
	}
	for _, one := range laid {
		for _, m := range one.Masks {
			p := PaintPass{
				Mask: m.ID, Paint: m.Paint, Coats: m.Coats, Under: m.Under,
				Sprayed: m.Opening.Area() / squareFoot, Shows: m.Shows.Area() / squareFoot,
			}
			p.Gallons = gallons(p.Sprayed*float64(m.Coats), paint.Spray.Coverage)
			p.Weight = DopeWeight(p.Sprayed, m.Coats+m.Under)
			out.Passes = append(out.Passes, p)
			t := sum(m.Paint)
			t.Sprayed, t.Shows, t.Coated = t.Sprayed+p.Sprayed, t.Shows+p.Shows, t.Coated+float64(p.Sprayed*float64(m.Coats))
			if m.Under > 0 {
				u := sum(UnderCoat)
				u.Sprayed, u.Coated = u.Sprayed+p.Sprayed, u.Coated+float64(p.Sprayed*float64(m.Under))
			}
		}
	}
	var names []string
	for _, c := range paint.Colours {
		if c.ID != UnderCoat {
			names = append(names, c.ID)
		}
	}
	for _, name := range append(names, UnderCoat) {
		if t := sums[name]; t != nil {
			t.Gallons = gallons(t.Coated, paint.Spray.Coverage)
			t.Ounces = math.Max(CupMinimum, t.Gallons*ouncesPerGallon)
			t.Weight = DopeWeight(t.Coated, 1)
			out.Totals = append(out.Totals, *t)
		}
	}
	var err error
	if out.Balance, err = balances(l, laid); err != nil {
		return PaintFigures{}, nil, err
	}
	return out, balanceFindings(out.Balance, l.Spec.Sheets.Units), nil
}

// gallons returns the US gallons for square feet times coats, waste included.
func gallons(coated, coverage float64) float64 { return coated / coverage * WasteFactor }

// balanceFindings says which control surfaces must be balanced anew.
func balanceFindings(b []Balance, u g.Units) []layouts.Finding {
	var out []layouts.Finding
	for _, s := range b {
		f := layouts.Finding{
			Level: layouts.Note, Rule: "balance-check", Marking: s.Painted[0], Where: s.At,
			Message: fmt.Sprintf("%s: %s of it are painted, %s of dope, %s: %s", s.Surface, u.Area(s.Area), u.Weight(s.Weight.Low, s.Weight.High), s.moment(u), BalanceCheck),
			Hint:    "weigh and balance it before it is hung", Expected: "within the maker's limits", Tolerance: "the maker's", Source: dopeSource,
		}
		f.Measured = u.Weight(s.Weight.Low, s.Weight.High)
		if s.Hinge == nil {
			f.Level, f.Hint = layouts.Warn, "write hinge: with the FS of its hinge line"
		} else {
			f.Measured = u.Moment(s.Moment.Low, s.Moment.High)
		}
		out = append(out, f)
	}
	return out
}

func (s Balance) moment(u g.Units) string {
	if s.Hinge == nil {
		return "at an unknown arm"
	}
	return u.Fixed(s.Arm, 2) + " aft of its hinge line: " + u.Moment(s.Moment.Low, s.Moment.High)
}

func centroidOf(p g.Path) (g.Point, float64) {
	rings := make([][]g.Point, len(p))
	for i, c := range p {
		rings[i] = c.Flattened(g.FlattenTolerance)
	}
	return g.Centroid(rings...)
}
