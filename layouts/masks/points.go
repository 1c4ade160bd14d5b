package masks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Role says what a checkpoint is for. Points are placed in the order of their
// roles: common practice, no source.
type Role string

// Roles, in working order.
const (
	Centre       Role = "centre"       // where the held point of the drawing stands
	LevelTick    Role = "level"        // on the drawing's level line, at an edge of the film
	UprightTick  Role = "upright"      // on its upright line, at an edge of the film
	Extent       Role = "extent"       // a corner of the box round the paint: ends of baseline and cap line
	Registration Role = "registration" // a mark that is cut in the film
)

// Spot is a point to place on the aircraft.
type Spot struct {
	Role  Role
	Label string
	Mark  RegistrationMark
}

// Spots returns the points of a marking in working order: the centre, the ticks
// at the ends of the level line, those of the upright one, the corners of the
// paint, then the registration marks of the first film tile by tile, each once: later
// films are laid by theirs. A tick that would
// stand off the skin moves inwards to its edge; a corner off the skin is left out.
func (t *Tiling) Spots() []Spot {
	var out []Spot
	on := func(p g.Point) (RegistrationMark, bool) {
		uv, ok := t.Laid.Map.ToSkin(p)
		if !ok || !t.Laid.Placement.Surface.Contains(uv) {
			return RegistrationMark{}, false
		}
		return RegistrationMark{Film: p, UV: uv, Skin: g.PositionOf(skin.PointAt(t.Laid.Placement.Surface, uv))}, true
	}
	if m, ok := on(g.Point{}); ok {
		m.ID = t.heldPoint()
		out = append(out, Spot{Centre, m.ID, m})
	}
	first := t.Films[0]
	field, paint := t.Laid.Field, t.Laid.Painted.Bounds()
	inward := func(from, to g.Point) (RegistrationMark, bool) {
		n := int(from.Dist(to) * 8)
		for i := 0; i < n; i++ {
			if m, ok := on(from.Lerp(to, float64(i)/float64(n))); ok {
				return m, true
			}
		}
		return RegistrationMark{}, false
	}
	add := func(role Role, ends ...string) func(a, b, inA, inB g.Point) {
		return func(a, b, inA, inB g.Point) {
			one, okOne := inward(a, inA)
			two, okTwo := inward(b, inB)
			for k, m := range []RegistrationMark{one, two} {
				if !okOne && k == 0 || !okTwo && k == 1 {
					continue
				}
				end := fmt.Sprint(k + 1)
				switch {
				case len(ends) == 2:
					end = ends[k]
				case okOne && okTwo:
					end = endOf(one.Skin, two.Skin, m.Skin)
				}
				m.ID = string(role) + "-" + end
				out = append(out, Spot{role, string(role) + " tick, " + end, m})
			}
		}
	}
	add(LevelTick)(g.Point{X: field.Min.X}, g.Point{X: field.Max.X}, g.Point{X: paint.Min.X}, g.Point{X: paint.Max.X})
	add(UprightTick, "top", "bottom")(g.Point{Y: field.Max.Y}, g.Point{Y: field.Min.Y}, g.Point{Y: paint.Max.Y}, g.Point{Y: paint.Min.Y})
	for _, row := range []struct {
		name string
		y    float64
	}{{"top", paint.Max.Y}, {"bottom", paint.Min.Y}} {
		a, okA := on(g.Point{X: paint.Min.X, Y: row.y})
		b, okB := on(g.Point{X: paint.Max.X, Y: row.y})
		if !okA || !okB {
			continue // an end alone says nothing of the extent
		}
		for _, m := range []RegistrationMark{a, b} {
			end := row.name + " " + endOf(a.Skin, b.Skin, m.Skin)
			m.ID = string(Extent) + "-" + strings.ReplaceAll(end, " ", "-")
			out = append(out, Spot{Extent, "corner of the paint, " + end, m})
		}
	}
	seen := map[int]bool{}
	for _, c := range first.Cells {
		for _, i := range c.Marks {
			if seen[i] {
				continue
			}
			seen[i] = true
			out = append(out, Spot{Registration, "registration mark " + t.Marks[i].ID + ", " + t.tilesOf(i), t.Marks[i]})
		}
	}
	return out
}

// heldPoint names the point of the drawing that its place is given for: of a text held by
// an end, as one reads it.
func (t *Tiling) heldPoint() string {
	p, box := t.Laid.Placement, t.Laid.Painted.Bounds()
	switch near := box.Width() / 4; {
	case p.Marking.Where.Hold != layouts.HoldFore && p.Marking.Where.Hold != layouts.HoldAft:
		return string(Centre)
	case len(p.Figure.Characters) == 0:
		return string(p.Marking.Where.Hold) + "-edge"
	case math.Abs(box.Min.X) < near:
		return "start"
	}
	return "end"
}

// TilesOf names the tiles of the first film that show a mark.
func (t *Tiling) TilesOf(mark int) []string {
	var names []string
	for _, c := range t.Films[0].Cells {
		if slices.Contains(c.Marks, mark) {
			names = append(names, c.Name())
		}
	}
	return names
}

// Name names a tile by its row and column: "1-2".
func (c Cell) Name() string { return fmt.Sprintf("%d-%d", c.Row, c.Column) }

// tilesOf is [Tiling.TilesOf] in words.
func (t *Tiling) tilesOf(mark int) string {
	names := t.TilesOf(mark)
	if len(names) == 1 {
		return "tile " + names[0]
	}
	return "tiles " + strings.Join(names, " and ")
}

// endOf names the end, of the run from a to b, at which p stands, in words of the
// aircraft.
func endOf(a, b, p g.Position) string {
	if math.Abs(float64(a.FS-b.FS)) >= math.Abs(float64(a.BL-b.BL)) {
		if p.FS <= min(a.FS, b.FS) {
			return "fore"
		}
		return "aft"
	}
	if math.Abs(p.BL.Inches()) <= min(math.Abs(a.BL.Inches()), math.Abs(b.BL.Inches())) {
		return "inboard"
	}
	return "outboard"
}
