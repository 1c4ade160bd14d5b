package standards

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const goodDocument = `
document: test-order
title: A test order
provenance: {kind: invented, where: this test}
rules:
  - rule: bar
    nation: test
    kind: insignia
    name: a disc with bars
    unit: R
    parts:
      - {part: border, colour: white, border: {width: 1/8, around: [disc, bars]}}
      - {part: bars, colour: white, bars: {start: s, length: 1, width: 1/2, top: sin(18)}}
      - {part: disc, colour: blue, disc: {radius: 1}}
    options:
      - option: length
        default: a
        why: it comes first
        choices:
          - {choice: a, text: one, numbers: {s: cos(18)}, provenance: {kind: invented, where: this test}}
          - {choice: b, text: two, numbers: {s: 1}, provenance: {kind: memory, confidence: low}}
    provenance: {kind: read, grade: official, where: this test, memory: [{what: bars.top, confidence: high}]}
    errata:
      - {part: bars, number: length, printed: 1/2, printed_in: issue 1, corrected_by: issue 2, provenance: {kind: invented, where: this test}}
`

var testPalette = []Colour{{Role: "white"}, {Role: "blue"}}

func TestParseDocument(t *testing.T) {
	d, err := ParseDocument("test.yaml", []byte(goodDocument), testPalette)
	require.NoError(t, err)
	r := d.Rules[0]
	assert.Equal(t, "test-order/bar", r.ID)
	assert.True(t, r.CanStop("bars.length"))
	assert.False(t, r.CanStop("bars.top"), "from memory: may only warn")
	p, ok := r.Part("border")
	require.True(t, ok)
	assert.Equal(t, []string{"disc", "bars"}, p.Of)
	assert.Equal(t, Formula("1/8"), p.Number("width"))
	for choice, want := range map[string]float64{"": math.Cos(math.Pi / 10), "a": math.Cos(math.Pi / 10), "b": 1} {
		var picks []Pick
		if choice != "" {
			picks = []Pick{{"length", choice}}
		}
		v, err := r.Values(picks)
		require.NoError(t, err)
		assert.Equal(t, "start", v[1].Name)
		assert.InDelta(t, want, v[1].Value, 1e-15)
	}
}

// What is not known, cannot be computed or has no source does not load.
func TestParseDocumentRefuses(t *testing.T) {
	tests := []struct{ old, new, say string }{
		{"    unit: R", "    unit: R\n    colour: red", "colour"},
		{"title:", "titel:", "titel"},
		{"around: [disc, bars]}", "around: [disc, bars]}, blue: {a: 1}", "blue"},
		{"length: 1, width: 1/2", "length: 1, wide: 1/2", "width"},
		{"length: 1, width: 1/2", "length: 1, width: 1/2, extra: 2", "extra"},
		{"length: 1, width: 1/2", "length: 1, length: 2, width: 1/2", "twice"},
		{"{radius: 1}", "{diameter: 1}", "radius"},
		{"{radius: 1}", "{radius: 0}", "possible"},
		{"{radius: 1}", "{radius: 1/0}", "not a number"},
		{"{radius: 1}", "{radius: pi}", "pi"},
		{"{radius: 1}", "{radius: [1]}", "formula"},
		{"colour: blue", "colour: bleu", "bleu"},
		{"part: bars,", "part: disc,", ""},
		{"around: [disc, bars]", "around: [disc, bar]", "bar"},
		{"around: [disc, bars]", "around: []", "around"},
		{"    provenance: {kind: read, grade: official, where: this test, memory: [{what: bars.top, confidence: high}]}\n", "", "no source"},
		{"grade: official, where: this test,", "grade: official,", "where"},
		{"grade: official, where", "where", "grade"},
		{"kind: read, grade: official", "kind: hearsay", "hearsay"},
		{"what: bars.top, confidence: high", "what: bars.topp, confidence: high", "topp"},
		{"what: bars.top, confidence: high", "what: bars.top", "confidence"},
		{"provenance: {kind: memory, confidence: low}", "provenance: {kind: memory}", "confidence"},
		{", provenance: {kind: memory, confidence: low}", "", "no source"},
		{"numbers: {s: 1}", "numbers: {t: 1}", "same numbers"},
		{"default: a", "default: c", "default"},
		{"part: bars, number: length, printed", "part: bars, number: lengths, printed", "erratum"},
		{"printed_in: issue 1, ", "", "printed_in"},
		{"    nation: test\n", "", "nation"},
		{"    unit: R\n", "    unit: H\n", "unit"},
		{"document: test-order", "document: Test Order", "Test Order"},
		{"  - rule: bar\n", "  - rule: Bar\n", "Bar"},
		{"rules:\n", "---\nrules:\n", ""},
	}
	for _, tc := range tests {
		text := strings.Replace(goodDocument, tc.old, tc.new, 1)
		require.NotEqual(t, goodDocument, text, tc.old)
		_, err := ParseDocument("test.yaml", []byte(text), testPalette)
		assert.ErrorContains(t, err, tc.say, "%q for %q", tc.new, tc.old)
	}
}

func TestParsePaletteRefuses(t *testing.T) {
	const good = `[{role: sea_grey, name: sea grey, standard: a card, from: 1950, hex: "#566164", provenance: {kind: read, grade: tertiary, where: a test}}]`
	list, err := ParsePalette("test.yaml", []byte(good))
	require.NoError(t, err)
	assert.Equal(t, "#566164", list[0].Hex)
	for _, change := range [][2]string{
		{"sea_grey", "Sea Grey"}, {"#566164", "#56616"}, {"role", "rolle"}, {", provenance: {kind: read, grade: tertiary, where: a test}", ""},
	} {
		_, err := ParsePalette("test.yaml", []byte(strings.Replace(good, change[0], change[1], 1)))
		assert.Error(t, err, change[1])
	}
}

// Every embedded file is a document and loads, and the library is not empty.
func TestEmbedded(t *testing.T) {
	docs, err := Documents()
	require.NoError(t, err)
	entries, err := os.ReadDir("documents")
	require.NoError(t, err)
	assert.Greater(t, len(docs), len(entries)-1, "all but the colours, and the nations")
	colours, err := Palette()
	require.NoError(t, err)
	used := map[string]bool{}
	for _, d := range docs {
		for _, r := range d.Rules {
			for _, p := range r.Parts {
				used[p.Colour] = true
			}
		}
	}
	for _, c := range colours {
		assert.True(t, used[c.Role], "%s is used", c.Role)
	}
}

func TestFormula(t *testing.T) {
	for text, want := range map[string]float64{
		"1/8": 0.125, "0.40": 0.4, "-0.32": -0.32, "(3 - sqrt(5)) / 2": 0.381966011250105, "sin(18)": 0.309016994374947,
		"1 + cos(18)": 1.951056516295154, "2*(1-x)": 1.5,
	} {
		v, err := Formula(text).Eval(map[string]float64{"x": 0.25})
		require.NoError(t, err, text)
		assert.InDelta(t, want, v, 1e-14, text)
	}
	for _, text := range []string{"", "1 1", "y", "tan(45)", "x.y", `"1"`, "1<<3", "sqrt(1, 2)", "!x", "func(){}()", "'a'"} {
		_, err := Formula(text).Eval(map[string]float64{"x": 0.25})
		assert.Error(t, err, text)
	}
}

// Parts that fill others, or hold letters, say so.
func TestParseDocumentRefusesParts(t *testing.T) {
	const good = `
document: test-order
title: A test order
provenance: {kind: invented, where: this test}
rules:
  - rule: flag
    kind: rudder
    nation: test
    name: a flag
    unit: in
    provenance: {kind: invented, where: this test}
    parts:
      - {part: field, colour: white, field: {width: 24, height: 30}}
      - {part: stripes, colour: blue, in: [field], bands: {count: 13, first: 2, every: 2, along: 0}}
      - {part: upright, colour: blue, in: [field], band: {from: 0, to: 1/3, along: 90}}
      - {part: name, colour: blue, letters: {text: U, alphabet: block-6x4, height: 3, x: -4, y: 0}}
`
	d, err := ParseDocument("test.yaml", []byte(good), testPalette)
	require.NoError(t, err)
	assert.True(t, d.Rules[0].FollowsField())
	assert.Equal(t, []string{"field"}, d.Rules[0].Parts[1].In)
	assert.Equal(t, "U", d.Rules[0].Parts[3].Text)
	for _, tc := range []struct{ old, new, say string }{
		{"in: [field], bands", "bands", "no in:"},
		{"in: [field], bands", "in: [upright], bands", "before stripes"},
		{"count: 13", "count: 12.5", "possible count"},
		{"to: 1/3", "to: 4/3", "possible to"},
		{"text: U, ", "", "text and alphabet"},
		{"width: 24", "width: 24, text: U", "text"},
	} {
		text := strings.Replace(good, tc.old, tc.new, 1)
		require.NotEqual(t, good, text, tc.old)
		_, err := ParseDocument("test.yaml", []byte(text), testPalette)
		assert.ErrorContains(t, err, tc.say, tc.new)
	}
}
