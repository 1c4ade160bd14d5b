package glyphs

import (
	"math"
	"slices"
	"sort"
)

// otherKind is how many standard deviations apart two kinds of corner or two
// forms of a character count, or a measure that a candidate's character has no
// counterpart to: a plain contradiction, though the eye may err.
const otherKind = 4

// Candidate is a set of letters that a measured one may be.
type Candidate struct {
	Name string
	Has  Measured
}

// NewCandidate measures the outlines of letters.
func NewCandidate(name string, l Letters) Candidate { return Candidate{Name: name, Has: Survey(l, 1)} }

// Embedded returns the embedded alphabets as candidates.
func Embedded() ([]Candidate, error) {
	var out []Candidate
	for _, n := range Names() {
		a, err := Load(n)
		if err != nil {
			return nil, err
		}
		out = append(out, NewCandidate(n, a))
	}
	return out, nil
}

// Residual is one measure against a candidate.
type Residual struct {
	Of                  string // width, waist, form; stroke vertical, stroke horizontal, gap, corner, corner inside, slant
	Rune                rune   // 0: of the whole set
	Measured, Candidate float64
	Sigma               float64 // how many plus-or-minus the candidate lies above the measure
}

// Match says how well a candidate fits: the sum of squares of its residuals over
// their number (chi-square per degree of freedom, as a candidate has nothing to
// adjust). About 1 is as good as the measures are, 4 and more is another set.
type Match struct {
	Name       string
	ChiSquare  float64
	Residuals  []Residual
	NotInIt    []Residual       // measures that the candidate has nothing to compare with
	Characters map[rune]float64 // the same for the residuals of each character
}

// Nearest compares measures with candidates, the best first. Candidates that can
// be compared in nothing come last.
func Nearest(m Measured, candidates []Candidate) []Match {
	var out []Match
	for _, c := range candidates {
		out = append(out, m.against(c))
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if (len(a.Residuals) == 0) != (len(b.Residuals) == 0) {
			return len(b.Residuals) == 0
		}
		return a.ChiSquare < b.ChiSquare
	})
	return out
}

func (m Measured) against(c Candidate) Match {
	out := Match{Name: c.Name, Characters: map[rune]float64{}}
	compare := func(of string, r rune, a, b Value) {
		if !a.Given() {
			return
		}
		res := Residual{Of: of, Rune: r, Measured: a.V, Candidate: b.V, Sigma: (b.V - a.V) / a.PM}
		if !b.Given() {
			out.NotInIt = append(out.NotInIt, res)
			if r == 0 {
				return // a font says no gap, and may have no corners to measure
			}
			res.Sigma = otherKind // no such character, or no such bar
		}
		out.Residuals = append(out.Residuals, res)
	}
	kinds := func(of string, r rune, a, b string) {
		if a == "" || b == "" {
			return
		}
		res := Residual{Of: of, Rune: r}
		if a != b {
			res.Sigma = otherKind
		}
		out.Residuals = append(out.Residuals, res)
	}
	compare("stroke vertical", 0, m.StrokeV, c.Has.StrokeV)
	compare("stroke horizontal", 0, m.StrokeH, c.Has.StrokeH)
	compare("gap", 0, m.Gap, c.Has.Gap)
	compare("slant", 0, m.Slant, c.Has.Slant)
	for _, q := range []struct {
		of   string
		a, b MeasuredCut
	}{{"corner", m.Corner, c.Has.Corner}, {"corner inside", m.Inner, c.Has.Inner}} {
		kinds(q.of, 0, string(q.a.Kind), string(q.b.Kind))
		if q.a.Kind == q.b.Kind {
			compare(q.of, 0, q.a.Size, q.b.Size)
		}
	}
	for _, r := range all {
		compare("width", r, m.Widths[r], c.Has.Widths[r])
		compare("waist", r, m.Waists[r], c.Has.Waists[r])
		kinds("form", r, m.Forms[string(r)], c.Has.Forms[string(r)])
	}
	sums, counts := map[rune]float64{}, map[rune]float64{}
	total := 0.0
	for _, r := range out.Residuals {
		total += float64(r.Sigma * r.Sigma)
		sums[r.Rune] += float64(r.Sigma * r.Sigma)
		counts[r.Rune]++
	}
	for r, n := range counts {
		if r != 0 {
			out.Characters[r] = sums[r] / n
		}
	}
	if n := len(out.Residuals); n > 0 {
		out.ChiSquare = total / float64(n)
	}
	return out
}

// median returns the middle value; 0 of none.
func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	s := slices.Clone(x)
	sort.Float64s(s)
	if n := len(s); n%2 == 0 {
		return (s[n/2-1] + s[n/2]) / 2
	}
	return s[len(s)/2]
}

// near tells whether two ratios are one, as far as files write them.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-4*math.Max(math.Abs(a), math.Abs(b)) }
