package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
)

// Terms are what a tape, read on a mark or a film, puts into an adjustment besides its
// length and bearing; see [AsBuilt], which uses the same.
type Terms struct {
	Away  g.Vec3  // unit direction at the hardpoint away from the point
	Sigma float64 // one standard deviation of the reading by itself, inches
	Hook  float64 // one standard deviation of the hardpoint along each axis, inches
}

// Terms returns those of a tape.
func (t Taping) Terms() Terms {
	return Terms{t.away, same.Hypot(t.own.Inches(), tickLimit/math.Sqrt(3)), hookSigma(t.From)}
}

// hookSigma is what a hardpoint is known to: never quite exactly, or it had no weight.
func hookSigma(h layouts.Hardpoint) float64 { return math.Max(1e-5, h.Sigma.Inches()) }

// TapeCommon returns what a tape of a class is out by in all readings of a job: one
// standard deviation of its beginning, inches, and of its scale, a part of the length.
func TapeCommon(class layouts.TapeClass) (zero, scale float64) {
	z, s := tapeCommon(class)
	return z / math.Sqrt(3), s / math.Sqrt(3)
}

// StartMark is the mark that is held instead of a tape's end, where one is, in inches.
func StartMark(tape layouts.TapeSpec) float64 {
	if tape.Units.Metric() {
		return 100 / 25.4
	}
	return 1
}

// All returns the tapes of a checkpoint, the closure last.
func (c Checkpoint) All() []Taping { return c.all() }
