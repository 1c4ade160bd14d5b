package masks

import (
	"cmp"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Arms of film carry registration marks that a film of small paint would not reach.
const (
	armHalf  = MarkRadius + markLand // half of an arm's width, in inches
	armLanes = 5                     // places along a side of a film from which arms are tried
	armHolds = 40                    // marks of which three are chosen, those that take the least film
)

// armTo returns the arm that leads from a cell straight to a mark at p outside it,
// from a side beyond which nothing is cut; false where none does.
func armTo(c Cell, p g.Point) (g.Rect, bool) {
	r, end := c.Rect, g.BoundsOf(p).Grown(armHalf)
	level := end.Min.Y >= r.Min.Y-g.SnapTolerance && end.Max.Y <= r.Max.Y+g.SnapTolerance
	upright := end.Min.X >= r.Min.X-g.SnapTolerance && end.Max.X <= r.Max.X+g.SnapTolerance
	switch {
	case level && c.open[leftSide] && end.Min.X < r.Min.X:
		return g.Rect{Min: end.Min, Max: g.Point{X: max(r.Min.X, end.Max.X), Y: end.Max.Y}}, true
	case level && c.open[rightSide] && end.Max.X > r.Max.X:
		return g.Rect{Min: g.Point{X: min(r.Max.X, end.Min.X), Y: end.Min.Y}, Max: end.Max}, true
	case upright && c.open[lowSide] && end.Min.Y < r.Min.Y:
		return g.Rect{Min: end.Min, Max: g.Point{X: end.Max.X, Y: max(r.Min.Y, end.Max.Y)}}, true
	case upright && c.open[topSide] && end.Max.Y > r.Max.Y:
		return g.Rect{Min: g.Point{X: end.Min.X, Y: min(r.Max.Y, end.Min.Y)}, Max: end.Max}, true
	}
	return g.Rect{}, false
}

// hold is a mark that a cell can have: a new one, or one that there is.
type hold struct {
	at      g.Point
	mark    int    // index into Tiling.Marks; -1: a new one
	own     g.Rect // the arm of the cell; of no size where it needs none
	partner int    // the cell of the other film; -1: there is none
	other   g.Rect // the arm of that
}

// onArms gives a cell three marks in common with the partner film, or of its own where
// partner is -1, on arms of both where they need them: the three that take the least
// film and hold the paint of the cell best. It tells whether there are three.
func (s *setter) onArms(film, cell, partner int) bool {
	c := s.t.Films[film].Cells[cell]
	var holds []hold
	try := func(p g.Point, mark int) {
		h := hold{at: p, mark: mark, partner: -1}
		var ok bool
		if h.own, ok = s.reaches(c, p, mark); !ok {
			return
		}
		if partner >= 0 {
			for i, other := range s.t.Films[partner].Cells {
				if arm, ok := s.reaches(other, p, mark); ok && (h.partner < 0 || areaOf(arm) < areaOf(h.other)) {
					h.partner, h.other = i, arm
				}
			}
			if h.partner < 0 {
				return
			}
		}
		holds = append(holds, h)
	}
	for i, m := range s.t.Marks {
		if s.room(m.Film) >= MarkRadius+markClearance {
			try(m.Film, i)
		}
	}
	ends := s.armEnds(c)
	if partner >= 0 {
		for _, other := range s.t.Films[partner].Cells {
			ends = append(ends, s.armEnds(other)...)
		}
	}
	for _, p := range ends {
		try(p, -1)
	}
	slices.SortStableFunc(holds, func(a, b hold) int {
		return cmp.Compare(g.OnGrid(areaOf(a.own)+areaOf(a.other), armGrid), g.OnGrid(areaOf(b.own)+areaOf(b.other), armGrid))
	})
	holds = holds[:min(len(holds), armHolds)]
	best, least := [3]int{}, math.Inf(1)
	for i := range holds {
		for j := range holds[:i] {
			for k := range holds[:j] {
				if cost := s.costOf(film, cell, partner, holds[i], holds[j], holds[k]); cost < least-1e-9 {
					best, least = [3]int{k, j, i}, cost
				}
			}
		}
	}
	if math.IsInf(least, 1) {
		return false
	}
	for _, i := range best {
		h := holds[i]
		if h.mark < 0 {
			h.mark = s.add(h.at)
		}
		s.put(h.mark, film, cell)
		if partner >= 0 {
			s.put(h.mark, partner, h.partner)
		}
	}
	return true
}

// reaches tells whether a cell has film at p or can have it by an arm.
func (s *setter) reaches(c Cell, p g.Point, mark int) (g.Rect, bool) {
	if mark >= 0 && s.has(c, mark) || covers(c, p) {
		return g.Rect{}, true
	}
	return armTo(c, p)
}

// armEnds returns where marks at the ends of arms of a cell can stand: of each lane
// the nearest place, as far as film with such an arm can be cut on the web.
func (s *setter) armEnds(c Cell) []g.Point {
	const need = MarkRadius + markClearance
	limit := s.t.Laid.Field.Grown(armHalf)
	var out []g.Point
	for side, open := range c.open {
		if !open {
			continue
		}
		from, to, way := c.Rect.Min, c.Rect.Max, g.Vec{X: -1}
		switch side {
		case leftSide:
			to.X = from.X
		case rightSide:
			from.X, way = to.X, g.Vec{X: 1}
		case lowSide:
			to.Y, way = from.Y, g.Vec{Y: -1}
		default:
			from.Y, way = to.Y, g.Vec{Y: 1}
		}
		length := from.Dist(to) - 2*armHalf
		if length < 0 {
			continue
		}
		lanes := min(armLanes, 1+int(length/0.5))
		for i := range lanes {
			share := 0.5
			if lanes > 1 {
				share = float64(i) / float64(lanes-1)
			}
			p := from.Lerp(to, (armHalf+float64(share*length))/from.Dist(to)).Add(way.Scale(-armHalf))
			for limit.Contains(p) && s.fits(boundsOf(c).Union(g.BoundsOf(p).Grown(armHalf))) {
				if s.stands(p) {
					out = append(out, p)
					break
				}
				p = p.Add(way.Scale(max(0.125, need-s.room(p))))
			}
		}
	}
	return out
}

// costOf says what three marks cost a cell and its partner, in square inches: the film
// of the arms, the web that the films take up more, and ten for each inch by which the
// marks span less than the paint, or a third of it across that. It is infinite where
// they lie on one line or too near each other, or where a film no longer fits the web.
func (s *setter) costOf(film, cell, partner int, three ...hold) float64 {
	c := s.t.Films[film].Cells[cell]
	span, cost := 0.0, 0.0
	box := boundsOf(c)
	for i, h := range three {
		for _, q := range three[:i] {
			d := q.at.Dist(h.at)
			if d < markApart {
				return math.Inf(1)
			}
			span = max(span, d)
		}
		if areaOf(h.own) > 0 {
			cost, box = cost+areaOf(h.own), box.Union(h.own)
		}
	}
	across := math.Abs(three[1].at.Sub(three[0].at).Cross(three[2].at.Sub(three[0].at))) / span
	if across*span/2 < 1 || !s.fits(box) {
		return math.Inf(1)
	}
	cost += areaOf(box) - areaOf(boundsOf(c))
	for i, h := range three {
		if partner < 0 || areaOf(h.other) == 0 || slices.ContainsFunc(three[:i], func(q hold) bool { return q.partner == h.partner && areaOf(q.other) > 0 }) {
			continue // it needs no arm, or its cell is counted already
		}
		before := boundsOf(s.t.Films[partner].Cells[h.partner])
		after := before
		for _, q := range three[i:] {
			if q.partner == h.partner && areaOf(q.other) > 0 {
				cost, after = cost+areaOf(q.other), after.Union(q.other)
			}
		}
		if !s.fits(after) {
			return math.Inf(1)
		}
		cost += areaOf(after) - areaOf(before)
	}
	paint := max(c.Rect.Width(), c.Rect.Height()) - 2*s.t.Laid.Masks[film].FieldWidth.Inches()
	return g.OnGrid(cost+float64(10*max(0, paint-span))+float64(10*max(0, paint/3-across)), armGrid)
}

// boundsOf returns what a cell takes up with the arms it has.
func boundsOf(c Cell) g.Rect {
	r := c.Rect
	for _, a := range c.Arms {
		r = r.Union(a)
	}
	return r
}

// areaOf is on a grid: arms that cost alike are told apart by their order alone, on
// every processor.
func areaOf(r g.Rect) float64 { return g.OnGrid(float64(r.Width()*r.Height()), armGrid) }

// armGrid is the grid of areas and costs of arms, in square inches.
const armGrid = 1e-6

// fits tells whether film of the size of a rectangle can be cut on the web.
func (s *setter) fits(r g.Rect) bool {
	usable, longest := (s.film.Web-2*s.film.Across).Inches()+1e-9, s.film.Longest.Inches()+1e-9
	return r.Width() <= longest && r.Height() <= usable ||
		s.film.Seam.Grain != layouts.KeepGrain && r.Width() <= usable && r.Height() <= longest
}
