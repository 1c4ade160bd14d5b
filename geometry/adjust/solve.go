package adjust

import (
	"fmt"
	"math"
)

// Solution is what readings tell of unknowns by least squares.
//
// With P the weights 1/sigma^2 of the rows and of what is known beforehand, and A
// their derivatives: N = A'PA, Q = N^-1, x = Q A'P l.
type Solution struct {
	X    []float64
	Q    [][]float64 // covariance of X
	Chi2 float64     // sum of squares of residuals over sigma, of readings and of what was known beforehand
	// Spare is how many readings more there are than unknowns of which nothing is
	// known beforehand: what Chi2 is to be by chance.
	Spare int
	Rows  []Fitted

	unknowns []Unknown
	rows     []Row
	used     []bool
}

// Fitted is one reading beside the answer.
type Fitted struct {
	Used bool
	// Left is read less fitted. Of a reading left out, read less what the others say.
	Left float64
	// Sigma is the standard deviation that Left has by chance.
	Sigma float64
	// Share is how much of an error of this reading shows in Left: the redundancy
	// number r of Baarda, from 0 (nothing, the reading is not checked) to 1.
	Share float64
}

// W is the test of Baarda: Left in its own standard deviations. 0 where the reading
// is not checked.
func (f Fitted) W() float64 {
	if f.Share < leastShare {
		return 0
	}
	return f.Left / f.Sigma
}

// leastShare is the Share below which a reading counts as not checked: an error of
// 1 in would show as 1/1000 in.
const leastShare = 1e-3

// settled is the movement of any computed value, in the unit of the readings, below
// which an iteration ends.
const settled = 1e-8

// Solve adjusts the readings that are used, from starting values of the unknowns, by
// Gauss and Newton.
//
// Error: the readings do not hold an unknown.
func (p Problem) Solve(used []bool, start []float64) (*Solution, error) {
	x := append([]float64(nil), start...)
	for range 50 {
		s, err := solveRows(p.Unknowns, p.Model(x), used, x, nil)
		if err != nil {
			return nil, err
		}
		most := 0.0
		step := make([]float64, len(x))
		for k := range x {
			step[k] = s.X[k] - x[k]
		}
		for i, r := range s.rows {
			if used[i] {
				most = max(most, math.Abs(dot(r.Terms, step)))
			}
		}
		if most < settled {
			return s, nil
		}
		by := p.stepBy(most)
		for k := range x {
			x[k] += float64(by * step[k])
		}
	}
	return nil, fmt.Errorf("the readings do not settle on an answer")
}

// solveRows is one step: rows at x, all solved for as if their derivatives stayed.
// Weights, where given, are multiplied to those of the rows.
func solveRows(unknowns []Unknown, rows []Row, used []bool, x, weights []float64) (*Solution, error) {
	size := len(unknowns)
	n, rhs := square(size), make([]float64, size)
	s := &Solution{unknowns: unknowns, rows: rows, used: used}
	for i, r := range rows {
		if !used[i] {
			continue
		}
		s.Spare++
		p := 1 / float64(r.Sigma*r.Sigma)
		if weights != nil {
			p *= weights[i]
		}
		for a := range size {
			pa := float64(p * r.Terms[a])
			if pa == 0 {
				continue
			}
			rhs[a] += float64(pa * r.Out)
			for b := range size {
				n[a][b] += float64(pa * r.Terms[b])
			}
		}
	}
	for k, u := range unknowns {
		if u.Sigma == 0 {
			s.Spare--
			continue
		}
		p := 1 / float64(u.Sigma*u.Sigma)
		n[k][k] += p
		rhs[k] -= float64(p * x[k])
	}
	q, free := inverse(n)
	if free >= 0 {
		return nil, fmt.Errorf("the readings do not hold the unknown %q", unknowns[free].Name)
	}
	s.Q = q
	step := times(q, rhs)
	s.X = make([]float64, size)
	for k := range s.X {
		s.X[k] = x[k] + step[k]
	}
	s.Rows = make([]Fitted, len(rows))
	for i, r := range rows {
		known := max(0, dot(r.Terms, times(q, r.Terms))) // variance of the fitted value
		own := float64(r.Sigma * r.Sigma)
		f := Fitted{Used: used[i], Left: r.Out - dot(r.Terms, step)}
		if used[i] {
			f.Share = max(0, 1-known/own)
			f.Sigma = float64(r.Sigma * math.Sqrt(f.Share))
			s.Chi2 += float64(f.Left*f.Left) / own
		} else {
			f.Share = 1
			f.Sigma = math.Sqrt(own + known)
		}
		s.Rows[i] = f
	}
	for k, u := range unknowns {
		if u.Sigma != 0 {
			s.Chi2 += float64(s.X[k]*s.X[k]) / float64(u.Sigma*u.Sigma)
		}
	}
	return s, nil
}

// stepBy returns what part of a step is made that moves a computed value by most.
func (p Problem) stepBy(most float64) float64 {
	if p.Longest > 0 && most > p.Longest {
		return p.Longest / most
	}
	return 1
}
