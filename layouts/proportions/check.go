package proportions

import (
	"context"
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// Verdict is what comes of holding one dimension against a rule.
type Verdict string

// Verdicts.
const (
	Conforms    Verdict = "conforms"
	Superseded  Verdict = "conforms to a superseded or misprinted text"
	OnFile      Verdict = "deviates, evidence on file"
	Unexplained Verdict = "deviates, unexplained"
	Following   Verdict = "follows from another slip"
)

// Check is one dimension of a drawing held against its rule.
//
// Lengths are at the size of the drawing. Ratios are in the rule's unit, or
// degrees, with Unit "deg"; the lengths of an angle are then those of the arc at
// the end of the arm.
type Check struct {
	Marking  string
	Part     string // of the rule; empty for the size of the whole
	Name     string // of the number in its part; empty for a part that is not in the drawing
	What     string // in words
	Measured geometry.Length
	Expected geometry.Length
	// Difference is Measured less Expected.
	Difference    geometry.Length
	Tolerance     geometry.Length
	Ratio         float64
	ExpectedRatio float64
	Unit          standards.Unit
	Formula       standards.Formula
	Residual      geometry.Length // root mean square of the nodes about the fitted edges
	Verdict       Verdict
	Text          string // document, revision and clause
	Other         string // the other text or reading that it conforms to, in words; or empty
	Evidence      []string
	CanStop       bool // what it is held against is a document or a copy of one
	CanWarn       bool // it is a secondary work, or carried over; neither: a mismatch is a note
	Line          [2]geometry.Point
	Hint          string
	Said          string // in words, for what is no dimension: a part that lacks, a paint; or empty
	Follows       string // the slip that it comes of, where another check tells that; or empty
}

// Dimension names what was looked at, as an evidence names it: bars.length.
func (c Check) Dimension() string {
	switch {
	case c.Part == "":
		return c.Name
	case c.Name == "":
		return c.Part
	}
	return c.Part + "." + c.Name
}

// Degrees is the unit of a check of an angle.
const Degrees standards.Unit = "deg"

// Tolerances of a dimension, which hold against two kinds of error.
//
// Of the drawing's hand: 0.4 % of the dimension, so that an error of 1 % is
// caught with room to spare and what files round off is not (a circle of four
// cubics is 0.03 % out; 0.001 in is 0.3 % of the border of a 6 in disc).
//
// Of the measuring: [trusted] standard errors. At four, a sound drawing of
// fifteen dimensions is called wrong once in a thousand; where noise makes the
// standard error larger than a tenth of a per cent, small errors cannot be told
// and are not.
const (
	defaultTolerance = 0.004
	trusted          = 4.0
	coarsest         = 0.01 // of the governing radius: the widest tolerance of the measuring, beyond the drawing's own noise
	noiseBand        = 3.0  // times the scatter: all but a few of the nodes, the drawing's own noise
	roughest         = 0.01 // of the governing radius: scatter of the edges found, above which nothing is measured
	regular          = 1.25 // times trusted, for the worst of many corners
	apartEnough      = 0.25 // of what lies between two texts: a wider tolerance could not tell them apart
)

// Options are what the caller knows of a drawing. The zero value is a drawing
// of which nothing is known.
type Options struct {
	Marking   string
	Size      geometry.Length  // of the governing disc, its diameter; 0: not said
	Picks     []standards.Pick // readings of the rule; the rule's defaults for the rest
	Tolerance float64          // fraction of a dimension; 0: 0.004
	Explains  []layouts.Explained
	Units     geometry.Units  // that findings are written in
	Until     context.Context // the search ends with its error when it is done; nil: it is not ended

	centres []centre // of the drawing, where they were looked for before; nil: not yet
}

// ended is asked before every rule and every pose that is tried.
func (o Options) ended() error {
	if o.Until == nil {
		return nil
	}
	return o.Until.Err()
}

func (o Options) centresOf(runs []run) []centre {
	if o.centres != nil {
		return o.centres
	}
	return centres(runs, centresTried)
}

func (o Options) tolerance() float64 {
	if o.Tolerance > 0 {
		return o.Tolerance
	}
	return defaultTolerance
}

// judge holds a dimension against the rule and, where it fails, against every
// other text known.
func (m *matched) judge(d dimension, o Options, others []text) Check {
	scale := m.scale
	arm := 1.0
	if d.arm > 0 {
		arm = d.arm
	}
	want := d.raw(m.values)
	over := d.over
	if over == 0 {
		over = math.Abs(want - d.base)
	}
	sure, widest := trusted, coarsest+float64(noiseBand*m.scatter)
	if d.exact {
		sure, widest = sure*regular, widest*regular
	}
	tolerance := o.tolerance() * over
	for _, t := range others {
		if v, ok := t.value(d); ok && math.Abs(v-want) > leastApart {
			tolerance = math.Min(tolerance, apartEnough*math.Abs(v-want))
		}
	}
	tolerance = math.Max(tolerance, math.Min(sure*d.err, widest/arm))
	length := func(v float64) geometry.Length { return geometry.Length(v * arm * scale) }
	c := Check{
		Marking: o.Marking, Part: d.part, Name: d.name, What: d.what,
		Measured: length(d.found - d.base), Expected: length(want - d.base), Difference: length(d.found - want), Tolerance: length(tolerance),
		Unit: m.rule.Unit, Residual: geometry.Length(d.rms * scale), Text: citation(m.rule), CanStop: m.rule.CanStop(d.part+"."+d.name, m.picks...), CanWarn: m.rule.Force(d.part+"."+d.name, m.picks...) >= standards.MayWarn,
		Line: [2]geometry.Point{m.drawn(d.line[0]), m.drawn(d.line[1])},
	}
	if p, ok := m.rule.Part(d.part); ok {
		c.Formula = p.Number(d.name)
	}
	ratio := func(v float64) float64 {
		switch {
		case d.arm > 0:
			return v * 180 / math.Pi
		case m.rule.Unit == standards.Diameter && !m.isCircular(d):
			return v / 2
		case m.rule.Unit == standards.Inches:
			return v * scale
		}
		return v // a radius in R, or a diameter in D: the same
	}
	if d.arm > 0 {
		c.Unit = Degrees
	}
	c.Ratio, c.ExpectedRatio = ratio(d.found-d.base), ratio(want-d.base)
	c.Evidence = evidenceFor(o.Explains, c.Dimension())
	c.Verdict = Conforms
	switch {
	case d.exact:
		c.Formula = ""
	case d.absent:
		c.CanStop = false
	}
	if math.Abs(d.found-want) <= tolerance && !d.absent {
		return c
	}
	c.Verdict, c.Hint = Unexplained, m.confusion(d, want, tolerance)
	if len(c.Evidence) > 0 {
		c.Verdict = OnFile
	}
	nearest := tolerance
	if d.absent {
		return c
	}
	for _, t := range others {
		v, ok := t.value(d)
		if off := math.Abs(d.found - v); ok && off <= nearest && (c.Other == "" || off < nearest-leastApart) {
			nearest, c.Verdict, c.Other, c.Hint = off, t.verdict, t.says(d), ""
		}
	}
	return c
}

// leastApart is the difference of two values, in governing radii, below which
// they are the same text.
const leastApart = 1e-6

// isCircular tells whether the number of a dimension is that of a circle, which
// in unit D is a diameter.
func (m *matched) isCircular(d dimension) bool {
	list, _ := m.rule.Values(m.picks)
	for _, v := range list {
		if v.Part == d.part && v.Name == d.name {
			return v.Dimension == standards.Circular
		}
	}
	return false
}

// confusion names the slip that a wrong value looks like, where one is known.
func (m *matched) confusion(d dimension, want, tolerance float64) string {
	got, want := d.found-d.base, want-d.base
	p, _ := m.rule.Part(d.part)
	near := func(v float64) bool { return math.Abs(got-v) <= 2*math.Max(tolerance, defaultTolerance*math.Abs(v)) }
	switch {
	case d.exact || d.absent || d.arm > 0 || want == 0:
		return ""
	case p.Kind == standards.Bars && d.name == "top" && near(m.values[d.part+".width"]-want):
		return "the star stands on its head against the bars, or the bars against the star"
	case p.Kind == standards.Bars && d.name == "top" && near(m.values[d.part+".width"]/2):
		return "the bar is centred on the disc; its upper edge belongs in line with the upper edges of the star's side points"
	case p.Kind == standards.Stripe && d.name == "width" && near(1.0/3):
		return fmt.Sprintf("it is R/3, a third of the radius; the text says %s of the radius, which is D/12 of the diameter", p.Number(d.name))
	case near(2 * want):
		return "it is twice the right one: the diameter was taken for the radius, or a half for the whole"
	case near(want / 2):
		return "it is half the right one: the radius was taken for the diameter, or the whole for a half"
	}
	return ""
}

// citation names a rule's document, date and clause.
func citation(r *standards.Rule) string {
	s := r.Document.Title
	if r.Document.Collected {
		return s + ": " + r.Provenance.Where
	}
	if r.Document.Date != "" {
		s += ", " + string(r.Document.Date)
	}
	if r.Clause != "" {
		s += ", " + r.Clause
	}
	return s
}

func evidenceFor(list []layouts.Explained, dimension string) []string {
	var out []string
	for _, e := range list {
		if e.Dimension == dimension {
			out = append(out, e.Evidence...)
		}
	}
	return out
}
