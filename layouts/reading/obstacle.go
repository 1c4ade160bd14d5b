package reading

import (
	"maskloft/geometry"
	"maskloft/layouts"
)

// readClear reads the distance that paint keeps from an obstacle.
func readClear(v value, kind layouts.ObstacleKind) geometry.Length {
	usual := layouts.UsualClear
	if kind == layouts.HingeAt {
		usual = layouts.UsualHingeClear
	}
	return v.or(usual, func(v value) geometry.Length { return v.atLeastZero("") })
}

// readSolid reads by how much an obstacle stands off the skin.
func readSolid(v value) geometry.Length {
	if text, ok := v.Scalar("a length"); v.Written() && ok && (text == "yes" || text == "true") {
		v.Fail("write solid: 6 in, or solid: 5 ft for a tailplane", "solid is %q, wanted by how much it stands off the skin: straight tapes go round it too", text)
		return 0
	}
	return v.or(0, func(v value) geometry.Length { return v.positive() })
}

// readOpening reads the outline of an opening as seen from the side.
func readOpening(f fields) []geometry.SidePosition {
	var out []geometry.SidePosition
	list := f.at("points")
	for _, q := range list.items("point") {
		out = append(out, readSidePoint(q))
	}
	if list.IsList() && len(out) < 3 {
		list.Fail("write [fs, wl] for each corner", "%s, wanted 3 or more", geometry.Counted(len(out), "point"))
	}
	return out
}

// obstacleOnWing reads an obstacle of a wing, given in plan: bl outwards for wl, the
// face where it is on one alone.
func (r *layoutReader) obstacleOnWing(v value, ids *names) layouts.ObstacleSpec {
	kind := choice(v.peek("kind"), "", layouts.Ring, layouts.Spot, layouts.Around, layouts.Opening)
	id := string(kind) + " on a wing"
	if kind == "" {
		id = "obstacle of a wing"
		if said := v.peek("kind"); said.Written() {
			said.Fail("an aileron's gap is an opening, points: [[fs, bl], ...]; tape along a rib is a section, bl: and size:", "a wing has obstacles of kind %s, %s, %s and %s", layouts.Ring, layouts.Spot, layouts.Around, layouts.Opening)
		}
	}
	f := v.block(id)
	o := layouts.ObstacleSpec{Place: v.Place(), ID: ids.addFrom(f), Kind: kind, Side: f.at("side").sides(), OnWing: true, Face: choice(f.at("face"), layouts.NoFace, layouts.UpperFace, layouts.LowerFace)}
	o.Surface = r.surfaces.refer(f.at("surface"))
	if o.Keeps() {
		o.Clear = readClear(f.at("clear"), kind)
	}
	o.Solid = readSolid(f.at("solid"))
	if kind == layouts.Ring || kind == layouts.Spot {
		o.At.FS = f.at("fs").station()
	}
	if kind == layouts.Opening {
		o.Plan, o.Over = readPlan(f), f.at("over").yesNo()
		return o
	}
	o.BL, o.Size = f.at("bl").buttLine(), f.at("size").positive()
	return o
}

// readPlan reads the outline of an opening in a wing, in plan.
func readPlan(f fields) []layouts.PlanPosition {
	list := f.at("points")
	out := planPoints(list)
	if list.IsList() && len(out) < 3 {
		list.Fail("write [fs, bl] for each corner", "%s, wanted 3 or more", geometry.Counted(len(out), "point"))
	}
	return out
}
