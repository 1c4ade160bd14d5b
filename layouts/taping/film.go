package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/adjust"
	"maskloft/geometry/same"
	"maskloft/layouts"
)

// tickLimit is how far off the middle of a tick or a mark of the film is found, each
// way, in inches (judgement).
const tickLimit = 1.0 / 64

// filmReading is one reading to one point, for the adjustment of a film.
type filmReading struct {
	TapeReading
	point  *Checkpoint
	tape   *Taping // one of these two
	offset *Offset
}

// film is the adjustment of one marking's film: rigid in the flat, moved and turned.
type film struct {
	readings []filmReading
	turns    bool    // two points or more were measured to
	middle   g.Point // about which it turns: of the points measured to
	reach    float64 // of the farthest of them from it, inches
	problem  adjust.Problem
	hooks    []layouts.Hardpoint // by index of problem.Hooks
	shared   map[string]int      // unknown of each shared error
	units    g.Units             // that it is told in
}

// Unknowns of the film: inches, and radians to the left.
const (
	right = 0
	up    = 1
	turn  = 2
)

// newFilm sets the readings of one film up as rows. Unknown are the film's two shifts
// and its turn; known beforehand to their sigma are the hardpoints along three axes,
// the tape's beginning and its scale, and what other readings share.
func newFilm(tape layouts.TapeSpec, readings []filmReading) *film {
	f := &film{readings: readings, shared: map[string]int{}, units: tape.Units}
	points := map[string]int{}
	var middle g.Vec
	for _, r := range readings {
		if _, seen := points[r.Point]; !seen {
			points[r.Point] = len(points)
			middle = middle.Add(r.point.Mark.Film.Sub(g.Point{}))
		}
	}
	f.middle = g.Point{}.Add(middle.Scale(1 / float64(len(points))))
	for _, r := range readings {
		f.reach = math.Max(f.reach, r.point.Mark.Film.Dist(f.middle))
	}
	f.turns = f.reach > 1
	p := &f.problem
	p.Longest = 5 // inches: tapes swing round their hooks
	unknown := func(name string, sigma float64) int {
		p.Unknowns = append(p.Unknowns, adjust.Unknown{Name: name, Sigma: sigma})
		return len(p.Unknowns) - 1
	}
	unknown("shift to the right", 0)
	unknown("shift up", 0)
	if f.turns {
		unknown("turn", 0)
	}
	hooks := map[string]int{}
	for _, r := range readings {
		if r.tape == nil {
			continue
		}
		h := r.tape.From
		if _, seen := hooks[h.ID]; seen {
			continue
		}
		hooks[h.ID] = len(f.hooks)
		f.hooks = append(f.hooks, h)
		sigma := hookSigma(h)
		p.Hooks = append(p.Hooks, []int{unknown(h.ID+" aft", sigma), unknown(h.ID+" right", sigma), unknown(h.ID+" up", sigma)})
	}
	zero, scale := TapeCommon(tape.Class)
	p.Zero, p.Scale = -1, -1
	if len(f.hooks) > 0 {
		p.Zero, p.Scale = unknown("tape's beginning", zero), unknown("tape's scale", scale)
	}
	start := StartMark(tape)
	for _, r := range readings {
		one := adjust.Reading{Read: r.Measured.Inches(), Typed: r.Typed, Unit: r.Unit.Inches(), Start: start, Tape: r.tape != nil, From: -1, Point: points[r.Point]}
		if r.tape != nil {
			one.From = hooks[r.tape.From.ID]
		} else {
			for _, s := range r.offset.Shared {
				if _, seen := f.shared[s.Name]; !seen {
					f.shared[s.Name] = unknown(s.Name, s.Sigma)
				}
			}
		}
		p.Readings = append(p.Readings, one)
	}
	p.Model = f.rows
	return f
}

// at returns where a point of the film lies at the unknowns, and the direction in
// which it moves as the film turns to the left, by radian.
func (f *film) at(p g.Point, x []float64) (g.Point, g.Vec) {
	d := p.Sub(f.middle)
	if f.turns {
		sin, cos := same.Sincos(x[turn])
		d = d.Scale(cos).Add(d.Perp().Scale(sin))
	}
	return f.middle.Add(d).Add(g.Vec{X: x[right], Y: x[up]}), d.Perp()
}

// rows returns the readings at values of the unknowns.
func (f *film) rows(x []float64) []adjust.Row {
	rows := make([]adjust.Row, len(f.readings))
	for i, r := range f.readings {
		terms := make([]float64, len(x))
		p, turns := f.at(r.point.Mark.Film, x)
		along := func(slope g.Vec) { // by the film
			terms[right], terms[up] = slope.X, slope.Y
			if f.turns {
				terms[turn] = slope.Dot(turns)
			}
		}
		row := adjust.Row{Terms: terms}
		if r.tape != nil {
			length, towards := r.tape.lengthTo(r.point.Mark.Film, p)
			along(towards.Scale(-1))
			hook := f.problem.Hooks[f.problem.Readings[i].From]
			for k, v := range [3]float64{r.tape.away.X, r.tape.away.Y, r.tape.away.Z} {
				terms[hook[k]] = v
				length += float64(v * x[hook[k]])
			}
			terms[f.problem.Zero], terms[f.problem.Scale] = 1, length
			length += x[f.problem.Zero] + float64(length*x[f.problem.Scale])
			row.Out = r.Measured.Inches() - length
			row.Sigma = r.tape.Terms().Sigma
		} else {
			along(r.offset.Slope)
			length := r.offset.Length.Inches() + r.offset.Slope.Dot(p.Sub(r.point.Mark.Film))
			for _, s := range r.offset.Shared {
				k := f.shared[s.Name]
				terms[k] = s.By
				length += float64(s.By * x[k])
			}
			row.Out = r.Measured.Inches() - length
			row.Sigma = r.offset.Sigma.Inches()
		}
		rows[i] = row
	}
	return rows
}

// moved returns how a point of the film lies off where it was meant to, and the
// covariance of that.
func (f *film) moved(s *adjust.Solution, p g.Point) (g.Vec, covariance) {
	at, turns := f.at(p, s.X)
	rows := [2][]float64{{1, 0}, {0, 1}}
	if f.turns {
		rows = [2][]float64{{1, 0, turns.X}, {0, 1, turns.Y}}
	}
	var c [2][2]float64
	for i, a := range rows {
		for k, b := range rows {
			for m := range a {
				for n := range b {
					c[i][k] += float64(float64(a[m]*s.Q[m][n]) * b[n])
				}
			}
		}
	}
	return at.Sub(p), covariance{c[0][0], c[0][1], c[1][1]}
}

// weakest returns the movement that the readings hold least, as a unit vector of the
// shifts and the turn times the reach, its standard deviation in inches at the reach,
// and that of the movement held best.
func (f *film) weakest(s *adjust.Solution) (way []float64, most, least float64) {
	n, scale := 2, []float64{1, 1, f.reach}
	if f.turns {
		n = 3
	}
	q := make([][]float64, n)
	for i := range q {
		q[i] = make([]float64, n)
		for k := range q[i] {
			q[i][k] = s.Q[i][k] * scale[i] * scale[k]
		}
	}
	values, vectors := adjust.Axes(q)
	return vectors[0], math.Sqrt(values[0]), math.Sqrt(math.Max(0, values[n-1]))
}

// catches returns the smallest errors that would be seen, and named, in the reading that
// is checked worst, where all tapes to the points of a marking are read and none is
// wrong.
func catches(tape layouts.TapeSpec, points []Checkpoint, marking string) (seen, named g.Length) {
	var readings []filmReading
	for i := range points {
		if points[i].Marking != marking {
			continue
		}
		for _, t := range points[i].all() {
			readings = append(readings, filmReading{TapeReading: TapeReading{Point: points[i].ID, From: t.From.ID, Measured: t.Length}, point: &points[i], tape: &t})
		}
	}
	f := newFilm(tape, readings)
	s, tests, err := f.problem.Expected()
	if err != nil {
		return g.Length(math.Inf(1)), g.Length(math.Inf(1))
	}
	for _, e := range s.Reliability(tests) {
		seen, named = max(seen, g.Length(e.Detectable)), max(named, g.Length(e.Named))
	}
	return seen, named
}
