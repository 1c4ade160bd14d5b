package layouts

import "maskloft/geometry"

// readClear reads the distance that paint keeps from an obstacle.
func readClear(v value, kind ObstacleKind) geometry.Length {
	usual := UsualClear
	if kind == HingeAt {
		usual = UsualHingeClear
	}
	return v.or(usual, func(v value) geometry.Length { return v.atLeastZero("") })
}

// readOpening reads the outline of an opening as seen from the side.
func readOpening(f fields) []geometry.SidePosition {
	var out []geometry.SidePosition
	list := f.at("points")
	for _, q := range list.items("point") {
		out = append(out, readSidePoint(q))
	}
	if list.isList() && len(out) < 3 {
		list.fail("write [fs, wl] for each corner", "%s, wanted 3 or more", geometry.Counted(len(out), "point"))
	}
	return out
}
