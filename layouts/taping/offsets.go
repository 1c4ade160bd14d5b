package taping

import (
	"math"
	"strings"

	g "maskloft/geometry"
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
}

// Shared is an error that several readings have in common.
type Shared struct {
	Name  string  // "line S4", "floor"
	Sigma float64 // one standard deviation: inches, or radians
	By    float64 // what the reading changes by for each of them
}

// offsetsOf returns the readings by other ways that can be taken to a point.
func offsetsOf(l *layouts.Layout, laid *masks.Laid, c Checkpoint) []Offset {
	var out []Offset
	p := laid.Placement
	reading := l.Spec.Tape.Reading.Inches() / 2
	add := func(kind TapeKind, from string, own float64, value func(skin.UV, g.Position) (float64, bool), shared ...Shared) {
		at := func(d g.Vec) (float64, bool) {
			uv, ok := laid.Map.ToSkin(c.Mark.Film.Add(d))
			if !ok {
				return 0, false
			}
			return value(uv, g.PositionOf(skin.PointAt(p.Surface, uv)))
		}
		here, ok := value(c.Mark.UV, c.Mark.Skin)
		if !ok || math.Abs(here) < leastOffset {
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
		if !okX || !okY || math.Hypot(x, y) < 0.1 { // it hardly tells where the point is
			return
		}
		sign := 1.0
		if here < 0 { // lengths are read without a sign
			sign = -1
		}
		for i := range shared {
			shared[i].By *= sign
		}
		out = append(out, Offset{Kind: kind, From: from, Length: g.Length(sign * here), Sigma: g.Length(own), Slope: g.Vec{X: sign * x, Y: sign * y}, Shared: shared})
	}
	uniform := func(limits ...float64) float64 {
		sum := 0.0
		for _, v := range limits {
			sum += v * v / 3
		}
		return math.Sqrt(sum)
	}
	if r := c.Girth; r != nil {
		line := Shared{Name: "line " + r.Line, Sigma: layouts.DrawnSigma.Inches(), By: 1}
		add(AlongSection, r.Line, uniform(reading, pressLimit, tickLimit), func(uv skin.UV, at g.Position) (float64, bool) {
			return l.Airframe.GirthFrom(p, r.Line, uv)
		}, line)
	}
	if s := c.Baseline; s != nil {
		from := s.From.ID + " to " + s.To.ID
		ends := math.Hypot(s.From.Sigma.Inches(), s.To.Sigma.Inches()) / math.Sqrt2
		view := stretched{s.From, s.To, s.View == "plan"}
		foot := func(at g.Position) (along float64, square float64) {
			a, b, q := view.seen(s.From.At), view.seen(s.To.At), view.seen(at)
			u := b.Sub(a).Unit()
			along = q.Sub(a).Dot(u)
			stands := s.From.At.Vec().Lerp(s.To.At.Vec(), along/a.Dist(b))
			return along, at.Vec().Sub(stands).Norm()
		}
		own := math.Hypot(uniform(reading, airLimit, tickLimit), ends)
		add(AlongString, from, math.Hypot(own, s.Offset.Inches()*squareSigma), func(_ skin.UV, at g.Position) (float64, bool) {
			along, _ := foot(at)
			return along, true
		})
		add(OffString, from, own, func(_ skin.UV, at g.Position) (float64, bool) {
			_, square := foot(at)
			return square, true
		})
	}
	if fs, ok := l.Airframe.FrameBefore(p, c.Mark.Skin.FS); ok {
		from := "FS " + g.FormatNumber(float64(fs), 3)
		add(AftOfFrame, from, uniform(reading, airLimit, tickLimit), func(_ skin.UV, at g.Position) (float64, bool) {
			return fs.To(at.FS).Inches(), true
		}, Shared{Name: "frame " + from, Sigma: layouts.DrawnSigma.Inches(), By: -1})
	}
	if ground := l.Spec.Aircraft.Ground; ground != nil {
		angle, ok := l.Airframe.GroundAngle()
		for _, kind := range []TapeKind{HeightStanding, HeightLevelled} {
			if !ok {
				continue
			}
			x, y := float64(c.Mark.Skin.FS-ground.Main.FS), float64(c.Mark.Skin.BL)
			word := strings.TrimPrefix(string(kind), "height ")
			add(kind, "floor", uniform(reading, plumbLimit, tickLimit), func(_ skin.UV, at g.Position) (float64, bool) {
				if kind == HeightStanding {
					return HeightParked(*ground, angle, at).Inches(), true
				}
				return ground.Main.WL.To(at.WL).Inches(), true
			}, Shared{"floor, " + word, uniform(floorLimit), 1}, Shared{"pitch, " + word, uniform(levelLimit), x}, Shared{"roll, " + word, uniform(levelLimit), y})
		}
	}
	return out
}
