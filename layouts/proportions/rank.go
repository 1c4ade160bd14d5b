package proportions

import (
	"math"
	"slices"
	"sync"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// Candidate is a rule that a drawing may be of.
type Candidate struct {
	*Recognition
	Sound  bool // nothing deviates
	Number int  // of checks that deviate
}

// Rank returns the rules that a drawing may be of, the likeliest first: those of which
// nothing deviates and most of the drawing is theirs, then those with least that
// deviates. Where the drawing has no paints that tell, all that its outlines fit come
// alike.
//
// Errors: those of the rules' figures.
func Rank(drawing []Drawn, o Options) ([]Candidate, bool, error) {
	sc, err := newScene(drawing)
	if err != nil {
		return nil, false, err
	}
	runs := trace(outlines(sc.bare))
	list, err := rank(sc, runs, o)
	if err != nil {
		return nil, sc.known, err
	}
	var out []Candidate
	for _, j := range list {
		out = append(out, Candidate{Recognition: j.Recognition, Sound: j.sound(), Number: deviating(j.Recognition)})
	}
	filled, err := fields(sc, runs, o)
	if len(filled) > 0 && filled[0].Sound && (len(out) == 0 || !out[0].Sound) {
		return append(filled, out...), sc.known, err
	}
	return append(out, filled...), sc.known, err
}

// rulesWithParts returns all rules that have shapes.
func rulesWithParts() ([]*standards.Rule, error) {
	docs, err := standards.Documents()
	var out []*standards.Rule
	for _, d := range docs {
		out = append(out, d.Rules...)
	}
	return slices.DeleteFunc(out, func(r *standards.Rule) bool { return len(r.Parts) == 0 }), err
}

// rank judges all rules that can be measured.
func rank(sc *scene, runs []run, o Options) ([]judgement, error) {
	rules, err := rulesWithParts()
	if err != nil {
		return nil, err
	}
	near, err := nearest(runs, rules, o)
	if err != nil {
		return nil, err
	}
	var out []judgement
	for _, a := range near {
		j, err := judgeAttempt(a, sc, Options{Tolerance: o.Tolerance, Until: o.Until})
		if err != nil {
			return nil, err
		}
		out = append(out, j)
	}
	most := 0.0
	for _, j := range out {
		most = math.Max(most, j.claimed)
	}
	slices.SortStableFunc(out, func(a, b judgement) int {
		// What is a part of a larger insignia is not what the drawing is.
		for _, d := range []int{a.rest(most) - b.rest(most), a.wrong() - b.wrong()} {
			if d != 0 {
				return d
			}
		}
		return 0
	})
	return out, nil
}

// rest returns how much less of the drawing is the rule's than of the rule that has
// most, in tenths; what deviates in much counts as if little were its.
func (j judgement) rest(most float64) int { return j.attempt.rest(most) + min(j.wrong(), 3) }

func (a attempt) rest(most float64) int {
	return int(float64((1-a.claimed/math.Max(most, 1e-12))*10) + 0.5)
}

// wrong counts the checks that deviate.
func (j judgement) wrong() int {
	n := len(j.Missing)
	for _, c := range j.Checks {
		if c.deviates() && c.Name != "size" {
			n++
		}
	}
	return n
}

// drawings keeps the drawings of rules at their nominal size.
var drawings sync.Map

// drawingOf returns a rule's drawing at a governing size in inches.
//
// Errors: those of the rule's figure.
func drawingOf(rule *standards.Rule, picks []standards.Pick, size float64) (*ruleDrawing, error) {
	key := keyOf(rule, picks, size)
	if s, ok := drawings.Load(key); ok {
		return s.(*ruleDrawing), nil
	}
	s, err := newRuleDrawing(rule, picks, size)
	if err == nil && math.Mod(size, standards.NominalSize) == 0 {
		drawings.Store(key, s)
	}
	return s, err
}

// overlay returns the rule's borders in sight in the coordinates of the drawing.
func (w *whole) overlay() [][]geometry.Point {
	var out [][]geometry.Point
	for layer, rings := range w.rings {
		if w.paints[layer] == standards.Unpainted && len(w.rings) > 1 {
			continue
		}
		for _, r := range rings {
			pts := make([]geometry.Point, 0, len(r)+1)
			for _, q := range r {
				pts = append(pts, w.m.drawn(q))
			}
			if len(pts) > 0 && pts[0] != pts[len(pts)-1] {
				pts = append(pts, pts[0])
			}
			out = append(out, pts)
		}
	}
	return out
}
