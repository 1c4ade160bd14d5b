package audit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// sentStar is the first lesson's cut file, as it was sent.
func sentStar(t testing.TB) drawing.Drawing {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "foreign", "star-packed.pdf"))
	require.NoError(t, err)
	d, err := drawing.ReadForeign(data, drawing.PDF)
	require.NoError(t, err)
	return d.Pages[0]
}

// changed returns the drawing with every contour carried through f.
func changed(d drawing.Drawing, f func(layer string, i int, c g.Contour) (g.Contour, bool)) drawing.Drawing {
	out := drawing.Drawing{Width: d.Width, Height: d.Height}
	for _, l := range d.Layers {
		nl := drawing.DrawnLayer{Name: "shop"}
		for i, c := range l.Path() {
			if k, ok := f(l.Name, i, c); ok {
				nl.Items = append(nl.Items, drawing.DrawnItem{Path: g.Path{k}})
			}
		}
		out.Layers = append(out.Layers, nl)
	}
	return out
}

func mappedBy(m g.Affine) func(string, int, g.Contour) (g.Contour, bool) {
	return func(_ string, _ int, c g.Contour) (g.Contour, bool) { return c.Map(m.Apply), true }
}

func kinds(r Returned) []string {
	out := []string{}
	for _, f := range r.Faults {
		out = append(out, f.Kind)
	}
	return out
}

func TestReturnedUnchanged(t *testing.T) {
	sent := sentStar(t)
	for _, m := range []g.Affine{g.Identity, {1, 0, 0, 1, 17.2, -3}} {
		r, err := CompareReturned(sent, changed(sent, mappedBy(m)), drawing.PDF)
		require.NoError(t, err)
		require.Empty(t, r.Faults)
		require.InDelta(t, 1, r.Along, 1e-9)
		require.Equal(t, 4, r.Matched)
	}
}

// Every row of the table of factors that the ticket prints, and what is not in it.
func TestReturnedSizesNameTheirCause(t *testing.T) {
	sent := sentStar(t)
	for _, c := range Causes {
		r, err := CompareReturned(sent, changed(sent, mappedBy(g.Affine{c.Factor, 0, 0, c.Factor, 1, 2})), drawing.PDF)
		require.NoError(t, err)
		require.Equal(t, []string{"size"}, kinds(r))
		require.Contains(t, r.Faults[0].Message, c.Text)
		require.InEpsilon(t, c.Factor, r.Along, 1e-6)
	}
	for _, c := range []struct {
		x, y float64
		want string
	}{
		{1, 0.994, "feed calibration"}, {0.2, 0.2, "user unit"}, {1.2, 1, "scaled apart"}, {0.97, 0.97, "no known cause"},
	} {
		r, err := CompareReturned(sent, changed(sent, mappedBy(g.Affine{c.x, 0, 0, c.y, 0, 0})), drawing.PDF)
		require.NoError(t, err)
		require.Equal(t, []string{"size"}, kinds(r), "%v", c)
		require.Contains(t, r.Faults[0].Message, c.want)
		require.InEpsilon(t, c.x, r.Along, 1e-4)
		require.InEpsilon(t, c.y, r.Up, 1e-5)
	}
}

// What a bar of 10 in measures after each mistake, by arithmetic of the densities that
// programs assume (96 px, 72 pt and 90 px to the inch), of Letter paper printed to fit
// with margins of 1/4 in, and of 25.4 mm to the inch; and what the audit then says.
func TestReturnedBarsNameTheirCause(t *testing.T) {
	sent := sentStar(t)
	for _, c := range []struct {
		along, up float64 // inches that the bar measures
		says, do  string
	}{
		{7.5, 7.5, "a 72-per-inch file read at 96", "133.33 %"}, {13.333, 13.333, "a 96-per-inch file read at 72", "75 %"},
		{9.375, 9.375, "a 90-per-inch file read at 96", "106.67 %"}, {10.667, 10.667, "a 96-per-inch file read at 90", "93.75 %"},
		{8, 8, "a 72-per-inch file read at 90", "125 %"}, {12.5, 12.5, "a 90-per-inch file read at 72", "80 %"},
		{9.41, 9.41, "fit to page", "100 percent"}, {254, 254, "millimetres taken for inches", "unit"}, {0.3937, 0.3937, "inches taken for millimetres", "unit"},
		{1, 1, "user unit of a PDF ignored", "tiles"}, {10, 9.92, "feed calibration", "calibrate"},
	} {
		r, err := CompareReturned(sent, changed(sent, mappedBy(g.Affine{c.along / 10, 0, 0, c.up / 10, 1, 2})), drawing.PDF)
		require.NoError(t, err)
		require.Equal(t, []string{"size"}, kinds(r), "%v", c)
		require.Contains(t, r.Faults[0].Message, c.says)
		require.Contains(t, r.Faults[0].Hint, c.do)
	}
}

func TestReturnedMirrorAndTurn(t *testing.T) {
	sent := sentStar(t)
	r, err := CompareReturned(sent, changed(sent, mappedBy(g.Affine{-1, 0, 0, 1, 50, 0})), drawing.PDF)
	require.NoError(t, err)
	require.Equal(t, []string{"mirror"}, kinds(r))
	r, err = CompareReturned(sent, changed(sent, mappedBy(g.Affine{0, 1, -1, 0, 50, 0})), drawing.PDF)
	require.NoError(t, err)
	require.Equal(t, []string{"turn"}, kinds(r))
	require.InDelta(t, 90, r.Turned, 1e-6)
	r, err = CompareReturned(sent, changed(sent, mappedBy(g.Affine{-1, 0, 0, -1, 0, 0})), drawing.PDF)
	require.NoError(t, err)
	require.Equal(t, []string{"turn"}, kinds(r), "half a turn is no mirror image")
	sin, cos := math.Sincos(7 * math.Pi / 180)
	r, err = CompareReturned(sent, changed(sent, mappedBy(g.Affine{cos * 0.75, sin * 0.75, -sin * 0.75, cos * 0.75, 0, 0})), drawing.PDF)
	require.NoError(t, err)
	require.Equal(t, []string{"size", "turn"}, kinds(r))
	require.InDelta(t, 7, r.Turned, 1e-6)
}

// A dropped piece, an added one, one cut twice, and one simplified by 0.02 in.
func TestReturnedPieces(t *testing.T) {
	sent := sentStar(t)
	drop := changed(sent, func(layer string, i int, c g.Contour) (g.Contour, bool) {
		return c, !(layer == sheet.LayerCut && i == 1)
	})
	r, err := CompareReturned(sent, drop, drawing.PDF)
	require.NoError(t, err)
	require.Equal(t, []string{"missing"}, kinds(r))
	require.Contains(t, r.Faults[0].Message, "19.02 x 18.09 in") // the star: 2 R cos 18 wide, R (1 + cos 36) high
	require.Contains(t, r.Faults[0].In(g.ReadMillimetres), "483.1 x 459.5 mm")

	more := changed(sent, func(_ string, _ int, c g.Contour) (g.Contour, bool) { return c, true })
	more.Layers[0].Items = append(more.Layers[0].Items,
		drawing.DrawnItem{Path: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: 1, Y: 1}, Max: g.Point{X: 3, Y: 2}})}}, more.Layers[0].Items[1])
	r, err = CompareReturned(sent, more, drawing.PDF)
	require.NoError(t, err)
	require.ElementsMatch(t, []string{"extra", "double"}, kinds(r))

	simple := changed(sent, func(layer string, i int, c g.Contour) (g.Contour, bool) {
		if layer != sheet.LayerCut || i != 2 {
			return c, true
		}
		p := c.Flattened(0.02) // chords that leave the curve by up to 0.02 in
		return g.Polygon(p...), true
	})
	r, err = CompareReturned(sent, simple, drawing.PDF)
	require.NoError(t, err)
	require.Equal(t, []string{"shape"}, kinds(r))
	require.InDelta(t, 0.015, r.Deviation, 0.0065)
	_, err = CompareReturned(sent, drawing.Drawing{}, drawing.PDF)
	require.ErrorContains(t, err, "no closed outline")
	_, err = CompareReturned(sent, drawing.Drawing{Layers: []drawing.DrawnLayer{{Items: []drawing.DrawnItem{{Path: g.Path{g.Circle(g.Point{}, 3)}}}}}}, drawing.PDF)
	require.ErrorContains(t, err, "nothing in it resembles")
}

// Any size, turn, mirror and rounding together are told apart (seed printed).
func TestReturnedAtRandom(t *testing.T) {
	sent := sentStar(t)
	seed := uint64(20261125)
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	for n := range 25 {
		size, turn, mirror := math.Exp(4*r.Float64()-2), 2*math.Pi*r.Float64(), float64(1-2*r.IntN(2))
		sin, cos := math.Sincos(turn)
		m := g.Affine{size * cos * mirror, size * sin * mirror, -size * sin, size * cos, 100 * r.Float64(), -50}
		got, err := CompareReturned(sent, changed(sent, mappedBy(m)), drawing.PDF)
		require.NoError(t, err)
		require.Equal(t, mirror < 0, got.Mirrored, "case %d", n)
		require.InEpsilon(t, size, got.Along, 1e-5)
		require.InEpsilon(t, size, got.Up, 1e-5)
		require.InDelta(t, 0, math.Remainder(got.Turned-turn*180/math.Pi, 360), 1e-4, fmt.Sprint(n))
		require.Less(t, got.Deviation, 5e-4, "chords of the comparison")
	}
}

// The files that other programs wrote of it are the file that was sent.
func TestReturnedFromOtherPrograms(t *testing.T) {
	sent := sentStar(t)
	for name, want := range map[string][]string{"star-linear.pdf": {}, "star-cairo.pdf": {}, "star-cairo.svg": {}, "star-turned.pdf": {"turn"}} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "foreign", name))
		require.NoError(t, err)
		f, err := drawing.ReadForeign(data, drawing.Format(filepath.Ext(name)[1:]))
		require.NoError(t, err)
		r, err := CompareReturned(sent, f.Pages[0], drawing.PDF)
		require.NoError(t, err)
		require.Equal(t, want, kinds(r), "%s: %+v", name, r.Faults)
	}
}

func BenchmarkCompareReturned_star_tol0p005(b *testing.B) {
	sent := sentStar(b)
	got := changed(sent, mappedBy(g.Affine{0, 0.75, -0.75, 0, 3, 4}))
	for b.Loop() {
		if _, err := CompareReturned(sent, got, drawing.PDF); err != nil {
			b.Fatal(err)
		}
	}
}
