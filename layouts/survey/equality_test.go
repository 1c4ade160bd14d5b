package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
	"maskloft/layouts/worked"
)

// Registration marks have the same height, width, thickness and spacing on both
// sides (14 CFR 45.29(g), read in a copy); other markings may differ by an eighth
// (common practice, no source). The limit of 1/32 in for the former is the finest
// that a tape shows.
func TestEquality(t *testing.T) {
	mark := func(id, side, text, height, more string) string {
		return "\n  - id: " + id + "\n    figure: {text: " + text + ", alphabet: block-6x4, height: " + height + more + "}" +
			"\n    where: {surface: slab, side: " + side + ", fs: 60, wl: 30}\n    colours: {text: red}"
	}
	us := "\nrules: {date: 1944-06, nation: us}"
	for _, tc := range []struct {
		name, markings, more string
		says                 []string // empty: no finding
	}{
		{"one marking on both sides", mark("a", "both", "N17L", "12", ""), us, nil},
		{"two that are the same", mark("a", "left", "N17L", "12", "") + mark("b", "right", "N17L", "12", ""), us, nil},
		{"a tenth higher", mark("a", "left", "N17L", "12", "") + mark("b", "right", "N17L", "12.1", ""), us, []string{"height 12.000 and 12.100 in"}},
		{"a twentieth higher", mark("a", "left", "N7", "12", "") + mark("b", "right", "N7", "12.05", ""), us, []string{"height 12.000 and 12.050 in"}},
		{"a twentieth higher, no registration mark", mark("a", "left", "K7", "12", "") + mark("b", "right", "K7", "12.05", ""), us, nil},
		{"a twentieth higher, another nation", mark("a", "left", "N7", "12", "") + mark("b", "right", "N7", "12.05", ""), "\nrules: {date: 1944-06, nation: uk}", nil},
		{"a wider gap", mark("a", "left", "N17L", "12", ", gap: 2") + mark("b", "right", "N17L", "12", ", gap: 2.05"), us,
			[]string{"space before character 2 (1) 2.000 and 2.050 in", "space before character 4 (L) 2.000 and 2.050 in"}},
		{"other texts are no fellows", mark("a", "left", "N17L", "12", "") + mark("b", "right", "N17T", "14", ""), us, nil},
	} {
		s := surveyOf(t, "slab", "", tc.markings, tc.more)
		var found []layouts.Finding
		for _, f := range s.findings {
			if f.Rule == "equality" {
				found = append(found, f)
			}
		}
		if tc.says == nil {
			assert.Empty(t, found, tc.name)
			continue
		}
		require.Len(t, found, 1, tc.name)
		assert.Equal(t, layouts.Warn, found[0].Level)
		for _, says := range tc.says {
			assert.Contains(t, found[0].Message, says, tc.name)
		}
	}
}

// Two fellows that do not stand opposite each other are told, not warned of.
func TestEqualityOfPlaces(t *testing.T) {
	at := func(id, side, fs string) string {
		return "\n  - id: " + id + "\n    figure: {discs: [{diameter: 10, colour: red}]}\n    where: {surface: slab, side: " + side + ", wl: 30, fs: " + fs + "}"
	}
	assert.Empty(t, surveyOf(t, "slab", "", at("a", "left", "60")+at("b", "right", "60.1"), "").findings)
	s := surveyOf(t, "slab", "", at("a", "left", "60")+at("b", "right", "64"), "")
	require.Equal(t, []string{"equality"}, worked.Rules(s.findings, layouts.Note))
	assert.Equal(t, "4 in", s.findings[0].Measured)
}

// The stroke of block letters is a sixth of their height (14 CFR 45.29(d), read in
// a copy), and so is that measured on the film.
func TestLeastStroke(t *testing.T) {
	for _, text := range []string{"1", "E", "L", "H7", "0417", "N17L"} {
		s := surveyOf(t, "slab", "", "\n  - id: a\n    figure: {text: \""+text+"\", alphabet: block-6x4, height: 12}\n    where: {surface: slab, side: left, fs: 60, wl: 30}\n    colours: {text: red}", "")
		assert.InDelta(t, 2, thinnestStroke(s.laid[0].Painted), 1e-6, text)
	}
}

// A "1" fills the rectangle it is set in, and does so in the film, however the
// drawing is bent onto the skin.
func TestCharactersFollowTheFilm(t *testing.T) {
	for _, how := range []string{"true: skin", "true: side", "true: skin\n    handed: text"} {
		s := surveyOf(t, "round", "", "\n  - id: a\n    figure: {text: \"11\", alphabet: block-6x4, height: 12}\n    where: {surface: cylinder, side: right, fs: 60, wl: 8}\n    colours: {text: red}\n    "+how, "")
		one := s.laid[0]
		require.Len(t, one.Characters, 2)
		require.Len(t, one.Painted, 2)
		for _, c := range one.Characters {
			near := 1.0
			for _, k := range one.Painted {
				b := k.Bounds()
				near = min(near, b.Min.Dist(c.Cell.Min)+b.Max.Dist(c.Cell.Max))
			}
			assert.Less(t, near, 0.005, how)
		}
		assert.Less(t, one.Characters[0].Cell.Max.X, one.Characters[1].Cell.Min.X, "as it is read")
	}
}
