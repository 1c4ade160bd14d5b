package glyphs

import (
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// gaps returns the clear spaces between the outlines of a line, left to right.
func gaps(letters Lettering) []float64 {
	var out []float64
	for i := 1; i < len(letters.Glyphs); i++ {
		p, q := letters.Glyphs[i-1], letters.Glyphs[i]
		out = append(out, q.X.Inches()+q.Outline.Bounds().Min.X-p.X.Inches()-p.Outline.Bounds().Max.X)
	}
	return out
}

// 14 CFR 45.29(c)-(e), read in a copy: characters two thirds as wide as high, but
// the figure 1, one sixth, and M and W, not wider than high; strokes one sixth of
// the height; spaces not less than a fourth of the width. Measured on the
// outlines of all characters of a registration mark (no I and no O), at 12 in.
func TestRegistrationMarks(t *testing.T) {
	for _, name := range []string{"cfr-45-29", "block-6x4"} {
		a, err := Load(name)
		require.NoError(t, err)
		const set = "NABCDEFGHJKLMNPQRSTUVWXYZ0123456789"
		for _, r := range set {
			glyph, err := a.Glyph(r, 12)
			require.NoError(t, err)
			q := Measure(glyph.Outline, r, 12)
			switch r {
			case '1':
				require.InDelta(t, 1.0/6, q.Width, 1e-4)
			case 'M', 'W':
				require.LessOrEqual(t, q.Width, 1+1e-4)
			default:
				require.InDelta(t, 2.0/3, q.Width, 1e-4, "%s: %c", name, r)
			}
			for _, s := range []float64{q.StrokeV, q.StrokeH} {
				if s > 0 {
					require.InDelta(t, 1.0/6, s, 0.001/12, "%s: stroke of %c", name, r)
				}
			}
			require.Positive(t, q.StrokeV+q.StrokeH+diagonal(r), "%s: %c has a stroke", name, r)
		}
		letters, err := a.Set(set, 12, SetOptions{})
		require.NoError(t, err)
		for _, gap := range gaps(letters) {
			require.GreaterOrEqual(t, gap, 12*2.0/3/4-1e-3, name)
		}
	}
}

// diagonal marks the characters that have neither an upright nor a bar.
func diagonal(r rune) float64 {
	if r == 'V' || r == 'W' || r == 'X' || r == '7' {
		return 1
	}
	return 0
}

// Air Ministry Weekly Order 501 of 1926, read in a copy: 2 ft 6 in high, 1 ft wide,
// gap 6 in, stroke 4 in. Measured on the outlines of a serial (invented).
func TestUnderwing1926(t *testing.T) {
	a, err := Load("raf-underwing-1926")
	require.NoError(t, err)
	const height = 30 * g.Inch
	letters, err := a.Set("ABCDEFGHJKLNOPRSTUVXYZ023456789", height, SetOptions{})
	require.NoError(t, err)
	for _, glyph := range letters.Glyphs {
		b := glyph.Outline.Bounds()
		require.InDelta(t, 30, b.Height(), 0.001, "%c", glyph.Rune)
		require.InDelta(t, 12, b.Width(), 0.001, "%c", glyph.Rune)
		q := Measure(glyph.Outline, glyph.Rune, height)
		for _, s := range []float64{q.StrokeV, q.StrokeH} {
			if s > 0 {
				require.InDelta(t, 4, s*30, 0.001, "%c", glyph.Rune)
			}
		}
	}
	for _, gap := range gaps(letters) {
		require.InDelta(t, 6, gap, 0.001)
	}
	// K1234 is 4 x 12 + 4 + 4 x 6 long
	letters, err = a.Set("K1234", height, SetOptions{})
	require.NoError(t, err)
	require.InDelta(t, 76, float64(letters.Width), 0.001)
}
