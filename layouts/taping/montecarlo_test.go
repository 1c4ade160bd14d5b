package taping

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Of 2,000 simulated placings of every point of the demo the scatter is the printed
// one within 5 %, and the printed ellipse holds 93 to 97 of 100. Errors are drawn
// as the budget states them: reading, holding and line uniform, hardpoints normal along
// three axes, the tape's zero and scale uniform and one for all tapes of a placing; each placing is solved by two lengths, not by the
// budget's derivatives.
func TestScatterIsThePrintedOne(t *testing.T) {
	w := worked.Demo(t)
	points := checklist(t, w)
	require.Greater(t, len(points), 70)
	const placings = 2000
	for n, c := range points {
		rnd := rand.New(rand.NewPCG(17, uint64(n)))
		uniform := func(limit float64) float64 { return (2*rnd.Float64() - 1) * limit }
		inside, sum, missed := 0, 0.0, 0.0
		var mean g.Vec
		for range placings {
			lengths := make([]float64, 3)
			zero, scale := tapeCommon(w.Layout.Spec.Tape.Class)
			zero, scale = uniform(zero), uniform(scale) // of the tape, for the whole job
			for i, tape := range c.all() {
				_, reading, held := tapeTerms(w.Layout.Spec.Tape, tape.Kind, tape.Length)
				s := tape.From.Sigma.Inches()
				moved := g.Vec3{X: s * rnd.NormFloat64(), Y: s * rnd.NormFloat64(), Z: s * rnd.NormFloat64()}
				// a hardpoint moved away makes the mark come nearer, as a shorter tape does
				lengths[i] = tape.Length.Inches()*(1-scale) - zero + uniform(reading) + uniform(held) - moved.Dot(tape.away)
			}
			p, ok := c.placed(c.Tapes, lengths[:2])
			require.True(t, ok, c.ID)
			d := p.Sub(c.Mark.Film).Add(g.Vec{X: uniform(markLimit), Y: uniform(markLimit)})
			if c.Closure != nil {
				third, _ := c.Closure.lengthTo(c.Mark.Film, c.Mark.Film.Add(d))
				missed += math.Pow(third-lengths[2], 2)
			}
			sum += d.Dot(d)
			mean = mean.Add(d.Scale(1.0 / placings))
			major, minor := c.Error.Ellipse.Within95()
			sin, cos := math.Sincos(c.Error.Ellipse.Angle * math.Pi / 180)
			x, y := d.X*cos+d.Y*sin, d.Y*cos-d.X*sin
			if math.Hypot(x/major.Inches(), y/minor.Inches()) <= 1 {
				inside++
			}
		}
		rms := c.Error.Ellipse.RMS().Inches()
		assert.InEpsilon(t, rms, math.Sqrt(sum/placings), 0.05, c.ID)
		assert.Less(t, mean.Norm(), 0.1*rms, c.ID)
		if c.Closure != nil {
			assert.InEpsilon(t, c.Misses.Inches(), math.Sqrt(missed/placings), 0.05, "%s: the check", c.ID)
		}
		assert.InDelta(t, 0.95, float64(inside)/placings, 0.02, "%s: %d inside", c.ID, inside)
	}
}

// What the simulation solves by are lengths of tapes on the skin: to points up to
// half an inch off they are those that the tape itself has, measured anew, to a
// hundredth of the printed error.
func TestLengthsNearAPoint(t *testing.T) {
	w := worked.Demo(t)
	points := checklist(t, w)
	tried := 0
	for i := range w.Tilings {
		tp := taperOf(w, i)
		for n, c := range points {
			if c.Marking != tp.laid.ID() || n%4 != 0 {
				continue
			}
			for _, d := range []g.Vec{{X: 0.5}, {X: -0.3, Y: 0.4}} {
				m := c.Mark
				m.Film = m.Film.Add(d)
				uv, ok := tp.laid.Map.ToSkin(m.Film)
				if !ok || !tp.laid.Placement.Surface.Contains(uv) {
					continue
				}
				m.UV, m.Skin = uv, g.PositionOf(skin.PointAt(tp.laid.Placement.Surface, uv))
				for _, tape := range c.all() {
					for _, h := range tp.hooks {
						if h.ID != tape.From.ID {
							continue
						}
						real, refused := tp.from(h, m)
						require.Nil(t, refused)
						want, _ := tape.lengthTo(c.Mark.Film, m.Film)
						assert.InDelta(t, want, real.Length.Inches(), 0.002, "%s from %s, moved %v", c.ID, h.ID, d)
						tried++
					}
				}
			}
		}
	}
	assert.Greater(t, tried, 80)
}

// Rotation of a film by simulation: two points that share a hardpoint err together.
func TestRotationIsThePrintedOne(t *testing.T) {
	w := worked.Demo(t)
	points := checklist(t, w)
	at := map[string]Checkpoint{}
	for _, c := range points {
		at[c.ID] = c
	}
	budgets := Budgets(w.Layout, w.Tilings, points, g.NetTolerance)
	require.Len(t, budgets, len(w.Tilings))
	for n, b := range budgets {
		rnd := rand.New(rand.NewPCG(5, uint64(n)))
		uniform := func(limit float64) float64 { return (2*rnd.Float64() - 1) * limit }
		const placings = 4000
		sum := 0.0
		from, to := at[b.From], at[b.To]
		meant := to.Mark.Film.Sub(from.Mark.Film)
		assert.InDelta(t, meant.Norm(), b.Distance.Inches(), 1e-12)
		for range placings {
			hard := map[string]g.Vec3{}
			zero, scale := tapeCommon(w.Layout.Spec.Tape.Class)
			zero, scale = uniform(zero), uniform(scale)
			var laid [2]g.Point
			for k, c := range []Checkpoint{from, to} {
				lengths := make([]float64, 2)
				for i, tape := range c.Tapes {
					_, reading, held := tapeTerms(w.Layout.Spec.Tape, tape.Kind, tape.Length)
					moved, seen := hard[tape.From.ID]
					if !seen {
						s := tape.From.Sigma.Inches()
						moved = g.Vec3{X: s * rnd.NormFloat64(), Y: s * rnd.NormFloat64(), Z: s * rnd.NormFloat64()}
						hard[tape.From.ID] = moved
					}
					lengths[i] = tape.Length.Inches()*(1-scale) - zero + uniform(reading) + uniform(held) - moved.Dot(tape.away)
				}
				p, ok := c.placed(c.Tapes, lengths)
				require.True(t, ok)
				laid[k] = p.Add(g.Vec{X: uniform(markLimit) + uniform(filmLimit), Y: uniform(markLimit) + uniform(filmLimit)})
			}
			d := laid[1].Sub(laid[0])
			turn := math.Atan2(meant.Cross(d), meant.Dot(d)) * 180 / math.Pi
			sum += turn * turn
		}
		assert.InEpsilon(t, b.Rotation, math.Sqrt(sum/placings), 0.05, b.Marking)
	}
}

// Two tapes in a plane, hardpoints 40 in apart, a point at
// (15, 25), 1/32 in each: 0.045554 in rms. On a sphere of radius 30, hardpoints at
// latitude 0 and longitudes 0 and 40 degrees, point at 25 N 15 E: the tapes cross at
// 80.1893 degrees and the error is 0.04485 in; both computed outside this project.
func TestTrilaterationByHand(t *testing.T) {
	tape := func(b g.Vec) Taping {
		return Taping{Bearing: b.Unit(), Sigma: 1.0 / 32, From: layouts.Hardpoint{Sigma: 0}}
	}
	cov, ok := covarianceOf(tape(g.Vec{X: -15, Y: -25}), tape(g.Vec{X: 25, Y: -25}))
	require.True(t, ok)
	assert.InDelta(t, 0.045554, math.Sqrt(cov.trace()), 5e-7)

	sin, cos := math.Sincos(80.1893 * math.Pi / 180)
	a, b := tape(g.Vec{X: 1}), tape(g.Vec{X: cos, Y: sin})
	cov, ok = covarianceOf(a, b)
	require.True(t, ok)
	assert.InDelta(t, 0.04485, math.Sqrt(cov.trace()), 5e-6)
	assert.InDelta(t, 80.1893, crossingOf(a, b), 1e-9)
	e := cov.ellipse()
	assert.InDelta(t, math.Sqrt(cov.trace()), e.RMS().Inches(), 1e-12)
	// the ellipse of two like tapes lies along their bisector or square to it, with
	// axes sigma / (sqrt 2 cos(half)) and sigma / (sqrt 2 sin(half)) (derived)
	half := 80.1893 / 2 * math.Pi / 180
	assert.InDelta(t, 1.0/32/(math.Sqrt2*math.Sin(half)), e.Major.Inches(), 1e-9)
	assert.InDelta(t, 1.0/32/(math.Sqrt2*math.Cos(half)), e.Minor.Inches(), 1e-9)
	assert.InDelta(t, 80.1893/2-90, e.Angle, 1e-6)

	_, ok = covarianceOf(tape(g.Vec{X: 1}), tape(g.Vec{X: -1}))
	assert.False(t, ok, "tapes in one line fix nothing")
}

// Common factors of the crossing: 1.15 at 60 and 120 degrees, 1.41 at 45, 2.0 at 30
// and 150 (1/sin; derived).
func TestDilutionAndGrade(t *testing.T) {
	for _, c := range []struct {
		deg, dilution float64
		grade         Grade
	}{{90, 1, Good}, {60, 1.1547, Good}, {120, 1.1547, Good}, {45, 1.4142, Acceptable}, {140, 1.5557, Acceptable}, {30, 2, Poor}, {150, 2, Poor}, {39.9, 1.559, Poor}} {
		sin, cos := math.Sincos(c.deg * math.Pi / 180)
		a := Taping{Bearing: g.Vec{X: 1}, Length: 50, Kind: OnSkin}
		b := Taping{Bearing: g.Vec{X: cos, Y: sin}, Length: 50, Kind: OnSkin}
		a.Sigma = tapeSigma(layouts.UsualTape(), OnSkin, 50)
		b.Sigma = a.Sigma
		e := pointError(layouts.UsualTape(), a, b)
		assert.InDelta(t, c.dilution, e.Dilution, 1e-3, "%v", c.deg)
		assert.Equal(t, c.grade, GradeOf(c.deg), "%v", c.deg)
	}
}

// Tolerances of tapes: NIST Handbook 44 section 5.52 in feet; the European classes
// at 3 m and 10 m.
func TestTapeLimits(t *testing.T) {
	for _, c := range []struct {
		class  layouts.TapeClass
		length g.Length
		want   g.Length
	}{
		{layouts.TapeUS, 3 * g.Foot, g.Inch / 32}, {layouts.TapeUS, 6 * g.Foot, g.Inch / 32}, {layouts.TapeUS, 7 * g.Foot, g.Inch / 16},
		{layouts.TapeUS, 30 * g.Foot, g.Inch / 16}, {layouts.TapeUS, 31 * g.Foot, g.Inch / 8}, {layouts.TapeUS, 55 * g.Foot, g.Inch / 8},
		{layouts.TapeEU1, 3 * g.Metre, 0.4 * g.Millimetre}, {layouts.TapeEU1, 10 * g.Metre, 1.1 * g.Millimetre},
		{layouts.TapeEU2, 3 * g.Metre, 0.9 * g.Millimetre}, {layouts.TapeEU2, 10 * g.Metre, 2.3 * g.Millimetre},
	} {
		assert.InDelta(t, c.want.Inches(), TapeLimit(c.class, c.length).Inches(), 1e-12, "%s %v", c.class, c.length)
	}
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
