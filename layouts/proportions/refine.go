package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// A drawing all of whose circles are out of round gives no centre. The edges and arcs
// that were followed then tell the pose better: least absolute deviations of all
// places, which one part out of place does not pull.
const (
	refineRounds = 5
	refineSteps  = 8
	refineFrom   = 0.03 // governing radii that count as no deviation, in the first step
	refineCloser = 0.6
)

// refined holds the drawing against the rule at the pose that its borders tell, and
// returns that where less deviates than at j's pose.
//
// Errors: those of the rule's figure.
func (j judgement) refined(sc *scene, runs []run, o Options) (judgement, error) {
	best := j
	starts := []pose{j.match.pose}
	if at, ok := j.byBox(); ok {
		starts = append(starts, at)
	}
	starts = append(starts, j.otherTurns(runs)...)
	s, err := drawingOf(j.Rule, j.match.picks, j.match.size)
	if err != nil {
		return j, err
	}
	for _, at := range starts {
		for _, stretched := range []bool{false, true} {
			if best.clear() {
				return best, nil
			}
			m := newMatched(j.match.template, at)
			m.grain = j.match.grain
			again, err := j.refinedFrom(at, stretched, m.followed(s, sc), sc, runs, o)
			if err != nil {
				return j, err
			}
			if again.clearer(best) {
				best = again
			}
		}
	}
	return best, nil
}

// otherTurns returns the poses at j's centre and size to which other edges of the drawing
// turn it: two arms of a chevron are alike, and of a skewed one either may conform.
func (j judgement) otherTurns(runs []run) (out []pose) {
	if !j.match.hasEdges() {
		return nil
	}
	for _, turn := range j.match.turns(j.match.pose, edges(runs)) {
		if math.Abs(math.Remainder(turn-j.match.turn, 2*math.Pi)) > otherTurn {
			at := j.match.pose
			at.turn = turn
			out = append(out, at)
		}
	}
	return out
}

// otherTurn is how far apart, radians, turns are that are not one.
const otherTurn = 0.2

// sameBox is how alike the extents of a drawing and of a rule are that are taken for the
// same: a stretch or a skew of all of it changes them by so much.
const sameBox = 0.1

// byBox returns the pose at which the extents of the drawing are the rule's, at the turn
// found; false where they are not alike, or the drawing is at true size.
func (j judgement) byBox() (pose, bool) {
	w := j.whole
	drawn := w.drawing.Bounds()
	s, err := drawingOf(j.Rule, j.match.picks, j.match.size)
	if err != nil || j.match.fixed || !(drawn.Width() > 0) {
		return pose{}, false
	}
	wide, high := drawn.Width()/s.box.Width(), drawn.Height()/s.box.Height()
	if math.Abs(wide-1) > sameBox || math.Abs(high-1) > sameBox {
		return pose{}, false
	}
	grown := math.Sqrt(wide * high)
	at := j.match.pose
	middle := s.box.Centre()
	centre := drawn.Centre().Add(geometry.Vec(middle).Scale(-grown))
	at.centre, at.scale = j.match.drawn(centre), at.scale*grown
	return at, true
}

// refinedFrom is refined from one pose, with the borders found at it; stretched takes the
// drawing for one that may be stretched or skewed in all.
func (j judgement) refinedFrom(at pose, stretched bool, w *whole, sc *scene, runs []run, o Options) (judgement, error) {
	m := w.m
	from := at
	for range refineRounds {
		moved, ok := w.nearer(at, stretched)
		if !ok {
			break
		}
		at = moved
		m = newMatched(m.template, at)
		m.grain = j.match.grain
		w = m.followed(w.ruleDrawing, sc)
	}
	if at == from && at == j.match.pose {
		return j, nil
	}
	var c *centre
	if m.hasCircles() {
		c = &centre{Point: at.centre, levels: w.withOvals(levels(runs, at.centre), at.scale)}
		for _, l := range c.levels {
			c.nodes += l.own / 2
		}
	}
	best := m.match(at, c, edges(runs))
	best.grained(runs)
	others, err := texts(m.rule, o.Picks, m.size)
	if err != nil {
		return j, err
	}
	a := best.attempt(o, others)
	if a.known = a.known && best.byItself(runs); !a.known {
		return j, nil
	}
	again, err := judgeAttempt(a, sc, o)
	if err != nil || !again.known || !again.clearer(j) {
		return j, err
	}
	return again, nil
}

// withOvals adds to the circles of the drawing those of the rule that were followed and
// are no circles in the drawing: at their mean radius.
func (w *whole) withOvals(list []level, scale float64) []level {
	for _, b := range w.borders {
		if !b.arc || b.centre.Dist(geometry.Point{}) > sameEdge || len(b.samples) == 0 {
			continue
		}
		l := level{rms: leastScatter * scale}
		for _, k := range b.samples {
			if w.found[k] {
				l.own++
				l.length += float64(w.samples[k].weight * scale)
				l.radius += float64((b.radius + w.off[k]) * scale)
			}
		}
		l.radius /= math.Max(l.own, 1)
		l.sweep = l.length / math.Max(l.radius, 1e-12)
		near := func(o level) bool { return math.Abs(o.radius/l.radius-1) < ovalApart }
		if 2*l.own > float64(len(b.samples)) && !slices.ContainsFunc(list, near) {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b level) int { return cmp.Compare(a.radius, b.radius) })
	return list
}

// ovalApart is how far apart circles of the drawing are, of their radius, that are not one.
const ovalApart = 0.02

// nearer returns a pose at which the places found lie nearer to the rule's, stretched
// or skewed in all where that is allowed for.
func (w *whole) nearer(at pose, stretched bool) (pose, bool) {
	var by []float64
	unknown := 4
	if stretched {
		unknown = 6
	}
	close := refineFrom
	for range refineSteps {
		var rows [][]float64
		var want, weights []float64
		for k, e := range w.samples {
			if !w.found[k] {
				continue
			}
			row := []float64{e.out.X, e.out.Y, e.out.Dot(geometry.Vec(e.Point)), e.out.Dot(geometry.Vec(e.Point).Perp()), (float64(e.out.X*e.X) - float64(e.out.Y*e.Y)) / 2, (float64(e.out.X*e.Y) + float64(e.out.Y*e.X)) / 2}[:unknown]
			r := w.off[k]
			for i := range by {
				r -= float64(by[i] * row[i])
			}
			rows, want, weights = append(rows, row), append(want, w.off[k]), append(weights, e.weight/(math.Abs(r)+close))
		}
		if len(rows) < 4*fewestPlaces {
			return at, false
		}
		for i := range unknown {
			row := make([]float64, unknown)
			row[i] = 1
			strength := 1e-6
			if i == 2 && w.m.fixed {
				strength = 1e9 // a drawing at true size does not grow
			}
			rows, want, weights = append(rows, row), append(want, 0), append(weights, strength)
		}
		solved, ok := leastSquares(rows, want, weights)
		if !ok {
			return at, false
		}
		by = solved
		close = float64(close * refineCloser)
	}
	far := same.Hypot(by[0], by[1]) + math.Abs(by[2]) + math.Abs(by[3])
	if far > 0.3 || far < 1e-6 {
		return at, false
	}
	w.m.pose = at
	centre := w.m.drawn(geometry.Point{X: by[0], Y: by[1]})
	out := at
	out.centre, out.scale = centre, at.scale*(1+by[2])
	out.turn = w.m.turned(same.Atan(by[3]))
	return out, true
}
