package standards

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// ParseDocument reads one document file; name is said in errors. What it does not know, cannot compute
// or finds without a source is an error that names the rule.
func ParseDocument(name string, data []byte, palette []Colour) (*Document, error) {
	var f documentFile
	if err := decode(name, data, &f); err != nil {
		return nil, err
	}
	p, err := f.Provenance.checked()
	switch {
	case err != nil:
		return nil, err
	case !wordText.MatchString(f.Document):
		return nil, fmt.Errorf("document %q: use a to z, 0 to 9, - and .", f.Document)
	case f.Revision != "" && !wordText.MatchString(f.Revision):
		return nil, fmt.Errorf("revision %q: use a to z, 0 to 9, - and .", f.Revision)
	case f.Title == "" || len(f.Rules) == 0:
		return nil, errors.New("a document has a title and rules")
	}
	if err := datesOK(f.Date); err != nil {
		return nil, err
	}
	d := &Document{ID: f.Document, Family: f.Document, Revision: f.Revision, Title: f.Title, Date: f.Date, Supersedes: f.Supersedes, Provenance: p}
	if f.Revision != "" {
		d.ID += "@" + f.Revision
	}
	for _, rf := range f.Rules {
		r, err := rf.rule(d)
		if err == nil {
			err = r.check(palette)
		}
		if err != nil {
			return nil, fmt.Errorf("rule %q: %w", rf.Rule, err)
		}
		if slices.ContainsFunc(d.Rules, func(o *Rule) bool { return o.ID == r.ID }) {
			return nil, fmt.Errorf("rule %q is there twice", rf.Rule)
		}
		d.Rules = append(d.Rules, r)
	}
	return d, nil
}

func datesOK(dates ...Date) error {
	for _, d := range dates {
		if d == "" {
			continue
		}
		if _, _, err := d.Span(); err != nil {
			return err
		}
	}
	return nil
}

// rule turns what was written into a rule; [Rule.check] looks at its sense.
func (f ruleFile) rule(d *Document) (*Rule, error) {
	p, err := f.Provenance.checked()
	if err != nil {
		return nil, err
	}
	r := &Rule{
		ID: d.Family + "/" + f.Rule, Document: d, Nation: f.Nation, Kind: f.Kind, Name: f.Name, Unit: f.Unit,
		Described: f.Described, NotDrawn: f.NotDrawn, SizesSaid: f.SizesSaid, Follows: f.Follows, SameAs: f.SameAs,
		Disputes: f.Disputes, Notes: f.Notes,
		Orientation: f.Orientation, Handed: f.Handed,
		Clause: f.Clause, Provenance: p,
	}
	if r.Kind == "" {
		r.Kind = "insignia"
	}
	if !wordText.MatchString(f.Rule) {
		return nil, errors.New("the name of a rule uses a to z, 0 to 9, - and .")
	}
	for _, pf := range f.Parts {
		r.Parts = append(r.Parts, pf.Part)
	}
	if l := f.Lettering; l != nil {
		r.Lettering = &Lettering{Width: l.Width, Stroke: l.Stroke, Gap: l.Gap}
		for _, e := range l.Exceptions {
			from := p
			if e.Provenance != nil {
				if from, err = e.Provenance.checked(); err != nil {
					return nil, fmt.Errorf("width of %s: %w", e.Character, err)
				}
			}
			r.Lettering.Exceptions = append(r.Lettering.Exceptions, WidthException{Character: e.Character, Width: e.Width, AtMost: e.AtMost, Provenance: from})
		}
	}
	for _, of := range f.Options {
		o := Option{Name: of.Option, Default: of.Default, Why: of.Why}
		for _, cf := range of.Choices {
			cp, err := cf.Provenance.checked()
			if err != nil {
				return nil, fmt.Errorf("option %s, choice %s: %w", of.Option, cf.Choice, err)
			}
			o.Choices = append(o.Choices, Choice{Name: cf.Choice, Text: cf.Text, Numbers: cf.Numbers, Provenance: cp})
		}
		r.Options = append(r.Options, o)
	}
	for _, ef := range f.Errata {
		ep, err := ef.Provenance.checked()
		if err != nil {
			return nil, fmt.Errorf("erratum of %s.%s: %w", ef.Part, ef.Number, err)
		}
		r.Errata = append(r.Errata, Erratum{Part: ef.Part, Number: ef.Number, Printed: ef.Printed, PrintedIn: ef.PrintedIn, CorrectedBy: ef.CorrectedBy, Provenance: ep})
	}
	return r, f.circumstances(r)
}

func (r *Rule) check(palette []Colour) error {
	switch {
	case r.Nation == "" || r.Name == "":
		return errors.New("a rule has a nation and a name")
	case len(r.Parts) > 0 && r.Lettering != nil:
		return errors.New("a rule has parts or lettering, not both")
	case r.InWords() && (r.Described == "" || r.NotDrawn == ""):
		return errors.New("a rule has parts or lettering, or is described: and says why it is not_drawn:")
	case r.InWords():
		return r.checkTerms()
	case r.Lettering != nil && r.Unit != Height, r.Lettering == nil && r.Unit != Radius && r.Unit != Diameter && r.Unit != Inches:
		return fmt.Errorf("unit %q: parts are in R, D or in, lettering in H", r.Unit)
	}
	if err := r.checkTerms(); err != nil {
		return err
	}
	if err := r.checkOptions(); err != nil {
		return err
	}
	var whats []string
	for i, p := range r.Parts {
		if err := r.checkPart(p, r.Parts, palette); err != nil {
			return fmt.Errorf("part %d %q: %w", i+1, p.ID, err)
		}
		if q, _ := r.Part(p.ID); q.Kind != p.Kind || slices.ContainsFunc(r.Parts[:i], func(q Part) bool { return q.ID == p.ID }) {
			return fmt.Errorf("part %q is there twice", p.ID)
		}
		for _, n := range p.Numbers {
			whats = append(whats, p.ID+"."+n.Name)
		}
		whats = append(whats, p.ID+".colour")
	}
	if r.Lettering != nil {
		whats = append(whats, "width", "stroke", "gap")
		if err := r.Lettering.check(); err != nil {
			return err
		}
	}
	for _, m := range r.Provenance.Memory {
		if !slices.Contains(whats, m.What) {
			return fmt.Errorf("memory of %q, which the rule does not have", m.What)
		}
	}
	for _, e := range r.Errata {
		p, ok := r.Part(e.Part)
		if !ok || p.Number(e.Number) == "" {
			return fmt.Errorf("erratum of %s.%s, which the rule does not have", e.Part, e.Number)
		}
		if _, err := e.Printed.Eval(nil); err != nil {
			return err
		}
		if e.PrintedIn == "" || e.CorrectedBy == "" {
			return errors.New("an erratum says printed_in and corrected_by")
		}
	}
	return r.checkValues()
}

// InWords tells that the rule has no numbers: it is described and neither drawn nor
// checked.
func (r *Rule) InWords() bool { return len(r.Parts) == 0 && r.Lettering == nil }

// checkTerms looks at the words of the closed lists.
func (r *Rule) checkTerms() error {
	v, err := words()
	if err != nil {
		return err
	}
	if i, ok := v.kinds.at[plain(r.Kind)]; !ok || v.kinds.list[i].Term != r.Kind {
		return fmt.Errorf("unknown kind of marking %q", r.Kind)
	}
	for _, s := range r.Sizes {
		for _, p := range s.Places {
			if _, err := v.places.find(p); err != nil {
				return err
			}
		}
		for _, t := range s.Types {
			if _, err := v.types.find(t); err != nil {
				return err
			}
		}
	}
	return nil
}

func (l *Lettering) check() error {
	list := []Formula{l.Width, l.Stroke, l.Gap}
	for _, e := range l.Exceptions {
		if e.Character == "" {
			return errors.New("an exception names its character")
		}
		list = append(list, e.Width)
	}
	for _, f := range list {
		if f == "" {
			continue // the document does not say
		}
		if v, err := f.Eval(nil); err != nil || !(v > 0) {
			return fmt.Errorf("lettering: %q is not above zero", string(f))
		}
	}
	return nil
}

// checkPart looks at the numbers, the colour and the other parts named.
func (r *Rule) checkPart(p Part, parts []Part, palette []Colour) error {
	if p.ID == "" || p.Kind == "" {
		return errors.New("a part has an id and a shape")
	}
	if !slices.ContainsFunc(palette, func(c Colour) bool { return c.Role == p.Colour }) {
		return fmt.Errorf("unknown colour role %q", p.Colour)
	}
	names, _ := numberNames(p.Kind, r.Unit)
	for _, name := range names {
		if p.Number(name) == "" {
			return fmt.Errorf("%s has no %s", p.Kind, name)
		}
	}
	for _, n := range p.Numbers {
		if !slices.Contains(names, n.Name) {
			return fmt.Errorf("%s does not know %s in unit %s", p.Kind, n.Name, r.Unit)
		}
	}
	row := partKinds[p.Kind]
	if row.of != "" && len(p.Of) == 0 {
		return fmt.Errorf("%s has no %s", p.Kind, row.of)
	}
	for _, id := range p.Of {
		i := slices.IndexFunc(parts, func(q Part) bool { return q.ID == id })
		if i < 0 || len(row.ofKinds) > 0 && !slices.Contains(row.ofKinds, parts[i].Kind) {
			return fmt.Errorf("%s %s %q: want a part of kind %v", p.Kind, row.of, id, row.ofKinds)
		}
	}
	if row.fills && len(p.In) == 0 {
		return fmt.Errorf("%s has no in:, the parts that it fills", p.Kind)
	}
	if row.words && (p.Text == "" || p.Alphabet == "") {
		return fmt.Errorf("%s has text and alphabet", p.Kind)
	}
	own := slices.IndexFunc(parts, func(q Part) bool { return q.ID == p.ID })
	for _, id := range p.In {
		if i := slices.IndexFunc(parts, func(q Part) bool { return q.ID == id }); i < 0 || i >= own {
			return fmt.Errorf("in %q: want a part that stands before %s", id, p.ID)
		}
	}
	return nil
}

func (r *Rule) checkOptions() error {
	used := map[string]bool{}
	for _, o := range r.Options {
		if o.Name == "" || o.Why == "" || len(o.Choices) < 2 {
			return fmt.Errorf("option %q has a name, a why and at least two choices", o.Name)
		}
		if _, ok := o.choice(o.Default); !ok {
			return fmt.Errorf("option %s: the default %q is not a choice", o.Name, o.Default)
		}
		for _, c := range o.Choices {
			if c.Name == "" || c.Text == "" || len(c.Numbers) != len(o.Choices[0].Numbers) || len(c.Numbers) == 0 {
				return fmt.Errorf("option %s: every choice has a name, a text and the same numbers", o.Name)
			}
			for i, n := range c.Numbers {
				if n.Name != o.Choices[0].Numbers[i].Name {
					return fmt.Errorf("option %s: every choice has a name, a text and the same numbers", o.Name)
				}
			}
		}
		for _, n := range o.Choices[0].Numbers {
			if used[n.Name] {
				return fmt.Errorf("options: %s is given twice", n.Name)
			}
			used[n.Name] = true
		}
	}
	return nil
}

// checkValues computes the rule with every choice of every option in turn.
func (r *Rule) checkValues() error {
	picks := []Pick{{}}
	for _, o := range r.Options {
		for _, c := range o.Choices {
			picks = append(picks, Pick{Option: o.Name, Choice: c.Name})
		}
	}
	for i, p := range picks {
		var list []Pick
		if i > 0 {
			list = []Pick{p}
		}
		values, err := r.Values(list)
		if err != nil {
			return err
		}
		if _, err := r.Painted(list); err != nil {
			return err
		}
		for _, v := range values {
			signed := v.Dimension == Position || v.Dimension == Degrees || v.Dimension == Fraction
			if !signed && v.Value <= 0 || v.Dimension == Count && v.Value != math.Round(v.Value) || v.Dimension == Fraction && !(v.Value >= 0 && v.Value <= 1) {
				return fmt.Errorf("%s.%s is %v: not a possible %s", v.Part, v.Name, v.Value, v.Name)
			}
		}
	}
	return nil
}
