package taping

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	g "maskloft/geometry"
	"maskloft/geometry/adjust"
	"maskloft/geometry/same"
	"maskloft/layouts"
)

// StructureFit is the real structure laid on the drawing: the movement as a rigid
// body that brings the drawn hardpoints nearest to the measured ones, and what is
// left of each.
type StructureFit struct {
	Which  string // "left", "right" or "both sides"
	Moved  g.Vec3 // inches: aft, to the right, up; of the middle of the points
	Middle g.Position
	// Turned is in degrees about the three axes: right side up, nose up, nose to
	// the left. Such small turns add in any order.
	Turned g.Vec3
	RMS    g.Length // of what is left
	Points []FitPoint
}

// FitPoint is one hardpoint of a fit.
type FitPoint struct {
	ID    string
	Side  g.Side
	Drawn g.Position
	Real  g.Position
	Left  g.Vec3 // what the fit leaves: measured less drawn-and-moved
	// FromOthers is how far the point lies from where all the others say it is; NaN
	// where they are fewer than three or on one line.
	FromOthers g.Length
	// Score is the square of that over its variance: chi-square of three degrees
	// of freedom, if nothing is wrong. NaN likewise.
	Score   float64
	Suspect bool
}

// suspectScore is exceeded by one sound point in a hundred: the 99 % point of
// chi-square of three degrees of freedom (published tables; from memory).
const suspectScore = 11.345

// StructureFits returns the fits of the left side, the right side and both, each
// where three hardpoints or more were measured off one line.
func StructureFits(a *layouts.Airframe) []StructureFit {
	var both []FitPoint
	var out []StructureFit
	for _, side := range []g.Side{g.Left, g.Right} {
		var points []FitPoint
		for _, h := range a.Hardpoints(side) {
			if h.Measured {
				points = append(points, FitPoint{ID: h.ID, Side: side, Drawn: h.Drawn, Real: h.At})
			}
		}
		both = append(both, points...)
		if fit, err := fitStructure(side.String(), points, deviations(a, points)); err == nil {
			out = append(out, fit)
		}
	}
	if fit, err := fitStructure("both sides", both, deviations(a, both)); err == nil && len(out) > 0 && len(both) > len(out[0].Points) {
		out = append(out, fit)
	}
	return out
}

// deviations returns the standard deviation of each point's difference from the
// drawing along an axis: of the measuring and of the building together.
func deviations(a *layouts.Airframe, points []FitPoint) []float64 {
	out := make([]float64, len(points))
	for i, p := range points {
		for _, h := range a.Hardpoints(p.Side) {
			if h.ID == p.ID {
				out[i] = same.Hypot(h.Sigma.Inches(), layouts.DrawnSigma.Inches())
			}
		}
	}
	return out
}

// fitStructure fits points, each by its deviation, and judges each by the others: of a
// point the three coordinates are tested together for being elsewhere.
func fitStructure(which string, points []FitPoint, sigma []float64) (StructureFit, error) {
	m, err := rigid(points)
	if err != nil {
		return StructureFit{}, err
	}
	moved := func(p FitPoint, x []float64) g.Vec3 { return m.turned(x).move(p.Drawn.Vec()) }
	problem := adjust.Problem{Zero: -1, Scale: -1, Unknowns: []adjust.Unknown{{Name: "aft"}, {Name: "right"}, {Name: "up"}, {Name: "turn, right side up"}, {Name: "turn, nose up"}, {Name: "turn, nose to the left"}}}
	problem.Model = func(x []float64) []adjust.Row {
		var rows []adjust.Row
		for i, p := range points {
			at := moved(p, x)
			out, r := p.Real.Vec().Sub(at), at.Sub(m.to).Sub(g.Vec3{X: x[0], Y: x[1], Z: x[2]})
			rows = append(rows,
				adjust.Row{Terms: []float64{1, 0, 0, 0, r.Z, -r.Y}, Out: out.X, Sigma: sigma[i]},
				adjust.Row{Terms: []float64{0, 1, 0, -r.Z, 0, r.X}, Out: out.Y, Sigma: sigma[i]},
				adjust.Row{Terms: []float64{0, 0, 1, r.Y, -r.X, 0}, Out: out.Z, Sigma: sigma[i]},
			)
		}
		return rows
	}
	used := make([]bool, 3*len(points))
	for i := range used {
		used[i] = true
	}
	s, err := problem.Solve(used, make([]float64, 6))
	if err != nil {
		return StructureFit{}, err
	}
	whole := m.turned(s.X)
	fit := StructureFit{Which: which, Points: append([]FitPoint(nil), points...), Middle: g.PositionOf(whole.from), Moved: whole.to.Sub(whole.from), Turned: whole.angles()}
	sum, worst := 0.0, -1
	for i := range fit.Points {
		p := &fit.Points[i]
		p.Left = p.Real.Vec().Sub(moved(*p, s.X))
		sum += p.Left.Dot(p.Left)
		p.FromOthers, p.Score = g.Length(math.NaN()), math.NaN()
		t := s.Allow([][]adjust.Shift{{{Row: 3 * i, By: 1}}, {{Row: 3*i + 1, By: 1}}, {{Row: 3*i + 2, By: 1}}})
		if t.Rank < 3 { // the others are too few, or on one line
			continue
		}
		p.FromOthers, p.Score = g.Length(g.Vec3{X: t.Amounts[0], Y: t.Amounts[1], Z: t.Amounts[2]}.Norm()), t.Drop
		if worst < 0 || p.Score > fit.Points[worst].Score {
			worst = i
		}
	}
	if worst >= 0 && fit.Points[worst].Score > suspectScore {
		fit.Points[worst].Suspect = true
	}
	fit.RMS = g.Length(math.Sqrt(sum / float64(len(points))))
	return fit, nil
}

// motion is a rigid movement: turn about from, then to.
type motion struct {
	turn     [3]g.Vec3 // rows
	from, to g.Vec3
}

func (m motion) move(p g.Vec3) g.Vec3 {
	d := p.Sub(m.from)
	return m.to.Add(g.Vec3{X: m.turn[0].Dot(d), Y: m.turn[1].Dot(d), Z: m.turn[2].Dot(d)})
}

// turned returns the movement with a further shift and a further small turn about
// to, in radians about the three axes.
func (m motion) turned(x []float64) motion {
	axis := g.Vec3{X: x[3], Y: x[4], Z: x[5]}
	angle := axis.Norm()
	m.to = m.to.Add(g.Vec3{X: x[0], Y: x[1], Z: x[2]})
	if angle == 0 {
		return m
	}
	u := axis.Unit()
	sin, cos := same.Sincos(angle)
	turn := func(v g.Vec3) g.Vec3 { // Rodrigues 1840
		return v.Scale(cos).Add(u.Cross(v).Scale(sin)).Add(u.Scale(u.Dot(v) * (1 - cos)))
	}
	var columns [3]g.Vec3
	for k, r := range [3]g.Vec3{{X: 1}, {Y: 1}, {Z: 1}} {
		columns[k] = turn(g.Vec3{X: m.turn[0].Dot(r), Y: m.turn[1].Dot(r), Z: m.turn[2].Dot(r)})
	}
	for i, axis := range [3]g.Vec3{{X: 1}, {Y: 1}, {Z: 1}} {
		m.turn[i] = g.Vec3{X: columns[0].Dot(axis), Y: columns[1].Dot(axis), Z: columns[2].Dot(axis)}
	}
	return m
}

// angles returns the turn as a vector along its axis, in degrees.
func (m motion) angles() g.Vec3 {
	r := m.turn
	axis := g.Vec3{X: r[2].Y - r[1].Z, Y: r[0].Z - r[2].X, Z: r[1].X - r[0].Y} // 2 sin a
	sin, cos := axis.Norm()/2, (r[0].X+r[1].Y+r[2].Z-1)/2
	return axis.Unit().Scale(same.Atan2(sin, cos) * 180 / math.Pi)
}

// rigid returns the movement of least squares that brings the drawn points to the
// real ones (Kabsch 1976 and 1978: singular values of the cross covariance, the
// last turned round where that would mirror).
//
// Error: fewer than three points, or all on one line.
func rigid(points []FitPoint) (motion, error) {
	if len(points) < 3 {
		return motion{}, fmt.Errorf("%d points, a fit needs three", len(points))
	}
	var m motion
	for _, p := range points {
		m.from, m.to = m.from.Add(p.Drawn.Vec()), m.to.Add(p.Real.Vec())
	}
	n := 1 / float64(len(points))
	m.from, m.to = m.from.Scale(n), m.to.Scale(n)
	h := mat.NewDense(3, 3, nil)
	for _, p := range points {
		a, b := p.Drawn.Vec().Sub(m.from), p.Real.Vec().Sub(m.to)
		for i, x := range []float64{a.X, a.Y, a.Z} {
			for j, y := range []float64{b.X, b.Y, b.Z} {
				h.Set(i, j, h.At(i, j)+float64(x*y))
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(h, mat.SVDFull) {
		return motion{}, fmt.Errorf("the points have no best fit")
	}
	if s := svd.Values(nil); s[1] < 1e-6*s[0] || s[0] == 0 {
		return motion{}, fmt.Errorf("the points lie on one line")
	}
	var u, v, r mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	if mat.Det(&u)*mat.Det(&v) < 0 {
		for i := range 3 {
			v.Set(i, 2, -v.At(i, 2))
		}
	}
	r.Mul(&v, u.T())
	for i := range 3 {
		m.turn[i] = g.Vec3{X: r.At(i, 0), Y: r.At(i, 1), Z: r.At(i, 2)}
	}
	return m, nil
}
