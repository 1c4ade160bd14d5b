package standards

import (
	"fmt"
	"path"
	"slices"
)

// addNations reads the files of nations: first their forms, then the uses, which may
// name a rule of any file.
func (l *library) addNations() error {
	entries, err := files.ReadDir("nations")
	if err != nil {
		return err
	}
	var read []nationFile
	var names []string
	for _, e := range entries { // sorted by name
		name := path.Join("nations", e.Name())
		data, err := files.ReadFile(name)
		if err != nil {
			return err
		}
		d, f, err := parseNation(name, data, l.palette)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if len(d.Rules) > 0 {
			l.documents = append(l.documents, d)
		}
		read, names = append(read, f), append(names, name)
	}
	l.sort()
	byID := func(id string) *Rule {
		r, err := l.find(id)
		if err != nil {
			return nil
		}
		return r
	}
	for i, f := range read {
		for n, u := range append(f.Uses, f.Absences...) {
			one, err := u.use(f, byID)
			if err != nil {
				return fmt.Errorf("%s: use %d, of %s%s: %w", names[i], n+1, u.Rule, u.What, err)
			}
			l.uses = append(l.uses, one)
		}
		for _, p := range f.Paints {
			from, err := p.source(f.Sources)
			if err != nil {
				return fmt.Errorf("%s: paint %v: %w", names[i], p.Names, err)
			}
			one := Paint{Nation: f.Nation, Names: p.Names, Use: p.Use, From: p.From, To: p.To, Standard: p.Standard}
			if one.Provenance, err = from.checked(); err == nil {
				err = datesOK(p.From, p.To)
			}
			if err != nil {
				return fmt.Errorf("%s: paint %v: %w", names[i], p.Names, err)
			}
			l.paints = append(l.paints, one)
		}
	}
	return nil
}

// Uses returns every use and absence, by nation and in the order of the files. The
// values are shared: read, do not write.
func Uses() ([]*Use, error) {
	l, err := load()
	return l.uses, err
}

// Nations returns the nations that have uses, by name.
func Nations() ([]string, error) {
	l, err := load()
	var out []string
	for _, u := range l.uses {
		if !slices.Contains(out, u.Nation) {
			out = append(out, u.Nation)
		}
	}
	slices.Sort(out)
	return out, err
}

// UsesOf returns the uses of a form.
func UsesOf(r *Rule) ([]*Use, error) {
	l, err := load()
	var out []*Use
	for _, u := range l.uses {
		if u.Rule == r {
			out = append(out, u)
		}
	}
	return out, err
}
