package taping

import (
	"fmt"
	"math"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// TapeReading is one tape as measured on the aircraft, on the mark as painted or
// the film as laid.
type TapeReading struct {
	Place    layouts.Place // in the file that it was typed into
	Point    string        // id of a checkpoint
	From     string        // id of a hardpoint
	Printed  g.Length      // the length that the list gave; NaN where the file has none
	Measured g.Length
}

// BuiltPoint is a checkpoint as measured. Vectors are in the flat of the marking:
// x to the reader's right, y up the drawing.
type BuiltPoint struct {
	ID       string
	Film     g.Point    // where it was meant to be
	Off      g.Vec      // from there to where it is
	Real     g.Position // on the skin; the zero position where that lies beyond the patch
	Tapes    int        // how many were measured
	Closure  g.Length   // by how much the third misses the other two; NaN with two
	Residual g.Vec      // what the movement of the whole mask leaves of Off
}

// BuiltMask is a marking as measured: its points, and the movement in the flat,
// without stretch, that explains them best.
type BuiltMask struct {
	Marking string
	Offset  g.Vec    // of the drawing's held point
	Turn    float64  // degrees, to the left; 0 where one point alone was measured
	RMS     g.Length // of the residuals
	Points  []BuiltPoint
}

// printedWithin is how far a printed length may differ from the present one before
// the file belongs to another layout, in inches: it is printed to 0.0001.
const printedWithin = 0.001

// farBuilt is how far a point may lie from where it was meant before a slip is
// likelier than bad work: a foot or a hook mistaken (practice, not a standard).
const farBuilt = 6 * g.Inch

// AsBuilt returns where the markings really are. A point takes two measured tapes;
// of three it is the least-squares point, each weighed by its own deviation.
//
// Errors name the place in the file: a reading of a point or a tape that the list
// does not have, one that is there twice, a length printed for another layout.
// Findings: points with one tape, closures that miss, points far off.
func AsBuilt(tilings []masks.Tiling, points []Checkpoint, readings []TapeReading) ([]BuiltMask, []layouts.Finding, error) {
	at := map[string]int{}
	for i, p := range points {
		at[p.ID] = i
	}
	read := make([]map[string]g.Length, len(points))
	for _, r := range readings {
		i, known := at[r.Point]
		if !known {
			return nil, nil, fmt.Errorf("%v: there is no point %q in this layout: measure with the list that `maskloft tape --csv` prints for it", r.Place, r.Point)
		}
		tape, ok := points[i].tape(r.From)
		if !ok {
			return nil, nil, fmt.Errorf("%v: point %s has no tape from %q: it has %s", r.Place, r.Point, r.From, points[i].tapeNames())
		}
		if math.Abs(float64(r.Printed-tape.Length)) > printedWithin {
			return nil, nil, fmt.Errorf("%v: %s from %s is printed as %.4f in and is %.4f in in this layout: the file belongs to another one", r.Place, r.Point, r.From, r.Printed.Inches(), tape.Length.Inches())
		}
		if read[i] == nil {
			read[i] = map[string]g.Length{}
		}
		if _, twice := read[i][r.From]; twice {
			return nil, nil, fmt.Errorf("%v: %s from %s was measured twice: keep one line", r.Place, r.Point, r.From)
		}
		read[i][r.From] = r.Measured
	}
	var out []BuiltMask
	var findings []layouts.Finding
	for k := range tilings {
		m := BuiltMask{Marking: tilings[k].Laid.ID()}
		for i, p := range points {
			if p.Marking != m.Marking || len(read[i]) == 0 {
				continue
			}
			found := func(rule, hint, measured, expected, limit, format string, args ...any) {
				findings = append(findings, layouts.Finding{
					Level: layouts.Warn, Rule: rule, Marking: m.Marking, Where: p.Mark.Skin, Message: p.ID + ": " + fmt.Sprintf(format, args...),
					Hint: hint, Measured: measured, Expected: expected, Tolerance: limit, Source: "practice, not a standard",
				})
			}
			b, ok := p.built(read[i])
			if !ok {
				found("built-one-tape", "measure a second tape to it", fmt.Sprint(len(read[i])), "2", "none", "%s measured, a point takes two that cross", g.Counted(len(read[i]), "tape"))
				continue
			}
			if c := b.Closure.Inches(); math.Abs(c) > ClosureLimit.Inches() {
				found("built-closure", "measure all three again: a hook on the wrong point, or a number misread", fmt.Sprintf("%.3f in", c), "0", ClosureLimit.String(),
					"the tape from %s reads %.3f in %s than the other two say", p.Closure.From.ID, math.Abs(c), longer(c))
			}
			if d := b.Off.Norm(); d > farBuilt.Inches() {
				found("built-far", "look for a foot miscounted or a hook on the wrong point", fmt.Sprintf("%.2f in", d), "0", farBuilt.String(), "it lies %.2f in from where it was meant to be", d)
			}
			if pos, ok := tilings[k].Laid.Map.PositionOf(b.Film.Add(b.Off)); ok {
				b.Real = pos
			}
			m.Points = append(m.Points, b)
		}
		if len(m.Points) > 0 {
			m.fit()
			out = append(out, m)
		}
	}
	return out, findings, nil
}

func longer(v float64) string {
	if v < 0 {
		return "less"
	}
	return "more"
}

// tape returns the tape of a checkpoint from a hardpoint, the closure included.
func (c Checkpoint) tape(from string) (Taping, bool) {
	for _, t := range c.all() {
		if t.From.ID == from {
			return t, true
		}
	}
	return Taping{}, false
}

// all returns the tapes of a checkpoint, the closure last.
func (c Checkpoint) all() []Taping {
	out := c.Tapes[:len(c.Tapes):len(c.Tapes)]
	if c.Closure != nil {
		out = append(out, *c.Closure)
	}
	return out
}

func (c Checkpoint) tapeNames() string {
	text := ""
	for i, t := range c.all() {
		if i > 0 {
			text += ", "
		}
		text += t.From.ID
	}
	if text == "" {
		return "none"
	}
	return text
}

// lengthTo returns the length of the tape to another point of the flat, in inches,
// and the direction in which it leaves there. Along the skin the hardpoint lies in
// the unfolded flat, a length along the bearing away; a straight tape's lies above
// the flat by what its bearing lacks. Exact where the skin unrolls between both,
// else right to the second order of the movement.
func (t Taping) lengthTo(from, p g.Point) (float64, g.Vec) {
	l := t.Length.Inches()
	to := from.Add(t.Bearing.Scale(l)).Sub(p)
	above := math.Max(0, l*l*(1-t.Bearing.Dot(t.Bearing)))
	d := math.Sqrt(to.Dot(to) + above)
	return d, to.Scale(1 / d)
}

// placed returns the point of the flat that tapes of the given lengths meet at, by
// least squares (Gauss-Newton from where the point was meant to be). False where
// they do not cross there.
func (c Checkpoint) placed(tapes []Taping, lengths []float64) (g.Point, bool) {
	p := c.Mark.Film
	for range 50 {
		var n covariance // J'WJ
		var rhs g.Vec
		for i, t := range tapes {
			d, u := t.lengthTo(c.Mark.Film, p)
			w := 1 / t.variance()
			n = n.plus(outer(u, w))
			rhs = rhs.Add(u.Scale(w * (d - lengths[i]))) // towards the hook where the tape is short
		}
		det := n.xx*n.yy - n.xy*n.xy
		if det < 1e-9*n.trace()*n.trace() {
			return p, false
		}
		step := g.Vec{X: n.yy*rhs.X - n.xy*rhs.Y, Y: n.xx*rhs.Y - n.xy*rhs.X}.Scale(1 / det)
		if s := step.Norm(); s > 5 {
			step = step.Scale(5 / s)
		}
		p = p.Add(step)
		if step.Norm() < 1e-10 {
			return p, true
		}
	}
	return p, false
}

// built returns the point that readings place.
func (c Checkpoint) built(read map[string]g.Length) (BuiltPoint, bool) {
	b := BuiltPoint{ID: c.ID, Film: c.Mark.Film, Closure: g.Length(math.NaN())}
	var tapes []Taping
	var lengths []float64
	for _, t := range c.all() {
		if l, ok := read[t.From.ID]; ok {
			tapes, lengths = append(tapes, t), append(lengths, l.Inches())
		}
	}
	b.Tapes = len(tapes)
	if len(tapes) < 2 {
		return b, false
	}
	p, ok := c.placed(tapes, lengths)
	if !ok {
		return b, false
	}
	if len(tapes) == 3 {
		if q, ok := c.placed(tapes[:2], lengths[:2]); ok {
			d, _ := tapes[2].lengthTo(c.Mark.Film, q)
			b.Closure = g.Length(lengths[2] - d)
		}
	}
	b.Off = p.Sub(c.Mark.Film)
	return b, true
}

// fit finds the movement of the mask: least squares of a turn and an offset in the
// plane, in closed form.
func (m *BuiltMask) fit() {
	n := 1 / float64(len(m.Points))
	var from, to g.Vec
	for _, p := range m.Points {
		f := p.Film.Sub(g.Point{})
		from, to = from.Add(f.Scale(n)), to.Add(f.Add(p.Off).Scale(n))
	}
	dot, cross := 0.0, 0.0
	for _, p := range m.Points {
		a := p.Film.Sub(g.Point{}).Sub(from)
		b := p.Film.Sub(g.Point{}).Add(p.Off).Sub(to)
		dot, cross = dot+a.Dot(b), cross+a.Cross(b)
	}
	angle := 0.0
	if len(m.Points) > 1 {
		angle = math.Atan2(cross, dot)
	}
	sin, cos := math.Sincos(angle)
	turn := func(v g.Vec) g.Vec { return v.Scale(cos).Add(v.Perp().Scale(sin)) }
	m.Turn, m.Offset = angle*180/math.Pi, to.Sub(turn(from))
	sum := 0.0
	for i := range m.Points {
		p := &m.Points[i]
		f := p.Film.Sub(g.Point{})
		p.Residual = f.Add(p.Off).Sub(turn(f).Add(m.Offset))
		sum += p.Residual.Dot(p.Residual)
	}
	m.RMS = g.Length(math.Sqrt(sum * n))
}
