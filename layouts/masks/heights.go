package masks

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// SampleStep is the spacing, in inches, at which paint outlines are looked up on
// the skin: below the narrowest hinge gap a rudder has (common practice, no
// source).
const SampleStep = 1.0 / 16

// Strained reports strain that is more than a figure of the report.
func Strained(l Laid) (layouts.Finding, bool) {
	if l.Strain.Compression <= NoteStrain && l.Strain.Tension <= NoteStrain {
		return layouts.Finding{}, false
	}
	return strainFinding(l), true
}

// Sideways and upDown say which way of the anchor a point of the drawing lies.
func Sideways(l Laid, x float64) string {
	if l.Placement.Face() != layouts.NoFace {
		if x > 0 {
			return "to the drawing's right"
		}
		return "to the drawing's left"
	}
	if (x > 0) == (l.Placement.Side == g.Left) {
		return "aft"
	}
	return "forward"
}

func UpDown(l Laid, y float64) string {
	words := [2]string{"down", "up"}
	if l.Placement.Face() != layouts.NoFace {
		words = [2]string{"aft", "forward"}
	}
	if y >= 0 {
		return words[1]
	}
	return words[0]
}

// NoteStrain is the strain, as a fraction, below which the figures of the report
// say enough (common practice, no source).
const NoteStrain = 0.0005

// Percent writes a strain so that what is small is not rounded to nothing.
func Percent(e float64) string {
	if e != 0 && math.Abs(e) < 0.00005 {
		return fmt.Sprintf("%.1g %%", e*100)
	}
	return fmt.Sprintf("%.2f %%", e*100)
}

// Heights returns the height of the paint along the skin (in the flat) and as
// seen from the side.
func (l Laid) Heights() (skinHeight, sideHeight float64) { return l.skinHeight, l.sideHeight }

// setHeights measures both heights.
func (l *Laid) setHeights() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, reg := range l.Regions {
		for _, c := range reg.Outline {
			for _, q := range c.Flattened(g.FlattenTolerance) {
				if pos, ok := l.Map.PositionOf(q); ok {
					lo, hi = min(lo, pos.WL.Inches()), max(hi, pos.WL.Inches())
				}
			}
		}
	}
	l.skinHeight, l.sideHeight = l.Painted.Bounds().Height(), hi-lo
}
