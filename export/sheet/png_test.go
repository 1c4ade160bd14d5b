package sheet

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// sheetOf is a sheet of one layer.
func sheetOf(width, height float64, items ...Item) Sheet {
	return Sheet{Title: "test", Width: width, Height: height, Layers: []Layer{{Name: "one", Items: items}}}
}

// inkOn returns the area that black items cover, in square inches.
func inkOn(img *image.RGBA, perInch float64) float64 {
	sum := 0.0
	for i := 0; i < len(img.Pix); i += 4 {
		sum += 255 - float64(img.Pix[i])
	}
	return sum / 255 / perInch / perInch
}

var (
	black     = Ink{Fill: "#000000"}
	inkTenths = Ink{Stroke: "#000000", Width: 0.1}
)

// Areas are those of Euclid and Archimedes; a picture holds them to the 1/255 of its
// edge pixels.
func TestDrawAreas(t *testing.T) {
	disc := g.Circle(g.Point{X: 2, Y: 2}, 1.5)
	hole := g.Circle(g.Point{X: 2, Y: 2}, 1)
	square := g.Rectangle(g.Rect{Min: g.Point{X: 1, Y: 1}, Max: g.Point{X: 3, Y: 3}})
	corner := g.Polyline(g.Point{X: 1, Y: 3}, g.Point{X: 1, Y: 1}, g.Point{X: 3, Y: 1})
	fine := g.MoveTo(g.Point{X: 3.5, Y: 2})
	for i := 1; i < 720; i++ {
		s, c := math.Sincos(float64(i) * math.Pi / 360)
		fine.LineTo(g.Point{X: 2 + 1.5*c, Y: 2 + 1.5*s})
	}
	for _, c := range []struct {
		name string
		item Item
		want float64
	}{
		{"disc", Item{Path: g.Path{disc}, Ink: black}, math.Pi * 2.25},
		{"ring, hole turned back", Item{Path: g.Path{disc, hole.Reversed()}, Ink: black}, math.Pi * 1.25},
		{"ring, both turned alike", Item{Path: g.Path{disc, hole}, Ink: black}, math.Pi * 1.25},
		{"island in the hole", Item{Path: g.Path{disc, hole, square.Map(func(p g.Point) g.Point { return g.Point{X: 1.5 + p.X/4, Y: 1.5 + p.Y/4} })}, Ink: black}, math.Pi*1.25 + 0.25},
		{"stroke of a circle", Item{Path: g.Path{disc}, Ink: inkTenths}, 2 * math.Pi * 1.5 * 0.1},
		{"stroke of a circle of 720 chords", Item{Path: g.Path{fine.Close()}, Ink: inkTenths}, 2 * math.Pi * 1.5 * 0.1},
		{"stroke of a square, corners mitred", Item{Path: g.Path{square}, Ink: inkTenths}, 2.1*2.1 - 1.9*1.9},
		{"stroke of a square, corners round", Item{Path: g.Path{square}, Ink: Ink{Stroke: "#000000", Width: 0.6, Round: true}}, 2.6*2.6 - 1.4*1.4 - (4-math.Pi)*0.3*0.3},
		{"stroke of a corner, ends square", Item{Path: g.Path{corner}, Ink: inkTenths}, 2*2*0.1 + 0.05*0.05 - 0.05*0.05},
		{"crossing lines", Item{Path: g.Path{g.Polyline(g.Point{X: 1, Y: 2}, g.Point{X: 3, Y: 2}), g.Polyline(g.Point{X: 2, Y: 1}, g.Point{X: 2, Y: 3})}, Ink: inkTenths}, 2*0.2 - 0.01},
		{"dashes", Item{Path: g.Path{g.Polyline(g.Point{X: 0.5, Y: 1}, g.Point{X: 3.5, Y: 1})}, Ink: Ink{Stroke: "#000000", Width: 0.1, Dash: []float64{0.3, 0.2}}}, 6 * 0.3 * 0.1},
		{"beyond the sheet", Item{Path: g.Path{square.Map(func(p g.Point) g.Point { return g.Point{X: p.X - 2, Y: p.Y + 2} })}, Ink: black}, 1},
	} {
		for _, perInch := range []float64{50, 96, 133.7} {
			require.InDelta(t, c.want, inkOn(Draw(sheetOf(4, 4, c.item), perInch), perInch), 0.003*c.want, "%s at %g", c.name, perInch)
		}
	}
}

// Corners on a grid of 1/256 pixel: every pixel is exact.
func TestDrawSharesOfPixels(t *testing.T) {
	r := g.Rectangle(g.Rect{Min: g.Point{X: 1.25, Y: 1.5}, Max: g.Point{X: 3.5, Y: 2.75}})
	img := Draw(sheetOf(4, 4, Item{Path: g.Path{r}, Ink: black}), 1)
	share := func(lo, hi, from float64) float64 { return math.Max(0, math.Min(hi, from+1)-math.Max(lo, from)) }
	for y := range 4 {
		for x := range 4 {
			want := share(1.25, 3.5, float64(x)) * share(4-2.75, 4-1.5, float64(y))
			require.Equal(t, uint8(255-math.Round(255*want)), img.RGBAAt(x, y).R, "%d %d", x, y)
		}
	}
}

// The referee takes 24 x 24 points of each pixel: a star with a star cut out of it, drawn
// after white regions that leave nothing behind.
func TestDrawAgainstPoints(t *testing.T) {
	const seed = 24
	rng := rand.New(rand.NewSource(seed))
	for range 20 {
		var pts, hole []g.Point
		n := 4 + rng.Intn(7) // no gap of half a turn: the middle lies inside
		for k := range n {
			s, c := math.Sincos(2 * math.Pi * (float64(k) + rng.Float64()*0.8) / float64(n))
			r := 3 + 6*rng.Float64()
			pts, hole = append(pts, g.Point{X: 10 + r*c, Y: 10 + r*s}), append(hole, g.Point{X: 10 + r*c/2, Y: 10 + r*s/2})
		}
		white := Ink{Fill: "#ffffff"}
		img := Draw(sheetOf(20, 20,
			Item{Path: g.Path{g.Polygon(g.Point{X: -3, Y: 2.3}, g.Point{X: 25, Y: -2}, g.Point{X: 19.6, Y: 24})}, Ink: white},
			Item{Path: g.Path{g.Polygon(hole...)}, Ink: white},
			Item{Path: g.Path{g.Polygon(pts...), g.Polygon(hole...).Reversed()}, Ink: black}), 1)
		for y := range 20 {
			for x := range 20 {
				in := 0
				for i := range 24 * 24 {
					if g.Inside(g.Point{X: float64(x) + (float64(i%24)+0.5)/24, Y: 20 - float64(y) - (float64(i/24)+0.5)/24}, pts, hole) {
						in++
					}
				}
				require.InDelta(t, float64(in)/24/24, 1-float64(img.RGBAAt(x, y).R)/255, 0.1, "seed %d", seed)
			}
		}
	}
}

func TestDrawLandsUnmirrored(t *testing.T) {
	img := Draw(sheetOf(4, 5, Item{Path: figureR(), Ink: Ink{Fill: "#102030"}}), 20)
	require.Equal(t, image.Rect(0, 0, 80, 100), img.Rect)
	at := func(x, y float64) color.RGBA { return img.RGBAAt(int(x*20), int((5-y)*20)) }
	ink, paper := color.RGBA{0x10, 0x20, 0x30, 0xff}, color.RGBA{0xff, 0xff, 0xff, 0xff}
	require.Equal(t, ink, at(1.25, 1.1), "the stem, at the foot")
	require.Equal(t, ink, at(2.7, 1.1), "the leg, at the foot")
	require.Equal(t, paper, at(2, 1.1), "between stem and leg, at the foot")
	require.Equal(t, ink, at(2, 3.8), "the head")
	require.Equal(t, paper, at(2, 3), "the eye")
}

// The file is read by the reader of the Go library, its size by the clause that
// gives it (PNG, third edition, 11.3.4.3: pixels to the metre).
func TestPNGFile(t *testing.T) {
	s := sampleSheet()
	var a, b bytes.Buffer
	require.NoError(t, WritePNG(&a, s, 120))
	require.NoError(t, WritePNG(&b, s, 120))
	require.Equal(t, a.Bytes(), b.Bytes())
	img, err := png.Decode(bytes.NewReader(a.Bytes()))
	require.NoError(t, err)
	want := Draw(s, 120)
	require.Equal(t, want.Rect, img.Bounds())
	for y := range want.Rect.Dy() {
		for x := range want.Rect.Dx() {
			require.Equal(t, want.RGBAAt(x, y), color.RGBAModel.Convert(img.At(x, y)))
		}
	}
	require.Contains(t, a.String(), "pHYs\x00\x00\x12\x74\x00\x00\x12\x74\x01", "120 / 0.0254 = 4724")
}

func TestPNGRefuses(t *testing.T) {
	require.ErrorContains(t, WritePNG(io.Discard, sampleSheet(), 0), "pixels to the inch")
	require.ErrorContains(t, WritePNG(io.Discard, sampleSheet(), math.NaN()), "pixels to the inch")
	require.ErrorContains(t, WritePNG(io.Discard, sampleSheet(), 5000), "million")
	require.ErrorContains(t, WritePNG(io.Discard, Sheet{Title: "x"}, 100), "size")
}

// A text is drawn as its outlines.
func TestDrawText(t *testing.T) {
	text := SetTitle.At("Roundel 0417", 0.2, 0.4, 0)
	paths := Item{Path: text.Outline(), Ink: text.Ink}
	require.Equal(t, Draw(sheetOf(4, 1, paths), 100).Pix, Draw(sheetOf(4, 1, text), 100).Pix)
	require.Greater(t, inkOn(Draw(sheetOf(4, 1, text), 100), 100), 0.05)
}

// A quarter of a black sheet over a grey picture: 200 + (0 - 200) / 4 = 150.
func TestDrawOver(t *testing.T) {
	under := image.NewRGBA(image.Rect(0, 0, 30, 30))
	for i := range under.Pix {
		under.Pix[i] = 200
		if i%4 == 3 {
			under.Pix[i] = 255
		}
	}
	square := g.Rectangle(g.Rect{Min: g.Point{X: 1, Y: 1}, Max: g.Point{X: 2, Y: 2}})
	s := sheetOf(3, 3, Item{Path: g.Path{square}, Ink: black}, Item{Path: g.Path{square}, Ink: black})
	DrawOver(under, s, 10, 0.25)
	require.InDelta(t, 150, int(under.RGBAAt(15, 15).R), 1, "both items are one sheet")
	require.Equal(t, color.RGBA{200, 200, 200, 255}, under.RGBAAt(5, 5))
	require.Equal(t, uint8(255), under.RGBAAt(15, 15).A)
	DrawOver(under, s, 10, 1)
	require.Equal(t, color.RGBA{0, 0, 0, 255}, under.RGBAAt(15, 15))
}

// 40 stations and waterlines, 300 labels' worth of letters, rings: about a side view.
func BenchmarkWritePNG_17x11in_100dpi(b *testing.B) {
	var items []Item
	for i := range 40 {
		x := 0.5 + 0.4*float64(i)
		items = append(items, Item{Path: g.Path{g.Polyline(g.Point{X: x, Y: 0.5}, g.Point{X: x, Y: 10.5})}, Ink: Ink{Stroke: "#c9d2d6", Width: 0.005}})
		items = append(items, SetBody.At("FS 168.25", x, 0.3, 0.5))
		items = append(items, Item{Path: g.Path{g.Circle(g.Point{X: 8.5, Y: 5.5}, 0.1*float64(i+1))}, Ink: Ink{Stroke: "#1a1a1a", Width: 0.02}})
	}
	s := sheetOf(17, 11, items...)
	for b.Loop() {
		require.NoError(b, WritePNG(io.Discard, s, 100))
	}
}
