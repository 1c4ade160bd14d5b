package layouts

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/adjust"
)

// tapedSigma is the standard deviation of a straight tape between hardpoints, in
// inches: 1/16 in of tolerance to 30 ft, uniform, and a sixteenth read (derived).
const tapedSigma = 0.041

// finestSigma is the least deviation of a place that the fit believes, in inches:
// finer ones would only spoil its numbers.
const finestSigma = 1e-4

// coarsestSigma is the largest deviation of a place that the fit believes, in inches: as
// good as unknown. With weights farther apart than the square of 1e6 the fit would have
// no answer in double precision.
const coarsestSigma = 100

// fitGrid is the grid of fitted places, in inches, far below what is measured.
const fitGrid = 1e-7

// tapedSuspect is how many of its own deviations a tape may differ from the fit:
// one sound tape in a thousand does (normal distribution).
const tapedSuspect = 3.29

// HardpointTape is a measured distance between hardpoints after the fit.
type HardpointTape struct {
	Spec   HardpointTapeSpec
	Before g.Length // between the places as written
	After  g.Length // between the places fitted
	Score  float64  // measured less fitted, in deviations of that difference
}

// fitTapes moves the hardpoints that distances were measured between: least squares
// of the distances, each by tapedSigma, and of the places as written, each by its
// own sigma along every axis; these hold what distances alone leave free. A fitted
// hardpoint counts as measured; its sigma becomes the mean over the axes of what the
// fit leaves.
func (a *Airframe) fitTapes() error {
	if len(a.Spec.Taped) == 0 {
		return nil
	}
	var points []Hardpoint
	at := map[hardpointKey]int{}
	var keys []hardpointKey
	p := adjust.Problem{Zero: -1, Scale: -1}
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range a.asWritten(side) {
			k := hardpointKey{h.ID, side}
			at[k] = len(points)
			points, keys = append(points, h), append(keys, k)
			for _, axis := range []string{"FS", "BL", "WL"} {
				p.Unknowns = append(p.Unknowns, adjust.Unknown{Name: h.ID + " " + axis, Sigma: min(coarsestSigma, max(finestSigma, h.Sigma.Inches()))})
			}
		}
	}
	ends := func(t HardpointTapeSpec) (i, j int) {
		from, to := t.Side.Ends()
		return at[hardpointKey{t.From, from}], at[hardpointKey{t.To, to}]
	}
	moved := func(i int, x []float64) g.Vec3 {
		return points[i].At.Vec().Add(g.Vec3{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]})
	}
	p.Model = func(x []float64) []adjust.Row {
		var rows []adjust.Row
		for _, t := range a.Spec.Taped {
			i, j := ends(t)
			d := moved(j, x).Sub(moved(i, x))
			u := d.Unit()
			r := adjust.Row{Terms: make([]float64, len(x)), Out: t.Length.Inches() - d.Norm(), Sigma: tapedSigma}
			for k, v := range [3]float64{u.X, u.Y, u.Z} {
				r.Terms[3*i+k] -= v
				r.Terms[3*j+k] += v
			}
			rows = append(rows, r)
		}
		return rows
	}
	used := make([]bool, len(a.Spec.Taped))
	for i := range used {
		used[i] = true
	}
	fit, err := p.Solve(used, make([]float64, len(p.Unknowns)))
	if err != nil {
		return fmt.Errorf("%v: measured-tapes: %w: look for a distance or a sigma: in the wrong unit", a.Spec.Taped[0].Place, err)
	}
	for k, v := range fit.X {
		fit.X[k] = g.OnGrid(v, fitGrid)
	}
	a.fitted = map[hardpointKey]Hardpoint{}
	for n, t := range a.Spec.Taped {
		i, j := ends(t)
		after := g.Length(moved(j, fit.X).Sub(moved(i, fit.X)).Norm())
		a.Taped = append(a.Taped, HardpointTape{Spec: t, Before: points[i].At.To(points[j].At), After: after, Score: g.OnGrid(fit.Rows[n].W(), 1e-6)})
		for _, k := range []int{i, j} {
			h := points[k]
			h.At, h.Measured = g.PositionOf(moved(k, fit.X)), true
			h.Sigma = g.Length(g.OnGrid(math.Sqrt((fit.Q[3*k][3*k]+fit.Q[3*k+1][3*k+1]+fit.Q[3*k+2][3*k+2])/3), fitGrid))
			a.fitted[keys[k]] = h
		}
	}
	return nil
}

// Suspect tells whether a tape differs from the fit by more than chance.
func (t HardpointTape) Suspect() bool { return math.Abs(t.Score) > tapedSuspect }
