package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// lines adds the readings from frames, ribs, stringers and edges: so far along a line
// from a frame or an edge, and so far square from that line. reading is half a
// graduation, inches.
//
// The foot on a line is found by a right angle by eye, so that the length along it errs
// with the length from it.
func (o *offsets) lines(reading float64) {
	p := o.laid.Placement
	frame := o.l.Airframe
	_, _, period := p.Surface.Breaks()
	body := period > 0
	class := func(length float64) float64 {
		return TapeLimit(o.l.Spec.Tape.Class, g.Length(length)).Inches()
	}
	part := func(f Found, by float64) Shared {
		return Shared{Name: nameOf(f), Sigma: layouts.DrawnSigma.Inches(), By: by}
	}
	for _, line := range frame.FoundLines(p, o.mark.UV) {
		across := line.Across(p, o.mark.UV)
		one := Offset{Kind: AlongSection, From: line.ID, Of: line.Found, Towards: wayFrom(body, p, across), Shared: []Shared{part(line.Found, -1)}, Start: o.foot(line)}
		if !body {
			one.Kind, one.From = FromRib, o.name(line.Found)
		} else {
			one.Shared[0] = Shared{Name: "line " + line.ID, Sigma: layouts.DrawnSigma.Inches(), By: 1}
		}
		if !o.has(one.Kind, one.From) {
			o.add(one, 0, func(length float64) float64 { return uniform(reading, pressLimit, tickLimit, class(length)) }, func(uv skin.UV, _ g.Position) (float64, bool) {
				return line.Across(p, uv), true
			})
		} else {
			o.describe(one)
		}
		for _, start := range frame.FoundStarts(p, line, o.mark.UV.U) {
			held := pressLimit
			if start.Seen {
				held = airLimit
			}
			along := Offset{Kind: AlongLine, From: o.name(start.Found) + " on " + o.name(line.Found), Of: start.Found, On: line.Found, Towards: "aft", Shared: []Shared{part(start.Found, -1)}, Start: g.PositionOf(skin.PointAt(p.Surface, skin.UV{U: float64(start.FS), V: line.V}))}
			if start.Along(p, line, o.mark.UV.U) < 0 {
				along.Towards = "forward"
			}
			o.add(along, 0, func(length float64) float64 {
				return same.Hypot(uniform(reading, held, tickLimit, class(length)), across*squareSigma)
			}, func(uv skin.UV, _ g.Position) (float64, bool) {
				return start.Along(p, line, uv.U), true
			})
		}
	}
	for _, edge := range frame.Edges(p, o.mark.UV) {
		one := Offset{Kind: FromEdge, From: edge.Name, Of: edge.Found, Towards: wayFrom(false, p, o.mark.UV.V-edge.V), Shared: []Shared{part(edge.Found, -1)}, Start: o.foot(edge)}
		value := func(uv skin.UV) (float64, bool) {
			for _, e := range frame.Edges(p, uv) {
				if e.Name == edge.Name && math.Abs(e.V-edge.V) < 2 {
					return uv.V - e.V, true
				}
			}
			return 0, false
		}
		aft, okA := value(skin.UV{U: o.mark.UV.U + 0.125, V: o.mark.UV.V})
		fore, okB := value(skin.UV{U: o.mark.UV.U - 0.125, V: o.mark.UV.V})
		if !okA || !okB {
			continue
		}
		lean := (aft - fore) / 0.25 // of the edge where it is met: inches across for an inch along
		o.add(one, 0, func(length float64) float64 {
			return same.Hypot(uniform(reading, airLimit, tickLimit, class(length)), float64(length*lean)*squareSigma)
		}, func(uv skin.UV, _ g.Position) (float64, bool) { return value(uv) })
		along := layouts.FoundLine{Found: edge.Found, V: o.mark.UV.V}
		for _, start := range frame.FoundStarts(p, along, o.mark.UV.U) {
			level := Offset{Kind: FromEdge, From: start.Name, Of: start.Found, Towards: "aft", Shared: []Shared{part(start.Found, -1)}, Start: g.PositionOf(skin.PointAt(p.Surface, skin.UV{U: start.FS.Inches(), V: o.mark.UV.V}))}
			if o.has(level.Kind, level.From) {
				continue
			}
			reach := func(uv skin.UV) (float64, bool) {
				for _, s := range frame.FoundStarts(p, layouts.FoundLine{V: uv.V}, uv.U) {
					if s.Name == start.Name && math.Abs(float64(s.FS-start.FS)) < 2 {
						return float64(uv.U - s.FS.Inches()), true
					}
				}
				return 0, false
			}
			up, okU := reach(skin.UV{U: o.mark.UV.U, V: o.mark.UV.V + 0.125})
			down, okD := reach(skin.UV{U: o.mark.UV.U, V: o.mark.UV.V - 0.125})
			if !okU || !okD {
				continue
			}
			if start.FS.Inches() > o.mark.UV.U {
				level.Towards = "forward"
			}
			o.add(level, 0, func(length float64) float64 {
				return same.Hypot(uniform(reading, airLimit, tickLimit, class(length)), float64(length*(up-down)/0.25)*squareSigma)
			}, func(uv skin.UV, _ g.Position) (float64, bool) { return reach(uv) })
		}
	}
}

// foot is where the plane of the point's station meets a line.
func (o *offsets) foot(line layouts.FoundLine) g.Position {
	return g.PositionOf(skin.PointAt(o.laid.Placement.Surface, skin.UV{U: o.mark.UV.U, V: line.V}))
}

func (o *offsets) has(kind TapeKind, from string) bool {
	for _, k := range o.out {
		if k.Kind == kind && k.From == from {
			return true
		}
	}
	return false
}

// describe gives a reading that is there already the names of what it is measured from.
func (o *offsets) describe(one Offset) {
	for i := range o.out {
		if k := &o.out[i]; k.Kind == one.Kind && k.From == one.From {
			k.Of, k.Towards, k.Start = one.Of, one.Towards, one.Start
		}
	}
}

// nameOf names a part of the structure, its place in inches: "frame FS 144", "stringer S2".
func nameOf(f Found) string { return f.In("") }

// name is nameOf in the units of the tape.
func (o *offsets) name(f Found) string { return f.In(o.l.Spec.Tape.Units) }

// wayFrom names the direction from a line to a point that lies across inches from it.
func wayFrom(body bool, p layouts.Placement, across float64) string {
	words := [2]string{"up", "down"}
	switch {
	case body: // down positive
		words = [2]string{"down", "up"}
	case p.Face() != layouts.NoFace:
		words = [2]string{"outboard", "inboard"}
		across *= p.Side.Sign()
	}
	if across < 0 {
		return words[1]
	}
	return words[0]
}
