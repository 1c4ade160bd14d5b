package document

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v3"
	"pgregory.net/rapid"

	_ "maskloft/geometry/trial"
)

// content is what a file says, as maps, lists and texts: another way to hold it than
// that of the package.
func content(t require.TestingT, data []byte) any {
	roots, err := parseYAML([]byte(strings.TrimPrefix(string(data), byteOrderMark)))
	require.NoError(t, err, "%s", data)
	require.Len(t, roots, 1)
	return contentOf(roots[0])
}

type empty struct{}

func contentOf(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i < len(n.Content); i += 2 {
			m[n.Content[i].Value] = contentOf(n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		l := []any{}
		for _, c := range n.Content {
			l = append(l, contentOf(c))
		}
		return l
	}
	if isEmpty(n) {
		return empty{}
	}
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return strings.TrimSuffix(n.Value, "\n") // the last line of a file may have no line break
	}
	return n.Value
}

// changed returns content with the value at a path replaced; change gets the old
// value, nil where there is none, and returns the new one, nil to take it out.
func changed(v any, path Path, change func(any) any) any {
	if len(path) == 0 {
		return change(v)
	}
	switch step := path[0]; {
	case step.Key != "":
		m := map[string]any{}
		if old, ok := v.(map[string]any); ok {
			for k, x := range old {
				m[k] = x
			}
		}
		if x := changed(m[step.Key], path[1:], change); x != nil {
			m[step.Key] = x
		} else {
			delete(m, step.Key)
		}
		return m
	default:
		l := slices.Clone(v.([]any))
		i := step.Item - 1
		if step.ID != "" {
			i = slices.IndexFunc(l, func(x any) bool { m, ok := x.(map[string]any); return ok && m["id"] == step.ID })
		}
		if x := changed(l[i], path[1:], change); x != nil {
			l[i] = x
		} else {
			l = slices.Delete(l, i, i+1)
		}
		return l
	}
}

// paths lists the paths of all values below the root.
func paths(n *yaml.Node, at Path) []Path {
	var out []Path
	for i, c := range n.Content {
		p := at.Item(i + 1)
		switch {
		case n.Kind == yaml.MappingNode && i%2 == 0:
			continue
		case n.Kind == yaml.MappingNode:
			p = at.Key(n.Content[i-1].Value)
		case itemID(c) != nil:
			p = at.ID(itemID(c).Value)
		}
		out = append(append(out, p), paths(c, p)...)
	}
	return out
}

var noteText = regexp.MustCompile(`# note-\d+`)

func notes(data []byte) []string {
	list := noteText.FindAllString(string(data), -1)
	slices.Sort(list)
	return list
}

// open parses a file that has no problem.
func open(t require.TestingT, data []byte) *Document {
	doc, _, ok := Parse("a.yaml", data, Form{Kind: "layout"})
	require.True(t, ok, "%s\n%s", doc.Problems(), data)
	return doc
}

// TestEdits changes random files at random places and holds what comes out against
// the content changed in maps: the value reads back, everything else says what it
// said, all comments are there (but behind what was taken out), the inverse restores
// every byte.
func TestEdits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := &writer{t: t}
		edit(t, w.file())
	})
}

// edit makes one random change to a file and checks it.
func edit(t *rapid.T, data []byte) {
	doc := open(t, data)
	path := rapid.SampledFrom(paths(doc.root, nil)).Draw(t, "path")
	parsed, err := ParsePath(path.String())
	require.NoError(t, err)
	require.Equal(t, path, parsed)
	v, ok := doc.Value(path)
	require.True(t, ok)
	before := content(t, data)

	var splice Splice
	var want any
	keeps := true
	newText := rapid.SampledFrom([]string{"136 in", "", " ", "a: b", "x #y", "- z", "0417", "{", "it's", `"`, "#172035", "[1, 2]", "two\nlines", "ü, ±", "*a", "&b", "!c", "a, b", "x:", "@", "%", "---", "null", "<<", "? q", "tab\there", "\u00a0", "|", ">"}).Draw(t, "text")
	fragments := map[string]any{
		"{fs: 134 in, wl: [1, 2]}": map[string]any{"fs": "134 in", "wl": []any{"1", "2"}}, "[a, b]": []any{"a", "b"}, "bare": "bare",
		"fs: 1\nwl:\n  - a\n  - b": map[string]any{"fs": "1", "wl": []any{"a", "b"}},
		"- a":                      []any{"a"},
	}
	fragmentText := rapid.SampledFrom([]string{"{fs: 134 in, wl: [1, 2]}", "[a, b]", "bare", "fs: 1\nwl:\n  - a\n  - b", "- a"}).Draw(t, "fragment")
	s := doc.spansOf()
	if s.inFlow(v.node) && strings.ContainsAny(fragmentText, "\n-") {
		fragmentText = "[a, b]"
	}
	set := func(x any) func(any) any { return func(any) any { return x } }
	op := rapid.SampledFrom([]string{"set", "set", "new", "deep", "put", "remove", "add", "duplicate"}).Draw(t, "op")
	switch op {
	case "new", "deep":
		if !v.IsBlock() && v.Kind() != "nothing" {
			t.Skip("no block")
		}
		path = path.Key("new-key")
		if op == "deep" {
			path = path.Key("a.b")
		}
		fallthrough
	case "set":
		if isFlowPair(doc, path) {
			t.Skip("a: b without braces")
		}
		keeps = !v.IsBlock() && !v.IsList() || op != "set"
		splice, err = doc.Set(path, newText)
		want = changed(before, path, set(newText))
	case "put":
		keeps = !v.IsBlock() && !v.IsList()
		splice, err = doc.Put(path, fragmentText)
		want = changed(before, path, set(fragments[fragmentText]))
	case "remove":
		keeps = false
		splice, err = doc.Remove(path)
		if len(path) == 1 && doc.root.Content != nil && len(doc.root.Content) == 2 && !isFlow(doc.root) {
			require.ErrorContains(t, err, "only key")
			return
		}
		want = changed(before, path, set(nil))
	case "add":
		if !v.IsList() && v.Kind() != "nothing" {
			_, err := doc.Add(path, fragmentText)
			require.ErrorContains(t, err, "not a list")
			return
		}
		splice, err = doc.Add(path, fragmentText)
		if err != nil && strings.ContainsAny(fragmentText, "\n-") && isFlow(v.node) {
			return // several lines do not go into brackets
		}
		want = changed(before, path, func(x any) any { l, _ := x.([]any); return append(slices.Clone(l), fragments[fragmentText]) })
	case "duplicate":
		if step := path[len(path)-1]; step.Key != "" {
			_, err := doc.Duplicate(path, "x")
			require.ErrorContains(t, err, "not an item")
			return
		}
		id := ""
		if itemID(v.node) != nil {
			id = rapid.SampledFrom([]string{"copy", "12", "a: b"}).Draw(t, "id")
		}
		splice, err = doc.Duplicate(path, id)
		at, _ := doc.locate(path)
		list := path[:len(path)-1]
		want = changed(before, list, func(x any) any {
			l, i := x.([]any), at.last()
			double := l[i]
			if id != "" {
				double = changed(double, Path{{Key: "id"}}, set(id))
			}
			return slices.Insert(slices.Clone(l), i+1, double)
		})
	}
	require.NoError(t, err, "%s in\n%s", path, data)

	after := splice.Apply(data)
	require.Equal(t, want, content(t, after), "%s in\n%s\nmade\n%s", path, data, after)
	require.Equal(t, string(data), string(splice.Inverse(data).Apply(after)))
	require.Equal(t, string(data[:splice.From]), string(after[:splice.From]))
	require.Equal(t, string(data[splice.To:]), string(after[splice.From+len(splice.Insert):]))
	if keeps {
		require.Subset(t, notes(after), notes(data), "%s in\n%s\nmade\n%s", path, data, after)
	}
	if strings.Contains(string(data), "\r\n") {
		require.NotRegexp(t, `[^\r]\n`, string(after), "line ends stay")
	}
	if op != "remove" { // which may uncover a blank line
		require.Equal(t, strings.HasSuffix(string(data), "\n"), strings.HasSuffix(string(after), "\n"), "the last line end stays as it was: %s in\n%s\nmade\n%s", path, data, after)
	}
	open(t, after)
}

// isFlowPair tells whether a path leads into [a: b], a block without braces.
func isFlowPair(d *Document, path Path) bool {
	at, err := d.locate(path)
	if err != nil {
		return false
	}
	s := d.spansOf()
	n := at.node()
	return isFlow(n) && n.Kind == yaml.MappingNode && s.text[s.start(n)] != '{'
}

// TestEditsOfLessons changes the layouts that come with the project.
func TestEditsOfLessons(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "lessons", "*.yaml"))
	require.NoError(t, err)
	more, err := filepath.Glob(filepath.Join("..", "..", "testdata", "aircraft", "*.yaml"))
	require.NoError(t, err)
	files = append(files, more...)
	require.Greater(t, len(files), 8)
	var all [][]byte
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		all = append(all, data)
	}
	rapid.Check(t, func(t *rapid.T) { edit(t, rapid.SampledFrom(all).Draw(t, "file")) })
}

const small = `# my aeroplane
name: Kittock   # as painted
units: in
markings:
  - id: insignia
    figure: {rule: a/b, size: 20 in}
    # seen in two photographs
    where: {surface: fuselage, side: both, fs: 134 in, wl: 51 in} # by tape
  - id: code
    where:
      surface: fuselage
      fs: 200   # by eye
`

// TestEditExamples shows what each change does to the bytes.
func TestEditExamples(t *testing.T) {
	order := func(block Path) []string {
		if len(block) == 0 {
			return []string{"name", "units", "film", "markings"}
		}
		return []string{"surface", "side", "fs", "wl"}
	}
	path := func(s string) Path {
		p, err := ParsePath(s)
		require.NoError(t, err)
		return p
	}
	for _, tc := range []struct {
		do       string
		edit     func(d *Document) (Splice, error)
		old, new string
	}{
		{"a value in braces", func(d *Document) (Splice, error) { return d.Set(path("markings[insignia].where.fs"), "136 in") }, "fs: 134 in,", "fs: 136 in,"},
		{"a value on its line", func(d *Document) (Splice, error) { return d.Set(path("markings[2].where.fs"), "201") }, "fs: 200   # by", "fs: 201   # by"},
		{"a new key in braces", func(d *Document) (Splice, error) { return d.Set(path("markings[insignia].figure.angle"), "3 deg") }, "size: 20 in}", "size: 20 in, angle: 3 deg}"},
		{"a new key in its order", func(d *Document) (Splice, error) { return d.Set(path("markings[code].where.side"), "left") }, "surface: fuselage\n      fs", "surface: fuselage\n      side: left\n      fs"},
		{"a new key behind a comment", func(d *Document) (Splice, error) { return d.Set(path("markings[code].where.wl"), "50") }, "# by eye\n", "# by eye\n      wl: 50\n"},
		{"new keys one in another", func(d *Document) (Splice, error) { return d.Set(path("film.margin.lead"), "1 in") }, "units: in\n", "units: in\nfilm: {margin: {lead: 1 in}}\n"},
		{"quotes where they are needed", func(d *Document) (Splice, error) { return d.Set(path("name"), "K: 4") }, "name: Kittock   #", "name: \"K: 4\"   #"},
		{"a key taken out", func(d *Document) (Splice, error) { return d.Remove(path("markings[insignia].where.side")) }, ", side: both", ""},
		{"an item taken out", func(d *Document) (Splice, error) { return d.Remove(path("markings[code]")) }, small[strings.Index(small, "  - id: code"):], ""},
		{"an item added", func(d *Document) (Splice, error) { return d.Add(path("markings"), "id: new\nfigure: {text: K4}") }, "# by eye\n", "# by eye\n  - id: new\n    figure: {text: K4}\n"},
		{"a list begun", func(d *Document) (Splice, error) { return d.Add(path("evidence"), "{id: E-1}") }, "# by eye\n", "# by eye\nevidence:\n  - {id: E-1}\n"},
		{"an item doubled", func(d *Document) (Splice, error) { return d.Duplicate(path("markings[code]"), "code-2") }, "# by eye\n", "# by eye\n  - id: code-2\n    where:\n      surface: fuselage\n      fs: 200\n"},
		{"a block in the place of a value", func(d *Document) (Splice, error) { return d.Put(path("units"), "fs: 1\nwl: 2") }, "units: in\n", "units:\n  fs: 1\n  wl: 2\n"},
	} {
		doc, _, ok := Parse("a.yaml", []byte(small), Form{Kind: "layout", Order: order})
		require.True(t, ok)
		splice, err := tc.edit(doc)
		require.NoError(t, err, tc.do)
		require.Equal(t, 1, strings.Count(small, tc.old), tc.do)
		require.Equal(t, strings.Replace(small, tc.old, tc.new, 1), string(splice.Apply([]byte(small))), tc.do)
	}
}

// TestEditRefused names what stands in the way, with its place.
func TestEditRefused(t *testing.T) {
	for _, tc := range []struct{ text, path, say string }{
		{"a: &x 1\nb: *x\n", "a", "&x"},
		{"a: &x 1\nb: *x\n", "b", "*x"},
		{"a: !t 1\n", "a", "a tag"},
		{"a: 1\n---\nb: 2\n", "a", "second document"},
		{"a: [1\n", "a", "not closed"},
		{"a: [1]\n", "a[2]", "has 1 items and no item 2"},
		{"a: [{id: x1}]\n", "a[x2].b", `no item "x2"`},
		{"a: 1\n", "a.b", `the text "1" and has no key b`},
		{"a: 1\n", "b[1]", "no list yet"},
		{"a: {b: 1}\n", "a[1]", "has no items"},
	} {
		doc, _, _ := Parse("a.yaml", []byte(tc.text), Form{Kind: "layout"})
		p, err := ParsePath(tc.path)
		require.NoError(t, err)
		_, err = doc.Set(p, "2")
		require.ErrorContains(t, err, tc.say, tc.text)
		require.ErrorContains(t, err, "a.yaml:", tc.text)
	}
	for _, text := range []string{"", ".a", "a..b", "a[", "a[0]", "a[]", `a."`, "a b", "[x]y"} {
		_, err := ParsePath(text)
		require.Error(t, err, text)
	}
}

func BenchmarkSet_lesson(b *testing.B) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "lessons", "20-lettering.yaml"))
	require.NoError(b, err)
	doc := open(b, data)
	p := paths(doc.root, nil)
	for b.Loop() {
		_, err := doc.Set(p[len(p)/2], "136 in")
		require.NoError(b, err)
	}
	b.ReportMetric(float64(len(data)), "bytes")
}
