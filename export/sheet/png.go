package sheet

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"io"
	"math"
	"strconv"

	g "maskloft/geometry"
)

// mostPixels bounds a picture; more would not fit the memory of a small machine.
const mostPixels = 100e6

// Draw returns the sheet on white at so many pixels to the inch, its upper left corner
// at the picture's. A pixel at the right and lower edge may lie in part beyond the
// sheet. Lines and regions are drawn to 1/256 pixel, edges in the share of the pixel
// that they cover. The sheet is not checked: what cannot be drawn is left out.
func Draw(s Sheet, perInch float64) *image.RGBA {
	img := image.NewRGBA(pixelsOf(s, perInch))
	img.Pix[0] = 0xff
	for done := 1; done < len(img.Pix); done *= 2 {
		copy(img.Pix[done:], img.Pix[:done])
	}
	draw(img, s, perInch)
	return img
}

// DrawOver draws the sheet over a picture, its upper left corner at the picture's, at
// so many pixels to the inch; what lies beyond the picture is left out. Strength is
// the share of the sheet that is seen, 0 to 1, where it draws anything; where it draws
// nothing the picture stays.
func DrawOver(dst *image.RGBA, s Sheet, perInch, strength float64) {
	layer := image.NewRGBA(dst.Rect)
	draw(layer, s, perInch)
	k := uint32(math.Round(255 * max(0, min(1, strength))))
	for y := 0; y < dst.Rect.Dy(); y++ {
		over, under := layer.Pix[y*layer.Stride:], dst.Pix[y*dst.Stride:]
		for x := 0; x < 4*dst.Rect.Dx(); x += 4 {
			if a := uint32(over[x+3]) * k; a > 0 {
				for c := x; c < x+4; c++ {
					under[c] = uint8((uint32(under[c])*(255*255-a) + uint32(over[c])*k*255 + 255*255/2) / (255 * 255))
				}
			}
		}
	}
}

func pixelsOf(s Sheet, perInch float64) image.Rectangle {
	n := func(inches float64) int { return int(max(1, math.Ceil(float64(inches*perInch)-1e-6))) }
	return image.Rect(0, 0, n(s.Width), n(s.Height))
}

// draw lays every item of a sheet over a picture.
func draw(dst *image.RGBA, s Sheet, perInch float64) {
	var r raster
	for _, l := range s.Layers {
		for _, it := range l.Items {
			for _, d := range it.Drawings() {
				r.item(dst, d, s.Height, perInch)
			}
		}
	}
}

// chordError is how far the chords that a curve is drawn as may lie beside it, in pixels.
const chordError = 0.02

// item fills an item and strokes its outlines, as [Item] says.
func (r *raster) item(dst *image.RGBA, it Item, height, perInch float64) {
	at := func(p g.Point) g.Point { return g.Point{X: p.X * perInch, Y: (height - p.Y) * perInch} }
	var dash []float64
	for _, d := range it.Ink.Dash {
		dash = append(dash, d*perInch)
	}
	var regions, lines [][]g.Point
	for _, c := range it.Path {
		pts := c.Flattened(chordError / perInch)
		for i, p := range pts {
			pts[i] = at(p)
		}
		if it.Ink.Fill != "" && c.Closed() {
			regions = append(regions, pts)
		}
		if it.Ink.Stroke != "" {
			runs, open := dashed(pts, c.Closed(), dash)
			for _, run := range runs {
				lines = append(lines, stroked(run, !open, it.Ink.Round, it.Ink.Width*perInch)...)
			}
		}
	}
	if len(regions) > 0 {
		r.fill(dst, regions, evenOdd, rgbOf(it.Ink.Fill))
	}
	if len(lines) > 0 {
		r.fill(dst, lines, nonZero, rgbOf(it.Ink.Stroke))
	}
}

// rgbOf reads "#rrggbb".
func rgbOf(hex string) color.RGBA {
	v, _ := strconv.ParseUint(hex[1:], 16, 32) // the sheet was checked
	return color.RGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

// WritePNG writes the sheet as a PNG of so many pixels to the inch (PNG, third
// edition), which says its size in pixels to the metre. A sheet that cannot be drawn
// as it stands, or of more than [mostPixels], is an error, and nothing is written.
func WritePNG(w io.Writer, s Sheet, perInch float64) error {
	if err := s.Check(); err != nil {
		return err
	}
	if n := s.Width * s.Height * perInch * perInch; !(perInch > 0 && n < mostPixels) {
		return fmt.Errorf("sheet %q: a picture of %s pixels to the inch, %.0f million in all, cannot be drawn: give it fewer, above 0 and below %.0f million",
			s.Title, g.FormatNumber(perInch, 3), n/1e6, mostPixels/1e6)
	}
	return EncodePNG(w, Draw(s, perInch), perInch)
}

// EncodePNG writes an opaque picture. Every row is held against the one above it
// (filter 2): a drawing of lines then is nearly all zeros, which the fastest
// compression packs as well as a slow one.
func EncodePNG(w io.Writer, img *image.RGBA, perInch float64) error {
	width, height := img.Rect.Dx(), img.Rect.Dy()
	packed, err := deflated(func(z io.Writer) error {
		above, row, line := make([]byte, 3*width), make([]byte, 3*width), make([]byte, 1+3*width)
		line[0] = 2
		for y := 0; y < height; y++ {
			pix := img.Pix[y*img.Stride:][:4*width]
			if y > 0 && bytes.Equal(pix, img.Pix[(y-1)*img.Stride:][:4*width]) {
				clear(line[1:])
			} else {
				for x := 0; x < width; x++ {
					copy(row[3*x:3*x+3], pix[4*x:4*x+3])
				}
				for i, v := range row {
					line[1+i] = v - above[i]
				}
				above, row = row, above
			}
			if _, err := z.Write(line); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	be := binary.BigEndian
	head := be.AppendUint32(be.AppendUint32(nil, uint32(width)), uint32(height))
	PngChunk(&b, "IHDR", append(head, 8, 2, 0, 0, 0)) // 8 bits, red green blue, not interlaced
	metre := uint32(math.Round(perInch / 0.0254))
	PngChunk(&b, "pHYs", append(be.AppendUint32(be.AppendUint32(nil, metre), metre), 1)) // the unit is the metre
	PngChunk(&b, "IDAT", packed)
	PngChunk(&b, "IEND", nil)
	_, err = w.Write(b.Bytes())
	return err
}

// PngChunk writes a chunk: its length, name, data and check sum.
func PngChunk(b *bytes.Buffer, name string, data []byte) {
	var n [4]byte
	binary.BigEndian.PutUint32(n[:], uint32(len(data)))
	b.Write(n[:])
	start := b.Len()
	b.WriteString(name)
	b.Write(data)
	binary.BigEndian.PutUint32(n[:], crc32.ChecksumIEEE(b.Bytes()[start:]))
	b.Write(n[:])
}
