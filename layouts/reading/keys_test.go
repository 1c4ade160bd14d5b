package reading

import (
	"encoding/json"
	"fmt"
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

// A list longer than any aircraft has is refused at once, with its place.
func TestLongLists(t *testing.T) {
	var b strings.Builder
	b.WriteString("name: T\nunits: in\naircraft:\n  name: A\n  datum: D\n  surfaces:\n    - id: body\n      kind: round\n      sections:\n")
	for i := range 1001 {
		fmt.Fprintf(&b, "        - {fs: %d, radius: 9, wl: 0}\n", i)
	}
	b.WriteString("markings:\n  - {id: a, figure: {discs: [{diameter: 4, colour: insignia-white}]}, where: {surface: body, fs: 9, wl: 0}}\npaint: {order: [insignia-white]}\n")
	_, err := LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(b.String())}}, "a.yaml")
	require.ErrorContains(t, err, "a.yaml:10:9: sections lists 1001, wanted at most 1000")
}
