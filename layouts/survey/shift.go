package survey

import (
	"math"
	"slices"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
)

const (
	shiftStep  = 1.0 / 8 // inches between the shifts tried: what a tape is read to in a shop
	shiftSteps = 24      // either way: 3 in; a longer shift is another layout
	gapShift   = 6.0     // inches that lettering is shifted at most to bring a gap over a hinge
)

// shift returns the least shift, up or down, aft or forward, in eighths of an inch,
// after which wanted holds of the paint displaced by v in this flat. On a skin that
// cannot be unrolled the displaced paint is not quite that of the marking laid in its
// new place; what is written into a layout is verified there.
func (gr *surroundings) shift(wanted func(v g.Vec) bool) (aft, up g.Length, ok bool) {
	for k := 1; k <= shiftSteps; k++ {
		d := g.Length(float64(k) * shiftStep)
		for _, way := range [4][2]g.Length{{0, d}, {0, -d}, {d, 0}, {-d, 0}} {
			if gr.ctx.Err() != nil {
				return 0, 0, false // One returns its error
			}
			if v, on := gr.displaced(way[0], way[1]); on && wanted(v) {
				return way[0], way[1], true
			}
		}
	}
	return 0, 0, false
}

// displaced returns where a shift brings the anchor in this flat; false where it leaves
// the skin or the patch, and of what follows the skin.
func (gr *surroundings) displaced(aft, up g.Length) (g.Vec, bool) {
	if gr.laid.Placement.Drawn != nil { // it brings its own place: no key moves it as a whole
		return g.Vec{}, false
	}
	p, err := gr.layout.Moved(gr.laid.Placement, aft, up)
	if err != nil {
		return g.Vec{}, false
	}
	to, on := gr.laid.Map.ToFlat(p.Frame.At)
	return to.Sub(g.Point{}), on
}

// clears tells whether paint displaced by v keeps clear of every obstacle and edge
// in the patch, and, where whole is set, every character clears the rings with the
// rectangle it stands in.
func (gr *surroundings) clears(v g.Vec, whole bool) bool {
	back := v.Scale(-1)
	for _, t := range gr.obstacles {
		switch {
		case !t.Keeps() || t.Over:
		case t.round():
			c := t.centre.Add(back)
			if !t.inside {
				continue
			}
			d, _ := nearestPaint(gr.paint, [][]g.Point{{c, c}})
			if d-t.half() < t.Clear.Inches() || gr.paint.Contains(c, g.FlattenTolerance) {
				return false
			}
			for _, k := range gr.laid.Characters {
				if whole && c.Dist(k.Cell.Nearest(c)) < t.half() {
					return false
				}
			}
		default:
			if d, _ := nearestPaint(gr.paint, movedRuns(t.runs, back)); d < t.Clear.Inches() {
				return false
			}
		}
	}
	d, _ := nearestPaint(gr.paint, movedRuns(gr.edges, back))
	e, _ := gr.planEdge(v)
	return math.Min(d, e) >= gr.layout.Spec.Rules.Edge.Inches()
}

func movedRuns(runs [][]g.Point, v g.Vec) [][]g.Point {
	out := make([][]g.Point, len(runs))
	for i, r := range runs {
		for _, q := range r {
			out[i] = append(out[i], q.Add(v))
		}
	}
	return out
}

// overGap returns the least shift aft that brings the middle of a gap between two
// characters over the middle of a hinge gap, and the two characters.
func (gr *surroundings) overGap(t flatObstacle) (aft g.Length, between [2]rune, ok bool) {
	type way struct {
		aft     float64
		between [2]rune
	}
	var ways []way
	for i := 1; i < len(gr.laid.Characters); i++ {
		a, b := gr.laid.Characters[i-1], gr.laid.Characters[i]
		middle := g.Point{X: (a.Cell.Max.X + b.Cell.Min.X) / 2, Y: (a.Cell.Min.Y + a.Cell.Max.Y) / 2}
		if pos, held := gr.laid.Map.PositionOf(middle); held {
			ways = append(ways, way{float64(t.ObstacleSpec.At.FS+t.To)/2 - pos.FS.Inches(), [2]rune{a.Rune, b.Rune}})
		}
	}
	slices.SortStableFunc(ways, func(a, b way) int {
		switch d := math.Abs(a.aft) - math.Abs(b.aft); {
		case d < -g.SnapTolerance:
			return -1
		case d > g.SnapTolerance:
			return 1
		}
		return 0
	})
	for _, w := range ways {
		if v, on := gr.displaced(g.Length(w.aft), 0); math.Abs(w.aft) <= gapShift && on && gr.clears(v, false) {
			return g.Length(w.aft), w.between, true
		}
	}
	return 0, [2]rune{}, false
}

// move is the change of the layout file that shifts this marking aft or up; does says
// what is gained by it: "keeps 1/2 in from it".
func (gr *surroundings) move(aft, up g.Length, does string) layouts.Proposal {
	m := gr.laid.Placement.Marking
	key, to, by, way := []string{"where", "fs"}, g.Length(m.Where.FS)+aft, aft, direction(aft, "aft", "forward")
	switch {
	case up == 0:
	case gr.laid.Placement.Face() != layouts.NoFace:
		key, to, by, way = []string{"where", "bl"}, g.Length(m.Where.BL)+up, up, direction(up, "outwards", "inwards")
	case m.Where.Height == layouts.HeightWaterline:
		key, to, by, way = []string{"where", "wl"}, g.Length(m.Where.WL)+up, up, direction(up, "up", "down")
	default:
		key, to, by, way = []string{"where", "from", "down"}, m.Where.Down-up, up, direction(up, "up", "down")
	}
	spec := gr.layout.Spec
	return layouts.Proposal{Path: m.Path(key...), Value: spec.Write(to), Why: gr.laid.Placement.Read.Length(g.Length(math.Abs(by.Inches())), 4) + " " + way + ": " + does}
}

// hintOf writes proposals as a hint; rest is what else may be done.
func hintOf(proposals []layouts.Proposal, rest string) string {
	var ways []string
	for _, p := range proposals {
		ways = append(ways, p.String())
	}
	if rest != "" {
		ways = append(ways, rest)
	}
	return strings.Join(ways, "; or ")
}

func direction(l g.Length, positive, negative string) string {
	if l > 0 {
		return positive
	}
	return negative
}
