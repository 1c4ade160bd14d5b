package adjust

import "math"

// Shift is a part of a supposed mistake: reading Row, or where Row is at least the
// number of readings what is known beforehand of unknown Row less that number, is
// too long by By for each unit of the mistake.
type Shift struct {
	Row int
	By  float64
}

// Test is what a supposed mistake of amounts not known explains.
type Test struct {
	Drop    float64   // by how much chi-square falls where the mistake is allowed for
	Rank    int       // of the amounts, how many the readings tell apart
	Amounts []float64 // estimated; 0 where not told apart
	Sigmas  []float64 // their standard deviations
}

// part returns of a row or of what is known beforehand its derivatives, its weight
// and what is left of it. Weight 0: not in the solution.
func (s *Solution) part(row int) (terms []float64, weight, left float64) {
	if k := row - len(s.rows); k >= 0 {
		u := s.unknowns[k]
		if u.Sigma == 0 {
			return nil, 0, 0
		}
		terms = make([]float64, len(s.unknowns))
		terms[k] = 1
		return terms, 1 / float64(u.Sigma*u.Sigma), -s.X[k]
	}
	if !s.used[row] {
		return nil, 0, 0
	}
	r := s.rows[row]
	return r.Terms, 1 / float64(r.Sigma*r.Sigma), s.Rows[row].Left
}

// pull returns c'Pe, with e what is left.
func (s *Solution) pull(c []Shift) float64 {
	sum := 0.0
	for _, h := range c {
		_, p, left := s.part(h.Row)
		sum += float64(float64(p*left) * h.By)
	}
	return sum
}

// hold returns c'(P - P A Q A' P)d.
func (s *Solution) hold(c, d []Shift) float64 {
	size := len(s.unknowns)
	onto := func(c []Shift) []float64 { // A'P c
		out := make([]float64, size)
		for _, h := range c {
			terms, p, _ := s.part(h.Row)
			if p == 0 {
				continue
			}
			for k, t := range terms {
				out[k] += float64(float64(p*h.By) * t)
			}
		}
		return out
	}
	own := 0.0
	for _, h := range c {
		for _, o := range d {
			if h.Row == o.Row {
				_, p, _ := s.part(h.Row)
				own += float64(float64(p*h.By) * o.By)
			}
		}
	}
	return own - dot(onto(c), times(s.Q, onto(d)))
}

// Corrected returns what chi-square would be were the readings shorter by c: with e
// what is left and M = P - P A Q A' P, chi2 - 2 c'Pe + c'Mc. Derivatives are taken
// as they are.
func (s *Solution) Corrected(c []Shift) float64 {
	return max(0, s.Chi2-2*s.pull(c)+s.hold(c, c))
}

// Allow tests a mistake whose shapes are known and whose amounts are not. With C the
// shapes as columns: G = C'MC, amounts = G^-1 C'Pe, drop = (C'Pe)' G^-1 (C'Pe).
// Shapes that the readings cannot tell from those before them are left out.
func (s *Solution) Allow(shapes [][]Shift) Test {
	q := len(shapes)
	t := Test{Amounts: make([]float64, q), Sigmas: make([]float64, q)}
	var kept []int
	var inv [][]float64
	for k := range shapes {
		try := append(append([]int(nil), kept...), k)
		g := square(len(try))
		strong := true
		for i, a := range try {
			for j, b := range try {
				g[i][j] = s.hold(shapes[a], shapes[b])
			}
			own := 0.0 // c'Pc: G over it is the share of the mistake that shows
			for _, h := range shapes[a] {
				_, p, _ := s.part(h.Row)
				own += float64(float64(p*h.By) * h.By)
			}
			strong = strong && g[i][i] > float64(leastShare*own)
		}
		if !strong {
			continue
		}
		if m, free := inverse(g); free < 0 {
			kept, inv = try, m
		}
	}
	t.Rank = len(kept)
	pull := make([]float64, t.Rank)
	for i, k := range kept {
		pull[i] = s.pull(shapes[k])
	}
	amounts := times(inv, pull)
	for i, k := range kept {
		t.Amounts[k], t.Sigmas[k] = amounts[i], math.Sqrt(inv[i][i])
	}
	t.Drop = max(0, dot(pull, amounts))
	return t
}

// one is the shape of a mistake in one reading.
func one(row int) []Shift { return []Shift{{row, 1}} }
