package document

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v3"
)

var testForm = Form{
	Kind: "layout", Begin: "begin with name:",
	Example: func(_, key string) string { return map[string]string{"fs": "fs: 134 in"}[key] },
	Words:   map[string]string{"color": "colour"},
}

// TestRead reads texts as they were written, and reports all that is wrong at once,
// in the order of the file, with line, column, caret and what to type.
func TestRead(t *testing.T) {
	const text = "name: 0417\ncolor: blue\nwhere: {fs: yes, side: lft}\nlist: [a, 1_000, \"\"]\nsize: [1]\n"
	doc, root, ok := Parse("a.yaml", []byte(text), testForm)
	require.True(t, ok)
	f := root.Fields("the layout", "name list", "colour where size")
	require.Equal(t, "0417", f.At("name").Text())
	where := f.At("where").Fields("where", "fs wl", "side")
	require.Equal(t, "yes", where.At("fs").Text())
	require.Equal(t, "", Choice(where.At("side"), "both", "left", "right", "both"))
	require.Equal(t, "both", Choice(where.At("other"), "both", "left"))
	items := f.At("list").Items("item")
	require.Len(t, items, 3)
	require.Equal(t, "1_000", items[1].Text())
	require.Equal(t, "", items[2].Text())
	require.Equal(t, "", f.At("size").Text())
	var places, messages, hints []string
	for _, p := range doc.Problems() {
		places, messages, hints = append(places, p.Place.String()), append(messages, p.Message), append(hints, p.Hint)
	}
	require.Equal(t, []string{"a.yaml:2:1", "a.yaml:3:8", "a.yaml:3:24", "a.yaml:4:18", "a.yaml:5:7"}, places)
	require.Equal(t, []string{"the layout has no key color", "where has no wl", `side is "lft", wanted left, right or both`, "item 3 is blank", "size is a list, wanted text"}, messages)
	require.Equal(t, []string{"did you mean colour?", "add wl:", "did you mean left?", "write the text, or take out the key", "write text"}, hints)
	require.Contains(t, doc.Problems().Error(), "a.yaml:2:1: the layout has no key color\n    color: blue\n    ^\n  hint: did you mean colour?\n")
}

// TestSyntax places what is not YAML.
func TestSyntax(t *testing.T) {
	for _, tc := range []struct{ text, place, says string }{
		{"a: 1\n  b: 2\n", "a.yaml:2:4", "a colon is not expected"},
		{"a: [1, 2\nb: 3\n", "a.yaml:1:4", "not closed"},
		{"a:\n\tb: 1\n", "a.yaml:2:1", "a tab"},
		{"a: \"b\n", "a.yaml:1:4", "quotation mark"},
		{"", "a.yaml", "empty"},
		{"# only\n", "a.yaml", "empty"},
		{"a: \xff\n", "a.yaml:1:4", "not UTF-8"},
		{"a: \x01\n", "a.yaml:1:4", "control character"},
		{"a: P1\u200b\n", "a.yaml:1:6", "invisible or control character (U+200B)"},
		{"a: ANA\u00ad511\n", "a.yaml:1:7", "(U+00AD)"},
		{"a: P1\U000e0041\n", "a.yaml:1:6", "(U+E0041)"},
		{"a: \u3164\n", "a.yaml:1:4", "(U+3164)"},
		{strings.Repeat("[", 20000), "a.yaml:1:1", "too deeply"},
	} {
		doc, _, ok := Parse("a.yaml", []byte(tc.text), testForm)
		require.False(t, ok, tc.text)
		require.Contains(t, doc.Problems()[0].Message, tc.says, tc.text)
		require.Equal(t, tc.place, doc.Problems()[0].Place.String(), tc.says)
	}
}

// TestExcerpt: a long line is cut around the caret; what would steer a terminal is
// not printed.
func TestExcerpt(t *testing.T) {
	line := strings.Repeat("x", 200) + "HERE" + strings.Repeat("y", 200)
	text, caret := excerpt(line, 201)
	require.Len(t, text, excerptWidth+6)
	require.Equal(t, "HERE", text[len(caret)-1:len(caret)+3])
	text, caret = excerpt("\té\x1b: z", 5)
	require.Equal(t, " é?: z", text)
	require.Equal(t, "    ^", caret)
}

// Kitten to sitting is the textbook's example; two letters swapped are one slip.
func TestSlips(t *testing.T) {
	require.Equal(t, 3, slips([]rune("kitten"), []rune("sitting")))
	require.Equal(t, 1, slips([]rune("ab"), []rune("ba")))
}

// FuzzEdit changes every value of any text that can be read: what comes out differs
// in that value alone, or the change is refused; nothing panics.
func FuzzEdit(f *testing.F) {
	for _, text := range []string{small, "a: [b: c, d]\n", "? a\n: b\n", "a: |2\n   b\n", "- - a\n  - b\n", "a: {\"b\":c}", "a: >+\n\n b\n\n", "\ufeffa: b", "--- {a: b}\n...\n", "{? a: b, c}", "'a': \"b\\\n c\""} {
		f.Add([]byte(text), "136 in")
	}
	f.Fuzz(func(t *testing.T, data []byte, text string) {
		if len(data) > 2000 {
			return
		}
		doc, _, ok := Parse("a.yaml", data, testForm)
		if !ok || len(doc.Problems()) > 0 || hasOddKeys(doc.root) {
			return
		}
		before := content(t, data)
		for i, path := range paths(doc.root, nil) {
			if i > 20 {
				return
			}
			if splice, err := doc.Set(path, text); err == nil {
				after := splice.Apply(data)
				require.Equal(t, changed(before, path, func(any) any { return text }), content(t, after), "%s", path)
				require.Equal(t, string(data), string(splice.Inverse(data).Apply(after)))
			}
			if splice, err := doc.Remove(path); err == nil {
				require.Equal(t, changed(before, path, func(any) any { return nil }), content(t, splice.Apply(data)), "%s", path)
			}
		}
	})
}

// hasOddKeys tells whether a key is no word, is there twice, or an id is: paths do
// not lead there.
func hasOddKeys(n *yaml.Node) bool {
	ids := map[string]bool{}
	for i, c := range n.Content {
		key := c.Value
		if n.Kind != yaml.MappingNode {
			id := itemID(c)
			if id == nil {
				continue
			}
			key = id.Value
		} else if i%2 == 1 {
			continue
		}
		if c.Kind == 0 || key == "" || ids[key] || n.Kind == yaml.MappingNode && c.Kind != yaml.ScalarNode {
			return true
		}
		ids[key] = true
	}
	for _, c := range n.Content {
		if hasOddKeys(c) {
			return true
		}
	}
	return false
}

// TestIsControl: what a reader sees, and the joiners of Persian and Indic words, are text;
// what is written with an escape is read again as it was.
func TestIsControl(t *testing.T) {
	for _, r := range "aé\u00a0\u0601\u200c\u200d✈\ufe0f京" {
		require.False(t, IsControl(r), "%U", r)
	}
	for _, r := range "\x00\x1b\x7f\u0085\u009b\u00ad\u034f\u061c\u115f\u180e\u200b\u200e\u202e\u2028\u2060\u2066\u3164\ufeff\U000e0041" {
		require.True(t, IsControl(r), "%U", r)
		var read string
		require.NoError(t, yaml.Unmarshal([]byte(doubleQuoted("x"+string(r))), &read))
		require.Equal(t, "x"+string(r), read)
	}
}
