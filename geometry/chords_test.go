package geometry

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Points in, on the level of nodes, beside and far from outlines get the answers of the
// whole outline, to the bit.
func TestChordsAnswerAsThePath(t *testing.T) {
	numbers := rand.New(rand.NewPCG(1, 2))
	for _, p := range []Path{
		{Circle(Point{X: 3, Y: 4}, 20), Circle(Point{X: 3, Y: 4}, 12).Reversed(), Circle(Point{X: 60, Y: 4}, 1e-3)},
		{Polygon(Point{}, Point{X: 9}, Point{X: 9, Y: 2}, Point{X: 4, Y: 2}, Point{X: 4, Y: 7}, Point{Y: 7})},
		nil,
	} {
		c := ChordsOf(p, FlattenTolerance)
		nodes := []Point{{X: 3, Y: 4}}
		for _, k := range p {
			nodes = append(nodes, k.Flattened(FlattenTolerance)...)
		}
		for i := range 4000 {
			q := Point{X: 80*numbers.Float64() - 25, Y: 60*numbers.Float64() - 25}
			switch n := nodes[i%len(nodes)]; i % 4 {
			case 0:
				q.Y = n.Y
			case 1:
				q = n.Add(Vec{X: 1e-5 * numbers.NormFloat64(), Y: 1e-5 * numbers.NormFloat64()})
			case 2:
				q.X = n.X
			}
			require.Equal(t, p.Contains(q, FlattenTolerance), c.Contains(q), "%v", q)
			require.Equal(t, p.Distance(q, FlattenTolerance), c.Distance(q), "%v", q)
		}
	}
}
