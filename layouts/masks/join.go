package masks

import (
	"cmp"
	"fmt"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// pairs returns the films that have one before them, those of the smallest pairs first.
func (s *setter) pairs() []int {
	size := func(k int) float64 { return areaOf(s.t.Films[k].Field) }
	var out []int
	for k := 1; k < len(s.t.Films); k++ {
		out = append(out, k)
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return cmp.Compare(min(size(a), size(a-1)), min(size(b), size(b-1)))
	})
	return out
}

// join gives a film three marks or more in common with the one before it: where both
// have film, else on arms. Where no room clear of all paint is within reach, marks may
// stand on what neither film paints: their flags then lie on other paint.
func (s *setter) join(film int) []layouts.Finding {
	l := s.t.Laid
	all, free := s.paint, s.free
	defer func() { s.paint, s.free = all, free }()
	for _, onPaint := range []bool{false, true} {
		first := len(s.t.Marks)
		if onPaint {
			both, err := g.Union(l.Masks[film-1].Opening, l.Masks[film].Opening)
			if err != nil {
				break
			}
			s.paint, s.free = chordsOf(both), map[g.Point]float64{}
		}
		if s.share(film); !s.joined(film) {
			for i := range s.t.Films[film].Cells {
				if s.onArms(film, i, film-1) && s.joined(film) {
					break
				}
			}
		}
		if !s.joined(film) {
			continue
		}
		if !onPaint {
			return nil
		}
		return []layouts.Finding{{
			Level: layouts.Note, Rule: "registration-on-paint", Marking: l.ID(), Where: l.Placement.Anchor,
			Message: fmt.Sprintf("%s: %s by which pass %d is laid after pass %d stand within the marking: their flags go on paint that is dry to tape",
				l.ID(), g.Counted(len(s.t.Marks)-first, "mark"), film+1, film),
			Hint: "a wider web lets arms of film reach clear of all paint", Measured: fmt.Sprint(len(s.t.Marks) - first), Expected: "0", Source: "common practice, no source",
		}}
	}
	n := len(s.t.Common(film))
	return []layouts.Finding{{
		Level: layouts.Warn, Rule: "registration-common", Marking: l.ID(), Where: l.Placement.Anchor,
		Message: fmt.Sprintf("%s: the film of pass %d shares %s with that of pass %d; three that are not in one line are needed to lay it by sight",
			l.ID(), film+1, g.Counted(n, "registration mark"), film),
		Hint: "widen film: field:, or place the film by tapes as if it were the first", Measured: fmt.Sprint(n), Expected: "3", Source: "common practice, no source",
	}}
}

// joined tells whether a film shares three marks off one line with the one before it.
func (s *setter) joined(film int) bool {
	common := s.t.Common(film)
	return len(common) >= fewMarks && spread(s.t.pointsOf(common))
}

// share gives each tile of a film up to four marks in common with the film before it,
// where both have film: those that this has first, then new ones.
func (s *setter) share(film int) {
	before := s.t.Films[film-1].Cells
	holder := func(p g.Point) int {
		return slices.IndexFunc(before, func(c Cell) bool { return covers(c, p) })
	}
	for i := range s.t.Films[film].Cells {
		c := &s.t.Films[film].Cells[i]
		common := func() []g.Point {
			return s.t.pointsOf(slices.DeleteFunc(slices.Clone(c.Marks), func(m int) bool {
				return !slices.ContainsFunc(before, func(b Cell) bool { return s.has(b, m) })
			}))
		}
		enough := func() bool {
			have := common()
			return len(have) >= usualMarks && spread(have) || len(have) >= mostMarks
		}
		for _, b := range before {
			for _, m := range b.Marks {
				if !enough() && !s.has(*c, m) && covers(*c, s.t.Marks[m].Film) {
					s.put(m, film, i)
				}
			}
		}
		if have := common(); len(have) >= fewMarks && spread(have) {
			continue
		}
		corners, anywhere := places(*c)
		for _, at := range [][]g.Point{corners, anywhere} {
			at = slices.DeleteFunc(at, func(p g.Point) bool { return holder(p) < 0 })
			for !enough() {
				p, ok := s.best(common(), at, func([]g.Point) bool { return true })
				if !ok {
					break
				}
				m := s.add(p)
				s.put(m, film, i)
				s.put(m, film-1, holder(p))
			}
			if have := common(); len(have) >= fewMarks && spread(have) {
				break
			}
		}
	}
}
