package export

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/geometry/skin"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
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

// Both panels colour the whole film, darker or lighter step by step inwards of contours
// that carry their level, and mark the peak; nothing leaves the sheet and no two texts touch.
func TestStrainMap(t *testing.T) {
	all := bulged(t).Laid
	for _, l := range all {
		full := views.StrainFull(all)
		s := StrainMap(l, full)
		require.NoError(t, s.Check())
		scale := mapLongest / math.Max(l.Field.Width(), l.Field.Height())
		for _, c := range []struct {
			name string
			part views.StrainPart
			flat g.Point
			of   func(skin.LocalStrain) float64
		}{
			{"squeezed", views.SqueezeAlone, l.Strain.CompressionFlat, func(e skin.LocalStrain) float64 { return -e.Least }},
			{"stretched", views.StretchAlone, l.Strain.TensionFlat, func(e skin.LocalStrain) float64 { return e.Most }},
		} {
			field := layerOf(t, s, c.name)
			box := field.Items[0].Path.Bounds()
			assert.InDelta(t, l.Field.Width()*scale, box.Width(), 1e-9)
			assert.InDelta(t, l.Field.Height()*scale, box.Height(), 1e-9)
			areas := views.StrainAreas(l, c.part, full, mapCap/scale)
			require.NotEmpty(t, areas)
			for k, a := range areas {
				drawn := field.Items[k+1]
				assert.Equal(t, a.Colour, drawn.Ink.Fill)
				assert.InDelta(t, a.Region.Area()*scale*scale, drawn.Path.Area(), 1e-6)
				if k > 0 {
					assert.Less(t, a.Region.Area(), areas[k-1].Region.Area(), "each within the one before")
				}
				// on the contour, off the film's edge, the strain is that of its level; it is
				// taken on cells, and the net's own cells are as large
				misses, seen := 0.0, 0.0
				for _, ring := range a.Region {
					for _, seg := range ring.Segments {
						if e, ok := l.Map.StrainAt(seg.End); ok && l.Field.Grown(-0.01).Contains(seg.End) {
							misses += math.Abs(c.of(e) - math.Abs(a.Level))
							seen++
						}
					}
				}
				if seen > 0 {
					assert.Less(t, misses/seen, 0.1*math.Max(l.Strain.Compression, l.Strain.Tension), "%s %g", c.name, a.Level)
				}
				for _, label := range a.Labels {
					assert.Equal(t, views.StrainPercent(a.Level), label.Text)
					assert.Less(t, g.Path(a.Region).Distance(label.Box.Centre(), 1e-4), label.Box.Width(), "the label stands at its contour")
				}
			}
			peak := g.Point{X: box.Min.X + (c.flat.X-l.Field.Min.X)*scale, Y: box.Min.Y + (c.flat.Y-l.Field.Min.Y)*scale}
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
				if it.Ink.Stroke == "" && it.Ink.Fill == sheet.InkText.Fill && len(it.Path) > 2 {
					texts = append(texts, b)
				}
			}
		}
		require.Greater(t, len(texts), 8)
		for i, a := range texts {
			for _, b := range texts[:i] {
				assert.False(t, sheet.Overlap(a, b), "%s: texts at %v and %v", l.ID(), a, b)
			}
		}
	}
}

// On a bulge the film is squeezed at its edges and stretched within.
func TestStrainAreasOfABulge(t *testing.T) {
	all := bulged(t).Laid
	l := all[0]
	for _, a := range views.StrainAreas(l, views.BothStrains, views.StrainFull(all), 0.5) {
		e, ok := l.Map.StrainAt(l.Field.Centre())
		require.True(t, ok)
		if math.Abs(a.Level-e.Most) > 0.1*l.Strain.Compression { // the film's peak
			assert.Equal(t, a.Level > 0 && a.Level < e.Most, a.Region.Contains(l.Field.Centre(), 1e-4), "%g at the middle, where it is %g", a.Level, e.Most)
		}
		if a.Level < 0 {
			assert.Less(t, a.Region.Distance(l.Strain.CompressionFlat, 1e-4), 1.0, "%g near the peak", a.Level)
		}
	}
	assert.Equal(t, "0.75 %", scalePercent(0.0075, 0.028))
	assert.Equal(t, "0.003 %", scalePercent(0.00003, 0.0001))
	assert.Equal(t, "-0.25 %", views.StrainPercent(-0.0025))
	assert.InDelta(t, 0.028, views.StrainFull([]masks.Laid{{Strain: skin.Strain{Tension: 0.0252}}}), 1e-12)
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
// (half a per cent, the bands' first limit) has no contour, and the ladder ends at 0.05 %.
func TestHarmlessStrainIsPale(t *testing.T) {
	l := masks.Laid{Strain: skin.Strain{Tension: 1e-6}}
	require.Empty(t, views.StrainAreas(l, views.BothStrains, 1, 1))
	require.InDelta(t, 0.0005, views.StrainFull([]masks.Laid{l}), 1e-12)
	require.Equal(t, "#8e9f99", views.StrainColour(0))
	require.Equal(t, "#10233d", views.StrainColour(-1))
	require.Equal(t, "#f8efc4", views.StrainColour(2))
}
