package geometry

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Length
		want float64 // inches
	}{
		{"52 in", 0, 52},
		{"52in", 0, 52},
		{"52 inches", 0, 52},
		{"1 inch", 0, 1},
		{`52"`, 0, 52},
		{"52″", 0, 52},
		{"20-1/2 in", 0, 20.5},
		{"20 1/2 in", 0, 20.5},
		{"20 - 1/2 in", 0, 20.5},
		{"1/16 in", 0, 0.0625},
		{"3 / 4 in", 0, 0.75},
		{"7/4 in", 0, 1.75},
		{".5 in", 0, 0.5},
		{"12. in", 0, 12},
		{"5 ft", 0, 60},
		{"5 ft 3 1/4 in", 0, 63.25},
		{"5ft3in", 0, 63},
		{`5' 3"`, 0, 63},
		{`5' 3-1/2"`, 0, 63.5},
		{"1 foot 1 inch", 0, 13},
		{"2 feet", 0, 24},
		{"305 mm", 0, 305 / 25.4},
		{"25.4 mm", 0, 1},
		{"1 m", 0, 1000 / 25.4},
		{"1.5 m 2 cm 3 mm", 0, 1523 / 25.4},
		{"1 m 50 cm", 0, 1500 / 25.4},
		{"  7 in  ", 0, 7},
		{"-7 in", 0, -7},
		{"- 7 in", 0, -7},
		{"+7 in", 0, 7},
		{"-5 ft 6 in", 0, -66},
		{"0 in", 0, 0},
		{"52", Inch, 52},
		{"52", Millimetre, 52 / 25.4},
		{"20-1/2", Inch, 20.5},
		{"-3", Foot, -36},
		{"52 mm", Inch, 52 / 25.4}, // a unit outranks the bare one
	} {
		got, err := ParseLength(c.text, c.bare)
		require.NoError(t, err, c.text)
		require.InDelta(t, c.want, got.Inches(), 1e-12, c.text)
	}
}

func TestParseLengthErrors(t *testing.T) {
	for _, c := range []struct {
		text, says string
		bare       Length
	}{
		{"", "is not a length", Inch},
		{"   ", "is not a length", Inch},
		{"-", "is not a length", Inch},
		{"in", "is not a length", Inch},
		{"abc", "is not a length", Inch},
		{"--5 in", "is not a length", Inch},
		{"52", "52 in or 52 mm", 0},
		{"20-1/2", "has no unit", 0},
		{"5 furlongs", "unknown unit", 0},
		{"5 IN", "unknown unit", 0},
		{"5 in 3 ft", "larger unit comes first", 0},
		{"5 in 3 in", "larger unit comes first", 0},
		{"5 ft 3", "unknown unit", 0},
		{"5 ft 3", "unknown unit", Inch},
		{"1/0 in", "a fraction over zero", 0},
		{"2 3/2 in", "not below 1", 0},
		{"2 2/2 in", "not below 1", 0},
		{"1e3 in", "unknown unit", 0},
		{"5 in, 3 mm", "is not a length", 0},
		{"1.2.3 in", "unknown unit", 0},
		{strings.Repeat("9", 400) + " in", "is not a length", 0},
		{"NaN in", "is not a length", 0},
	} {
		_, err := ParseLength(c.text, c.bare)
		require.ErrorContains(t, err, c.says, "%q", c.text)
	}
}

func TestFraction(t *testing.T) {
	for _, c := range []struct {
		inches float64
		den    int
		want   string
	}{
		{50.7, 16, "50-11/16"},
		{50.6875, 16, "50-11/16"},
		{0, 16, "0"},
		{0.5, 16, "1/2"},
		{2, 16, "2"},
		{2.75, 16, "2-3/4"},
		{-2.75, 16, "-2-3/4"},
		{-0.25, 16, "-1/4"},
		{0.01, 16, "0"},
		{-0.01, 16, "0"},
		{0.99, 16, "1"},
		{12.984375, 64, "12-63/64"},
		// Midway goes to the even numerator.
		{1.0 / 32, 16, "0"},
		{3.0 / 32, 16, "1/8"},
		{5.0 / 32, 16, "1/8"},
		{7.0 / 32, 16, "1/4"},
		{-5.0 / 32, 16, "-1/8"},
		{1.5, 1, "2"},
		{2.5, 1, "2"},
	} {
		require.Equal(t, c.want, Length(c.inches).Fraction(c.den), "%v over %d", c.inches, c.den)
	}
}

func TestLengthText(t *testing.T) {
	require.Equal(t, "20.5 in", Length(20.5).String())
	require.Equal(t, "0 in", Length(math.Copysign(0, -1)).String())
	require.Equal(t, "0 in", Length(-1e-9).String())
	require.Equal(t, "-0.3333 in", Length(-1.0/3).String())
	require.Equal(t, "100", FormatNumber(100, 0))
	require.Equal(t, "100", FormatNumber(100, 3))
	require.InDelta(t, 25.4, Inch.Millimetres(), 1e-15)
	require.InDelta(t, 12, (12 * Inch).Inches(), 0)
	require.InDelta(t, 1, (Millimetre * 1000 / Metre).Inches(), 1e-15)
	require.InDelta(t, 10, float64(Centimetre/Millimetre), 1e-14)
}

// FuzzParseLength wants every answer finite, and equal when its own text is
// read again, and every error to quote the text.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{
		"52 in", "20-1/2 in", "5 ft 3 1/4 in", `5' 3"`, "305 mm", "1.5 m 2 cm", "-7 in", "+ 7", "52", "",
		"1/0 in", "2 3/2 in", "1e9 in", "9999999999999999999999 ft", "5 in 3 ft", "½ in", "5′3″", ". in", "-/ in", "0/1 in", "1 1/2", "\x00", "5 5/8\"",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLength(s, Inch)
		if err != nil {
			if msg := err.Error(); msg == "" || msg[0] >= 'A' && msg[0] <= 'Z' {
				t.Fatalf("%q: message %q", s, msg)
			}
			return
		}
		if v := l.Inches(); math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%q: %v", s, v)
		}
		if again, err := ParseLength(s, Inch); err != nil || again != l {
			t.Fatalf("%q: %v, then %v (%v)", s, l, again, err)
		}
		if v := math.Abs(l.Inches()); v < 1e9 {
			again, err := ParseLength(l.String(), 0)
			if err != nil || math.Abs(float64(again-l)) > 5.1e-5 {
				t.Fatalf("%q: %s reads as %v (%v)", s, l, again, err)
			}
			again, err = ParseLength(l.Fraction(64)+" in", 0)
			if err != nil || math.Abs(float64(again-l)) > 1.0/128+1e-9 {
				t.Fatalf("%q: %s reads as %v (%v)", s, l.Fraction(64), again, err)
			}
		}
	})
}
