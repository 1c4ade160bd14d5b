package reading

import (
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every key has a meaning and an example that begins with it; every block that a type
// names is there; usual words are among the words.
func TestKeysAreWhole(t *testing.T) {
	schema, err := Schema()
	require.NoError(t, err)
	require.True(t, json.Valid(schema))
	named := map[string]bool{"the layout": true}
	for _, b := range Blocks() {
		assert.NotEmpty(t, b.Means, b.ID)
		require.NotEmpty(t, b.Keys, b.ID)
		seen := map[string]bool{}
		for _, k := range b.Keys {
			assert.False(t, seen[k.Name], "%s: %s is there twice", b.ID, k.Name)
			seen[k.Name] = true
			assert.NotEmpty(t, k.Means, "%s: %s", b.ID, k.Name)
			assert.True(t, strings.HasPrefix(k.Example, k.Name+":"), "%s: %s has the example %q", b.ID, k.Name, k.Example)
			if words, ok := strings.CutPrefix(k.Type, "one of "); ok && k.Usual != "" {
				assert.Contains(t, strings.Fields(words), k.Usual, "%s: %s", b.ID, k.Name)
			}
			for _, part := range strings.Split(k.Type, " or ") {
				if _, id, ok := strings.Cut(part, "block "); ok {
					named[id] = true
					assert.NotNil(t, blocks().byID[id], "%s: %s is of the block %s", b.ID, k.Name, id)
				}
			}
		}
	}
	for _, b := range Blocks() {
		assert.True(t, named[b.ID] || b.Of != "", "%s is the type of no key", b.ID)
	}
}

// A wrong table is told with its line.
func TestKeysRefused(t *testing.T) {
	for text, says := range map[string]string{
		"  a | b":                              "keys.txt:1: a key without a block",
		"head":                                 "keys.txt:1: a block says what it is",
		"x | y\n  a | b":                       "keys.txt:2: a key has four columns",
		"x | y\n\nz < q | r":                   "keys.txt:3: the block is there twice",
		"x | y\n! a | b | | c\nz < x | r\n! b": "keys.txt:4: x has no key b",
	} {
		_, err := parseKeys(text)
		require.ErrorContains(t, err, says)
	}
}

// A list longer than any aircraft has, and a text longer than any placard, are refused at
// once, with their place.
func TestLongLists(t *testing.T) {
	repeat := func(item string, n int) string { return strings.TrimSuffix(strings.Repeat(item+", ", n), ", ") }
	const usual, body = "{fs: 0, radius: 9, wl: 0}, {fs: 90, radius: 9, wl: 0}", "text: K4, alphabet: block-6x4, height: 1"
	for _, c := range []struct{ sections, figure, says string }{
		{repeat("{fs: 0, radius: 9, wl: 0}", 1001), body, "a.yaml:6:48: sections lists 1001, wanted at most 1000"},
		{usual, "discs: [" + repeat("{diameter: 4, colour: insignia-white}", 61) + "]", "discs lists 61, wanted at most 60"},
		{usual, body + ", border: [" + repeat("{width: 1/8 in, paint: insignia-white}", 13) + "]", "border lists 13, wanted at most 12"},
		{usual, "shapes: [" + repeat("{disc: {diameter: 4}, colour: insignia-white}", 201) + "]", "shapes lists 201, wanted at most 200"},
		{usual, "text: " + strings.Repeat("K", 401) + ", alphabet: block-6x4, height: 1", "the text has 401 characters, wanted at most 400"},
	} {
		layout := "name: T\nunits: in\naircraft:\n  name: A\n  datum: D\n  surfaces: [{id: body, kind: round, sections: [" + c.sections + "]}]\n" +
			"markings:\n  - {id: a, figure: {" + c.figure + "}, where: {surface: body, fs: 9, wl: 0}}\npaint: {order: [insignia-white]}\n"
		_, err := LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(layout)}}, "a.yaml")
		require.ErrorContains(t, err, c.says)
	}
}
