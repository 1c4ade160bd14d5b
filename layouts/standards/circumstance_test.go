package standards

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What stands round a drawing needs a source too, and is refused where it makes no
// sense.
func TestCircumstancesRefuse(t *testing.T) {
	const source = "provenance: {kind: invented, where: this test}"
	before := "    parts:\n"
	with := func(lines string) string { return strings.Replace(goodDocument, before, lines+before, 1) }
	good := with("    sizes: [{steps: {from: 20, to: 50, by: 5}, place: fin, " + source + "}]\n" +
		"    fit: {height: 3/4, from_tip: 1/3, " + source + "}\n")
	d, err := ParseDocument("test.yaml", []byte(good), testPalette)
	require.NoError(t, err)
	assert.Equal(t, []float64{50, 45, 40, 35, 30, 25, 20}, d.Rules[0].Offered(100))

	for _, c := range []struct{ old, new, say string }{
		{"place: fin, " + source, "place: fin", "no source"},
		{"from_tip: 1/3, " + source, "from_tip: 1/3", "no source"},
		{"by: 5", "by: 0", "above 0"},
		{"steps: {from: 20, to: 50, by: 5}", "inches: []", "above 0"},
		{"height: 3/4", "height: 4/3", "4/3"},
		{"place: fin", "place: keel", "keel"},
		{"height: 3/4", "heigth: 3/4", "heigth"},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		require.NotEqual(t, good, text, c.old)
		_, err := ParseDocument("test.yaml", []byte(text), testPalette)
		assert.ErrorContains(t, err, c.say, "%q for %q", c.new, c.old)
	}
}
