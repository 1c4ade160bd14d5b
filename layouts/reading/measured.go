package reading

import (
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/layouts"
)

// measured reads a hardpoint as measured on this airframe, on the sides where the
// hardpoint is.
func (v value) measured(on layouts.Sides) (m layouts.MeasuredSpec) {
	if !v.Written() {
		return m
	}
	f := v.block("measured")
	for _, side := range []geometry.Side{geometry.Left, geometry.Right} {
		at := f.at(side.String())
		if !at.Written() {
			continue
		}
		if on != layouts.BothSides && on != "" && string(on) != side.String() {
			at.Fail("write side: both, or take it out", "the hardpoint is on the %s side, and measured on the %s", on, side)
			continue
		}
		p := at.blockNamed("measured point", "measured "+side.String())
		m[side] = &layouts.MeasuredPoint{Place: at.Place(), FS: p.at("fs").station(), At: layouts.SectionPoint{
			BL: geometry.ButtLine(p.at("bl").atLeastZero(": BL counts outwards on either side")), WL: p.at("wl").waterline(),
		}}
	}
	return m
}

// pegs reads the points on which a level is laid.
func (v value) pegs() []layouts.PegSpec {
	var out []layouts.PegSpec
	names := newNames("level peg")
	for _, p := range v.items("level peg") {
		f := p.block("level peg")
		out = append(out, layouts.PegSpec{
			Place: p.Place(), ID: names.addFrom(f), Side: f.at("side").sides(),
			At: geometry.SidePosition{FS: f.at("fs").station(), WL: f.at("wl").waterline()},
		})
	}
	if v.IsList() && len(out) == 1 {
		v.Fail("give the peg at the other end of the level too, or take it out", "one level peg; a level lies on two")
	}
	return out
}

// hardpointTapes reads the distances measured between hardpoints.
func (v value) hardpointTapes(known *names, hardpoints []layouts.HardpointSpec) []layouts.HardpointTapeSpec {
	var out []layouts.HardpointTapeSpec
	for _, t := range v.items("measured tape") {
		f := t.block("measured tape")
		s := layouts.HardpointTapeSpec{
			Place: t.Place(), From: known.refer(f.at("from")), To: known.refer(f.at("to")),
			Side: choice(f.at("side"), "", layouts.TapedLeft, layouts.TapedRight, layouts.TapedAcross), Length: f.at("length").positive(),
		}
		from, to := s.Side.Ends()
		for _, end := range []struct {
			id   string
			side geometry.Side
			at   value
		}{{s.From, from, f.at("from")}, {s.To, to, f.at("to")}} {
			for _, h := range hardpoints {
				if s.Side != "" && h.ID == end.id && h.ID != "" && !slices.Contains(h.Side.List(), end.side) {
					end.at.Fail("name a hardpoint of that side, or write side: both there", "the hardpoint %q is not on the %s side", h.ID, end.side)
				}
			}
		}
		if s.From == s.To && s.From != "" && s.Side != layouts.TapedAcross && s.Side != "" {
			f.at("to").Fail("name another hardpoint, or write side: across", "the tape runs from %s to itself", s.From)
		}
		out = append(out, s)
	}
	return out
}

// tape reads the tape in hand; where it does not say so, it is divided into what the
// sheets are written in.
func (v value) tape(units geometry.Units) layouts.TapeSpec {
	s := layouts.UsualTape()
	if units.Metric() {
		s = s.Metric()
	}
	if !v.Written() {
		return s
	}
	f := v.block("tape")
	s.Units = choice(f.at("units"), s.Units, geometry.ReadInches, geometry.ReadMillimetres)
	switch s.Units {
	case geometry.ReadMillimetres:
		s.Reading = geometry.Millimetre
	case geometry.ReadInches:
		s.Reading = layouts.UsualTape().Reading
	}
	s.Place = v.Place()
	s.Class = choice(f.at("class"), s.Class, layouts.TapeUS, layouts.TapeEU1, layouts.TapeEU2)
	s.Burn = choice(f.at("burn"), "no", "yes", "no") == "yes"
	at := f.at("reading")
	if !at.Written() {
		return s
	}
	s.Reading = at.positive()
	switch n := 1 / s.Reading.Inches(); {
	case math.IsNaN(n) || s.Units == "":
	case s.Units == geometry.ReadInches && (n < 1 || n > 64 || math.Abs(n-math.Exp2(math.Round(math.Log2(n)))) > 1e-6):
		at.Fail("write 1/8, 1/16, 1/32 or 1/64 in", "reading is %s, which is no graduation of a tape in inches", s.Reading)
	case s.Units.Metric():
		if mm := s.Reading.Millimetres() * 2; mm > 20 || math.Abs(mm-math.Round(mm)) > 1e-6 || mm < 0.5 {
			at.Fail("write 0.5, 1, 2, 5 or 10 mm", "reading is %s mm, which is no graduation of a tape in millimetres", geometry.FormatNumber(mm/2, 3))
		}
	}
	return s
}
