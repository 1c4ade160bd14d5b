package taping

import (
	"fmt"
	"math"
	"sort"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
)

// Method is a kind of way to find a point on the aircraft.
type Method string

// Methods.
const (
	ByFrame  Method = "frame and line" // from a frame along a stringer, the crown or the keel, then along the section
	ByRib    Method = "edge and rib"   // from an edge along a rib, then square from the rib
	ByEdges  Method = "two edges"      // from two edges of a plate without ribs, level and plumb
	ByTapes  Method = "two tapes"      // from two hardpoints
	ByString Method = "string"         // along a string between hardpoints, then along the section or square from it
	ByFloor  Method = "floor"          // height above the floor, and along a line
)

// Way is one way to find a point: two readings that cross.
type Way struct {
	Method   Method
	Readings []Offset // two, in the order of the work
	Tapes    []Taping // those of two tapes, in the same order; else none
	Error    Ellipse  // of the point as marked
	errors   []share
}

// share is by how much one cause alone moves a point or a film, for one standard
// deviation: inches in the flat.
type share struct {
	source string // one for all that it moves together; empty: by itself
	cause  string // for people
	by     g.Vec
}

// squareOf sums shares, each an error of its own.
func squareOf(shares []share) covariance {
	var c covariance
	for _, s := range shares {
		c = c.plus(outer(s.by, 1))
	}
	return c
}

// Causes of error, as people read them.
const (
	causeHooks   = "hardpoints"
	causeTape    = "tape class"
	causeReading = "reading and holding the tape"
	causeParts   = "frames, lines and edges as built"
	causeFloor   = "floor and level"
	causeMark    = "marking"
	causeFilm    = "laying the film"
)

var causeHelp = map[string]string{
	causeHooks:   "measure the hardpoints on this aircraft (measured: in the layout file)",
	causeTape:    "use a better tape (tape: class: eu-1 in the layout file), or nearer hardpoints",
	causeReading: "read to a finer graduation (tape: reading: in the layout file), and press the tape in the skin",
	causeParts:   "measure where frame, rib, line and edge stand on this aircraft",
	causeFloor:   "level the aircraft, and measure from a flat floor",
	causeMark:    "mark with a finer line",
	causeFilm:    "lay it with two people, and line up both points before it grips",
}

// asOffset is a tape as any other reading: what it errs by itself, and with others.
func (t Taping) asOffset(tape layouts.TapeSpec) Offset {
	zero, scale := tapeCommon(tape.Class)
	sigma := t.From.Sigma.Inches()
	return Offset{
		Kind: t.Kind, From: t.From.ID, Length: t.Length, Sigma: g.Length(same.Hypot(t.own.Inches(), tickLimit/math.Sqrt(3))), Slope: t.Bearing.Scale(-1), Start: t.From.At,
		Of: Found{Name: t.From.ID + ", " + t.From.Name},
		Shared: []Shared{
			{t.From.ID + " aft", sigma, t.away.X}, {t.From.ID + " right", sigma, t.away.Y}, {t.From.ID + " up", sigma, t.away.Z},
			{"tape's beginning", zero / math.Sqrt(3), 1}, {"tape's scale", scale / math.Sqrt(3), t.Length.Inches()},
		},
	}
}

// causeOf says what a shared error is.
func (o Offset) causeOf(s Shared) string {
	switch {
	case s.Name == "tape's beginning" || s.Name == "tape's scale":
		return causeTape
	case o.Kind == OnSkin || o.Kind == Straight:
		return causeHooks
	case o.Kind == HeightStanding || o.Kind == HeightLevelled:
		return causeFloor
	}
	return causeParts
}

// wayOf returns the way by two readings; false where they do not cross by
// [leastCrossing].
//
// A point is put where both readings are as printed: an error d of a reading moves it
// by e with slope . e = -d.
func wayOf(method Method, a, b Offset, tapes ...Taping) (Way, bool) {
	det := a.Slope.Cross(b.Slope)
	if math.Abs(det) < same.Sin(leastCrossing*math.Pi/180)*a.Slope.Norm()*b.Slope.Norm() || det == 0 {
		return Way{}, false
	}
	w := Way{Method: method, Readings: []Offset{a, b}, Tapes: tapes}
	// the inverse of the rows a and b
	moves := [2]g.Vec{g.Vec{X: b.Slope.Y, Y: -b.Slope.X}.Scale(1 / det), g.Vec{X: -a.Slope.Y, Y: a.Slope.X}.Scale(1 / det)}
	for i, r := range w.Readings {
		own := math.Sqrt(math.Max(0, float64(r.Sigma.Inches()*r.Sigma.Inches())-tickLimit*tickLimit/3))
		w.errors = append(w.errors, share{"", causeReading, moves[i].Scale(own)})
		for _, s := range r.Shared {
			by := moves[i].Scale(-s.By * s.Sigma)
			known := false
			for k := range w.errors {
				if w.errors[k].source == s.Name {
					w.errors[k].by, known = w.errors[k].by.Add(by), true
				}
			}
			if !known {
				w.errors = append(w.errors, share{s.Name, r.causeOf(s), by})
			}
		}
	}
	mark := markLimit / math.Sqrt(3)
	w.errors = append(w.errors, share{"", causeMark, g.Vec{X: mark}}, share{"", causeMark, g.Vec{Y: mark}})
	w.Error = squareOf(w.errors).ellipse()
	return w, true
}

// farString is how far off a string a point may lie for a hand that squares off by eye
// (judgement).
const farString = 24 * g.Inch

// waysTo returns the best way of each method to a point, the one of least expected
// error first.
func waysTo(tape layouts.TapeSpec, c Checkpoint) []Way {
	best := map[Method]Way{}
	try := func(method Method, a, b Offset, tapes ...Taping) {
		w, ok := wayOf(method, a, b, tapes...)
		if !ok {
			return
		}
		if old, known := best[method]; !known || w.Error.RMS() < old.Error.RMS()*(1-1e-9) {
			best[method] = w
		}
	}
	if len(c.Tapes) == 2 {
		try(ByTapes, c.Tapes[0].asOffset(tape), c.Tapes[1].asOffset(tape), c.Tapes...)
	}
	ribs := false
	for _, o := range c.Offsets {
		ribs = ribs || o.Kind == FromRib
	}
	for _, a := range c.Offsets {
		for _, b := range c.Offsets {
			switch {
			case a.Kind == AlongLine && b.Kind == AlongSection && a.On == b.Of:
				try(ByFrame, a, b)
			case a.Kind == AlongLine && b.Kind == FromRib && a.On == b.Of:
				try(ByRib, a, b)
			case !ribs && a.Kind == FromEdge && b.Kind == FromEdge && (a.Towards == "aft" || a.Towards == "forward") && (b.Towards == "up" || b.Towards == "down"):
				try(ByEdges, a, b)
			case a.Kind == AlongString && c.Baseline.Square <= farString && (b.Kind == AlongSection && b.Of.Name != "" || b.Kind == OffString):
				try(ByString, a, b)
			case a.Kind == AlongLine && (b.Kind == HeightStanding || b.Kind == HeightLevelled):
				try(ByFloor, a, b)
			}
		}
	}
	var out []Way
	for _, m := range []Method{ByFrame, ByRib, ByEdges, ByTapes, ByString, ByFloor} {
		if w, ok := best[m]; ok {
			out = append(out, w)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		return g.OnGrid(out[i].Error.RMS().Inches(), 1e-6) < g.OnGrid(out[j].Error.RMS().Inches(), 1e-6)
	})
	return out
}

// String says what is read, for stable text.
func (w Way) String() string {
	text := string(w.Method)
	for _, r := range w.Readings {
		text += fmt.Sprintf("; %s from %s %.4f", r.Kind, r.From, r.Length.Inches())
	}
	return text
}
