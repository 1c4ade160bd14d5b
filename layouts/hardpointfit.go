package layouts

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	g "maskloft/geometry"
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
// own sigma along every axis (Gauss-Newton; weights hold what distances alone leave
// free). A fitted hardpoint counts as measured; its sigma becomes the mean over the
// axes of what the fit leaves.
func (a *Airframe) fitTapes() {
	if len(a.Spec.Taped) == 0 {
		return
	}
	var points []Hardpoint
	at := map[hardpointKey]int{}
	var keys []hardpointKey
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range a.asWritten(side) {
			k := hardpointKey{h.ID, side}
			at[k] = len(points)
			points, keys = append(points, h), append(keys, k)
		}
	}
	now := make([]g.Vec3, len(points))
	for i, p := range points {
		now[i] = p.At.Vec()
	}
	ends := func(t HardpointTapeSpec) (i, j int) {
		from, to := t.Side.Ends()
		return at[hardpointKey{t.From, from}], at[hardpointKey{t.To, to}]
	}
	n := 3 * len(points)
	var inverse mat.Dense
	for range 20 {
		normal, rhs := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
		add := func(i, j int, v float64) { normal.Set(i, j, normal.At(i, j)+v) }
		for i, p := range points {
			w := 1 / math.Pow(min(coarsestSigma, max(finestSigma, p.Sigma.Inches())), 2)
			d := p.At.Vec().Sub(now[i])
			for k, x := range []float64{d.X, d.Y, d.Z} {
				add(3*i+k, 3*i+k, w)
				rhs.SetVec(3*i+k, rhs.AtVec(3*i+k)+float64(w*x))
			}
		}
		for _, t := range a.Spec.Taped {
			i, j := ends(t)
			d := now[j].Sub(now[i])
			u := d.Unit()
			out := t.Length.Inches() - d.Norm()
			const w = 1 / (tapedSigma * tapedSigma)
			row := []float64{-u.X, -u.Y, -u.Z, u.X, u.Y, u.Z}
			place := []int{3 * i, 3*i + 1, 3*i + 2, 3 * j, 3*j + 1, 3*j + 2}
			for p := range row {
				rhs.SetVec(place[p], rhs.AtVec(place[p])+float64(w*row[p]*out))
				for q := range row {
					add(place[p], place[q], w*row[p]*row[q])
				}
			}
		}
		if err := inverse.Inverse(normal); err != nil {
			panic(fmt.Sprintf("layouts: the places of the hardpoints hold the fit, and it is singular: %v", err))
		}
		var step mat.VecDense
		step.MulVec(&inverse, rhs)
		most := 0.0
		for i := range now {
			d := g.Vec3{X: step.AtVec(3 * i), Y: step.AtVec(3*i + 1), Z: step.AtVec(3*i + 2)}
			now[i] = now[i].Add(d)
			most = math.Max(most, d.Norm())
		}
		if most < fitGrid {
			break
		}
	}
	for i, p := range now {
		now[i] = g.Vec3{X: g.OnGrid(p.X, fitGrid), Y: g.OnGrid(p.Y, fitGrid), Z: g.OnGrid(p.Z, fitGrid)}
	}
	a.fitted = map[hardpointKey]Hardpoint{}
	for _, t := range a.Spec.Taped {
		i, j := ends(t)
		u := now[j].Sub(now[i]).Unit()
		row := []float64{-u.X, -u.Y, -u.Z, u.X, u.Y, u.Z}
		place := []int{3 * i, 3*i + 1, 3*i + 2, 3 * j, 3*j + 1, 3*j + 2}
		known := 0.0 // variance of the fitted distance
		for p := range row {
			for q := range row {
				known += float64(row[p] * row[q] * inverse.At(place[p], place[q]))
			}
		}
		after := g.Length(now[j].Sub(now[i]).Norm())
		a.Taped = append(a.Taped, HardpointTape{
			Spec: t, Before: points[i].At.To(points[j].At), After: after,
			Score: g.OnGrid(float64(t.Length-after)/math.Sqrt(math.Max(1e-12, tapedSigma*tapedSigma-known)), 1e-6),
		})
		for _, k := range []int{i, j} {
			h := points[k]
			h.At, h.Measured = g.PositionOf(now[k]), true
			h.Sigma = g.Length(g.OnGrid(math.Sqrt((inverse.At(3*k, 3*k)+inverse.At(3*k+1, 3*k+1)+inverse.At(3*k+2, 3*k+2))/3), fitGrid))
			a.fitted[keys[k]] = h
		}
	}
}

// Suspect tells whether a tape differs from the fit by more than chance.
func (t HardpointTape) Suspect() bool { return math.Abs(t.Score) > tapedSuspect }
