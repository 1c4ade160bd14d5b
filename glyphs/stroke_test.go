package glyphs

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// 14 CFR 45.29(d): strokes one sixth as wide as the character is high. From
// every edge of every outline rays go square through the ink. Where a ray comes
// out at an edge that runs the other way, it has crossed a stroke: never less
// than one sixth of the height. An edge longer than an end of a stroke has a
// ray that measures just that.
func TestStrokesFromEveryEdge(t *testing.T) {
	square, other := *block(t), *block(t)
	square.Corner = Corner{Cut: Cut{Kind: SquareCut}}
	other.Forms = map[string]string{"4": "open", "I": "barred"}
	other.Widths = map[string]float64{"1": 1, "M": 6, "W": 6}
	for name, a := range map[string]*Alphabet{"block-6x4": block(t), "square corners": &square, "other forms": &other} {
		for _, r := range all {
			glyph, err := a.Glyph(r, 12)
			require.NoError(t, err)
			exact := 0
			for _, c := range glyph.Outline {
				for i, s := range c.Segments {
					e := edge{c.From(i), s.End}
					least := math.Inf(1)
					for k := 1; k < 40; k++ {
						if d, ok := e.across(glyph.Outline, float64(k)/40); ok {
							require.Greater(t, d, 2-0.001, "%s: %c is thin behind the edge %v", name, r, e)
							least = math.Min(least, d)
						}
					}
					if math.Abs(least-2) <= 0.001 {
						exact++
					} else {
						require.True(t, e.endsStroke(), "%s: %c has no stroke behind the edge %v, but %.4f in", name, r, e, least)
					}
				}
			}
			require.GreaterOrEqual(t, exact, 2, "%s: measured edges of %c", name, r)
		}
	}
}

// edge is a straight piece of an outline with the ink on its left.
type edge struct{ a, b g.Point }

// across returns the way through the ink from a fraction t of e, square to e,
// if it comes out at an edge that runs the other way.
func (e edge) across(path g.Path, t float64) (float64, bool) {
	along := e.b.Sub(e.a).Unit()
	p, in := e.a.Lerp(e.b, t), along.Perp()
	best, opposite := math.Inf(1), false
	for _, c := range path {
		for i, s := range c.Segments {
			a, b := c.From(i).Sub(p), s.End.Sub(p)
			ca, cb := in.Cross(a), in.Cross(b)
			if (ca > 0) == (cb > 0) {
				continue
			}
			d := a.Add(b.Sub(a).Scale(ca / (ca - cb))).Dot(in)
			if d > 1e-6 && d < best {
				best, opposite = d, s.End.Sub(c.From(i)).Unit().Dot(along) < -1+1e-9
			}
		}
	}
	return best, opposite
}

// endsStroke tells whether e may be the end of a stroke of a 12 in character:
// not longer than a stroke cut slantwise, or the shoulder of a joint.
func (e edge) endsStroke() bool { return e.a.Dist(e.b) < 3.2 }

// A check that passes everything is none: a thin stroke is found.
func TestStrokeCheckFindsThinStroke(t *testing.T) {
	thin := g.Path{g.Rectangle(g.Rect{Max: g.Point{X: 1.9, Y: 12}})}
	d, ok := edge{g.Point{X: 1.9, Y: 0}, g.Point{X: 1.9, Y: 12}}.across(thin, 0.5)
	require.True(t, ok)
	require.InDelta(t, 1.9, d, 1e-12)
}
