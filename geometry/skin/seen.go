package skin

import g "maskloft/geometry"

// SeenHeights returns the lowest and the highest waterline of one side of the
// section at a station.
func SeenHeights(s Surface, side g.Side, fs g.Station) (lo, hi float64) {
	return seenRange(s, side, fs.Inches())
}
