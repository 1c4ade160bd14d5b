package proportions

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/standards"
)

func ruleOf(t testing.TB, id string) *standards.Rule {
	t.Helper()
	r, err := standards.Find(id)
	require.NoError(t, err)
	return r
}

func TestTry(t *testing.T) {
	r := ruleOf(t, "an-i-9b/star-and-bars")
	for _, s := range []style{{scale: 20}, {scale: 20, disjoint: true}, {scale: 20, disjoint: true, noise: 0.005, dense: 0.01, turn: 1}} {
		rec, err := Recognise(s.drawn(rightBars().layers(8, true), rand.New(rand.NewPCG(1, 2))), r, Options{})
		require.NoError(t, err)
		fmt.Println(rec.Centre, rec.Radius, rec.Turn, rec.Missing)
		for _, c := range rec.Checks {
			fmt.Printf("%-16s %-50s %8.4f %8.4f tol %.5f res %.5f %s %s\n", c.Dimension(), c.What, c.Ratio, c.ExpectedRatio, c.Tolerance.Inches()/20, c.Residual.Inches()/20, c.Verdict, c.Other)
		}
	}
}
