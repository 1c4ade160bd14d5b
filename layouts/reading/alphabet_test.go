package reading

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/glyphs"
	"maskloft/layouts"
)

const ownAlphabet = "name: mine\nwidth: 2/3\nstroke: 1/5\ngap: 1/4\nword: 2/3\ncorner: {kind: square}\nsource: a test\n"

// An alphabet of one's own lies beside the layout, in a folder too.
func TestOwnAlphabet(t *testing.T) {
	layout := "name: Hack\nunits: in" + aircraftText + `markings:
  - id: a
    figure: {text: HI, alphabet: mine.yaml, height: 10}
    where: {surface: boom, fs: 1 m, wl: 20 in}
paint: {order: [text], colours: {text: {name: black, hex: "#000000"}}}
`
	spec, err := LoadFS(fstest.MapFS{"job/a.yaml": {Data: []byte(layout)}, "job/mine.yaml": {Data: []byte(ownAlphabet)}}, "job/a.yaml")
	require.NoError(t, err)
	f := spec.Markings[0].Figure
	require.Equal(t, "mine.yaml", f.Alphabet)
	require.Equal(t, glyphs.Stroke{Vertical: 0.2, Horizontal: 0.2}, f.Letters.Stroke)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	require.InDelta(t, 10*(2.0/3+1.0/4+1.0/5), l.Placed[0].Figure.Layers[0].Outline.Bounds().Width(), 1e-6)

	_, err = LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(layout)}}, "a.yaml")
	require.ErrorContains(t, err, "cannot read the alphabet file mine.yaml: there is no such file")
	require.ErrorContains(t, err, "beside the layout")
	bad := ownAlphabet + "strok: 1\n"
	_, err = LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(layout)}, "mine.yaml": {Data: []byte(bad)}}, "a.yaml")
	var problems layouts.Problems
	require.ErrorAs(t, err, &problems)
	require.Len(t, problems, 1)
	require.Equal(t, layouts.Place{File: "mine.yaml", Line: 8, Column: 1}, problems[0].Place)
	require.Contains(t, problems[0].Hint, "stroke")
	require.Equal(t, "strok: 1", problems[0].Excerpt)
}
