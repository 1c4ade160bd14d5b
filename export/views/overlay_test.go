package views

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// viewFrom is the demo, or another layout, as an invented camera sees it.
func viewFrom(t testing.TB, l *layouts.Layout, c camera.Camera) layouts.PhotoView {
	t.Helper()
	skins, err := l.Airframe.Skins()
	require.NoError(t, err)
	cov := make([][]float64, 6)
	for i := range cov {
		cov[i] = make([]float64, 6)
		cov[i][i] = 1e-6
	}
	return layouts.PhotoView{Photo: layouts.PhotoSpec{ID: "test", Side: g.Left, PlusMinus: 1}, Skins: skins, Fit: &camera.Fit{Camera: c, Covariance: cov, Suspect: -1}}
}

// TestOverlay looks at the demo from its left and from its right, square to it: a
// marking of the near side alone is drawn, where similar triangles put it, and as
// large: the anchor of the insignia lies 400 in off, so that an inch is 5 pixels.
func TestOverlay(t *testing.T) {
	l, laid := demoLaid(t)
	for _, side := range []g.Side{g.Left, g.Right} {
		var one masks.Laid
		for _, x := range laid {
			if x.Placement.Marking.ID == "insignia" && x.Placement.Side == side {
				one = x
			}
		}
		anchor := one.Placement.Anchor
		eye := anchor
		eye.BL += g.ButtLine(400 * side.Sign())
		c := camera.Camera{ // it looks square at the side
			At: eye, Right: g.Vec3{X: -side.Sign()}, Down: g.Vec3{Z: -1}, Ahead: g.Vec3{Y: -side.Sign()},
			Focal: 2000, Principal: g.Point{X: 599.5, Y: 399.5},
		}
		v := viewFrom(t, l, c)
		v.Photo.Side = side
		s := Overlay(l, laid, v, 1200, 800)
		require.NoError(t, s.Check())
		var got g.Rect
		drawn := ""
		for _, it := range s.Layers[0].Items {
			drawn += " " + it.ID
			if it.ID == one.ID()+"-1" || it.ID == one.ID()+"-2" || it.ID == one.ID()+"-3" {
				if b := it.Path.Bounds(); b.Width() > got.Width() {
					got = b
				}
			}
		}
		assert.NotContains(t, drawn, "-"+side.Other().String()+"-", "the far side is hidden")
		// a disc of 20 in, seen at 5 px to the inch
		assert.InDelta(t, 100, got.Width()*overlayDPI, 1, "the skin leans away from the plane by a few degrees")
		assert.InDelta(t, 6.25, got.Centre().X, 0.01, "the middle of the picture, 600 px at 96 to the inch")
		assert.InDelta(t, 100, got.Height()*overlayDPI, 3)
		// nose: to the left as seen from the left
		fin, ok := overlay{l: l, v: v, width: 1200, height: 800}.at(g.Vec3{X: 240, Y: 0.8 * side.Sign(), Z: 90})
		require.True(t, ok)
		assert.Equal(t, side == g.Left, fin.X > 6.25)
		assert.Greater(t, fin.Y, 400.0/overlayDPI, "up is up")
	}
}

// TestVisiblePart cuts a square by a circle: the part is a disc, whose area is pi r^2
// but for chords of a cell: short of it by the share (h/r)^2/6 or less.
func TestVisiblePart(t *testing.T) {
	box := g.Rect{Min: g.Point{X: -3, Y: -3}, Max: g.Point{X: 3, Y: 3}}
	part, all := visiblePart(box, func(p g.Point) bool { return math.Hypot(p.X, p.Y) < 2 })
	assert.False(t, all)
	require.Len(t, part, 1)
	assert.InEpsilon(t, 4*math.Pi, part.Area(), 2e-3)
	part, _ = visiblePart(box, func(p g.Point) bool { r := math.Hypot(p.X, p.Y); return r > 1 })
	assert.InEpsilon(t, 36-math.Pi, part.Area(), 2e-3, "a hole, and the border of the box")
	_, all = visiblePart(box, func(g.Point) bool { return true })
	assert.True(t, all)
	part, all = visiblePart(box, func(g.Point) bool { return false })
	assert.False(t, all)
	assert.Empty(t, part)
}

// TestLabelling: labels of points close together lie on no other label and no point.
func TestLabelling(t *testing.T) {
	l := &labelling{sheet: g.Rect{Max: g.Point{X: 10, Y: 8}}}
	points := []g.Point{{X: 5, Y: 4}, {X: 5.1, Y: 4.05}, {X: 4.9, Y: 3.9}, {X: 9.9, Y: 7.9}, {X: 0.1, Y: 0.1}}
	for _, p := range points {
		l.keepClear(g.Rect{Min: p, Max: p}.Grown(0.07))
	}
	for _, p := range points {
		l.put("12 P4, right", p, 0.07, 0.12, sheet.InkTextPoint)
	}
	boxes := l.taken[len(points):]
	for i, a := range boxes {
		assert.True(t, a.Min.X > 0 && a.Max.X < 10 && a.Min.Y > 0 && a.Max.Y < 8)
		for _, b := range l.taken[:len(points)+i] {
			assert.Zero(t, overlapArea(a, b))
		}
	}
}

// TestWriteOverlay: strength 0 leaves the picture as it was, 1 covers it with paint,
// and a half of it mixes half of both.
func TestWriteOverlay(t *testing.T) {
	photo := image.NewGray(image.Rect(0, 0, 96, 96))
	for i := range photo.Pix {
		photo.Pix[i] = 100
	}
	square := g.Rectangle(g.Rect{Max: g.Point{X: 0.5, Y: 1}})
	s := sheet.Sheet{Title: "t", Width: 1, Height: 1, Layers: []sheet.Layer{{Name: overlayPaint, Items: []sheet.Item{{Path: g.Path{square}, Ink: sheet.Ink{Fill: "#ff0000"}}}}}}
	for strength, want := range map[float64]color.RGBA{0: {100, 100, 100, 255}, 0.5: {178, 50, 50, 255}, 1: {255, 0, 0, 255}} {
		var b bytes.Buffer
		require.NoError(t, WriteOverlay(&b, photo, s, strength))
		img, err := png.Decode(bytes.NewReader(b.Bytes()))
		require.NoError(t, err)
		got := color.RGBAModel.Convert(img.At(20, 50)).(color.RGBA)
		for _, d := range []int{int(got.R) - int(want.R), int(got.G) - int(want.G), int(got.B) - int(want.B)} {
			assert.InDelta(t, 0, d, 1, "strength %g: %v", strength, got)
		}
		assert.Equal(t, color.RGBA{100, 100, 100, 255}, color.RGBAModel.Convert(img.At(70, 50)))
	}
}

// TestReadPicture refuses what is no picture, and one whose head claims more pixels
// than there is room for.
func TestReadPicture(t *testing.T) {
	_, err := ReadPicture([]byte("GIF89a"))
	assert.ErrorContains(t, err, "neither a PNG nor a JPEG")
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, image.NewGray(image.Rect(0, 0, 3, 2))))
	img, err := ReadPicture(b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, 3, img.Bounds().Dx())
	_, err = ReadPicture(b.Bytes()[:30])
	assert.ErrorContains(t, err, "damaged")
	_, err = ReadPicture([]byte("\xff\xd8\xff" + strings.Repeat("x", 9)))
	assert.ErrorContains(t, err, "damaged")
	var huge bytes.Buffer
	huge.WriteString("\x89PNG\r\n\x1a\n")
	sheet.PngChunk(&huge, "IHDR", []byte{0, 0, 0xff, 0xff, 0, 0, 0xff, 0xff, 8, 2, 0, 0, 0})
	_, err = ReadPicture(huge.Bytes())
	assert.ErrorContains(t, err, "more than 40 million")
}

// TestReadPicture_turned: a JPEG that some programs turn and some do not is refused,
// whichever way its numbers run; one that says it stands upright is not.
func TestReadPicture_turned(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil))
	with := func(tiff string) []byte {
		segment := "Exif\x00\x00" + tiff
		head := []byte{0xff, 0xd8, 0xff, 0xe1, 0, byte(len(segment) + 2)}
		return append(append(head, segment...), b.Bytes()[2:]...)
	}
	little := "II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00\x00\x00\x00\x00"
	big := "MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x03\x00\x00\x00\x00\x00\x00"
	for tiff, says := range map[string]string{little: "Exif orientation 6", big: "Exif orientation 3"} {
		_, err := ReadPicture(with(tiff))
		assert.ErrorContains(t, err, says)
	}
	for _, tiff := range []string{strings.Replace(little, "\x06", "\x01", 1), "II*", "MM\x00*\xff\xff\xff\xff", little[:15], "II*\x00\x08\x00\x00\x00\xff\xff"} {
		_, err := ReadPicture(with(tiff))
		assert.NoError(t, err, "%q", tiff)
	}
	_, err := ReadPicture(b.Bytes())
	assert.NoError(t, err)
}
