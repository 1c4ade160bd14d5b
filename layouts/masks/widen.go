package masks

import (
	"math"

	g "maskloft/geometry"
)

// placingBase is the share of the length of a tile's paint that two marks of a tile of
// the first film stand apart at least: these are found on the aircraft and give the tile
// its direction (judgement).
const placingBase = 1.0

// widen gives a tile of the first film one mark more where all that it has stand close
// together: where the film has room, else on an arm, the one that takes the least web.
func (s *setter) widen(cell int) {
	c := s.t.Films[0].Cells[cell]
	want := placingBase * (max(c.Rect.Width(), c.Rect.Height()) - 2*s.t.Laid.Masks[0].FieldWidth.Inches())
	have := s.t.pointsOf(c.Marks)
	far := func(p g.Point) float64 {
		d := 0.0
		for _, q := range have {
			d = max(d, p.Dist(q))
		}
		return d
	}
	for _, p := range have {
		if far(p) >= want {
			return
		}
	}
	if len(have) == 0 || len(have) >= mostMarks {
		return
	}
	corners, anywhere := places(c)
	if p, ok := s.best(have, append(corners, anywhere...), func(all []g.Point) bool { return far(all[len(all)-1]) >= want }); ok {
		s.put(s.add(p), 0, cell)
		return
	}
	best, least := g.Point{}, math.Inf(1)
	before := boundsOf(c)
	for _, p := range s.armEnds(c) {
		arm, ok := s.reaches(c, p, -1)
		if !ok || far(p) < want || !s.fits(before.Union(arm)) {
			continue
		}
		if cost := areaOf(before.Union(arm)) - areaOf(before); cost < least {
			best, least = p, cost
		}
	}
	if !math.IsInf(least, 1) {
		s.put(s.add(best), 0, cell)
	}
}
