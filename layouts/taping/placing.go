package taping

import (
	"math"
	"slices"
	"sort"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Use is what a point of a placing is for.
type Use string

// Uses.
const (
	Sets   Use = "set"   // place and direction of a film
	Checks Use = "check" // it must fall on its mark once the film lies on the others
)

// PlacePoint is a mark of the film that is found on the aircraft and marked there.
type PlacePoint struct {
	Point Checkpoint
	Name  string // as it stands on the film
	Use   Use
	Tiles []string // of the first film, that show the mark: "1-1"
	Ways  []Way    // those of Point
}

// Way returns the way that the list prints; false where there is none.
func (p PlacePoint) Way() (Way, bool) {
	if len(p.Ways) == 0 {
		return Way{}, false
	}
	return p.Ways[0], true
}

// Placing is how the first film of a marking is laid: two points set the place and the
// direction of each of its tiles, one more checks. Later films are laid by the marks
// that they have in common with the one before.
type Placing struct {
	Marking string
	Small   bool         // a stencil: two points, a row of a page
	Points  []PlacePoint // those that set it, in the order of the tiles, then the check
	Tiles   []PlacedTile // those that two points set, in their order
	Paint   string       // of the first pass
	Misses  g.Length     // by how much the check may miss its mark, 95 of 100, laid by the first point and the last; 0 without one
	Better  *OneMore     // nil where the error is small, or nothing helps
}

// PlacedTile is the expected error of a tile of the first film as laid by two points: it
// is turned so that they lie on one line with their marks, and shifted so that both miss
// them alike.
type PlacedTile struct {
	Tile     string  // "1-1"
	From, To string  // names of the two points
	Middle   g.Point // of its paint, in the flat
	Error    Ellipse // of the middle, as laid
	Rotation float64 // one standard deviation, degrees
	AtEnds   g.Length
	Terms    []ErrorTerm // the largest first
}

// Rotation95 returns the turn, in degrees either way, that 95 of 100 tiles stay within.
func (t PlacedTile) Rotation95() float64 { return 1.96 * t.Rotation }

// Worst returns the tile whose middle errs most; false where there is none.
func (p Placing) Worst() (PlacedTile, bool) {
	if len(p.Tiles) == 0 {
		return PlacedTile{}, false
	}
	worst := p.Tiles[0]
	for _, t := range p.Tiles[1:] {
		if t.Error.RMS() > worst.Error.RMS() {
			worst = t
		}
	}
	return worst, true
}

// A stencil is a marking whose paint is no longer and no higher than that, in inches
// (judgement: it is laid by one hand).
const (
	smallLong = 12.0
	smallHigh = 6.5
)

// smallFilm tells whether a marking is a stencil.
func smallFilm(l masks.Laid) bool {
	box := l.Painted.Bounds()
	long, high := math.Max(box.Width(), box.Height()), math.Min(box.Width(), box.Height())
	return l.Placement.Marking.Stencil && long <= 2*smallLong || long <= smallLong && high <= smallHigh
}

// Placings returns how the first film of each marking is laid, in their order, by the
// points of the checklist.
func Placings(l *layouts.Layout, tilings []masks.Tiling, points []Checkpoint) []Placing {
	var out []Placing
	for i := range tilings {
		one := placingOf(l, &tilings[i], points)
		one.Better = oneMore(l, &tilings[i], one)
		out = append(out, one)
	}
	return out
}

// placingOf chooses the points of one marking.
//
// Of each tile the two points are those that leave the least error at the middle and the
// ends of its paint; marks that serve a neighbour already are taken where they do nearly
// as well. The check is the mark that lies farthest off the line of two that set.
func placingOf(l *layouts.Layout, t *masks.Tiling, points []Checkpoint) Placing {
	out := Placing{Marking: t.Laid.ID(), Small: smallFilm(t.Laid), Paint: t.Laid.Masks[0].Paint}
	marks := map[int]PlacePoint{} // by index into Marks
	for i := range points {
		c := &points[i]
		if c.Marking != out.Marking || c.Role != masks.Registration {
			continue
		}
		for k, m := range t.Marks {
			if m.ID == c.Mark.ID {
				marks[k] = PlacePoint{Point: *c, Name: m.ID, Use: Sets, Tiles: t.TilesOf(k), Ways: c.Ways}
			}
		}
	}
	var chosen []int // of marks, as they are taken
	at := func(mark int) int {
		for i, k := range chosen {
			if k == mark {
				return i
			}
		}
		return -1
	}
	for _, c := range t.Films[0].Cells {
		middle, reach := middleOf(t, c)
		var best *PlacedTile
		var pair [2]int
		least := math.Inf(1)
		for i, a := range c.Marks {
			for _, b := range c.Marks[i+1:] {
				one, ok := placedBy(marks[a], marks[b], middle, reach)
				if !ok {
					continue
				}
				cost := same.Hypot(one.Error.RMS().Inches(), one.AtEnds.Inches())
				for _, k := range [2]int{a, b} { // a further point must better it by a quarter
					if len(chosen) > 0 && at(k) < 0 {
						cost *= moreCost
					}
				}
				if cost = g.OnGrid(cost, 1e-6); cost < least {
					best, pair, least = &one, [2]int{a, b}, cost
				}
			}
		}
		if best == nil {
			continue
		}
		for _, k := range pair {
			if at(k) < 0 {
				chosen = append(chosen, k)
			}
		}
		best.Tile = c.Name()
		out.Tiles = append(out.Tiles, *best)
	}
	for _, k := range chosen {
		out.Points = append(out.Points, marks[k])
	}
	if check, ok := checkOf(t, marks, chosen); ok && !out.Small {
		p := marks[check]
		p.Use = Checks
		out.Misses = missOf(marks[chosen[0]], marks[chosen[len(chosen)-1]], p)
		out.Points = append(out.Points, p)
	}
	if len(out.Points) == 0 { // nothing finds any of them: they are named all the same
		var all []int
		for k := range marks {
			all = append(all, k)
		}
		sort.Ints(all)
		for _, k := range all[:min(len(all), 2)] {
			out.Points = append(out.Points, marks[k])
		}
	}
	return out
}

// moreCost is by how much the error must fall for a tile to get a point of its own where
// a neighbour's serves.
const moreCost = 1.25

// middleOf returns the middle of what a tile paints, and how far that reaches from it.
func middleOf(t *masks.Tiling, c masks.Cell) (g.Point, float64) {
	box := t.Laid.Masks[0].EdgeOfPaint().Bounds()
	x0, x1 := math.Max(box.Min.X, c.Rect.Min.X), math.Min(box.Max.X, c.Rect.Max.X)
	y0, y1 := math.Max(box.Min.Y, c.Rect.Min.Y), math.Min(box.Max.Y, c.Rect.Max.Y)
	if x0 > x1 || y0 > y1 {
		x0, x1, y0, y1 = c.Rect.Min.X, c.Rect.Max.X, c.Rect.Min.Y, c.Rect.Max.Y
	}
	return g.Point{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}, same.Hypot(x1-x0, y1-y0) / 2
}

// placedBy returns the error of a film laid by two points; false where one is not found
// or both are one.
func placedBy(a, b PlacePoint, middle g.Point, reach float64) (PlacedTile, bool) {
	wa, okA := a.Way()
	wb, okB := b.Way()
	base := b.Point.Mark.Film.Sub(a.Point.Mark.Film)
	if !okA || !okB || base.Norm() < 1 {
		return PlacedTile{}, false
	}
	across := base.Unit().Perp()
	arm := middle.Sub(a.Point.Mark.Film.Lerp(b.Point.Mark.Film, 0.5)).Perp() // its movement by a turn of one radian
	film := filmLimit / math.Sqrt(3)
	laying := []share{{"", causeFilm, g.Vec{X: film}}, {"", causeFilm, g.Vec{Y: film}}}
	all := gathered(append(wa.errors[:len(wa.errors):len(wa.errors)], laying...), append(wb.errors[:len(wb.errors):len(wb.errors)], laying...))
	out := PlacedTile{From: a.Name, To: b.Name, Middle: middle}
	turn := 0.0
	var whole covariance
	by := map[string]float64{}
	var causes []string
	for _, m := range all {
		rot := m.by[1].Sub(m.by[0]).Dot(across) / base.Norm()
		c := outer(m.by[0].Add(m.by[1]).Scale(0.5).Add(arm.Scale(rot)), 1)
		whole, turn = whole.plus(c), turn+float64(rot*rot)
		if _, known := by[m.cause]; !known {
			causes = append(causes, m.cause)
		}
		by[m.cause] += c.trace()
	}
	out.Error, out.Rotation, out.AtEnds = whole.ellipse(), math.Sqrt(turn)*180/math.Pi, g.Length(math.Sqrt(turn)*reach)
	for _, c := range causes {
		out.Terms = append(out.Terms, ErrorTerm{Name: c, Sigma: g.Length(math.Sqrt(by[c])), Help: causeHelp[c]})
	}
	sort.SliceStable(out.Terms, func(i, j int) bool { return out.Terms[i].Sigma > out.Terms[j].Sigma+1e-9 })
	return out, true
}

// gatheredShare is one cause with what it does to each of several points.
type gatheredShare struct {
	cause, source string
	by            []g.Vec
}

// gathered joins the errors of several points: what has one source is one error.
func gathered(points ...[]share) []gatheredShare {
	var out []gatheredShare
	at := map[string]int{}
	for i, shares := range points {
		for _, s := range shares {
			k, known := at[s.source]
			if s.source == "" || !known {
				k = len(out)
				out = append(out, gatheredShare{s.cause, s.source, make([]g.Vec, len(points))})
				if s.source != "" {
					at[s.source] = k
				}
			}
			out[k].by[i] = out[k].by[i].Add(s.by)
		}
	}
	return out
}

// missOf returns by how much the check of a film laid by two points misses its mark: half
// the long axis of the ellipse that holds 95 of 100 where nothing is wrong.
func missOf(a, b, check PlacePoint) g.Length {
	wa, okA := a.Way()
	wb, okB := b.Way()
	wc, okC := check.Way()
	base := b.Point.Mark.Film.Sub(a.Point.Mark.Film)
	if !okA || !okB || !okC || base.Norm() < 1 {
		return g.Length(math.NaN())
	}
	across := base.Unit().Perp()
	arm := check.Point.Mark.Film.Sub(a.Point.Mark.Film.Lerp(b.Point.Mark.Film, 0.5)).Perp()
	film := filmLimit / math.Sqrt(3)
	laying := []share{{"", causeFilm, g.Vec{X: film}}, {"", causeFilm, g.Vec{Y: film}}}
	var whole covariance
	for _, m := range gathered(append(wa.errors[:len(wa.errors):len(wa.errors)], laying...), append(wb.errors[:len(wb.errors):len(wb.errors)], laying...), wc.errors) {
		rot := m.by[1].Sub(m.by[0]).Dot(across) / base.Norm()
		whole = whole.plus(outer(m.by[0].Add(m.by[1]).Scale(0.5).Add(arm.Scale(rot)).Sub(m.by[2]), 1))
	}
	major, _ := whole.ellipse().Within95()
	return major
}

// checkOf returns the mark that shows best that a film lies wrong: the farthest off the
// line of two that set it, of those that can be found.
func checkOf(t *masks.Tiling, marks map[int]PlacePoint, chosen []int) (int, bool) {
	best, far := -1, 0.5 // inches: nearer to the line it tells no turn
	if len(chosen) < 2 {
		return best, false
	}
	a, b := t.Marks[chosen[0]].Film, t.Marks[chosen[len(chosen)-1]].Film
	for k := range t.Marks {
		p, known := marks[k]
		if _, found := p.Way(); !known || !found || slices.Contains(chosen, k) {
			continue
		}
		off := math.Abs(b.Sub(a).Unit().Cross(t.Marks[k].Film.Sub(a)))
		if off = g.OnGrid(off, 1e-6); off > far {
			best, far = k, off
		}
	}
	return best, best >= 0
}
