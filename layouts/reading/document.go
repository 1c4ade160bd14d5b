package reading

import (
	"fmt"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// value is a value of a file whose lengths may be bare numbers.
type value struct {
	document.Value
	bare *bareUnit
}

// bareUnit is what the bare numbers of a file are measured in.
type bareUnit struct {
	unit     geometry.Length   // zero: the file gives none
	unitless []layouts.Problem // bare numbers met while there is none
}

// entry is one line of a block of keys.
type entry struct{ key, value value }

// fields is a block of keys that were checked.
type fields struct {
	value
	checked document.Fields
}

var layoutForm = document.Form{
	Kind: "layout", Begin: "begin with name:, units:, aircraft: and markings:, or copy the demo layout",
	Example: exampleOf, Words: otherWords,
}

// parseDocument reads the one YAML document of a file. ok is false when there is
// nothing to go on with; the problems then say why.
func parseDocument(file string, data []byte) (root value, problems layouts.Problems, ok bool) {
	doc, v, ok := document.Parse(file, data, layoutForm)
	if !ok {
		return value{}, doc.Problems(), false
	}
	return value{v, &bareUnit{}}, nil, true
}

func (v value) with(w document.Value) value { return value{w, v.bare} }

// at returns the value of a key, the zero value when it was not written.
func (f fields) at(key string) value { return f.with(f.checked.At(key)) }

func (v value) peek(key string) value { return v.with(v.Peek(key)) }

func (v value) entries() (list []entry, ok bool) {
	all, ok := v.Entries()
	for _, e := range all {
		list = append(list, entry{v.with(e.Key), v.with(e.Value)})
	}
	return list, ok
}

// mostItems bounds a list of blocks: more than any aircraft has. It catches a file that a
// program wrote, before long work.
var mostItems = map[string]int{
	"section": 1000, "line": 400, "hardpoint": 500, "obstacle": 2000, "marking": 2000, "stencil": 5000, "photo": 100,
	"measured tape": 2000, "evidence": 2000, "surface": 200, "profile": 200, "disc": 60, "shape": 200, "border": 12,
	"point": 2000, "strip": 200, "rib": 400,
}

func (v value) items(singular string) []value {
	var out []value
	if most := mostItems[singular]; most > 0 && v.IsList() && v.Len() > most {
		v.Fail("split it, or leave some out", "%s lists %d, wanted at most %d", v.Name, v.Len(), most)
		return nil
	}
	for _, i := range v.Items(singular) {
		out = append(out, v.with(i))
	}
	return out
}

// choice reads one of the allowed words; see [document.Choice].
func choice[T ~string](v value, usual T, allowed ...T) T {
	return document.Choice(v.Value, usual, allowed...)
}

// merged returns a block of the given entries, later ones over earlier ones of the
// same key, as if it stood where at stands.
func merged(at value, list ...entry) value {
	var all []document.Entry
	for _, e := range list {
		all = append(all, document.Entry{Key: e.key.Value, Value: e.value.Value})
	}
	return at.with(document.Merged(at.Value, all...))
}

// keyAt is a key that nobody wrote, at the place of a value.
func keyAt(at value, name string) value { return at.with(document.KeyAt(at.Value, name)) }

// flush returns the problems of the file in its order; bare numbers are counted into
// one where they are many.
func (v value) flush() layouts.Problems {
	const few = 3
	unitless := v.bare.unitless
	if n := len(unitless); n > few {
		unitless[0].Message += fmt.Sprintf(", like %d further numbers in this file", n-1)
		unitless = unitless[:1]
	}
	for _, p := range unitless {
		v.Doc.Report(p.Place, p.Message, p.Hint)
	}
	v.bare.unitless = nil
	return v.Doc.Problems()
}
