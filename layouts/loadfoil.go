package layouts

import (
	"maskloft/geometry"
	"maskloft/geometry/skin"
)

// readFoil reads the edges and the section of a fin or rudder.
func readFoil(f fields, s *SurfaceSpec) {
	edge := func(v value) []geometry.SidePosition {
		var out []geometry.SidePosition
		for _, p := range v.items("point") {
			out = append(out, readSidePoint(p))
		}
		if v.isList() && len(out) < 2 {
			v.fail("write [fs, wl] for each point from root to tip", "%s has %s, wanted 2 or more", v.name, count(len(out), "point"))
		}
		return out
	}
	s.Leading, s.Trailing = edge(f.at("leading")), edge(f.at("trailing"))
	for _, w := range f.at("ribs").items("rib") {
		s.Ribs = append(s.Ribs, w.waterline())
	}
	naca, table := f.at("naca"), f.at("ordinates")
	if naca.written() == table.written() {
		f.fail("write naca: 0012, or ordinates: [[0, 0, 0], ...] as fractions of the chord", "a foil has one section: naca or ordinates")
		return
	}
	if naca.written() {
		s.NACA = naca.text()
		if _, err := skin.ParseNACA4(s.NACA); err != nil && s.NACA != "" {
			naca.fail("write the four digits, naca: 0012", "%v", err)
		}
		return
	}
	for _, line := range table.items("line") {
		three := line.items("number")
		if len(three) != 3 {
			line.fail("write [xi, upper, lower] as fractions of the chord", "the line holds %s, wanted 3", count(len(three), "number"))
			return
		}
		s.Ordinates = append(s.Ordinates, skin.Ordinate{Xi: three[0].plainNumber(), Upper: three[1].plainNumber(), Lower: three[2].plainNumber()})
	}
	if _, err := skin.NewOrdinates(s.Ordinates); err != nil {
		table.fail("give the table from nose to trailing edge", "%v", err)
	}
}
