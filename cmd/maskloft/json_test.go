package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A document is what encoding/json has, with blanks and breaks between its tokens alone:
// numbers that belong together on one line, up to a length.
func TestWriteJSON(t *testing.T) {
	long := make([]int, 60)
	v := map[string]any{
		"text": "a, b: [1,2] {\"q\"} \\ <&>", "none": []int{}, "empty": map[string]int{}, "null": nil, "lone": "\\",
		"point": []float64{1.5, -2e-9}, "line": [][]float64{{0, 1}, {2, 3}}, "mixed": []any{1, "x", []int{4}, map[string]any{"k": []bool{true, false}}},
		"place": map[string]float64{"fs": 1, "wl": -2}, "long": long,
	}
	var got, want, plain bytes.Buffer
	require.NoError(t, writeJSON(&got, v))
	e := json.NewEncoder(&want)
	e.SetEscapeHTML(false)
	require.NoError(t, e.Encode(v))
	require.NoError(t, json.Compact(&plain, got.Bytes()))
	require.Equal(t, want.String(), plain.String()+"\n")
	require.Equal(t, `{
  "empty": {},
  "line": [
    [0, 1],
    [2, 3]
  ],
  "lone": "\\",
  "long": [
`+strings.Repeat("    0,\n", 59)+`    0
  ],
  "mixed": [
    1,
    "x",
    [4],
    {
      "k": [true, false]
    }
  ],
  "none": [],
  "null": null,
  "place": {"fs": 1, "wl": -2},
  "point": [1.5, -2e-9],
  "text": "a, b: [1,2] {\"q\"} \\ <&>"
}
`, got.String())
}
