package masks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	g "maskloft/geometry"
)

// A tile laid upside down does not meet its marks on the aircraft: whichever way it is
// shifted, one mark is out by a quarter of an inch or more. Found by laying each mark
// of the turned tile on each mark of the aircraft in turn.
func TestTurnedTilesDoNotFit(t *testing.T) {
	tiles := 0
	for _, w := range cutIn(t) {
		for _, tiling := range w.tilings {
			for _, c := range allCells(tiling) {
				var marks []g.Point
				for _, i := range c.Marks {
					marks = append(marks, tiling.Marks[i].Film)
				}
				for _, p := range marks {
					for _, q := range marks {
						worst := 0.0
						for _, r := range marks {
							turned, nearest := g.Point{X: p.X + q.X - r.X, Y: p.Y + q.Y - r.Y}, math.Inf(1)
							for _, s := range marks {
								nearest = math.Min(nearest, turned.Dist(s))
							}
							worst = math.Max(worst, nearest)
						}
						assert.GreaterOrEqual(t, worst, MarkRadius, "%s %s tile %d-%d", w.name, tiling.Laid.ID(), c.Row, c.Column)
					}
				}
				tiles++
			}
		}
	}
	assert.Greater(t, tiles, 20)
}

func TestTurnsOnto(t *testing.T) {
	at := func(xy ...float64) (out []g.Point) {
		for i := 0; i < len(xy); i += 2 {
			out = append(out, g.Point{X: xy[i], Y: xy[i+1]})
		}
		return out
	}
	assert.True(t, turnsOnto(at(3, 1, 9, 1, 9, 5, 3, 5)), "a rectangle")
	assert.True(t, turnsOnto(at(0, 0, 9, 1, 12, 6, 3, 5)), "a parallelogram")
	assert.False(t, turnsOnto(at(3, 1, 9, 1, 8, 5, 4, 5)), "a trapezium")
	assert.False(t, turnsOnto(at(3, 1, 9, 1, 9, 5)), "a triangle")
	assert.False(t, turnsOnto(nil))
}

// Ticks are printed where the tape list has points of their roles, and lead inwards.
func TestAxisTicksAreTapePoints(t *testing.T) {
	ticks := 0
	for _, w := range cutIn(t) {
		for k := range w.tilings {
			tiling := &w.tilings[k]
			points := map[string]g.Point{}
			for _, s := range tiling.Spots() {
				if s.Role == LevelTick || s.Role == UprightTick {
					points[s.Mark.ID] = s.Mark.Film
				}
			}
			all := tiling.AxisTicks()
			assert.Len(t, all, len(points))
			for _, tick := range all {
				assert.Equal(t, points[tick.ID], tick.At)
				assert.Equal(t, tick.Role == LevelTick, tick.Inward.X != 0)
				in := tick.At.Add(tick.Inward.Scale(0.05)) // a film may end close to its anchor
				assert.Less(t, g.Point{}.Dist(in), g.Point{}.Dist(tick.At), "%s %s", w.name, tick.ID)
				ticks++
			}
		}
	}
	assert.Greater(t, ticks, 20)
}
