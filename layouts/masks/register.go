package masks

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// RegistrationMark is one point known on the film and on the skin.
type RegistrationMark struct {
	ID   string // a letter, the same on every pass and tile
	Film g.Point
	UV   skin.UV
	Skin g.Position
}

// Registration marks keep clear of the paint and of the edge of the film (common
// practice, no source).
const (
	markClearance = 0.125
	markLand      = 0.2  // film that is left beside the window of a mark, in inches
	markInset     = 0.75 // from the corner of a tile: the middle of the usual field
	markStagger   = 1.0  // by which some marks stand further in, so that the marks of a tile turned end for end do not meet those on the skin
	markApart     = 1.0  // least distance of two marks
	fewMarks      = 3    // what a film needs, off one line
	usualMarks    = 4
	mostMarks     = 8 // that a tile gets while it looks for three off one line
)

// setMarks chooses the registration marks of all films of a marking. A mark stands on
// skin, clear of the paint of every pass, so that the flag of tape under it stays from
// the first film to the last.
//
// Each film gets three marks or more in common with the one before it, off one line:
// in its field where both films have film there, else on arms. The pairs of films are
// taken by size, the smallest first, because where that one can reach decides. Then
// every tile is filled up to three marks that do not meet themselves when the tile is
// turned end for end. Neighbours share the marks on their seam.
func (t *Tiling) setMarks(film layouts.FilmSpec) []layouts.Finding {
	s := setter{t: t, film: film, paint: t.Laid.bareOfFilm(), free: map[g.Point]float64{}}
	for k := range t.Films {
		s.seams(k)
	}
	var findings []layouts.Finding
	for _, k := range s.pairs() {
		findings = append(findings, s.join(k)...)
	}
	for k := range t.Films {
		for i := range t.Films[k].Cells {
			s.fill(k, i)
		}
	}
	for i := range t.Films[0].Cells {
		s.widen(i)
	}
	t.nameMarks()
	for k := range t.Films {
		for i, c := range t.Films[k].Cells {
			if n := len(c.Marks); n < fewMarks || !spread(t.pointsOf(c.Marks)) {
				f := layouts.Finding{
					Level: layouts.Stop, Rule: "registration-room", Marking: t.Laid.ID(), Where: t.Laid.Placement.Anchor,
					Message: fmt.Sprintf("%s: %s has room on the skin, outside the paint, for %s not in one line; three are needed",
						t.Laid.ID(), t.tileName(k, i), g.Counted(n, "registration mark")),
					Hint: "widen film: field:, or use a wider web", Measured: fmt.Sprint(n), Expected: "3", Source: "common practice, no source",
				}
				if t.Laid.Placement.ToEdge { // the edges of the surface stand in the opening
					f.Level, f.Hint = layouts.Warn, "lay each film so that the ends of its openings stand on the edges of the surface, and by the stripes painted before"
				}
				findings = append(findings, f)
			} else if turnsOnto(t.pointsOf(c.Marks)) {
				findings = append(findings, t.turnFinding(k, i))
			}
		}
	}
	return findings
}

// tileName names a tile of a film in a message.
func (t *Tiling) tileName(film, cell int) string {
	f := t.Films[film]
	if len(f.Cells) == 1 {
		return fmt.Sprintf("the film of pass %d", film+1)
	}
	return fmt.Sprintf("tile %d-%d of pass %d", f.Cells[cell].Row, f.Cells[cell].Column, film+1)
}

func (t Tiling) pointsOf(marks []int) []g.Point {
	var out []g.Point
	for _, m := range marks {
		out = append(out, t.Marks[m].Film)
	}
	return out
}

// Common returns the marks that a film shares with the one before it, counted from 0;
// none of the first film.
func (t Tiling) Common(film int) []int {
	if film == 0 {
		return nil
	}
	before := map[int]bool{}
	for _, c := range t.Films[film-1].Cells {
		for _, m := range c.Marks {
			before[m] = true
		}
	}
	var out []int
	for _, c := range t.Films[film].Cells {
		for _, m := range c.Marks {
			if before[m] {
				out, before[m] = append(out, m), false
			}
		}
	}
	return out
}

// nameMarks puts the marks in the order of films and tiles and names them so.
func (t *Tiling) nameMarks() {
	order := map[int]int{}
	var marks []RegistrationMark
	for k := range t.Films {
		for i := range t.Films[k].Cells {
			c := &t.Films[k].Cells[i]
			for n, m := range c.Marks {
				if _, known := order[m]; !known {
					order[m] = len(marks)
					named := t.Marks[m]
					named.ID = markName(len(marks))
					marks = append(marks, named)
				}
				c.Marks[n] = order[m]
			}
		}
	}
	t.Marks = marks
}

// setter chooses the marks of one marking.
type setter struct {
	t     *Tiling
	film  layouts.FilmSpec
	paint *g.Chords // what marks keep clear of
	free  map[g.Point]float64
}

// stands tells whether a new mark can stand at p: on skin, clear of paint, of slits,
// of other marks, and of the edge of a plate.
func (s *setter) stands(p g.Point) bool {
	for _, m := range s.t.Marks {
		if m.Film.Dist(p) < markApart {
			return false
		}
	}
	if s.room(p) < MarkRadius+markClearance {
		return false
	}
	uv, ok := s.t.Laid.Map.ToSkin(p)
	if !ok || !s.t.Laid.Placement.Surface.Contains(uv) {
		return false
	}
	edged, ok := s.t.Laid.Placement.Surface.(interface{ Clearance(skin.UV) g.Length })
	return !ok || edged.Clearance(uv) >= MarkRadius
}

// room returns how far p is from paint and slits; 0 within the paint. It is found once
// for each place.
func (s *setter) room(p g.Point) float64 {
	out, known := s.free[p]
	if known {
		return out
	}
	if !s.paint.Contains(p) {
		out = s.paint.Distance(p)
		for _, slit := range s.t.Laid.Slits {
			out = min(out, g.SegmentDistance(p, slit.From, slit.To))
		}
	}
	s.free[p] = out
	return out
}

// add adds a new mark at p, which stands there, and returns its index.
func (s *setter) add(p g.Point) int {
	uv, _ := s.t.Laid.Map.ToSkin(p)
	s.t.Marks = append(s.t.Marks, RegistrationMark{Film: p, UV: uv, Skin: g.PositionOf(skin.PointAt(s.t.Laid.Placement.Surface, uv))})
	return len(s.t.Marks) - 1
}

// put gives a mark to the cell of a film, and that cell an arm to it where it stands
// outside.
func (s *setter) put(mark, film, cell int) {
	c := &s.t.Films[film].Cells[cell]
	if s.has(*c, mark) {
		return
	}
	c.Marks = append(c.Marks, mark)
	if p := s.t.Marks[mark].Film; !covers(*c, p) && seamSide(*c, p) < 0 {
		if arm, ok := armTo(*c, p); ok {
			c.Arms = append(c.Arms, arm)
		}
	}
}

func (s *setter) has(c Cell, mark int) bool {
	for _, m := range c.Marks {
		if m == mark {
			return true
		}
	}
	return false
}

// covers tells whether a cell has film round p without an arm.
func covers(c Cell, p g.Point) bool { return c.Rect.Grown(-MarkRadius - markLand).Contains(p) }

// seams puts two marks on each seam of a film, as near its ends as they can stand, and
// one where there is no room for two. On some seams they stand further in where there
// is room.
func (s *setter) seams(film int) {
	cells := s.t.Films[film].Cells
	for i, a := range cells {
		for j := i + 1; j < len(cells); j++ {
			p, q, ok := commonEdge(a.Rect, cells[j].Rect)
			if !ok {
				continue
			}
			insets := []float64{markInset}
			if staggeredSeam(a, cells[j]) {
				insets = []float64{markInset + markStagger, markInset}
			}
			for _, ends := range [2][2]g.Point{{p, q}, {q, p}} {
				for _, inset := range insets {
					if s.onSeam(film, i, j, ends[0], ends[1], inset) {
						break
					}
				}
			}
		}
	}
}

// onSeam puts a mark on the seam from p to q, in the half at p, and there as near the
// inset from p as it can stand; false where it cannot.
func (s *setter) onSeam(film, a, b int, p, q g.Point, inset float64) bool {
	length := p.Dist(q)
	for i := 0; i <= int(length/0.125)/2; i++ {
		d := inset + 0.125*float64(i)
		if d > length-MarkHalf-markLand {
			break
		}
		at := p.Lerp(q, d/length)
		if s.stands(at) {
			m := s.add(at)
			s.put(m, film, a)
			s.put(m, film, b)
			return true
		}
	}
	return false
}

// places returns where marks of a cell's own are tried: near its corners, then
// wherever the waste may have room.
func places(c Cell) (corners, anywhere []g.Point) {
	r := c.Rect
	top, low := markInset, markInset
	if in := min(markStagger, r.Width()/8); staggered(c.Row) {
		low += in
	} else {
		top += in
	}
	corners = []g.Point{
		{X: r.Min.X + top, Y: r.Max.Y - markInset}, {X: r.Max.X - top, Y: r.Max.Y - markInset},
		{X: r.Max.X - low, Y: r.Min.Y + markInset}, {X: r.Min.X + low, Y: r.Min.Y + markInset},
	}
	const step, least = 0.5, MarkRadius + markLand
	for y := r.Max.Y - least; y >= r.Min.Y+least; y -= step {
		for x := r.Min.X + least; x <= r.Max.X-least; x += step {
			anywhere = append(anywhere, g.Point{X: x, Y: y})
		}
	}
	return corners, anywhere
}

// fill adds marks to a cell until it has four, or three where there is no room: first
// near its corners, then wherever the waste has room, always the place farthest from
// those it has; then on arms; of a later film then on other paint. One more is added to marks that would meet themselves on
// a tile turned end for end.
func (s *setter) fill(film, cell int) {
	c := s.t.Films[film].Cells[cell]
	own := func() []g.Point { return s.t.pointsOf(s.t.Films[film].Cells[cell].Marks) }
	if have := own(); len(have) < fewMarks || !spread(have) {
		within := func() bool {
			corners, anywhere := places(c)
			for _, at := range [][]g.Point{corners, anywhere} {
				for have := own(); len(have) < usualMarks || !spread(have) && len(have) < mostMarks; have = own() {
					p, ok := s.best(have, at, func([]g.Point) bool { return true })
					if !ok {
						break
					}
					s.put(s.add(p), film, cell)
				}
				if have := own(); len(have) >= fewMarks && spread(have) {
					return true
				}
			}
			return false
		}
		if !within() && !s.onArms(film, cell, -1) && film > 0 {
			all, free := s.paint, s.free
			s.paint, s.free = chordsOf(s.t.Laid.Masks[film].EdgeOfPaint()), map[g.Point]float64{}
			within()
			s.paint, s.free = all, free
		}
	}
	if have := own(); turnsOnto(have) {
		corners, anywhere := places(c)
		if p, ok := s.best(have, append(corners, anywhere...), func(all []g.Point) bool { return !turnsOnto(all) }); ok {
			s.put(s.add(p), film, cell)
		}
	}
}

// best returns the most useful place for a further mark, of those where one can stand
// inside the film and with which all are as asked.
func (s *setter) best(have, places []g.Point, asked func(all []g.Point) bool) (g.Point, bool) {
	best, far := g.Point{}, -1.0
	for _, p := range places {
		if d := g.OnGrid(usefulness(have, p), g.SnapTolerance); d > far { // of places as good as each other the first
			if s.stands(p) && asked(append(have[:len(have):len(have)], p)) {
				best, far = p, d
			}
		}
	}
	return best, far >= 0
}

// usefulness says how well a further mark would hold a tile: how far it is from
// those there are, or, while those lie on one line, how far off that line.
func usefulness(have []g.Point, p g.Point) float64 {
	if len(have) == 0 {
		return 0
	}
	near, off := math.Inf(1), 0.0
	for i, q := range have {
		near = min(near, p.Dist(q))
		for _, r := range have[:i] {
			if l := q.Dist(r); l > 0 {
				off = max(off, math.Abs(q.Sub(r).Cross(p.Sub(r)))/l)
			}
		}
	}
	if len(have) >= fewMarks && !spread(have) {
		return off
	}
	return near
}

// spread tells whether three of the points make a triangle of a square inch or
// more.
func spread(p []g.Point) bool {
	for i := range p {
		for j := range p[:i] {
			for k := range p[:j] {
				if math.Abs(p[i].Sub(p[k]).Cross(p[j].Sub(p[k])))/2 >= 1 {
					return true
				}
			}
		}
	}
	return false
}

// commonEdge returns the part of the outline that two rectangles share.
func commonEdge(a, b g.Rect) (p, q g.Point, ok bool) {
	lap := func(a0, a1, b0, b1 float64) (lo, hi float64) { return max(a0, b0), min(a1, b1) }
	near := func(x, y float64) bool { return math.Abs(x-y) < g.SnapTolerance }
	for _, x := range [2][2]float64{{a.Max.X, b.Min.X}, {a.Min.X, b.Max.X}} {
		if lo, hi := lap(a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y); near(x[0], x[1]) && hi-lo > g.SnapTolerance {
			return g.Point{X: x[0], Y: hi}, g.Point{X: x[0], Y: lo}, true
		}
	}
	for _, y := range [2][2]float64{{a.Max.Y, b.Min.Y}, {a.Min.Y, b.Max.Y}} {
		if lo, hi := lap(a.Min.X, a.Max.X, b.Min.X, b.Max.X); near(y[0], y[1]) && hi-lo > g.SnapTolerance {
			return g.Point{X: lo, Y: y[0]}, g.Point{X: hi, Y: y[0]}, true
		}
	}
	return
}

// markName returns A, B, ... Z, AA, AB ... I and O are left out: they read as
// numerals.
func markName(i int) string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	name := ""
	for i++; i > 0; i = (i - 1) / len(letters) {
		name = letters[(i-1)%len(letters):(i-1)%len(letters)+1] + name
	}
	return name
}
