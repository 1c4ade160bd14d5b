package survey

import (
	"context"
	"fmt"
	"math"

	"maskloft/geometry/same"
	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

const (
	runStep     = 1.0 / 4 // inches between the points at which a line on the skin is brought into the flat
	runStraight = 0.0005  // inches that a line in the flat may leave its chords: half of what a cutter can follow
)

// surroundings is the skin round one marking, in its flat.
type surroundings struct {
	ctx       context.Context // shifts and clearances are looked for until it is done
	layout    *layouts.Layout
	laid      masks.Laid
	paint     g.Path // outlines of the paint as polygons
	obstacles []flatObstacle
	edges     [][]g.Point // of the surface, without those along a hinge
}

// flatObstacle is an obstacle in the flat. A ring or spot is its centre, in the patch or
// as a tape leads to it. The others are lines: of a tape its centre line, of a hinge gap its two
// edges, of an opening its outline, each in the pieces that the patch holds.
type flatObstacle struct {
	layouts.Obstacle
	centre g.Point
	inside bool // it stands near enough to be placed in the flat
	runs   [][]g.Point
}

// radius of a ring or spot, half the width of a tape.
func (t flatObstacle) half() float64 { return t.Size.Inches() / 2 }

func (t flatObstacle) round() bool { return t.Kind == layouts.Ring || t.Kind == layouts.Spot }

// surroundingsOf brings what is on the surface of a laid marking into its flat.
//
// Errors: the tape to a ring does not settle.
func surroundingsOf(ctx context.Context, l *layouts.Layout, laid masks.Laid) (*surroundings, []layouts.Finding, error) {
	gr := &surroundings{ctx: ctx, layout: l, laid: laid, paint: masks.PolygonsOf(laid.Painted)}
	obstacles, findings := l.ObstaclesOn(laid.Placement)
	for _, o := range obstacles {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		t, err := gr.bring(o)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: obstacle %s: %w", laid.ID(), o.ID, err)
		}
		gr.obstacles = append(gr.obstacles, t)
	}
	gr.edges = gr.surfaceEdges()
	return gr, findings, nil
}

// reach is how far round the paint the patch holds all of the skin, in inches.
func (gr *surroundings) reach() float64 {
	return math.Max(gr.layout.Spec.Film.Field.Inches(), gr.layout.Clearest(gr.laid.Placement).Inches())
}

// span returns the range of stations that the patch can hold.
func (gr *surroundings) span() (lo, hi float64) {
	r := gr.laid.Field
	far := same.Hypot(math.Max(-r.Min.X, r.Max.X), math.Max(-r.Min.Y, r.Max.Y)) + gr.layout.Clearest(gr.laid.Placement).Inches() + 1
	lo, hi = skin.Extent(gr.laid.Placement.Surface)
	at := gr.laid.Placement.Anchor.FS.Inches()
	return math.Max(lo, at-far), math.Min(hi, at+far)
}

func (gr *surroundings) bring(o layouts.Obstacle) (flatObstacle, error) {
	t := flatObstacle{Obstacle: o}
	switch o.Kind {
	case layouts.Ring, layouts.Spot:
		if t.centre, t.inside = gr.laid.Map.ToFlat(o.At); !t.inside {
			var err error
			if t.centre, t.inside, err = gr.byTape(o); err != nil {
				return t, err
			}
		}
	case layouts.FinishingTape:
		lo, hi := gr.span()
		t.runs = gr.line(hi-lo, func(s float64) (skin.UV, bool) { return skin.UV{U: lo + float64(s*(hi-lo)), V: o.V}, true })
	case layouts.Around:
		if t.runs = gr.section(o.ObstacleSpec.At.FS.Inches()); o.OnWing {
			t.runs = gr.rib(o.BL.Inches())
		}
	case layouts.HingeAt:
		t.runs = append(gr.section(o.ObstacleSpec.At.FS.Inches()), gr.section(o.To.Inches())...)
	case layouts.Opening:
		corners := o.Corners()
		for i, a := range corners {
			t.runs = append(t.runs, gr.seenLine(o, a, corners[(i+1)%len(corners)])...)
		}
	}
	return t, nil
}

// byTape returns where the centre of a ring beyond the patch lies in the flat: from
// the point of the paint that is nearest in a straight line, as far and in the
// direction as the tape along the skin runs. That is exact where the skin can be
// unrolled, and the distance is exact on any (derived: the shortest path is straight
// in the flat). False where the ring is too far for any shift to matter.
func (gr *surroundings) byTape(o layouts.Obstacle) (g.Point, bool, error) {
	s := gr.laid.Placement.Surface
	centre := skin.PointAt(s, o.At)
	best, from, start := math.Inf(1), skin.UV{}, g.Point{}
	eachOutlinePoint(gr.laid, runStep, func(_ layouts.Region, q g.Point, _ float64) {
		if uv, ok := gr.laid.Map.ToSkin(q); ok {
			if d := skin.PointAt(s, uv).Sub(centre).Norm(); d < best {
				best, from, start = d, uv, q
			}
		}
	})
	if best > o.Size.Inches()/2+o.Clear.Inches()+shiftSteps*shiftStep {
		return g.Point{}, false, nil
	}
	path, err := skin.Tape(s, from, o.At, g.NetTolerance)
	if err != nil || len(path.Points) < 2 {
		return g.Point{}, false, err
	}
	a, b := path.Points[0], path.Points[1]
	const part = 0.01 // of the first piece: its start lies in the patch
	ahead, ok := gr.laid.Map.ToFlat(skin.UV{U: a.U + float64(part*(b.U-a.U)), V: a.V + float64(part*(b.V-a.V))})
	if !ok {
		return g.Point{}, false, nil
	}
	return start.Add(ahead.Sub(start).Unit().Scale(path.Length.Inches())), true, nil
}

// section returns the section of the surface at a station, in the flat.
func (gr *surroundings) section(fs float64) [][]g.Point {
	s := gr.laid.Placement.Surface
	lo, hi := gr.span()
	if fs < lo || fs > hi {
		return nil
	}
	_, vs, _ := s.Breaks()
	v0, v1 := vs[0], vs[len(vs)-1]
	return gr.line(skin.Girth(s, g.Station(fs), v0, v1).Inches(), func(t float64) (skin.UV, bool) {
		return skin.UV{U: fs, V: v0 + float64(t*(v1-v0))}, true
	})
}

// rib returns the line along a wing's rib at a butt line outwards, in the flat.
func (gr *surroundings) rib(bl float64) [][]g.Point {
	lo, hi := gr.span()
	v := bl * gr.laid.Placement.Side.Sign()
	return gr.line(hi-lo, func(t float64) (skin.UV, bool) {
		uv := skin.UV{U: lo + float64(t*(hi-lo)), V: v}
		return uv, gr.laid.Placement.Surface.Contains(uv)
	})
}

// seenLine returns the line that is seen straight from the side, or on a wing in plan,
// between two points of that view, in the flat, as far as it comes near the marking.
func (gr *surroundings) seenLine(o layouts.Obstacle, a, b g.Point) [][]g.Point {
	p := gr.laid.Placement
	lo, hi := gr.span()
	return gr.line(a.Dist(b), func(t float64) (skin.UV, bool) {
		at := a.Lerp(b, t)
		if at.X < lo || at.X > hi {
			return skin.UV{}, false
		}
		uv, err := o.Locate(p.Surface, p.Side, at)
		return uv, err == nil
	})
}

// line brings a line on the skin, given over [0, 1], into the flat.
func (gr *surroundings) line(length float64, at func(float64) (skin.UV, bool)) [][]g.Point {
	n := g.Steps(length, runStep)
	var out [][]g.Point
	var run []g.Point
	end := func() {
		if len(run) > 1 {
			out = append(out, straightened(run, runStraight))
		}
		run = nil
	}
	for i := 0; i <= n; i++ {
		uv, ok := at(float64(i) / float64(n))
		var q g.Point
		if ok {
			q, ok = gr.laid.Map.ToFlat(uv)
		}
		if !ok {
			end()
			continue
		}
		run = append(run, q)
	}
	end()
	return out
}

// straightened leaves out points of a run that lie within tolerance of the chords
// that are left (Douglas and Peucker 1973).
func straightened(run []g.Point, tolerance float64) []g.Point {
	far, at := tolerance, 0
	last := run[len(run)-1]
	for i := 1; i+1 < len(run); i++ {
		if d := g.SegmentDistance(run[i], run[0], last); d > far {
			far, at = d, i
		}
	}
	if at == 0 {
		return []g.Point{run[0], last}
	}
	head := straightened(run[:at+1], tolerance)
	return append(head[:len(head)-1:len(head)-1], straightened(run[at:], tolerance)...)
}

// distanceToRun returns the distance from q to a run of straight pieces.
func distanceToRun(q g.Point, run []g.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(run); i++ {
		best = math.Min(best, g.SegmentDistance(q, run[i-1], run[i]))
	}
	return best
}

// distanceToRuns is distanceToRun for several.
func distanceToRuns(q g.Point, runs [][]g.Point) float64 {
	best := math.Inf(1)
	for _, r := range runs {
		best = math.Min(best, distanceToRun(q, r))
	}
	return best
}
