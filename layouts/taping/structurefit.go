package taping

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	g "maskloft/geometry"
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
	// Alone is how far the point lies from where all the others say it is; NaN
	// where they are fewer than three or on one line.
	Alone g.Length
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
				out[i] = math.Hypot(h.Sigma.Inches(), layouts.DrawnSigma.Inches())
			}
		}
	}
	return out
}

// fitStructure fits points and judges each by the others.
func fitStructure(which string, points []FitPoint, sigma []float64) (StructureFit, error) {
	m, err := rigid(points)
	if err != nil {
		return StructureFit{}, err
	}
	fit := StructureFit{Which: which, Points: append([]FitPoint(nil), points...), Middle: g.PositionOf(m.from), Moved: m.to.Sub(m.from), Turned: m.turned()}
	sum, worst := 0.0, -1
	for i := range fit.Points {
		p := &fit.Points[i]
		p.Left = p.Real.Vec().Sub(m.move(p.Drawn.Vec()))
		sum += p.Left.Dot(p.Left)
		p.Alone, p.Score = g.Length(math.NaN()), math.NaN()
		others := append(append([]FitPoint(nil), points[:i]...), points[i+1:]...)
		rest, err := rigid(others)
		if err != nil {
			continue
		}
		out := p.Real.Vec().Sub(rest.move(p.Drawn.Vec()))
		p.Alone = g.Length(out.Norm())
		if p.Score = score(out, rest.move(p.Drawn.Vec()), others, rest, append(append([]float64(nil), sigma[:i]...), sigma[i+1:]...), sigma[i]); worst < 0 || p.Score > fit.Points[worst].Score {
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

// turned returns the turn as a vector along its axis, in degrees.
func (m motion) turned() g.Vec3 {
	r := m.turn
	axis := g.Vec3{X: r[2].Y - r[1].Z, Y: r[0].Z - r[2].X, Z: r[1].X - r[0].Y} // 2 sin a
	sin, cos := axis.Norm()/2, (r[0].X+r[1].Y+r[2].Z-1)/2
	return axis.Unit().Scale(math.Atan2(sin, cos) * 180 / math.Pi)
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
				h.Set(i, j, h.At(i, j)+x*y)
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

// score returns the square of a point's distance from its prediction over the
// variance of that: its own, and that of the movement fitted to the others, by
// first order.
func score(out, at g.Vec3, others []FitPoint, m motion, sigma []float64, own float64) float64 {
	rows := func(p g.Vec3) *mat.Dense { // d(point) / d(shift, turn)
		r := p.Sub(m.to)
		return mat.NewDense(3, 6, []float64{
			1, 0, 0, 0, r.Z, -r.Y,
			0, 1, 0, -r.Z, 0, r.X,
			0, 0, 1, r.Y, -r.X, 0,
		})
	}
	normal := mat.NewDense(6, 6, nil)
	spread := mat.NewDense(6, 6, nil) // of the unweighted fit: N^-1 (sum s^2 J'J) N^-1
	for i, p := range others {
		j := rows(m.move(p.Drawn.Vec()))
		var jj mat.Dense
		jj.Mul(j.T(), j)
		normal.Add(normal, &jj)
		jj.Scale(sigma[i]*sigma[i], &jj)
		spread.Add(spread, &jj)
	}
	var inv, cov, s mat.Dense
	if inv.Inverse(normal) != nil {
		return math.NaN()
	}
	cov.Mul(&inv, spread)
	cov.Mul(&cov, &inv)
	j := rows(at)
	var jc mat.Dense
	jc.Mul(j, &cov)
	s.Mul(&jc, j.T())
	for i := range 3 {
		s.Set(i, i, s.At(i, i)+own*own)
	}
	var x mat.VecDense
	d := mat.NewVecDense(3, []float64{out.X, out.Y, out.Z})
	if x.SolveVec(&s, d) != nil {
		return math.NaN()
	}
	return mat.Dot(d, &x)
}
