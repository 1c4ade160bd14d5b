package masks

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// sampleStep is the spacing, in inches, at which paint outlines are looked up on
// the skin: below the narrowest hinge gap a rudder has (common practice, no
// source).
const sampleStep = 1.0 / 16

// inspect returns the findings of one laid marking.
func inspect(l Laid) []layouts.Finding {
	var out []layouts.Finding
	for _, look := range []func(Laid) (layouts.Finding, bool){
		offSkin, strained, heights, baselines, stretch, hidden, closesRound, sharpFold, bayTwist,
	} {
		if f, found := look(l); found {
			f.Marking = l.ID()
			out = append(out, f)
		}
	}
	return out
}

// strained reports strain that is more than a figure of the report.
func strained(l Laid) (layouts.Finding, bool) {
	if l.Strain.Compression <= noteStrain && l.Strain.Tension <= noteStrain {
		return layouts.Finding{}, false
	}
	return strainFinding(l), true
}

// offSkin reports paint whose outline leaves the skin, beyond an edge or over a
// hinge gap: the first place found, and how much outline lies off it, to about a
// sixteenth of an inch a crossing.
func offSkin(l Laid) (layouts.Finding, bool) {
	if l.Placement.ToEdge { // it is cut to the edges, and the film runs on beyond them
		return layouts.Finding{}, false
	}
	var f layouts.Finding
	found, off, whole := false, 0.0, 0.0
	eachOutlinePoint(l, sampleStep, func(r layouts.Region, q g.Point, length float64) {
		whole += length
		uv, ok := l.Map.ToSkin(q)
		if ok && l.Placement.Surface.Contains(uv) {
			return
		}
		off += length
		if found {
			return
		}
		found = true
		f = layouts.Finding{
			Level: layouts.Stop, Rule: "off-skin", Where: l.Placement.Anchor,
			Message: fmt.Sprintf("%s: the %s outline leaves the skin of %s %.2f in %s and %.2f in %s of its anchor",
				l.ID(), r.Colour, l.Placement.On, math.Abs(q.X), sideways(l, q.X), math.Abs(q.Y), upDown(l, q.Y)),
			Hint:   "move it with where: fs: and wl:, or make it smaller",
			Source: "derived",
		}
		if ok {
			f.Where = g.PositionOf(skin.PointAt(l.Placement.Surface, uv))
			f.Message = fmt.Sprintf("%s: the %s outline runs off %s or over a gap at %v", l.ID(), r.Colour, l.Placement.On, f.Where)
			if len(l.Placement.Marking.Where.Surfaces) > 1 {
				f.Hint += "; name the gap under obstacles:, {id: hinge gap, kind: hinge, ...}, and the start that clears it is looked for"
			}
		}
	})
	f.Measured = fmt.Sprintf("%.2f in of %.2f in of outline", off, whole)
	f.Expected, f.Tolerance = "0", "none"
	return f, found
}

// sideways and upDown say which way of the anchor a point of the drawing lies.
func sideways(l Laid, x float64) string {
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

func upDown(l Laid, y float64) string {
	words := [2]string{"down", "up"}
	if l.Placement.Face() != layouts.NoFace {
		words = [2]string{"aft", "forward"}
	}
	if y >= 0 {
		return words[1]
	}
	return words[0]
}

// noteStrain is the strain, as a fraction, below which the figures of the report
// say enough (common practice, no source).
const noteStrain = 0.0005

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
					lo, hi = math.Min(lo, float64(pos.WL)), math.Max(hi, float64(pos.WL))
				}
			}
		}
	}
	l.skinHeight, l.sideHeight = l.Painted.Bounds().Height(), hi-lo
}

// heights prints both heights where they differ by more than a tape can read.
func heights(l Laid) (layouts.Finding, bool) {
	if l.Placement.Face() != layouts.NoFace {
		return layouts.Finding{}, false // not seen from the side
	}
	along, side := l.Heights()
	if math.Abs(along-side) <= g.SayDifference {
		return layouts.Finding{}, false
	}
	mode := "true along the skin"
	if l.Placement.Marking.True == layouts.TrueSide {
		mode = "true in side view"
	}
	return layouts.Finding{
		Level: layouts.Note, Rule: "two-heights", Where: l.Placement.Anchor,
		Message:  fmt.Sprintf("%s: %.3f in high along the skin, %.3f in seen from the side; the drawing is %s", l.ID(), along, side, mode),
		Hint:     "true: side makes the drawing what is seen; true: skin makes it what a tape on the skin reads",
		Measured: fmt.Sprintf("%.3f in", side), Expected: fmt.Sprintf("%.3f in", along), Tolerance: "1/32 in", Source: "derived",
	}, true
}
