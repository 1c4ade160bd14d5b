package glyphs

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"

	g "maskloft/geometry"
)

// frame is a rectangle of paint with rectangular counters.
func frame(outer g.Rect, counters ...g.Rect) g.Path {
	p := g.Path{g.Rectangle(outer)}
	for _, c := range counters {
		p = append(p, g.Rectangle(c).Reversed())
	}
	return p
}

func rect(x0, y0, x1, y1 float64) g.Rect {
	return g.Rect{Min: g.Point{X: x0, Y: y0}, Max: g.Point{X: x1, Y: y1}}
}

// Closed forms: a frame of stroke s loses s times the width for every bridge, in
// the place that is asked for; the count of islands and of pieces follows.
func TestBridgesOnFrames(t *testing.T) {
	o := frame(rect(0, 0, 8, 12), rect(2, 2, 6, 10))
	eight := frame(rect(0, 0, 8, 12), rect(2, 7, 6, 10), rect(2, 2, 6, 5))
	two := append(frame(rect(0, 0, 8, 12), rect(2, 2, 6, 10)), frame(rect(10, 0, 18, 12), rect(12, 3, 16, 10))...)
	for _, c := range []struct {
		name    string
		paint   g.Path
		way     BridgeDirection
		lost    float64
		islands int
		bridges int
		pieces  int
		open    []g.Point // film where paint was
	}{
		{"O upright", o, BridgesUpright, 2 * 2 * 0.5, 1, 2, 2, []g.Point{{X: 4, Y: 1}, {X: 4.24, Y: 11}}},
		{"O as usual", o, "", 2 * 2 * 0.5, 1, 2, 2, []g.Point{{X: 3.76, Y: 1}, {X: 4, Y: 11}}},
		{"O level", o, BridgesLevel, 2 * 2 * 0.5, 1, 2, 2, []g.Point{{X: 1, Y: 6}, {X: 7, Y: 6.24}}},
		{"O both", o, BridgesBoth, 4 * 2 * 0.5, 1, 4, 4, []g.Point{{X: 1, Y: 6}, {X: 7, Y: 6}, {X: 4, Y: 1}, {X: 4, Y: 11}}},
		// the bridge between the two counters serves both
		{"8 upright", eight, BridgesUpright, 3 * 2 * 0.5, 2, 3, 2, []g.Point{{X: 4, Y: 1}, {X: 4, Y: 6}, {X: 4, Y: 11}}},
		{"8 level", eight, BridgesLevel, 4 * 2 * 0.5, 2, 4, 3, []g.Point{{X: 1, Y: 8.5}, {X: 7, Y: 3.5}}},
		{"two letters", two, BridgesUpright, (2 + 2 + 3 + 2) * 0.5, 2, 4, 4, []g.Point{{X: 14, Y: 1}, {X: 14, Y: 2.5}}},
	} {
		for _, way := range []IslandWay{IslandsTies, IslandsBridges} {
			got, err := HoldIslands(c.paint, Bridging{Way: way, Width: 0.5, Direction: c.way})
			require.NoError(t, err, c.name)
			require.InDelta(t, c.paint.Area()-c.lost, got.Outline.Area(), 1e-9, c.name)
			require.Equal(t, c.islands, got.Islands, c.name)
			require.Zero(t, got.Left, c.name)
			require.Len(t, got.Bridges, c.bridges, c.name)
			require.Len(t, got.Outline, c.pieces, c.name)
			require.Empty(t, got.Unbridged, c.name)
			require.False(t, got.Thin, c.name)
			for _, q := range c.open {
				require.True(t, c.paint.Contains(q, 1e-3), "%s: %v", c.name, q)
				require.False(t, got.Outline.Contains(q, 1e-3), "%s: %v", c.name, q)
			}
			sum := got.Outline
			for _, b := range got.Bridges { // cut the ties away: the paint is whole again
				require.InDelta(t, b.Across.Area()/0.5, float64(b.Length), 1e-9, c.name)
				sum, err = g.Union(sum, b.Across)
				require.NoError(t, err)
			}
			require.InDelta(t, c.paint.Area(), sum.Area(), 1e-9, c.name)
			require.Equal(t, c.islands, CountIslands(sum), c.name)
		}
	}
	got, err := HoldIslands(o, Bridging{Way: IslandsTape})
	require.NoError(t, err)
	require.Equal(t, 1, got.Left, "tape carries the island")
	require.InDelta(t, o.Area(), got.Outline.Area(), 1e-12)
}

// A ring of radii R and r loses, for each bridge of width w, the strip's part of
// the half discs: half of w sqrt(R^2 - w^2/4) + 2 R^2 asin(w/2R), less the same
// for r. The circles are of eight cubics, round to 4.2e-6.
func TestBridgesOnRing(t *testing.T) {
	ring := g.Path{g.Circle(g.Point{X: 1, Y: 2}, 5), g.Circle(g.Point{X: 1, Y: 2}, 3).Reversed()}
	strip := func(r, w float64) float64 { return w*math.Sqrt(r*r-w*w/4) + 2*r*r*math.Asin(w/2/r) }
	for _, c := range []struct {
		way BridgeDirection
		n   float64
	}{{BridgesUpright, 1}, {BridgesLevel, 1}, {BridgesBoth, 2}} {
		got, err := HoldIslands(ring, Bridging{Way: IslandsBridges, Width: 0.75, Direction: c.way})
		require.NoError(t, err)
		require.InDelta(t, ring.Area()-c.n*(strip(5, 0.75)-strip(3, 0.75)), got.Outline.Area(), 1e-4)
		require.Zero(t, got.Left)
		for _, b := range got.Bridges {
			require.InDelta(t, 2, float64(b.Length), 1e-3)
			require.Zero(t, b.Moved)
		}
	}
}

// A bridge at the middle would leave a sliver of paint beside a notch; it moves.
func TestBridgeMoves(t *testing.T) {
	whole := frame(rect(0, 0, 8, 12), rect(2, 2, 6, 10))
	slot, err := g.Subtract(whole, g.Path{g.Rectangle(rect(2.5, 10.5, 3.7, 13))}) // the bridge would begin at 3.75
	require.NoError(t, err)
	got, err := HoldIslands(slot, Bridging{Way: IslandsBridges, Width: 0.5, Least: 0.0787})
	require.NoError(t, err)
	require.Zero(t, got.Left)
	require.NotEmpty(t, got.Bridges)
	require.Empty(t, got.Unbridged)
	for _, b := range got.Bridges { // within the slot, or 0.0787 in clear of it
		x := b.Across.Bounds()
		require.True(t, x.Min.X <= 3.7 || x.Min.X >= 3.7+0.0787, "from %v", x.Min.X)
		require.InDelta(t, 4+float64(b.Moved), x.Centre().X, 1e-9)
	}
	require.InDelta(t, 7.0/32, math.Abs(float64(got.Bridges[0].Moved)), 1e-9, "the next of eight places of 3.5/16 in")

	// a counter at the very edge of a wide bridge: no place, which is said
	small := frame(rect(0, 0, 1, 1), rect(0.4, 0.4, 0.6, 0.6))
	got, err = HoldIslands(small, Bridging{Way: IslandsTies, Width: 0.95})
	require.NoError(t, err)
	require.Equal(t, 1, got.Left)
	require.Len(t, got.Unbridged, 1)
	require.Contains(t, got.Unbridged[0], "leaves paint narrower than")

	_, err = HoldIslands(small, Bridging{Way: IslandsBridges, Width: 1.0 / 16})
	require.ErrorContains(t, err, "write bridges: 0.08 in or more")
}

// Every letter with a counter is held, upright and level, and no piece of paint
// that it leaves is narrower than 2 mm.
func TestBridgesOnLetters(t *testing.T) {
	a := block(t)
	for _, way := range []BridgeDirection{BridgesUpright, BridgesLevel, BridgesBoth} {
		letters, err := a.Set("ABDOPQR04689", 12, SetOptions{})
		require.NoError(t, err)
		held, got, err := letters.HoldIslands(Bridging{Way: IslandsBridges, Width: 0.5, Direction: way})
		require.NoError(t, err)
		require.Equal(t, 14, got.Islands)
		require.Zero(t, got.Left, "%s: %v", way, got.Unbridged)
		require.Empty(t, got.Unbridged, way)
		var f features
		require.NoError(t, f.measure(held.Outline(), SmallestFeature))
		require.Equal(t, f.pieces, f.thick, way)
		lost := 0.0
		for _, b := range got.Bridges {
			lost += b.Across.Area()
		}
		require.InDelta(t, letters.Outline().Area()-lost, held.Outline().Area(), 1e-6)
	}
}

// Letters of a font, large and of the size of data stencils: every island is held
// or it is said why not, ties cut away give the whole letter back, and no bridge
// makes more pieces than it must.
func TestBridgesOnFont(t *testing.T) {
	f, err := ParseFont("Go-Bold.ttf", gobold.TTF)
	require.NoError(t, err)
	for _, c := range []struct {
		height, width g.Length
		way           BridgeDirection
	}{{8, 0.375, BridgesUpright}, {1, 0.0825, BridgesLevel}} {
		held, islands := 0, 0
		for _, r := range "ABDOPQR04689eg@" {
			glyph, err := f.Glyph(r, c.height)
			require.NoError(t, err)
			got, err := HoldIslands(glyph.Outline, Bridging{Way: IslandsTies, Width: c.width, Direction: c.way})
			require.NoError(t, err, "%c %v", r, c.height)
			require.Equal(t, CountIslands(glyph.Outline), got.Islands)
			require.True(t, got.Left == 0 || len(got.Unbridged) > 0, "%c", r)
			held, islands = held+got.Islands-got.Left, islands+got.Islands
			whole := got.Outline
			for _, b := range got.Bridges {
				whole, err = g.Union(whole, b.Across)
				require.NoError(t, err)
			}
			require.InEpsilon(t, glyph.Outline.Area(), whole.Area(), 1e-6, "%c", r)
			outer := len(got.Outline) - got.Left
			require.Equal(t, len(glyph.Outline)-got.Islands-got.Islands+len(got.Bridges), outer-got.Left, "%c: Euler", r)
		}
		require.GreaterOrEqual(t, held, islands-3, "%v high", c.height)
		t.Logf("%v high, %v wide, %s: %d of %d islands held", c.height, c.width, c.way, held, islands)
	}
}
