package main

import (
	"bytes"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"
)

// inchWords are figures in inches, feet, square feet, ounces or pounds.
var inchWords = regexp.MustCompile(`(?i)\d ?(in|in2|ft|ft2|lb|in-lb|us fl oz)\b|\binch(es)?\b|[\d)] in[.,;:) ]`)

// allowed are texts in which inches are no length of this job: what the layout's writer
// wrote, and what goes into the layout as its units are.
var allowed = []*regexp.Regexp{
	regexp.MustCompile(`markings\[[^(]*\(`), // a value to write into the layout, with its reason after it
	regexp.MustCompile(`\(source: [^)]*\)`), // what a source says
}

// The demo asked for in millimetres says nothing in inches: console, text and titles of
// pictures; what is printed is on A4. PDF text is looked at by .ci/outside/units.py, the
// tape list by its own tests.
func TestMillimetresEverywhere(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	var short, full, check, errs bytes.Buffer
	require.Equal(t, exitClean, run(t.Context(), []string{"build", "--units", "mm", "-o", dir}, &short, &errs))
	require.Equal(t, exitClean, run(t.Context(), []string{"build", "--units", "mm", "-o", dir, "--all"}, &full, &errs))
	require.Equal(t, exitClean, run(t.Context(), []string{"check", "--units", "mm", "--all"}, &check, &errs))
	spec, err := reading.LoadFS(reading.DemoFiles(), reading.DemoName)
	require.NoError(t, err)
	own := []string{spec.Aircraft.Datum}
	for _, e := range spec.Evidence {
		own = append(own, e.What)
	}
	look := func(name, text string) {
		text = strings.Join(strings.Fields(text), " ")
		for _, s := range own {
			text = strings.ReplaceAll(text, strings.Join(strings.Fields(s), " "), "")
		}
		for _, a := range allowed {
			text = a.ReplaceAllString(text, "")
		}
		for _, at := range inchWords.FindAllStringIndex(text, -1) {
			t.Errorf("%s: %q", name, text[max(0, at[0]-60):min(len(text), at[1]+30)])
		}
	}
	look("console", short.String())
	look("console --all", full.String())
	look("check", check.String())

	titles := regexp.MustCompile(`<(?:title|desc|text)[^>]*>([^<]*)`)
	box := regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)
	printed := 0
	require.NoError(t, filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		name := strings.TrimPrefix(path, dir+string(filepath.Separator))
		if strings.HasPrefix(name, "tape-checklist") {
			return nil
		}
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.NotRegexp(t, `\din\.(svg|pdf|dxf)$`, name)
		switch filepath.Ext(name) {
		case ".md":
			look(name, string(data))
		case ".svg":
			for _, m := range titles.FindAllStringSubmatch(string(data), -1) {
				look(name, html.UnescapeString(m[1]))
			}
		case ".pdf":
			if strings.HasPrefix(name, "cut") || strings.HasPrefix(name, "run") || name == "proof.pdf" {
				return nil // true size
			}
			for _, m := range box.FindAllStringSubmatch(string(data), -1) {
				w, _ := strconv.ParseFloat(m[1], 64)
				h, _ := strconv.ParseFloat(m[2], 64)
				printed++
				// ISO 216: A4 is 210 x 297 mm; 1/72 in is a point
				assert.InDelta(t, 210, min(w, h)/72*25.4, 0.01, name)
				assert.InDelta(t, 297, max(w, h)/72*25.4, 0.01, name)
			}
		}
		return nil
	}))
	assert.Greater(t, printed, 10)
}
