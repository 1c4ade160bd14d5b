package adjust

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

var casesFile = flag.String("cases", "", "write 200 random problems with their answers to this file, as JSON")

// adjustCase is one problem of straight rows and its answer, for another
// implementation to be held against. Infinite sizes are written as -1, indexes count
// from 0.
type adjustCase struct {
	Unknowns []Unknown `json:"unknowns"`
	Readings []Reading `json:"readings"`
	Hooks    [][]int   `json:"hooks"`
	Zero     int       `json:"zero"`
	Scale    int       `json:"scale"`
	Longest  float64   `json:"longest"`
	Rows     []Row     `json:"rows"`
	Answer   struct {
		Error      string      `json:"error"`
		X          []float64   `json:"x"`
		Q          [][]float64 `json:"q"`
		Chi2       float64     `json:"chi2"`
		Left       []float64   `json:"left"`
		Share      []float64   `json:"share"`
		W          []float64   `json:"w"`
		Detectable []float64   `json:"detectable"`
		Named      []float64   `json:"named"`
		Used       []bool      `json:"used"`
		Fixed      []float64   `json:"fixed"`
		Tests      int         `json:"tests"`
		Verdicts   []caseFound `json:"verdicts"`
	} `json:"answer"`
}

type caseFound struct {
	Cause  Cause   `json:"cause"`
	Rows   []int   `json:"rows"`
	Hooks  []int   `json:"hooks"`
	Amount float64 `json:"amount"`
	Sigma  float64 `json:"sigma"`
	Open   bool    `json:"open"`
}

func finite(v float64) float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return -1
	}
	return v
}

// A random problem and its answer, every second with a mistake of a kind in it.
func newCase(rnd *rand.Rand, k int) adjustCase {
	n := randomPlane(rnd)
	read := n.draw(rnd)
	i := rnd.IntN(len(read))
	switch k % 12 {
	case 1:
		read[i] += .3 + 5*rnd.Float64()
	case 3:
		read[i]++
	case 5:
		for j := range read {
			read[j]++
		}
	case 7:
		for j, tape := range n.tapes {
			if tape[0] == 1 {
				read[j] -= 2
			}
		}
	case 9:
		read[i] *= 25.4
	case 11:
		read[i] += 9
	}
	p := n.problem(read)
	c := adjustCase{Unknowns: p.Unknowns, Readings: p.Readings, Hooks: p.Hooks, Zero: p.Zero, Scale: p.Scale, Longest: p.Longest, Rows: p.Model(make([]float64, len(p.Unknowns)))}
	p.Model = linear(c.Rows)
	a, err := p.Search()
	if err != nil {
		c.Answer.Error = err.Error()
		return c
	}
	w := &c.Answer
	w.X, w.Q, w.Chi2, w.Used, w.Fixed, w.Tests = a.Kept.X, a.Kept.Q, a.Kept.Chi2, a.Used, a.Fixed, a.Tests
	for j, e := range a.Kept.Reliability(a.Tests) {
		f := a.Kept.Rows[j]
		w.Left, w.Share, w.W = append(w.Left, f.Left), append(w.Share, f.Share), append(w.W, f.W())
		w.Detectable, w.Named = append(w.Detectable, finite(e.Detectable)), append(w.Named, finite(e.Named))
	}
	for _, v := range a.Verdicts {
		w.Verdicts = append(w.Verdicts, caseFound{v.Cause, v.Rows, v.Hooks, v.Amount, v.Sigma, v.Open})
	}
	return c
}

// The same cases come out of the same seed, and every kind of mistake among them is
// found in most; with -cases FILE they are written.
func TestCases(t *testing.T) {
	draw := func(count int) []adjustCase {
		rnd := rand.New(rand.NewPCG(3, 11))
		var out []adjustCase
		for k := range count {
			out = append(out, newCase(rnd, k))
		}
		return out
	}
	count := 24
	if *casesFile != "" {
		count = 200
	}
	cases := draw(count)
	data, err := json.Marshal(cases)
	require.NoError(t, err)
	again, err := json.Marshal(draw(count))
	require.NoError(t, err)
	require.Equal(t, string(data), string(again))
	found := map[Cause]int{}
	for k, c := range cases {
		if k%2 == 1 && len(c.Answer.Verdicts) > 0 {
			found[c.Answer.Verdicts[0].Cause]++
		}
	}
	require.Greater(t, len(found), 4, fmt.Sprint(found))
	if *casesFile != "" {
		require.NoError(t, os.WriteFile(*casesFile, data, 0o644))
	}
}

// linear returns the model of rows whose derivatives do not change. Out is that at
// unknowns 0.
func linear(rows []Row) Model {
	return func(x []float64) []Row {
		out := make([]Row, len(rows))
		for i, r := range rows {
			out[i] = Row{Terms: r.Terms, Out: r.Out - dot(r.Terms, x), Sigma: r.Sigma}
		}
		return out
	}
}
