package export

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/worked"
)

// bulged lays a disc and two letters on a barrel of radii 20 and 40 in.
func bulged(t testing.TB) worked.Work {
	t.Helper()
	text := `
name: bulge
units: in
aircraft:
  name: bulge
  datum: FS 0 is the waist, positive aft; WL 0 is the axis, positive up
  surfaces:
    - id: body
      kind: faired
      along: natural
      sections:
`
	for fs := -28.0; fs <= 28; fs += 4 {
		text += fmt.Sprintf("        - {fs: %g, circle: {radius: %.6f, wl: 0}}\n", fs, math.Sqrt(1600-fs*fs)-20)
	}
	text += `
markings:
  - id: disc
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: body, side: left, fs: 0, wl: 0}
  - id: code
    figure: {text: K4, alphabet: block-6x4, height: 9}
    where: {surface: body, side: right, fs: 2, wl: 2}
    colours: {text: red}
paint: {order: [red], colours: {red: {hex: "#9b0a18"}}}
`
	return worked.Worked(t, "bulged", worked.LayoutOf(t, text))
}

func layerOf(t testing.TB, s sheet.Sheet, name string) sheet.Layer {
	t.Helper()
	for _, l := range s.Layers {
		if l.Name == name {
			return l
		}
	}
	require.FailNow(t, "no layer "+name)
	return sheet.Layer{}
}

// Both panels colour the whole film once, darkest where the peak is, and mark
// the peak; nothing leaves the sheet and no two texts touch.
func TestStrainMap(t *testing.T) {
	all := bulged(t).Laid
	for _, l := range all {
		s := StrainMap(l)
		require.NoError(t, s.Check())
		scale := mapLongest / math.Max(l.Field.Width(), l.Field.Height())
		for _, c := range []struct {
			name string
			ramp ramp
			flat g.Point
		}{{"squeezed", rampSqueezed, l.Strain.CompressionFlat}, {"stretched", rampStretched, l.Strain.TensionFlat}} {
			field := layerOf(t, s, c.name)
			area := 0.0
			var all g.Path
			for _, it := range field.Items {
				area += it.Path.Area()
				all = append(all, it.Path...)
			}
			box := all.Bounds()
			assert.InDelta(t, l.Field.Width()*scale, box.Width(), 1e-9)
			assert.InDelta(t, l.Field.Height()*scale, box.Height(), 1e-9)
			assert.InDelta(t, box.Width()*box.Height(), area, 1e-6, "each place once")
			peak := g.Point{X: box.Min.X + (c.flat.X-l.Field.Min.X)*scale, Y: box.Min.Y + (c.flat.Y-l.Field.Min.Y)*scale}
			darkest := field.Items[len(field.Items)-1]
			assert.Less(t, darkest.Path.Distance(peak, 1e-4), 0.2, "%s %s: the darkest colour is at the peak", l.ID(), c.name)
			ringed := false
			for _, it := range layerOf(t, s, c.name+", outlines").Items {
				ringed = ringed || len(it.Path) == 2 && it.Path.Bounds().Centre().Dist(peak) < 1e-6
			}
			assert.True(t, ringed, "%s %s: a ring at the peak", l.ID(), c.name)
		}
		var texts []g.Rect
		for _, layer := range s.Layers {
			for _, it := range layer.Items {
				b := it.Path.Bounds()
				assert.True(t, b.Min.X > 0.3 && b.Min.Y > 0.3 && b.Max.X < s.Width-0.3 && b.Max.Y < s.Height-0.3, "%s: %v", layer.Name, b)
				if it.Ink.Stroke == "" && len(it.Path) > 2 {
					texts = append(texts, b)
				}
			}
		}
		require.Greater(t, len(texts), 25)
		for i, a := range texts {
			for _, b := range texts[:i] {
				assert.False(t, sheet.Overlap(a, b), "%s: texts at %v and %v", l.ID(), a, b)
			}
		}
	}
}

// On a bulge the film is squeezed at its edges and stretched within: the colours
// say so, step by step of the legend.
func TestStrainMapColours(t *testing.T) {
	all := bulged(t).Laid
	l := all[0]
	s := StrainMap(l)
	squeezed := layerOf(t, s, "squeezed")
	mid := squeezed.Items[0].Path
	for _, it := range squeezed.Items[1:] {
		mid = append(mid, it.Path...)
	}
	centre := mid.Bounds().Centre()
	at := func(layer sheet.Layer, q g.Point) string {
		for _, it := range layer.Items {
			for _, c := range it.Path {
				if c.Bounds().Contains(q) {
					return it.Ink.Fill
				}
			}
		}
		return ""
	}
	top := g.Point{X: centre.X + 0.01, Y: mid.Bounds().Max.Y - 0.01}
	assert.Equal(t, rampSqueezed.at(0), at(squeezed, centre.Add(g.Vec{X: 0.01, Y: 0.01})))
	assert.Equal(t, squeezed.Items[len(squeezed.Items)-1].Ink.Fill, at(squeezed, top))
	p := strainPanel{peak: 0.0252}
	assert.InDelta(t, 0.028, p.full(), 1e-12)
	for e, want := range map[float64]int{-0.01: 0, 0: 0, 0.0034: 0, 0.0036: 1, 0.0252: 7, 0.028: 7, 0.5: 7} {
		assert.Equal(t, want, p.step(e), "%v", e)
	}
	assert.Equal(t, "0.75 %", scalePercent(0.0075, 0.028))
	assert.Equal(t, "0.003 %", scalePercent(0.00003, 0.0001))
}

// Relief slits are drawn on the cut sheets in a layer of their own, each part in
// its tile; a marking without slits has no such layer.
func TestSlitsOnCutSheets(t *testing.T) {
	w := bulged(t)
	laid, tilings := w.Laid, w.Tilings
	require.NotEmpty(t, laid[0].Slits)
	require.Empty(t, laid[1].Slits)
	for k, tiling := range tilings {
		drawn, want := 0.0, 0.0
		for _, s := range laid[k].Slits {
			want += s.Length.Inches()
		}
		tiles, err := tiling.Tiles(tiling.Laid.Masks[0])
		require.NoError(t, err)
		for _, tile := range tiles {
			sheet := ProofSheet(tiling, tiling.Laid.Masks[0], tile, layouts.CutMarks)
			require.NoError(t, sheet.Check())
			names := []string{}
			for _, layer := range sheet.Layers {
				names = append(names, layer.Name)
			}
			assert.Equal(t, len(laid[k].Slits) > 0, strings.Contains(strings.Join(names, "|"), LayerSlits))
			if len(laid[k].Slits) == 0 {
				continue
			}
			film := tile.Film.Moved(g.Vec{X: sheetMargin - tile.Cell.Rect.Min.X, Y: sheetMargin - tile.Cell.Rect.Min.Y})
			for _, it := range layerOf(t, sheet, LayerSlits).Items {
				for _, c := range it.Path {
					drawn += c.Length()
					assert.True(t, film.Contains(c.At(0, 0.5), 1e-4), "%s lies in film", it.ID)
				}
			}
		}
		assert.InDelta(t, want, drawn, 1e-6)
	}
}

// A strain that nobody can feel is drawn pale: a thousandth of what the film bears cold
// (half a per cent, the bands' first limit).
func TestHarmlessStrainIsPale(t *testing.T) {
	p := strainPanel{peak: 1e-6}
	require.Equal(t, 0, p.step(1e-6))
	require.Equal(t, "0.05 %", scalePercent(p.full(), p.full()))
	p.peak = 0.003
	require.GreaterOrEqual(t, p.step(0.003), mapSteps-2)
}
