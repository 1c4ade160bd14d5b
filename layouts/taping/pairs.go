package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
)

// Grade says how well two tapes fix a point by their crossing.
type Grade string

// Grades of a crossing: practice, not a standard. The error grows with 1/sin of
// the angle (trilateration; derived): 1.15 at 60 and 120 degrees, 1.56 at 40 and
// 140.
const (
	Good       Grade = "good"
	Acceptable Grade = "acceptable"
	Poor       Grade = "poor"
)

// GradeOf grades a crossing, in degrees from 0 to 180.
func GradeOf(crossing float64) Grade {
	switch {
	case crossing >= 60 && crossing <= 120:
		return Good
	case crossing >= 40 && crossing <= 140:
		return Acceptable
	}
	return Poor
}

// crossingOf returns the angle between two tapes in the skin, in degrees.
func crossingOf(a, b Taping) float64 {
	return math.Abs(same.Atan2(a.Bearing.Cross(b.Bearing), a.Bearing.Dot(b.Bearing))) * 180 / math.Pi
}

// leastCrossing is the angle, in degrees, below which two tapes do not cross for a hand:
// the arcs run into one another over six times their width (1/sin; derived).
const leastCrossing = 10

// pairOf returns which two of the tapes place the point with the least error, all
// pairs tried; of pairs alike the first. False where no two cross by [leastCrossing].
func pairOf(tapes []Taping) (a, b int, ok bool) {
	least := math.Inf(1)
	for i := range tapes {
		for j := i + 1; j < len(tapes); j++ {
			if c := crossingOf(tapes[i], tapes[j]); c < leastCrossing || c > 180-leastCrossing {
				continue
			}
			cov, fixed := covarianceOf(tapes[i], tapes[j])
			if e := cov.trace(); fixed && e < least*(1-1e-9) {
				a, b, least, ok = i, j, e, true
			}
		}
	}
	return a, b, ok
}

// closureOf returns which of the other tapes shows an error best: the one that
// crosses both tapes of the pair best. -1 where there is none.
func closureOf(tapes []Taping, a, b int) int {
	third, best := -1, -1.0
	sine := func(i, j int) float64 {
		return math.Abs(tapes[i].Bearing.Unit().Cross(tapes[j].Bearing.Unit()))
	}
	for i := range tapes {
		if i == a || i == b {
			continue
		}
		if s := math.Min(sine(i, a), sine(i, b)); s > best+1e-9 {
			third, best = i, s
		}
	}
	return third
}

// ClosureLimit is by how much the third tape may miss before something is wrong:
// a hook on the wrong point, a tape on the wrong side of a part (common practice,
// no source).
const ClosureLimit = g.Inch / 8

// closureSigma returns the standard deviation by which the third tape misses: its
// own, what the point as marked is out along it, and what the tape's own error does to
// it and to the point together.
func closureSigma(tape layouts.TapeSpec, e PointError, closure Taping) g.Length {
	zero, scale := tapeCommon(tape.Class)
	byZero := zero/math.Sqrt(3) + e.zero.Dot(closure.Bearing)
	byScale := float64(scale/math.Sqrt(3)*closure.Length.Inches()) + e.scale.Dot(closure.Bearing)
	own, hook := closure.own.Inches(), closure.From.Sigma.Inches()
	return g.Length(math.Sqrt(float64(own*own) + float64(hook*hook) + e.own.along(closure.Bearing) + float64(byZero*byZero) + float64(byScale*byScale)))
}
