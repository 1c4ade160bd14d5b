package standards

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Values that were read in published texts, each with where. They are held against
// the data as computed, in the rule's own unit.
func TestReadValues(t *testing.T) {
	sin18 := math.Sin(math.Pi / 10)
	const stars = "AN-I-9b Amendment 2, para D-1, 16 January 1947, copied out at ourairports.biz/?p=6096"
	const list = "list of roundels at modelmarkings.com/index.php/raf/84-nokia-c7-is-available-now"
	for _, c := range []struct {
		rule, what string
		want       float64
		source     string
	}{
		{"an-i-9b/star-and-bars", "bars.length", 1, stars},
		{"an-i-9b/star-and-bars", "bars.width", 0.5, stars},
		{"an-i-9b/star-and-bars", "border.width", 0.125, stars},
		{"an-i-9b/star-and-bars", "stripe.width", 1.0 / 6, stars},
		{"an-i-9b/star-and-bars", "bars.top", sin18, stars + ": upper edges in line with those of the star's side points, at y = R sin 18"},
		{"polish-law-2019-1351/checker", "field-upper-left.top", 0.5 - 1.0/12, "Dz.U. 2019 poz. 1351 art. 22(1), at sip.lex.pl: border to field 1:5, so 1/2.4 of half the side"},
		{"raf-roundel/a", "white.diameter", 3.0 / 5, list}, {"raf-roundel/a", "red.diameter", 1.0 / 5, list},
		{"raf-roundel/a1", "blue.diameter", 5.0 / 7, list}, {"raf-roundel/a1", "white.diameter", 3.0 / 7, list}, {"raf-roundel/a1", "red.diameter", 1.0 / 7, list},
		{"raf-roundel/a2", "blue.diameter", 5.0 / 6, list}, {"raf-roundel/a2", "white.diameter", 3.0 / 6, list}, {"raf-roundel/a2", "red.diameter", 1.0 / 6, list},
		{"raf-roundel/b", "red.diameter", 2.0 / 5, list},
		{"raf-roundel/c", "white.diameter", 4.0 / 8, list}, {"raf-roundel/c", "red.diameter", 3.0 / 8, list},
		{"raf-roundel/c1", "blue.diameter", 8.0 / 9, list}, {"raf-roundel/c1", "white.diameter", 4.0 / 9, list}, {"raf-roundel/c1", "red.diameter", 3.0 / 9, list},
		{"invasion-stripes/single-engine", "band-1.right", -27, "18 in: airandspace.si.edu/stories/editorial/stripes-d-day; 90 in over all"},
		{"invasion-stripes/single-engine", "band-5.right", 45, "the same"},
		{"invasion-stripes/twin-engine", "band-5.right", 60, "24 in: the same; 120 in over all"},
		{"french-roundel/thirds", "white.radius", 2.0 / 3, "1:2:3, measured on photographs: avionslegendaires.net, May 2016"},
		{"french-roundel/thirds", "blue.radius", 1.0 / 3, "the same"},
	} {
		rule, err := Find(c.rule)
		require.NoError(t, err)
		values, err := rule.Values(nil)
		require.NoError(t, err)
		found := false
		for _, v := range values {
			if v.Part+"."+v.Name == c.what {
				found = true
				assert.InDelta(t, c.want, v.Value, 1e-12, "%s %s (%s)", c.rule, c.what, c.source)
			}
		}
		assert.True(t, found, "%s has no %s", c.rule, c.what)
	}
}

// Swiss cross: arm 7 long on 6 wide, span 20 (bestref.net, Fahne und Wappen der
// Schweiz, citing WSchG annex 2).
func TestSwissCross(t *testing.T) {
	rule, err := Find("swiss-cross/disc")
	require.NoError(t, err)
	for _, pick := range []string{"as-on-the-flag", "three-quarters"} {
		v, err := rule.Values([]Pick{{"cross-size", pick}})
		require.NoError(t, err)
		span, width := v[1].Value, v[2].Value
		assert.InDelta(t, 7.0/6, (span-width)/2/width, 1e-12)
	}
}

// Order of the misprint: T.O. 07-1-1 of 25 April 1944 printed half a radius, T.O.
// 07-1-1A of 29 May 1944 corrected it (ourairports.biz/?p=6064).
func TestMisprintOfTheBars(t *testing.T) {
	for _, id := range []string{"an-i-9a/blue-border", "an-i-9b/star-and-bars"} {
		rule, err := Find(id)
		require.NoError(t, err)
		require.Len(t, rule.Errata, 1)
		e := rule.Errata[0]
		v, err := e.Printed.Eval(nil)
		require.NoError(t, err)
		assert.Equal(t, 0.5, v)
		assert.Equal(t, "bars.length", e.Part+"."+e.Number)
		assert.Equal(t, "T.O. 07-1-1 of 25 April 1944", e.PrintedIn)
		assert.Equal(t, "T.O. 07-1-1A of 29 May 1944", e.CorrectedBy)
	}
}

// Proportions of lettering that were read: 14 CFR 45.29(c) to (e) (FAA test
// supplement, yumpu.com/en/document/view/5680128); AMWO 501/1926 (30, 12, 6 and 4 in,
// rafweb.org); Canada, Air Regulations 1938 s. 16 (si.edu, NASM.2003.0033-B0000100-00280):
// the gap is half of the width.
func TestReadLettering(t *testing.T) {
	for _, c := range []struct {
		rule               string
		width, stroke, gap float64
	}{
		{"14-cfr-45/29", 2.0 / 3, 1.0 / 6, 1.0 / 4},
		{"amwo-501-1926/underwing", 12.0 / 30, 4.0 / 30, 6.0 / 12},
		{"canada-air-regulations-1938/16", 2.0 / 3, 1.0 / 6, 1.0 / 2},
	} {
		rule, err := Find(c.rule)
		require.NoError(t, err)
		for i, f := range []Formula{rule.Lettering.Width, rule.Lettering.Stroke, rule.Lettering.Gap} {
			v, err := f.Eval(nil)
			require.NoError(t, err)
			assert.InDelta(t, []float64{c.width, c.stroke, c.gap}[i], v, 1e-15, c.rule)
		}
	}
	rule, err := Find("amwo-501-1926/underwing")
	require.NoError(t, err)
	assert.Equal(t, []float64{30, 20}, rule.Offered(1000), "20 in: on the Gladiator")
}

// 41-7 is 1007 in the order's own example (paragraph 13a, ourairports.biz/?p=6083).
func TestCallNumber(t *testing.T) {
	for serial, want := range map[string]string{"41-7": "1007", "42-50123": "250123", "43-123": "3123", "44-12": "4012"} {
		got, err := CallNumber(serial)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for _, bad := range []string{"4250123", "1942-50123", "42-", "42-A12", ""} {
		_, err := CallNumber(bad)
		assert.ErrorContains(t, err, "like 42-50123", bad)
	}
}
