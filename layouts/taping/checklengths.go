package taping

import (
	"fmt"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
)

// CheckLength is a length from tick to tick on film that has been laid. Film that
// was stretched in the laying is longer.
type CheckLength struct {
	Marking  string
	Tile     string // "1-2"; empty where it spans the marking
	From, To string // marks of the film
	Length   g.Length
	Limit    g.Length
}

// checkLimit is by how much a length may differ (common practice, no source); a
// longer one is held to a thousandth of itself.
const checkLimit = g.Inch / 16

// CheckLengths returns the lengths to check on each marking's film: along the
// level line, along the upright one, both diagonals of the paint, and in each tile of
// the first film between its registration marks. All are straight in the flat.
func CheckLengths(tilings []masks.Tiling) []CheckLength {
	var out []CheckLength
	for i := range tilings {
		t := &tilings[i]
		add := func(tile string, a, b masks.RegistrationMark) {
			length := g.Length(a.Film.Dist(b.Film))
			out = append(out, CheckLength{
				Marking: t.Laid.ID(), Tile: tile, From: a.ID, To: b.ID, Length: length, Limit: max(checkLimit, length/1000),
			})
		}
		byRole := map[masks.Role][]masks.RegistrationMark{}
		for _, s := range t.Spots() {
			byRole[s.Role] = append(byRole[s.Role], s.Mark)
		}
		for _, role := range []masks.Role{masks.LevelTick, masks.UprightTick} {
			if m := byRole[role]; len(m) == 2 {
				add("", m[0], m[1])
			}
		}
		if m := byRole[masks.Extent]; len(m) == 4 { // top pair, then bottom pair, the drawing's left first
			add("", m[0], m[3])
			add("", m[1], m[2])
		}
		for _, c := range t.Films[0].Cells {
			tile := fmt.Sprintf("%d-%d", c.Row, c.Column)
			for k, a := range c.Marks {
				for _, b := range c.Marks[k+1:] {
					add(tile, t.Marks[a], t.Marks[b])
				}
			}
		}
	}
	return out
}
