package standards

import (
	"fmt"
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
	good := with("    valid_from: 1943\n    lines: [bar]\n    sizes: [{steps: {from: 20, to: 50, by: 5}, " + source + "}]\n" +
		"    fit: {height: 3/4, from_tip: 1/3, " + source + "}\n    places: [{where: [fin sides], from: 1943, " + source + "}]\n" +
		"    dates: [{what: valid_from, also: 1944, " + source + "}]\n")
	d, err := ParseDocument([]byte(good), testPalette)
	require.NoError(t, err)
	assert.Equal(t, []float64{50, 45, 40, 35, 30, 25, 20}, d.Rules[0].Offered(100))

	for _, c := range []struct{ old, new, say string }{
		{"by: 5}, " + source, "by: 5}", "no source"},
		{"from_tip: 1/3, " + source, "from_tip: 1/3", "no source"},
		{"from: 1943, " + source, "from: 1943", "no source"},
		{"also: 1944, " + source, "also: 1944", "no source"},
		{"by: 5", "by: 0", "above 0"},
		{"steps: {from: 20, to: 50, by: 5}", "inches: []", "above 0"},
		{"height: 3/4", "height: 4/3", "4/3"},
		{"[fin sides]", "[the tail]", "the tail"},
		{"[fin sides]", "[]", "where"},
		{"what: valid_from", "what: valid", "neither"},
		{"what: valid_from", "what: valid_to", "no valid_to"},
		{"also: 1944", "also: spring", "spring"},
		{"valid_from: 1943\n", "valid_from: 1943\n    valid_to: 1942\n", "before valid_from"},
		{"height: 3/4", "heigth: 3/4", "heigth"},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		require.NotEqual(t, good, text, c.old)
		_, err := ParseDocument([]byte(text), testPalette)
		assert.ErrorContains(t, err, c.say, "%q for %q", c.new, c.old)
	}
}

func succession(t *testing.T, d Date, nation, line string) Succession {
	t.Helper()
	list, err := Timeline(d, nation)
	require.NoError(t, err)
	for _, s := range list {
		if s.Line == line {
			return s
		}
	}
	t.Fatalf("%s has no line %s", nation, line)
	return Succession{}
}

// Of two issues of one rule the newer is in force, and the older came before it.
func TestTimelineOfRevisions(t *testing.T) {
	s := succession(t, "1944-06", "hcf", "insignia")
	require.Len(t, s.InForce, 1)
	assert.Equal(t, "hcf-order-12@issue-2", s.InForce[0].Document.ID)
	require.NotNil(t, s.Before)
	assert.Equal(t, "hcf-order-12@issue-1", s.Before.Document.ID)
	assert.Nil(t, s.After)

	s = succession(t, "1943-04", "hcf", "insignia")
	require.Len(t, s.InForce, 1)
	assert.Equal(t, "hcf-order-12@issue-1", s.InForce[0].Document.ID)
	assert.Nil(t, s.Before)
	require.NotNil(t, s.After)
	assert.Equal(t, "hcf-order-12@issue-2", s.After.Document.ID)

	s = succession(t, "1943-05", "hcf", "insignia")
	assert.Len(t, s.InForce, 2, "the change fell in that month")
}

// The Dutch sectors were not used from 1939 to 1945 (from memory): in 1944 nothing is
// known to be in force.
func TestTimelineGap(t *testing.T) {
	s := succession(t, "1941", "netherlands", "roundel")
	require.Len(t, s.InForce, 1)
	assert.Equal(t, "dutch-markings/triangle", s.InForce[0].ID)
	s = succession(t, "1944", "netherlands", "roundel")
	assert.Empty(t, s.InForce)
	assert.Equal(t, "dutch-markings/triangle", s.Before.ID)
	assert.Equal(t, "dutch-markings/sectors-1946", s.After.ID)
}

// 14 January 1947 is often quoted for the order of 16 January (from memory); the blue
// border was dated 4 September 1943 (read: historicalmachines.tv).
func TestDoubtsSayWhat(t *testing.T) {
	var said []string
	for _, d := range succession(t, "1946", "us", "national insignia").Doubts {
		p := d.Other.Provenance
		said = append(said, fmt.Sprintf("%s %s %s %s %s %s %s", d.Rule.ID, d.Other.What, d.Rule.ValidFrom, d.Other.Also, p.Kind, p.Confidence, p.Where))
	}
	all := strings.Join(said, "\n")
	assert.Contains(t, all, "an-i-9b/star-and-bars valid_from 1947-01-16 1947-01-14 memory medium")
	assert.Contains(t, all, "an-i-9a/blue-border valid_from 1943-08-14 1943-09-04 read  historicalmachines.tv")
}
