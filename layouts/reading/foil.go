package reading

import (
	"maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// readFoil reads the edges and the section of a fin or rudder.
func readFoil(f fields, s *layouts.SurfaceSpec) {
	edge := func(v value) []geometry.SidePosition {
		var out []geometry.SidePosition
		for _, p := range v.items("point") {
			out = append(out, readSidePoint(p))
		}
		if v.IsList() && len(out) < 2 {
			v.Fail("write [fs, wl] for each point from root to tip", "%s has %s, wanted 2 or more", v.Name, geometry.Counted(len(out), "point"))
		}
		return out
	}
	s.Leading, s.Trailing = edge(f.at("leading")), edge(f.at("trailing"))
	for _, w := range f.at("ribs").items("rib") {
		s.Ribs = append(s.Ribs, w.waterline())
	}
	readFoilSection(f, s)
}

// readWing reads a wing or tailplane: edges as [fs, bl] from root to tip.
func readWing(f fields, s *layouts.SurfaceSpec) {
	edge := func(v value) []layouts.PlanPosition {
		out := planPoints(v)
		if v.IsList() && len(out) < 2 {
			v.Fail("write [fs, bl] for each point from root to tip, right side", "%s has %s, wanted 2 or more", v.Name, geometry.Counted(len(out), "point"))
		}
		return out
	}
	s.Span.Leading, s.Span.Trailing = edge(f.at("leading")), edge(f.at("trailing"))
	s.Span.WL, s.Span.Dihedral, s.Span.Incidence = f.at("wl").waterline(), optionalDegrees(f.at("dihedral")), optionalDegrees(f.at("incidence"))
	for _, b := range f.at("ribs").items("rib") {
		s.Span.Ribs = append(s.Span.Ribs, b.buttLine())
	}
	readFoilSection(f, s)
}

// planPoints reads points of the plan view.
func planPoints(v value) []layouts.PlanPosition {
	var out []layouts.PlanPosition
	for _, p := range v.items("point") {
		a, b, _ := readPair(p, "[fs, bl]")
		a.Name, b.Name = p.Name+" fs", p.Name+" bl"
		out = append(out, layouts.PlanPosition{FS: a.station(), BL: b.buttLine()})
	}
	return out
}

func optionalDegrees(v value) float64 {
	if !v.Written() {
		return 0
	}
	return v.degrees()
}

// readFoilSection reads the section of a foil or wing.
func readFoilSection(f fields, s *layouts.SurfaceSpec) {
	naca, table := f.at("naca"), f.at("ordinates")
	if naca.Written() == table.Written() {
		f.Fail("write naca: 0012, or ordinates: [[0, 0, 0], ...] as fractions of the chord", "a foil has one section: naca or ordinates")
		return
	}
	if naca.Written() {
		s.NACA = naca.Text()
		if _, err := skin.ParseNACA4(s.NACA); err != nil && s.NACA != "" {
			naca.Fail("write the four digits, naca: 0012", "%v", err)
		}
		return
	}
	for _, line := range table.items("line") {
		three := line.items("number")
		if len(three) != 3 {
			line.Fail("write [xi, upper, lower] as fractions of the chord", "the line holds %s, wanted 3", geometry.Counted(len(three), "number"))
			return
		}
		s.Ordinates = append(s.Ordinates, skin.Ordinate{Xi: three[0].plainNumber(), Upper: three[1].plainNumber(), Lower: three[2].plainNumber()})
	}
	if _, err := skin.NewOrdinates(s.Ordinates); err != nil {
		table.Fail("give the table from nose to trailing edge", "%v", err)
	}
}
