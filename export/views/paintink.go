package views

import (
	"fmt"
	"strconv"
	"strings"

	"maskloft/geometry/same"
	"maskloft/layouts"
)

// PaintHex returns the colour of a paint for pictures, "#rrggbb": grey where none is
// given.
func PaintHex(paint layouts.PaintSpec, id string) string { return HexOf(paint, id) }

func HexOf(paint layouts.PaintSpec, id string) string {
	for _, c := range paint.Colours {
		if c.ID == id && c.Hex != "" {
			return strings.ToLower(c.Hex)
		}
	}
	return "#9aa0a3"
}

// lightness of a colour, 0 black to 1 white: the lightness L* of CIE 1976 over 100, of
// the luminance of sRGB (IEC 61966-2-1), within a few hundredths.
func lightness(hex string) float64 {
	y := 0.0
	for k, weight := range [3]float64{0.2126, 0.7152, 0.0722} {
		v, _ := strconv.ParseUint(hex[1+2*k:3+2*k], 16, 8)
		y += float64(weight * same.Pow(float64(v)/255, 2.2))
	}
	return max(0, float64(1.16*same.Pow(y, 1.0/3))-0.16)
}

// Tint returns a colour thinned with white: k is the part of the colour left.
func Tint(hex string, k float64) string {
	out := "#"
	for i := 1; i < 7; i += 2 {
		v, _ := strconv.ParseUint(hex[i:i+2], 16, 8) // hexOf's, which the loader checked
		out += fmt.Sprintf("%02x", int(255-float64((255-float64(v))*k)+0.5))
	}
	return out
}

var LevelFill = map[layouts.Level]string{layouts.Note: "", layouts.Warn: "#f3e3b5", layouts.Stop: "#efc4bb"}
