package taping

import (
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Kinds of reading besides tapes from hardpoints.
const (
	AlongString    TapeKind = "string along"    // from one end of a string to the point's foot on it, as seen square to the side
	OffString      TapeKind = "string offset"   // from that foot straight through the air to the point
	AlongSection   TapeKind = "girth"           // along the skin from a named line, in the plane of the point's station; on fins and wings from the fore edge
	AftOfFrame     TapeKind = "aft of frame"    // from a frame, along the waterline
	HeightStanding TapeKind = "height parked"   // above the floor, on its wheels
	HeightLevelled TapeKind = "height levelled" // above the floor, tail raised
	AlongLine      TapeKind = "along line"      // along a named line or rib, from a frame or an edge, to the point's foot on it
	FromRib        TapeKind = "from rib"        // along the skin, square from a rib
	FromEdge       TapeKind = "from edge"       // from an edge of a plate, level or plumb
)

// Standard deviations of these readings (judgement, but for hardpoints and
// graduations).
const (
	squareSigma = 1.155 * math.Pi / 180 // a right angle by eye: 2 degrees either way, uniform
	plumbLimit  = 1.0 / 16              // a rule stood plumb on the floor, each way, inches
	floorLimit  = 1.0 / 8               // a hangar floor under it, each way
	levelLimit  = 0.1 * math.Pi / 180   // the aircraft levelled or standing as drawn, each way, about either axis
)

// leastOffset is the shortest offset that is given, in inches: of a shorter one a film
// laid a little off could lie on the other side, and lengths carry no sign.
const leastOffset = 1.0

// Offset is one reading to a point that is no tape from a hardpoint. It is straight:
// what it reads changes by Slope for an inch of the point's movement.
type Offset struct {
	Kind   TapeKind
	From   string   // what it is measured from: "P4 to P3", "S4", "FS 120", "floor"
	Length g.Length // where the point is as meant
	Sigma  g.Length // one standard deviation of its own
	Slope  g.Vec    // in the flat of the marking
	Shared []Shared // errors that others of the kind have too

	Of      Found  // what it is measured from, as one finds it; empty where From says it
	On      Found  // the line that it runs along; empty where there is none
	Towards string // which way: aft, forward, up, down, outboard, inboard, above; empty where From says it
	Start   g.Position
}

// Found is a part of the structure.
type Found = layouts.Found

// Shared is an error that several readings have in common.
type Shared struct {
	Name  string  // "line S4", "floor"
	Sigma float64 // one standard deviation: inches, or radians
	By    float64 // what the reading changes by for each of them
}

// offsets gathers the readings to one point of a film.
type offsets struct {
	l    *layouts.Layout
	laid *masks.Laid
	mark masks.RegistrationMark
	out  []Offset
}

// add adds a reading: its own deviation for a length, and its value at a place of the
// skin; none where that tells too little, or the length is below least.
func (o *offsets) add(one Offset, least float64, own func(length float64) float64, value func(skin.UV, g.Position) (float64, bool)) {
	p := o.laid.Placement
	at := func(d g.Vec) (float64, bool) {
		uv, ok := o.laid.Map.ToSkin(o.mark.Film.Add(d))
		if !ok {
			return 0, false
		}
		return value(uv, g.PositionOf(skin.PointAt(p.Surface, uv)))
	}
	here, ok := value(o.mark.UV, o.mark.Skin)
	if !ok || math.Abs(here) < least {
		return
	}
	const step = 0.125 // inches: to one side only where the film or the skin ends
	slope := func(d g.Vec) (float64, bool) {
		ahead, okA := at(d.Scale(step))
		behind, okB := at(d.Scale(-step))
		switch {
		case okA && okB:
			return (ahead - behind) / (2 * step), true
		case okA:
			return (ahead - here) / step, true
		case okB:
			return (here - behind) / step, true
		}
		return 0, false
	}
	x, okX := slope(g.Vec{X: 1})
	y, okY := slope(g.Vec{Y: 1})
	if !okX || !okY || same.Hypot(x, y) < 0.1 { // it hardly tells where the point is
		return
	}
	sign := 1.0
	if here < 0 { // lengths are read without a sign
		sign = -1
	}
	for i := range one.Shared {
		one.Shared[i].By *= sign
	}
	one.Length, one.Slope = g.Length(sign*here), g.Vec{X: sign * x, Y: sign * y}
	one.Sigma = g.Length(own(sign * here))
	o.out = append(o.out, one)
}

// uniform is the standard deviation of errors within limits, in inches.
func uniform(limits ...float64) float64 {
	sum := 0.0
	for _, v := range limits {
		sum += v * v / 3
	}
	return math.Sqrt(sum)
}

// offsetsOf returns the readings by other ways that can be taken to a point.
func offsetsOf(l *layouts.Layout, laid *masks.Laid, c Checkpoint) []Offset {
	o := &offsets{l: l, laid: laid, mark: c.Mark}
	p := laid.Placement
	reading := l.Spec.Tape.Reading.Inches() / 2
	tape := func(limits ...float64) func(float64) float64 {
		return func(length float64) float64 {
			return uniform(append(limits, reading, tickLimit, TapeLimit(l.Spec.Tape.Class, g.Length(length)).Inches())...)
		}
	}
	if r := c.Girth; r != nil {
		one := Offset{Kind: AlongSection, From: r.Line, Towards: r.Towards, Shared: []Shared{{Name: "line " + r.Line, Sigma: layouts.DrawnSigma.Inches(), By: 1}}}
		o.add(one, leastOffset, tape(pressLimit), func(uv skin.UV, at g.Position) (float64, bool) {
			return l.Airframe.GirthFrom(p, r.Line, uv)
		})
	}
	if s := c.Baseline; s != nil {
		from := s.From.ID + " to " + s.To.ID
		ends := same.Hypot(s.From.Sigma.Inches(), s.To.Sigma.Inches()) / math.Sqrt2
		view := stretched{s.From, s.To, s.View == "plan"}
		foot := func(at g.Position) (along float64, square float64) {
			a, b, q := view.seen(s.From.At), view.seen(s.To.At), view.seen(at)
			u := b.Sub(a).Unit()
			along = q.Sub(a).Dot(u)
			stands := s.From.At.Vec().Lerp(s.To.At.Vec(), along/a.Dist(b))
			return along, at.Vec().Sub(stands).Norm()
		}
		own := func(length float64) float64 { return same.Hypot(tape(airLimit)(length), ends) }
		o.add(Offset{Kind: AlongString, From: from, Start: s.From.At}, leastOffset, func(length float64) float64 { return same.Hypot(own(length), s.Offset.Inches()*squareSigma) }, func(_ skin.UV, at g.Position) (float64, bool) {
			along, _ := foot(at)
			return along, true
		})
		o.add(Offset{Kind: OffString, From: from, Towards: s.Towards}, leastOffset, own, func(_ skin.UV, at g.Position) (float64, bool) {
			_, square := foot(at)
			return square, true
		})
	}
	if fs, ok := l.Airframe.FrameBefore(p, c.Mark.Skin.FS); ok {
		frame := Found{Name: "frame", Plane: "FS", At: float64(fs)}
		one := Offset{Kind: AftOfFrame, From: "FS " + l.Spec.Tape.Units.At(frame.At), Of: frame, Towards: "aft", Shared: []Shared{{Name: nameOf(frame), Sigma: layouts.DrawnSigma.Inches(), By: -1}}}
		o.add(one, leastOffset, tape(airLimit), func(_ skin.UV, at g.Position) (float64, bool) {
			return fs.To(at.FS).Inches(), true
		})
	}
	o.lines(reading)
	if ground := l.Spec.Aircraft.Ground; ground != nil {
		angle, ok := l.Airframe.GroundAngle()
		for _, kind := range []TapeKind{HeightStanding, HeightLevelled} {
			if !ok {
				continue
			}
			x, y := float64(c.Mark.Skin.FS-ground.Main.FS), c.Mark.Skin.BL.Inches()
			word := strings.TrimPrefix(string(kind), "height ")
			one := Offset{Kind: kind, From: "floor", Of: Found{Name: "floor"}, Towards: "up", Shared: []Shared{{"floor, " + word, uniform(floorLimit), 1}, {"pitch, " + word, uniform(levelLimit), x}, {"roll, " + word, uniform(levelLimit), y}}}
			o.add(one, leastOffset, tape(plumbLimit), func(_ skin.UV, at g.Position) (float64, bool) {
				if kind == HeightStanding {
					return HeightParked(*ground, angle, at).Inches(), true
				}
				return ground.Main.WL.To(at.WL).Inches(), true
			})
		}
	}
	return o.out
}
