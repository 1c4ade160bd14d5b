package glyphs

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
	"pgregory.net/rapid"

	g "maskloft/geometry"
	_ "maskloft/geometry/trial"
)

func length(l g.Length) *g.Length { return &l }

// On the 6 x 4 grid 6 in high: 4 in a character, 1 in between, 4 in for a space.
func TestSetLines(t *testing.T) {
	a := block(t)
	letters, err := a.Set("HHH\nH H\nH", 6, SetOptions{Align: AlignRight, Leading: 8})
	require.NoError(t, err)
	require.InDelta(t, 14, float64(letters.Width), 1e-12)
	require.InDelta(t, 22, float64(letters.Height), 1e-12)
	require.InDelta(t, 1, float64(letters.Gap), 1e-12)
	want := []struct{ x, y g.Length }{{0, 16}, {5, 16}, {10, 16}, {2, 8}, {10, 8}, {10, 0}}
	require.Len(t, letters.Glyphs, len(want))
	for i, w := range want {
		require.InDelta(t, float64(w.x), float64(letters.Glyphs[i].X), 1e-12, i)
		require.InDelta(t, float64(w.y), float64(letters.Glyphs[i].Y), 1e-12, i)
	}
	require.Equal(t, 1, letters.Glyphs[4].Line)
	middle, err := a.Set("HHH\nH", 6, SetOptions{Align: AlignCentre})
	require.NoError(t, err)
	require.InDelta(t, 5, float64(middle.Glyphs[3].X), 1e-12)
	require.InDelta(t, 9, float64(middle.Glyphs[0].Y), 1e-12, "the usual leading is 1.5 heights")
	wide, err := a.Set(" H  H ", 6, SetOptions{})
	require.NoError(t, err)
	require.InDelta(t, 16, float64(wide.Width), 1e-12, "two spaces are twice one; those at the ends count nothing")

	for _, c := range []struct {
		text string
		o    SetOptions
		want string
	}{
		{"H\nH", SetOptions{Leading: 6}, "write leading: 6.08 in or more"},
		{"H\n ", SetOptions{}, "no character"},
		{"Hé?H", SetOptions{}, `nor can it set '?'`},
		{"H", SetOptions{Gap: length(0)}, "above 0"},
		{"H", SetOptions{Arc: &Arc{Radius: 9}, Align: AlignLeft}, "take out align"},
	} {
		_, err := a.Set(c.text, 6, c.o)
		require.ErrorContains(t, err, c.want)
	}
	_, err = a.Set("H", 0, SetOptions{})
	require.ErrorContains(t, err, "height")
}

// Fitting changes gaps and nothing else; what it says to type is accepted.
func TestFit(t *testing.T) {
	a := block(t)
	fit := func(text string, o SetOptions) (Lettering, error) { return a.Set(text, 6, o) }
	letters, err := fit("HHHH", SetOptions{Fit: 22}) // 19 in of its own
	require.NoError(t, err)
	require.InDelta(t, 22, float64(letters.Width), 1e-12)
	require.InDelta(t, 2, float64(letters.Gap), 1e-12)
	require.InDelta(t, 1, letters.Squeeze, 0)
	for _, p := range letters.Glyphs {
		require.InDelta(t, 4, float64(p.Width), 1e-12)
	}
	letters, err = fit("HHHH", SetOptions{Fit: 17.5}) // gaps of half their own, the least
	require.NoError(t, err)
	require.InDelta(t, 0.5, float64(letters.Gap), 1e-12)
	_, err = fit("HHHH", SetOptions{Fit: 17.4})
	require.ErrorContains(t, err, "write fit: 17.5 in or more, height: 5.96 in or less")
	for _, o := range []SetOptions{{Fit: 17.5}, {Fit: 17.4, Least: length(0.46)}, {Fit: 17.4, Squeeze: true}} {
		letters, err = fit("HHHH", o)
		require.NoError(t, err)
		require.InDelta(t, float64(o.Fit), letters.Outline().Bounds().Width(), 1e-9)
	}
	require.InDelta(t, 17.4/19, letters.Squeeze, 1e-12)
	require.InDelta(t, 4*17.4/19, float64(letters.Glyphs[0].Width), 1e-12)
	low, err := a.Set("HHHH", 5.96, SetOptions{Fit: 17.4})
	require.NoError(t, err)
	require.InDelta(t, 17.4, float64(low.Width), 1e-9)

	// a word space of 4 gaps takes 4 shares: 22 in with 2 gaps and a space become 28
	letters, err = fit("HH HH", SetOptions{Fit: 22 + 6})
	require.NoError(t, err)
	require.InDelta(t, 2, float64(letters.Gap), 1e-12)
	require.InDelta(t, 8, float64(letters.Glyphs[2].X-letters.Glyphs[1].X-letters.Glyphs[1].Width), 1e-12)

	// the widest line has the width; one gap serves all lines
	letters, err = fit("HHH\nHHHH", SetOptions{Fit: 25})
	require.NoError(t, err)
	require.InDelta(t, 3, float64(letters.Gap), 1e-12)
	require.InDelta(t, 7, float64(letters.Glyphs[1].X), 1e-12)
	letters, err = fit("H", SetOptions{Fit: 4})
	require.NoError(t, err)
	require.InDelta(t, 4, float64(letters.Width), 1e-12)
	_, err = fit("H", SetOptions{Fit: 9})
	require.ErrorContains(t, err, "take out fit")
	_, err = fit("H\nHH", SetOptions{Fit: 3})
	require.ErrorContains(t, err, "fit 3 in")
}

// On a circle of radius R a character whose middle stands s from the middle of
// the line is turned by s/R; its baseline touches the circle at its middle, whose
// place is R sin(s/R), R cos(s/R) from the centre.
func TestArc(t *testing.T) {
	a := block(t)
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(60, 400).Draw(t, "radius")
		reads := rapid.SampledFrom([]Reading{ReadsOver, ReadsUnder}).Draw(t, "reads")
		sign := map[Reading]float64{ReadsOver: 1, ReadsUnder: -1}[reads]
		plain, err := a.Set("H1H0\nHH", 6, SetOptions{Align: AlignCentre, Leading: 9})
		require.NoError(t, err)
		letters, err := a.Set("H1H0\nHH", 6, SetOptions{Leading: 9, Arc: &Arc{Radius: g.Length(radius), Reads: reads}})
		require.NoError(t, err)
		require.Equal(t, plain.Width, letters.Width)
		for i, p := range letters.Glyphs {
			q := plain.Glyphs[i]
			r := radius + sign*q.Y.Inches() // of its own line
			s := (q.X + q.Width/2 - plain.Width/2).Inches()
			middle := p.At(g.Point{X: p.Width.Inches() / 2})
			require.InDelta(t, letters.Width.Inches()/2+r*math.Sin(s/r), middle.X, 1e-9)
			require.InDelta(t, sign*(r*math.Cos(s/r)-radius), middle.Y, 1e-9)
			require.InDelta(t, -sign*s/r, p.Angle, 1e-12)
			top := p.At(g.Point{X: p.Width.Inches() / 2, Y: 6}) // square to the circle
			centre := g.Point{X: letters.Width.Inches() / 2, Y: -sign * radius}
			require.InDelta(t, r+sign*6, top.Dist(centre), 1e-9)
			require.InDelta(t, p.Outline.Area(), p.Placed().Area(), 1e-9)
		}
	})
	far, err := a.Set("KITTOCK", 6, SetOptions{Arc: &Arc{Radius: 1e7, Reads: ReadsUnder}})
	require.NoError(t, err)
	straight, err := a.Set("KITTOCK", 6, SetOptions{})
	require.NoError(t, err)
	for i, p := range far.Glyphs {
		require.InDelta(t, float64(straight.Glyphs[i].X), float64(p.X), 1e-4, "a wide arc is a straight line")
		require.InDelta(t, 0, float64(p.Y), 1e-4)
	}
	for _, c := range []struct {
		arc  Arc
		want string
	}{
		{Arc{Radius: 0}, "above 0"},
		{Arc{Radius: 5, Reads: ReadsUnder}, "would meet"},
		{Arc{Radius: 4, Reads: ReadsOver}, "more than once round"},
		{Arc{Radius: 9, Reads: ReadsUnder}, "run into each other"},
	} {
		_, err := a.Set("HHHHHHH", 6, SetOptions{Arc: &c.arc})
		require.ErrorContains(t, err, c.want)
	}
}

// A line of 62 characters in a font that is open: places, kerning and outlines.
func BenchmarkSet_font_62characters(b *testing.B) {
	f, err := ParseFont("Go-Regular.ttf", goregular.TTF)
	require.NoError(b, err)
	for b.Loop() {
		_, err := Set(f, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789", 12, SetOptions{})
		require.NoError(b, err)
	}
}
