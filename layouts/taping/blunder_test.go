package taping

import (
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/adjust"
	"maskloft/layouts"
	"maskloft/layouts/worked"
)

var seed = flag.Uint64("seed", 1, "of the simulated readings")

// simulated returns how many sets of a marking to draw: 2,000 where MASKLOFT_LONG is
// set, else few.
func simulated() int {
	if n, err := strconv.Atoi(os.Getenv("MASKLOFT_LONG")); err == nil && n > 0 {
		return 2000 * n
	}
	return 8
}

// laidFilm draws readings of a film as budget and list state their errors: hardpoints
// normal along three axes, the tape's beginning and scale uniform and one for all, the
// reading rounded to the graduation, holding and finding the tick uniform.
func laidFilm(rnd *rand.Rand, tape layouts.TapeSpec, points []*Checkpoint, offsets map[string][]Offset) []filmReading {
	uniform := func(limit float64) float64 { return (2*rnd.Float64() - 1) * limit }
	shift, turn := g.Vec{X: .2 * rnd.NormFloat64(), Y: .2 * rnd.NormFloat64()}, .4*math.Pi/180*rnd.NormFloat64()
	sin, cos := math.Sincos(turn)
	zero, scale := tapeCommon(tape.Class)
	zero, scale = uniform(zero), uniform(scale)
	step := tape.Reading.Inches()
	hooks, shared := map[string]g.Vec3{}, map[string]float64{}
	var out []filmReading
	for _, c := range points {
		f := c.Mark.Film.Sub(g.Point{})
		p := g.Point{}.Add(f.Scale(cos)).Add(f.Perp().Scale(sin)).Add(shift)
		for _, t := range c.all() {
			moved, seen := hooks[t.From.ID]
			if !seen {
				s := t.From.Sigma.Inches()
				moved = g.Vec3{X: s * rnd.NormFloat64(), Y: s * rnd.NormFloat64(), Z: s * rnd.NormFloat64()}
				hooks[t.From.ID] = moved
			}
			_, _, held := tapeTerms(tape, t.Kind, 0)
			length, _ := t.lengthTo(c.Mark.Film, p)
			read := (length+moved.Dot(t.away))*(1+scale) + zero + uniform(held) + uniform(tickLimit)
			read = math.Round(read/step) * step
			r := TapeReading{Point: c.ID, From: t.From.ID, Kind: t.Kind, Printed: t.Length, Measured: g.Length(read), Typed: read, Unit: g.Inch}
			out = append(out, filmReading{TapeReading: r, point: c, tape: &t})
		}
		for i := range offsets[c.ID] {
			o := &offsets[c.ID][i]
			read := o.Length.Inches() + o.Slope.Dot(p.Sub(c.Mark.Film)) + o.Sigma.Inches()*rnd.NormFloat64()
			for _, s := range o.Shared {
				if _, seen := shared[s.Name]; !seen {
					shared[s.Name] = s.Sigma * rnd.NormFloat64()
				}
				read += s.By * shared[s.Name]
			}
			r := TapeReading{Point: c.ID, From: o.From, Kind: o.Kind, Printed: o.Length, Measured: g.Length(read), Typed: read, Unit: g.Inch}
			out = append(out, filmReading{TapeReading: r, point: c, offset: o})
		}
	}
	return out
}

// pointsOf returns the points of a marking that have tapes.
func pointsOf(points []Checkpoint, marking string) []*Checkpoint {
	var out []*Checkpoint
	for i := range points {
		if points[i].Marking == marking && len(points[i].Tapes) == 2 {
			out = append(out, &points[i])
		}
	}
	return out
}

// On every marking of the demo: of films whose readings hold no mistake fewer than one
// in 1,000 is accused; with all points read a mistake of 1/4 in and more in one reading
// has that very reading named in 99 of 100, and with any shorter list of points a
// mistake over the size that is printed for it.
func TestBlundersOfTheDemo(t *testing.T) {
	w := worked.Demo(t)
	points := checklist(t, w)
	t.Logf("seed %d", *seed)
	tape := w.Layout.Spec.Tape
	sets, accused, short, shortNamed, full, fullNamed := 0, 0, 0, 0, 0, 0
	largest := 0.0
	for n := range w.Tilings {
		id := w.Tilings[n].Laid.ID()
		all := pointsOf(points, id)
		rnd := rand.New(rand.NewPCG(*seed, uint64(n)))
		markSets, markFull, markNamed, markShort, markShortNamed := 0, 0, 0, 0, 0
		for k := range simulated() {
			some, whole := all, k%2 == 0
			if !whole { // three points or more
				some = nil
				for _, i := range rnd.Perm(len(all))[:3+rnd.IntN(len(all)-3)] {
					some = append(some, all[i])
				}
			}
			readings := laidFilm(rnd, tape, some, nil)
			f := newFilm(tape, readings)
			clean, err := f.problem.Search()
			require.NoError(t, err)
			sets++
			markSets++
			if len(clean.Verdicts) > 0 {
				accused++
				continue
			}
			i := rnd.IntN(len(readings))
			least := .25
			named := clean.Kept.Reliability(clean.Tests)[i].Named
			if !whole {
				least = named
			} else {
				largest = math.Max(largest, named)
			}
			if math.IsInf(least, 1) {
				continue // the list says that no size would be named
			}
			by := least * math.Exp(rnd.Float64()*math.Log(12/math.Min(least, 6)))
			if rnd.IntN(2) == 0 {
				by = -by
			}
			readings[i].Measured += g.Length(by)
			readings[i].Typed += by
			if readings[i].Measured <= 0 {
				continue
			}
			answer, err := newFilm(tape, readings).problem.Search()
			require.NoError(t, err)
			v := answer.Verdicts
			right := len(v) > 0 && len(v[0].Rows) == 1 && v[0].Rows[0] == i && !v[0].Open
			if !right {
				t.Logf("%s, %d readings: %s from %s by %.3f (named from %.3f): %+v", id, len(readings), readings[i].Point, readings[i].From, by, named, v)
			}
			switch {
			case whole:
				markFull++
				if right {
					markNamed++
				}
			default:
				markShort++
				if right {
					markShortNamed++
				}
			}
		}
		t.Logf("%-20s %d sets; all points: %d of %d named; fewer points: %d of %d", id, markSets, markNamed, markFull, markShortNamed, markShort)
		full, fullNamed, short, shortNamed = full+markFull, fullNamed+markNamed, short+markShort, shortNamed+markShortNamed
	}
	t.Logf("%d sets, %d accused without a mistake; all points: %d of %d named, the largest printed size %.3f in; fewer points: %d of %d", sets, accused, fullNamed, full, largest, shortNamed, short)
	enough := func(named, of int) { // 0.99, less three deviations of a count
		assert.GreaterOrEqual(t, float64(named), .99*float64(of)-3*math.Sqrt(.0099*float64(of)))
	}
	enough(fullNamed, full)
	enough(shortNamed, short)
	assert.LessOrEqual(t, float64(accused), .001*float64(sets)+3*math.Sqrt(.001*float64(sets)))
	assert.LessOrEqual(t, largest, .25)
}

// The causes that hands make are told by name.
func TestCausesAreNamed(t *testing.T) {
	w := worked.Demo(t)
	points := checklist(t, w)
	tape := w.Layout.Spec.Tape
	all := pointsOf(points, w.Tilings[0].Laid.ID())
	at := func(readings []filmReading, point, from string) int {
		for i, r := range readings {
			if r.Point == point && r.From == from {
				return i
			}
		}
		t.Fatalf("no %s from %s", point, from)
		return -1
	}
	set := func(r *filmReading, v float64) {
		r.Typed, r.Measured = v, g.Length(v)
	}
	first := all[0]
	a, b := first.Tapes[0].From.ID, first.Tapes[1].From.ID
	for _, c := range []struct {
		cause adjust.Cause
		says  string
		spoil func([]filmReading)
	}{
		{adjust.OffByStart, "held at its 1 in mark", func(r []filmReading) { i := at(r, first.ID, a); set(&r[i], r[i].Typed+1) }},
		{adjust.OffByFoot, "a foot miscounted", func(r []filmReading) { i := at(r, first.ID, a); set(&r[i], r[i].Typed-12) }},
		{adjust.OtherUnit, "another unit", func(r []filmReading) { i := at(r, first.ID, b); set(&r[i], r[i].Typed*25.4) }},
		{adjust.Transposed, "two digits exchanged", func(r []filmReading) {
			i := at(r, all[1].ID, all[1].Tapes[0].From.ID)
			set(&r[i], transposed(r[i].Typed))
		}},
		{adjust.Exchanged, "are exchanged", func(r []filmReading) {
			i, k := at(r, all[2].ID, all[2].Tapes[0].From.ID), at(r, all[2].ID, all[2].Tapes[1].From.ID)
			x, y := r[i].Typed, r[k].Typed
			set(&r[i], y)
			set(&r[k], x)
		}},
		{adjust.HooksExchanged, "the readings from P2 and P4 are exchanged", func(r []filmReading) {
			for _, c := range all {
				i, k := -1, -1
				for n := range r {
					if r[n].Point == c.ID && r[n].From == "P2" {
						i = n
					}
					if r[n].Point == c.ID && r[n].From == "P4" {
						k = n
					}
				}
				if i >= 0 && k >= 0 {
					x, y := r[i].Typed, r[k].Typed
					set(&r[i], y)
					set(&r[k], x)
				}
			}
		}},
		{adjust.HookMoved, "hardpoint P4 is not where the list has it", func(r []filmReading) {
			for i := range r {
				if r[i].From == "P4" {
					set(&r[i], r[i].Typed+1.3*r[i].tape.away.Z+.8*r[i].tape.away.X)
				}
			}
		}},
		{adjust.AllByStart, "held at the 1 in mark", func(r []filmReading) {
			for i := range r {
				set(&r[i], r[i].Typed+1)
			}
		}},
		{adjust.AllOtherUnit, "all tapes were read or typed in another unit", func(r []filmReading) {
			for i := range r {
				set(&r[i], r[i].Typed*25.4)
			}
		}},
	} {
		rnd := rand.New(rand.NewPCG(*seed, 40))
		readings := laidFilm(rnd, tape, all, nil)
		plain, found, ok := built(tape, &w.Tilings[0], readings, g.Foot)
		require.True(t, ok)
		require.Empty(t, found)
		c.spoil(readings)
		m, findings, ok := built(tape, &w.Tilings[0], readings, g.Foot)
		require.True(t, ok, "%s: %v", c.cause, findings)
		require.NotEmpty(t, m.Wrong, c.cause)
		assert.Equal(t, c.cause, m.Wrong[0].Cause)
		assert.Contains(t, m.Wrong[0].Text, c.says)
		assert.Equal(t, []string{"built-wrong"}, worked.Rules(findings, layouts.Warn), c.cause)
		// what is left places the film as the sound readings do
		assert.Less(t, m.Offset.Sub(plain.Offset).Norm(), .1, c.cause)
	}
}

// transposed exchanges the two last digits of the whole inches.
func transposed(v float64) float64 {
	whole := math.Floor(v)
	ones, tens := math.Mod(whole, 10), math.Mod(math.Floor(whole/10), 10)
	return v + 9*(ones-tens)
}

// Girths, frames, strings and heights are rows like tapes: what they read of a film laid
// elsewhere is what the skin has there, and they place a film by themselves; a mistake
// in one of them is named.
func TestOffsetsAreRows(t *testing.T) {
	w := worked.Demo(t)
	points := checklist(t, w)
	tape := w.Layout.Spec.Tape
	kinds := map[TapeKind]int{}
	for n := range w.Tilings {
		id := w.Tilings[n].Laid.ID()
		all := pointsOf(points, id)
		offsets := map[string][]Offset{}
		for _, c := range all {
			offsets[c.ID] = offsetsOf(w.Layout, &w.Tilings[n].Laid, *c)
			moved := *c
			moved.Mark.Film = moved.Mark.Film.Add(g.Vec{X: .15, Y: -.1})
			uv, ok := w.Tilings[n].Laid.Map.ToSkin(moved.Mark.Film)
			if !ok || !w.Tilings[n].Laid.Placement.Surface.Contains(uv) {
				continue
			}
			moved.Mark.UV = uv
			moved.Mark.Skin, ok = w.Tilings[n].Laid.Map.PositionOf(moved.Mark.Film)
			require.True(t, ok)
			there := offsetsOf(w.Layout, &w.Tilings[n].Laid, moved)
			for _, o := range offsets[c.ID] {
				kinds[o.Kind]++
				for _, q := range there {
					if q.Kind == o.Kind && q.From == o.From && o.Length > leastOffset { // shorter ones may change their side
						want := o.Length.Inches() + o.Slope.Dot(g.Vec{X: .15, Y: -.1})
						assert.InDelta(t, want, q.Length.Inches(), .004, "%s, %s from %s", c.ID, o.Kind, o.From)
					}
				}
			}
		}
		// by these readings, no tapes
		var bare []*Checkpoint
		for _, c := range all {
			one := *c
			one.Tapes, one.Closure = nil, nil
			bare = append(bare, &one)
		}
		rnd := rand.New(rand.NewPCG(*seed, uint64(60+n)))
		readings := laidFilm(rnd, tape, bare, offsets)
		f := newFilm(tape, readings)
		answer, err := f.problem.Search()
		require.NoError(t, err, id)
		assert.Empty(t, answer.Verdicts, id)
		both := newFilm(tape, laidFilm(rnd, tape, all, offsets))
		joined, err := both.problem.Search()
		require.NoError(t, err)
		_, alone := f.moved(answer.Kept, g.Point{})
		_, with := both.moved(joined.Kept, g.Point{})
		assert.Less(t, with.trace(), alone.trace(), "tapes besides make it surer")
		i := len(readings) / 2
		readings[i].Measured += 3
		readings[i].Typed += 3
		answer, err = newFilm(tape, readings).problem.Search()
		require.NoError(t, err)
		require.NotEmpty(t, answer.Verdicts, id)
		assert.Equal(t, []int{i}, answer.Verdicts[0].Rows, id)
	}
	for _, kind := range []TapeKind{AlongString, OffString, AlongSection, AftOfFrame, HeightStanding, HeightLevelled} {
		assert.Positive(t, kinds[kind], kind)
	}
}
