package standards

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// The files of nations as they are written.
type (
	nationFile struct {
		Nation   string
		Horizon  Date // uses without an end are sure to here
		Months   int  // of transition, unless a use says otherwise
		Sources  map[string]sourceFile
		Rules    []formFile
		Uses     []useFile
		Absences []useFile
		Paints   []paintFile
	}
	sourceFile struct{ Title, At string }
	// knownFile says how something is known: the class of the source, which ones, and
	// where in them.
	knownFile struct {
		Known string // official, copy, secondary, tertiary, memory or derived
		By    stringList
		Sure  string // high where left out
		Page  string
		Note  string
	}
	formFile struct {
		ruleFile
		Source knownFile
	}
	useFile struct {
		Rule, What, Kind             string
		OfRule                       string
		Service, Place, Finish, Type stringList
		NotType                      stringList
		OneOf                        bool
		From, To                     Date
		Open                         bool
		Months                       *int
		Role                         Role
		Document                     string
		knownFile
		FromKnown string
		ToKnown   string
	}
	paintFile struct {
		Names         stringList
		Use, Standard string
		From, To      Date
		knownFile
	}
)

// source turns what was written into the form of a document's provenance.
func (k knownFile) source(sources map[string]sourceFile) (provenanceFile, error) {
	p := provenanceFile{Note: k.Note, Confidence: k.Sure}
	switch k.Known {
	case "memory":
		p.Kind = Memory
		if p.Confidence == "" {
			p.Confidence = "high"
		}
	case "derived":
		p.Kind, p.Where = Derived, "arithmetic from the numbers read"
	case "invented":
		p.Kind = Invented
	case "official", "copy", "secondary", "tertiary":
		p.Kind, p.Grade = Read, k.Known
	default:
		return p, fmt.Errorf("known: %q is none of official, copy, secondary, tertiary, memory, derived, invented", k.Known)
	}
	var where []string
	for _, by := range k.By {
		s, ok := sources[by]
		if !ok {
			return p, fmt.Errorf("by: %s is not under sources:", by)
		}
		if s.At != "" {
			s.Title += ", at " + s.At
		}
		where = append(where, s.Title)
	}
	if k.Page != "" {
		where = append(where, k.Page)
	}
	if len(where) > 0 {
		p.Where = strings.Join(where, "; ")
	}
	return p, nil
}

// knownWords is knownFile in two words, as parts have it.
type knownWords struct{ knownFile }

// part is how the numbers of one part are known, where that is not as the rule is.
func (k knownFile) part() (Provenance, error) {
	p, err := k.source(nil)
	if err != nil {
		return Provenance{}, err
	}
	if p.Where == "" && p.Kind != Memory {
		p.Where = "as the rule"
	}
	return p.checked()
}

// parseNation reads one file of a nation: its forms and its uses, which name rules
// that byID finds.
func parseNation(name string, data []byte, palette []Colour) (*Document, nationFile, error) {
	var f nationFile
	if err := decode(name, data, &f); err != nil {
		return nil, f, err
	}
	nation, err := Word("nation", f.Nation)
	if err != nil {
		return nil, f, err
	}
	if f.Nation = nation.Term; f.Horizon == "" || datesOK(f.Horizon) != nil {
		return nil, f, errors.New("horizon: to which day the references looked")
	}
	d := &Document{
		ID: strings.ReplaceAll(nation.Term, " ", "-"), Title: nation.Means + ": markings, from several works",
		Provenance: Provenance{Kind: Derived, Where: "the sources named at each rule and use"}, Collected: true,
	}
	d.Family = d.ID
	for _, rf := range f.Rules {
		r, err := rf.form(d, f, palette)
		if err != nil {
			return nil, f, fmt.Errorf("rule %q: %w", rf.Rule, err)
		}
		if slices.ContainsFunc(d.Rules, func(o *Rule) bool { return o.ID == r.ID }) {
			return nil, f, fmt.Errorf("rule %q is there twice", rf.Rule)
		}
		d.Rules = append(d.Rules, r)
	}
	return d, f, nil
}

func (rf formFile) form(d *Document, f nationFile, palette []Colour) (*Rule, error) {
	var err error
	if rf.Provenance, err = rf.Source.source(f.Sources); err != nil {
		return nil, err
	}
	rf.Nation = f.Nation
	for i := range rf.Sizes {
		if rf.Sizes[i].Provenance, err = rf.Sizes[i].knownFile.source(f.Sources); err != nil {
			return nil, fmt.Errorf("sizes: %w", err)
		}
	}
	r, err := rf.rule(d)
	if err != nil {
		return nil, err
	}
	return r, r.check(palette)
}

// use turns what was written into a use.
func (u useFile) use(f nationFile, byID func(string) *Rule) (*Use, error) {
	p, err := u.source(f.Sources)
	if err != nil {
		return nil, err
	}
	out := &Use{
		What: u.What, Kind: u.Kind, Nation: f.Nation, Services: u.Service, Places: u.Place, OneOf: u.OneOf, Finishes: u.Finish,
		Types: u.Type, NotTypes: u.NotType, From: u.From, To: u.To, Open: u.Open, Months: f.Months, Horizon: f.Horizon,
		Role: u.Role, Document: u.Document, FromKnown: u.FromKnown, ToKnown: u.ToKnown,
	}
	if out.Provenance, err = p.checked(); err != nil {
		return nil, err
	}
	if out.Role == "" {
		out.Role = Usual
	}
	if u.Months != nil {
		out.Months = *u.Months
	}
	for _, id := range []struct {
		id string
		to **Rule
	}{{u.Rule, &out.Rule}, {u.OfRule, &out.OfRule}} {
		if id.id == "" {
			continue
		}
		if *id.to = byID(id.id); *id.to == nil {
			return nil, fmt.Errorf("rule %q is not there", id.id)
		}
	}
	if out.Rule != nil && out.Kind == "" {
		out.Kind = out.Rule.Kind
	}
	return out, out.check(u.Rule != "")
}

// check looks at the words and the dates of a use.
func (u *Use) check(hasRule bool) error {
	switch {
	case hasRule == (u.What != ""):
		return errors.New("a use has rule:, an absence has what: and kind:")
	case !slices.Contains([]Role{Usual, Alternative, Transition, Beside}, u.Role):
		return fmt.Errorf("unknown role %q", u.Role)
	case u.From == "":
		return errors.New("a use has from:")
	case u.Open && u.To != "":
		return errors.New("open: says that it is in force; take it or to: out")
	}
	if err := datesOK(u.From, u.To); err != nil {
		return err
	}
	if _, to, _ := u.To.Span(); u.To != "" {
		if from, _, _ := u.From.Span(); to.Before(from) {
			return fmt.Errorf("to %s is before from %s", u.To, u.From)
		}
	}
	v, err := words()
	if err != nil {
		return err
	}
	for _, l := range []struct {
		terms Terms
		words []string
	}{{v.services, u.Services}, {v.places, u.Places}, {v.finishes, u.Finishes}, {v.types, u.Types}, {v.types, u.NotTypes}, {v.kinds, []string{u.Kind}}} {
		for _, w := range l.words {
			if i, ok := l.terms.at[plain(w)]; !ok || l.terms.list[i].Term != w {
				return fmt.Errorf("unknown %s %q", l.terms.what, w)
			}
		}
	}
	return nil
}
