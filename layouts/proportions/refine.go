package proportions

import (
	"math"

	"maskloft/geometry"
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
	m, w := j.match, j.whole
	at := m.pose
	for range refineRounds {
		moved, ok := w.nearer(at)
		if !ok {
			break
		}
		at = moved
		m = newMatched(m.template, at)
		m.scatter = leastScatter
		w = m.followed(w.ruleDrawing, sc)
	}
	if at == j.match.pose {
		return j, nil
	}
	var c *centre
	if m.hasCircles() {
		c = &centre{Point: at.centre, levels: levels(runs, at.centre)}
		for _, l := range c.levels {
			c.nodes += l.own / 2
		}
	}
	best := m.match(at, c, edges(runs))
	others, err := texts(m.rule, o.Picks, m.size)
	if err != nil {
		return j, err
	}
	a := best.attempt(o, others)
	if a.known = a.known && best.byItself(runs); !a.known {
		return j, nil
	}
	again, err := judgeAttempt(a, sc, o)
	if err != nil || !again.known || again.wrong() >= j.wrong() {
		return j, err
	}
	return again, nil
}

// nearer returns a pose at which the places found lie nearer to the rule's.
func (w *whole) nearer(at pose) (pose, bool) {
	var by []float64
	close := refineFrom
	for range refineSteps {
		var rows [][]float64
		var want, weights []float64
		for k, e := range w.samples {
			if !w.found[k] {
				continue
			}
			row := []float64{e.out.X, e.out.Y, e.out.Dot(geometry.Vec(e.Point)), e.out.Dot(geometry.Vec(e.Point).Perp())}
			r := w.off[k]
			for i := range by {
				r -= by[i] * row[i]
			}
			rows, want, weights = append(rows, row), append(want, w.off[k]), append(weights, e.weight/(math.Abs(r)+close))
		}
		if len(rows) < 4*fewestPlaces {
			return at, false
		}
		for i := range 4 {
			row := make([]float64, 4)
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
		close *= refineCloser
	}
	far := math.Hypot(by[0], by[1]) + math.Abs(by[2]) + math.Abs(by[3])
	if far > 0.3 || far < 1e-6 {
		return at, false
	}
	w.m.pose = at
	centre := w.m.drawn(geometry.Point{X: by[0], Y: by[1]})
	out := at
	out.centre, out.scale = centre, at.scale*(1+by[2])
	out.turn = w.m.turned(math.Atan(by[3]))
	return out, true
}
