package views

import (
	"bytes"
	"fmt"
	"image"

	"maskloft/export/sheet"

	pixels "image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"math"
)

// mostPhotoPixels bounds a photograph; three pictures of its size are held at a time.
const mostPhotoPixels = 40e6

// ReadPicture reads a PNG or a JPEG file. Its size is looked at before it is unpacked.
//
// Errors: it is neither; it holds more than 40 million pixels; it is damaged; it is to
// be turned before it is looked at, which some programs do and some do not.
func ReadPicture(data []byte) (image.Image, error) {
	size, decode := png.DecodeConfig, png.Decode
	switch {
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
	case bytes.HasPrefix(data, []byte("\xff\xd8")):
		size, decode = jpeg.DecodeConfig, jpeg.Decode
		if o := sheet.Orientation(data); o > 1 {
			return nil, fmt.Errorf("the picture says that it is to be turned before it is looked at (Exif orientation %d), so that its pixels may be counted in two ways: save it turned, as PNG, and read the points in that", o)
		}
	default:
		return nil, fmt.Errorf("it is neither a PNG nor a JPEG picture: save it as one of the two")
	}
	head, err := size(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the picture is damaged: %w", err)
	}
	if n := float64(head.Width) * float64(head.Height); !(n > 0 && n <= mostPhotoPixels) {
		return nil, fmt.Errorf("a picture of %d x %d pixels is more than %.0f million: save it smaller, and read the points in that", head.Width, head.Height, mostPhotoPixels/1e6)
	}
	img, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the picture is damaged: %w", err)
	}
	return img, nil
}

// WriteOverlay writes a photograph with an [Overlay] of its size over it, as a PNG.
// Strength is the share of the paint that is seen, 0 to 1; lines and labels have twice
// that share, at most all.
func WriteOverlay(w io.Writer, photo image.Image, over sheet.Sheet, strength float64) error {
	if err := over.Check(); err != nil {
		return err
	}
	b := photo.Bounds()
	img := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	pixels.Draw(img, img.Rect, image.White, image.Point{}, pixels.Src) // beneath what is clear in a PNG
	pixels.Draw(img, img.Rect, photo, b.Min, pixels.Over)
	for _, layer := range over.Layers {
		share := strength
		if layer.Name != overlayPaint {
			share = math.Min(1, 2*strength)
		}
		one := over
		one.Layers = []sheet.Layer{layer}
		sheet.DrawOver(img, one, overlayDPI, share)
	}
	return sheet.EncodePNG(w, img, overlayDPI)
}
