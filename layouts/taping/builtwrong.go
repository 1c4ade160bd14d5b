package taping

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/adjust"
	"maskloft/geometry/same"
)

// BuiltWrong is a mistake that was found among readings.
type BuiltWrong struct {
	Cause    adjust.Cause
	Readings []int // those accused, by index
	From     []string
	Amount   g.Length // by which too long; 0 where the cause is of another kind
	Sure     bool     // no other cause comes near
	Open     bool     // other readings would explain it as well: none is left out
	Text     string   // a sentence
	Measured string
	Hint     string
}

// wrong puts a verdict in words.
func (f *film) wrong(v adjust.Verdict, readings []filmReading) BuiltWrong {
	w := BuiltWrong{Cause: v.Cause, Readings: v.Rows, Sure: v.Lead >= adjust.SureLead, Open: v.Open, Amount: g.Length(v.Amount)}
	for _, h := range v.Hooks {
		w.From = append(w.From, f.hooks[h].ID)
	}
	if v.Cause == adjust.TapeScale {
		w.Amount = 0
	}
	name := func(i int) string { return readings[i].name() }
	w.Hint = "measure it again"
	w.Measured = f.units.Signed(w.Amount, 3)
	if v.Open {
		var names []string
		for _, i := range v.Rows {
			names = append(names, name(i))
		}
		w.Text = fmt.Sprintf("one of these readings is wrong, or several, and they do not tell which: %s", strings.Join(names, "; "))
		w.Hint = "measure these again, and another point of the film"
		return w
	}
	w.Text = f.cause(v.Cause, v.Rows, v.Hooks, v.Amount, readings)
	if !w.Sure && v.Next != "" && !math.IsInf(v.Lead, 1) {
		w.Text += "; or " + f.cause(v.Next, v.NextRows, v.NextHooks, v.Amount, readings)
	}
	switch v.Cause {
	case adjust.HookMoved:
		w.Measured, w.Hint = f.hooks[v.Hooks[0]].ID, "look whether the tape was hooked on that point, and measure the point (measured: in the layout file)"
	case adjust.AllByStart, adjust.TapeZero, adjust.TapeScale, adjust.AllOtherUnit:
		w.Hint = "look at the tape's end and at which mark was held; give --burn-inch or the unit of the column as it was"
		if v.Cause == adjust.TapeScale {
			w.Measured = fmt.Sprintf("%+.4f of the length", v.Amount)
		}
	case adjust.Exchanged, adjust.HooksExchanged:
		w.Measured = "exchanged"
	}
	return w
}

// name names a reading.
func (r filmReading) name() string {
	if r.tape != nil {
		return r.Point + " from " + r.From
	}
	return fmt.Sprintf("%s, %s from %s", r.Point, r.Kind, r.From)
}

// cause says what went wrong.
func (f *film) cause(c adjust.Cause, rows, hooks []int, amount float64, readings []filmReading) string {
	word := " more"
	if amount < 0 {
		word = " less"
	}
	longer := f.units.Fixed(g.Length(math.Abs(amount)), 3) + word
	name := ""
	if len(rows) > 0 {
		name = readings[rows[0]].name() + " reads " + longer + " than the others say: "
	}
	start := "1 in"
	if len(f.problem.Readings) > 0 && f.problem.Readings[0].Start > 2 {
		start = "100 mm"
	}
	switch c {
	case adjust.OffByStart:
		if amount > 0 {
			return name + "the tape was held at its " + start + " mark and read as from its end; it is left out"
		}
		return name + "the tape was held at its end, and the " + start + " mark taken off; it is left out"
	case adjust.OffByFoot:
		return name + "a foot miscounted; it is left out"
	case adjust.OtherUnit:
		return name + "read or typed in another unit, as inches for millimetres; it is left out"
	case adjust.Transposed:
		return name + "two digits exchanged in writing; it is left out"
	case adjust.Exchanged:
		return fmt.Sprintf("%s and %s are exchanged; they are taken the other way round", readings[rows[0]].name(), readings[rows[1]].name())
	case adjust.HooksExchanged:
		return fmt.Sprintf("the readings from %s and %s are exchanged; they are taken the other way round", f.hooks[hooks[0]].ID, f.hooks[hooks[1]].ID)
	case adjust.HookMoved:
		return fmt.Sprintf("hardpoint %s is not where the list has it: its %s agree with each other and not with the rest; its place is left free", f.hooks[hooks[0]].ID, g.Counted(len(rows), "reading"))
	case adjust.AllByStart:
		if amount > 0 {
			return fmt.Sprintf("all tapes read %s: they were held at the %s mark and read as from the end; it is taken off", longer, start)
		}
		return fmt.Sprintf("all tapes read %s: the %s mark was taken off and not held; it is added", longer, start)
	case adjust.TapeZero:
		return fmt.Sprintf("all tapes read %s than the film allows: the tape's end is bent or worn; its beginning is left free", longer)
	case adjust.TapeScale:
		return fmt.Sprintf("all tapes are out by %.2f %% of their length: the tape is stretched, or was not pulled alike; its scale is left free", 100*amount)
	case adjust.AllOtherUnit:
		return "all tapes were read or typed in another unit, as inches for millimetres; they are converted"
	}
	return name + "misread, or hooked elsewhere; it is left out"
}

// inWords says which movement of the film a direction of its unknowns is.
func (f *film) inWords(way []float64) string {
	shift := g.Vec{X: way[right], Y: way[up]}
	if !f.turns || math.Abs(way[turn]) < 0.2*shift.Norm() {
		return fmt.Sprintf("a shift at %.0f deg from the drawing's right", math.Mod(same.Atan2(shift.Y, shift.X)*180/math.Pi+360, 180))
	}
	// a shift and a turn together are a turn about another point: the one that stays
	about := f.middle.Add(shift.Perp().Scale(f.reach / way[turn]))
	return fmt.Sprintf("a turn about the point %s right of and %s above the drawing's held point", f.units.Fixed(g.Length(about.X), 1), f.units.Fixed(g.Length(about.Y), 1))
}
