package drawing

import (
	"fmt"
	"math"

	g "maskloft/geometry"
)

// Paint is how a path is painted: "#rrggbb", or empty for not at all.
type Paint struct {
	Fill    string
	EvenOdd bool // the rule of the filling; else non-zero
	Stroke  string
	Width   float64 // of the line, inches

	Pen    g.Affine // from the space that the line is drawn in to inches
	Line   g.Pen    // there
	Unread string   // what of the painting is no plain colour, such as a gradient
}

// rgbHex writes a colour, each part from 0 to 1.
func rgbHex(red, green, blue float64) string {
	to := func(v float64) int { return int(math.Round(255 * math.Min(1, math.Max(0, v)))) }
	return fmt.Sprintf("#%02x%02x%02x", to(red), to(green), to(blue))
}

// cmykHex turns inks into a colour as ISO 32000-1 clause 10.3.5 does where no profile
// is followed.
func cmykHex(c, m, y, k float64) string {
	of := func(v float64) float64 { return 1 - math.Min(1, v+k) }
	return rgbHex(of(c), of(m), of(y))
}
