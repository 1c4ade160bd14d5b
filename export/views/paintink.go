package views

import (
	"fmt"
	"strconv"
	"strings"

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
