package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/glyphs"
	"maskloft/layouts"
	yamldoc "maskloft/layouts/document"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// example is a block of YAML in a document.
type example struct {
	at   string // file:line
	text string
}

var (
	keyLine = regexp.MustCompile(`^(?:- )?[a-z][a-z-]*:(?: |$)`)
)

// examplesOf returns the blocks of a text whose lines have an indent: those that begin
// with a key in small letters.
func examplesOf(name, text, indent string) []example {
	var out []example
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); i++ {
		if !strings.HasPrefix(lines[i], indent) {
			continue
		}
		first := i
		var block []string
		for ; i < len(lines) && (strings.HasPrefix(lines[i], indent) || strings.TrimSpace(lines[i]) == ""); i++ {
			block = append(block, strings.TrimPrefix(lines[i], indent))
		}
		if keyLine.MatchString(block[0]) {
			out = append(out, example{fmt.Sprintf("%s:%d", name, first+1), strings.TrimRight(strings.Join(block, "\n"), "\n") + "\n"})
		}
	}
	return out
}

// documentExamples are the blocks of README, DEVELOPERS and the package comments.
func documentExamples(t testing.TB) []example {
	t.Helper()
	root := filepath.Join("..", "..")
	var out []example
	for _, name := range []string{"README.md", "DEVELOPERS.md", "SIGN-SHOP.md", "CHANGELOG.md"} {
		text, err := os.ReadFile(filepath.Join(root, name))
		require.NoError(t, err)
		out = append(out, examplesOf(name, string(text), "    ")...)
	}
	err := fs.WalkDir(os.DirFS(root), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(filepath.Join(root, path))
		out = append(out, examplesOf(path, string(text), "//\t")...)
		return err
	})
	require.NoError(t, err)
	return out
}

// placeOf is where a key of an example belongs in a layout.
var placeOf = map[string]string{
	"figure": "markings[code].figure", "islands": "markings[code].figure.islands", "where": "markings[code].where",
	"hardpoints": "aircraft.hardpoints", "measured-tapes": "aircraft.measured-tapes", "level-pegs": "aircraft.level-pegs",
	"markings": "markings", "stencils": "stencils", "photos": "photos", "film": "film", "tape": "tape", "sheets": "sheets", "rules": "rules", "paint": "paint",
}

// notLayouts are lines of words that look like keys, by the key they begin with.
var notLayouts = map[string]bool{"us": true} // classes of tape

// TestDocumentsRun builds every block of YAML in the documents: a whole layout as it is,
// a part of one in its place in the demo, measures of letters as such.
func TestDocumentsRun(t *testing.T) {
	all := documentExamples(t)
	require.Greater(t, len(all), 10)
	for _, x := range all {
		t.Run(x.at, func(t *testing.T) {
			first, _, _ := strings.Cut(x.text, ":")
			switch {
			case notLayouts[first]:
				t.Skip("no YAML")
			case first == "height":
				_, err := glyphs.ReadMeasured("a.yaml", []byte(x.text))
				require.NoError(t, err)
			case strings.Contains(x.text, "\naircraft:"):
				lays(t, x.text)
			default:
				for _, part := range keysOf(x.text) {
					lays(t, inDemo(t, part))
				}
			}
		})
	}
}

// keysOf cuts a block before each key in its first column.
func keysOf(text string) []string {
	var out []string
	for _, line := range strings.SplitAfter(text, "\n") {
		if keyLine.MatchString(line) || len(out) == 0 {
			out = append(out, "")
		}
		out[len(out)-1] += line
	}
	return out
}

// inDemo puts a key with its value into the demo, with the paints that examples name.
func inDemo(t testing.TB, part string) string {
	t.Helper()
	text, err := reading.Starter("")
	require.NoError(t, err)
	edit := func(path string, do func(d *yamldoc.Document, p yamldoc.Path) (yamldoc.Splice, error)) {
		d, ok := reading.Document("a.yaml", []byte(text))
		require.True(t, ok)
		p, err := yamldoc.ParsePath(path)
		require.NoError(t, err)
		s, err := do(d, p)
		require.NoError(t, err, path)
		text = string(s.Apply([]byte(text)))
	}
	put := func(path, value string) {
		edit(path, func(d *yamldoc.Document, p yamldoc.Path) (yamldoc.Splice, error) { return d.Put(p, value) })
	}
	for _, paint := range []string{"red", "white", "black"} {
		put("paint.colours."+paint, `{hex: "#808080"}`)
		edit("paint.order", func(d *yamldoc.Document, p yamldoc.Path) (yamldoc.Splice, error) { return d.Add(p, paint) })
	}
	key, value, _ := strings.Cut(part, ":")
	path, known := placeOf[key]
	require.True(t, known, "a key of a layout: %q; give it a place in placeOf", key)
	if key == "figure" {
		edit("markings[code].colours", func(d *yamldoc.Document, p yamldoc.Path) (yamldoc.Splice, error) { return d.Remove(p) })
		for follows, where := range map[string]string{"stripes:": "{surface: rudder, side: both}", "band:": "{surface: fuselage, side: both}", "demarcation:": "{surface: fuselage, side: both}"} {
			if strings.Contains(value, follows) {
				put("markings[code].where", where)
			}
		}
	}
	if key == "islands" {
		put("markings[code].figure.height", "24 in") // bridges need room
	}
	put(path, outdented(value))
	return text
}

// outdented is a value as YAML of its own.
func outdented(value string) string {
	lines := strings.Split(strings.TrimRight(strings.TrimLeft(value, " "), "\n"), "\n")
	if len(lines) == 1 {
		lines[0], _, _ = strings.Cut(lines[0], " #")
	}
	if strings.TrimSpace(lines[0]) == "" || strings.HasPrefix(lines[0], "#") {
		lines = lines[1:]
	}
	indent := len(lines[0]) - len(strings.TrimLeft(lines[0], " "))
	for i := range lines {
		lines[i] = lines[i][min(indent, len(lines[i])):]
	}
	return strings.Join(lines, "\n") + "\n"
}

// lays computes the films of a layout; every marking must be there.
func lays(t testing.TB, text string) {
	t.Helper()
	spec, err := reading.LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(text)}}, "a.yaml")
	require.NoError(t, err)
	j := job.New(spec, nil)
	_, err = j.Tilings(t.Context())
	require.NoError(t, err)
	for _, f := range j.Findings() {
		require.NotEqual(t, layouts.MissingRule, f.Rule, f.Message)
	}
}
