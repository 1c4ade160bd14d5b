package glyphs

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// A stroke has one width: 1/6 of the height in 14 CFR 45.29(d), 4 in of 30 in the
// order of 1926. From every straight edge of every outline rays go square through
// the ink. Where a ray comes out at an edge that runs the other way, it has
// crossed a stroke: never less than its width. An edge longer than an end of a
// stroke has a ray that measures just that. Corners whose inside has a size of
// its own are left out: there the file says another width.
func TestStrokesFromEveryEdge(t *testing.T) {
	square, other := *block(t), *block(t)
	square.Corner = Corner{Cut: Cut{Kind: SquareCut}}
	other.Forms = map[string]string{"4": "open", "I": "barred", "A": "pointed", "G": "spur", "J": "flat", "M": "full", "Q": "inside", "R": "straight",
		"W": "middle", "0": "slashed", "1": "flagged", "2": "diagonal", "6": "straight", "7": "upright", "9": "flat"}
	other.Widths = map[string]float64{"1": 2.2, "I": 4, "M": 6, "W": 6}
	sets := map[string]*Alphabet{"square corners": &square, "other forms": &other}
	for _, n := range Names() {
		a, err := Load(n)
		require.NoError(t, err)
		sets[n] = a
	}
	for name, a := range sets {
		want := 12 * a.Stroke.Vertical / a.Height
		require.InDelta(t, a.Stroke.Vertical, a.Stroke.Horizontal, 0)
		for _, r := range all {
			glyph, err := a.Glyph(r, 12)
			require.NoError(t, err)
			chords := glyph.Outline.Map(func(p g.Point) g.Point { return p })
			for i, c := range chords {
				chords[i] = g.Polygon(c.Flattened(1e-5)...)
			}
			exact := 0
			for _, c := range glyph.Outline {
				for i, s := range c.Segments {
					if s.Kind != g.Line {
						continue
					}
					e := edge{c.From(i), s.End}
					d := s.End.Sub(c.From(i))
					if a.Corner.Inner != nil && math.Abs(math.Abs(d.X)-math.Abs(d.Y)) < 1e-6 {
						continue // a chamfer
					}
					least := math.Inf(1)
					for k := 1; k < 40; k++ {
						if d, ok := e.across(chords, float64(k)/40); ok {
							require.Greater(t, d, want-0.001, "%s: %c is thin behind the edge %v", name, r, e)
							least = math.Min(least, d)
						}
					}
					if math.Abs(least-want) <= 0.001 {
						exact++
					} else {
						require.True(t, e.a.Dist(e.b) < 1.6*want, "%s: %c has no stroke behind the edge %v, but %.4f in", name, r, e, least)
					}
				}
			}
			require.GreaterOrEqual(t, exact, 2, "%s: measured edges of %c", name, r)
		}
	}
}

// Where a round corner goes round with its stroke, the two arcs share a centre:
// rays square to the outer arc cross one stroke, to 0.001 in.
func TestStrokesRoundCorners(t *testing.T) {
	for _, n := range []string{"block-round", "raf-serial", "cfr-45-29"} {
		a, err := Load(n)
		require.NoError(t, err)
		want := 12 * a.Stroke.Vertical / a.Height
		for _, r := range "OCDGJSU0" {
			glyph, err := a.Glyph(r, 12)
			require.NoError(t, err)
			chords := make(g.Path, len(glyph.Outline))
			for i, c := range glyph.Outline {
				chords[i] = g.Polygon(c.Flattened(1e-6)...)
			}
			rays := 0
			for _, c := range glyph.Outline {
				for i, s := range c.Segments {
					if s.Kind != g.Cubic {
						continue
					}
					for k := 1; k < 8; k++ {
						u := float64(k) / 8
						p, q := c.At(i, u-1e-4), c.At(i, u+1e-4)
						d := inkBehind(chords, p.Lerp(q, 0.5), q.Sub(p).Unit().Perp())
						require.InDelta(t, want, d, 0.001, "%s: %c at %v", n, r, p)
						rays++
					}
				}
			}
			require.GreaterOrEqual(t, rays, 28, "%s: %c has round corners", n, r)
		}
	}
}

// inkBehind returns the way from a point of the outline through the ink.
func inkBehind(path g.Path, p g.Point, in g.Vec) float64 {
	best := math.Inf(1)
	for _, c := range path {
		for i, s := range c.Segments {
			a, b := c.From(i).Sub(p), s.End.Sub(p)
			ca, cb := in.Cross(a), in.Cross(b)
			if (ca > 0) != (cb > 0) {
				if d := a.Add(b.Sub(a).Scale(ca / (ca - cb))).Dot(in); d > 1e-3 {
					best = math.Min(best, d)
				}
			}
		}
	}
	return best
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

// A check that passes everything is none: a thin stroke is found.
func TestStrokeCheckFindsThinStroke(t *testing.T) {
	thin := g.Path{g.Rectangle(g.Rect{Max: g.Point{X: 1.9, Y: 12}})}
	d, ok := edge{g.Point{X: 1.9, Y: 0}, g.Point{X: 1.9, Y: 12}}.across(thin, 0.5)
	require.True(t, ok)
	require.InDelta(t, 1.9, d, 1e-12)
}
