package document

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type shared struct{ Note string }

type filled struct {
	Name, FromTip string
	Sizes         []float64
	Count         int
	Open          bool
	Step          *struct{ By float64 }
	Sources       map[string]shared
	Parts         []shared
	Words         upper
	shared
}

// upper reads itself: a text with a mark.
type upper string

func (u *upper) Read(v Value) { *u = upper(v.Text() + "!") }

// A struct is filled by its fields, embedded ones beside its own.
func TestInto(t *testing.T) {
	text := `
name: 0417
from_tip: 1/2
sizes: [20, 24.5]
count: 3
open: true
step: {by: 5}
sources: {a: {note: one}, b: {note: two}}
parts: [{note: x}, {note: y}]
words: so
note: beside
`
	doc, root, ok := Parse("a.yaml", []byte(text), Form{Kind: "test"})
	require.True(t, ok)
	var f filled
	root.Into(&f)
	require.Empty(t, doc.Problems())
	assert.Equal(t, filled{
		Name: "0417", FromTip: "1/2", Sizes: []float64{20, 24.5}, Count: 3, Open: true, Step: &struct{ By float64 }{5},
		Sources: map[string]shared{"a": {"one"}, "b": {"two"}}, Parts: []shared{{"x"}, {"y"}}, Words: "so!", shared: shared{"beside"},
	}, f)
}

// What is no field, or of another kind, is told at its place.
func TestIntoRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"nane: x":               "a.yaml:1:1: the file has no key nane",
		"count: two":            `a.yaml:1:8: count is "two", wanted a number`,
		"sizes: 20":             `a.yaml:1:8: sizes is the text "20", wanted a list`,
		"open: maybe":           `a.yaml:1:7: open is "maybe", wanted true or false`,
		"step: {by: 1, to: 2}":  "a.yaml:1:15: step has no key to",
		"parts: [{note: [1]}]":  "a.yaml:1:16: note is a list, wanted text",
		"name: a\nname: b":      "a.yaml:2:1: name is written twice",
		"note: &x 1\nname: *x":  "a.yaml:1:7: the anchor",
		"name: a\n---\nname: b": "a second document begins here",
	} {
		doc, root, ok := Parse("a.yaml", []byte(text), Form{Kind: "test"})
		if ok {
			root.Into(new(filled))
		}
		assert.ErrorContains(t, doc.Problems(), want, text)
	}
}
