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

// Registration marks are a cross in a circle of half an inch, kept clear of the
// paint (common practice, no source).
const (
	MarkRadius    = 0.25
	markClearance = 0.125
	markInset     = 0.75 // from the corner of a tile: the middle of the usual field
	markStagger   = 1.0  // by which some marks stand further in, so that the marks of a tile turned end for end do not meet those on the skin
)

// setMarks chooses the registration marks. Marks stand on seams, where both
// tiles show them, and near the corners of the field; every tile gets three that
// do not lie on one line, and that do not meet themselves when the tile is turned
// end for end: of the upper and the lower edge of a tile, the marks of one stand
// further in (see [staggered]), on both sides alike. All stand on skin, clear of the paint of every pass.
func (t *Tiling) setMarks(painted g.Path) []layouts.Finding {
	s := setter{t: t, painted: painted}
	for i, a := range t.Cells {
		for j, b := range t.Cells[i+1:] {
			if p, q, ok := commonEdge(a.Rect, b.Rect); ok {
				s.onSeam(i, i+1+j, p, q, staggeredSeam(a, b))
			}
		}
	}
	var findings []layouts.Finding
	for i := range t.Cells {
		s.fill(i)
		if n := len(t.Cells[i].Marks); n < 3 || !spread(t.pointsOf(i)) {
			f := layouts.Finding{
				Level: layouts.Stop, Rule: "registration-room", Marking: t.Laid.ID(), Where: t.Laid.Placement.Anchor,
				Message: fmt.Sprintf("%s: tile %d-%d has room on the skin, outside the paint, for %d registration marks off one line; three are needed",
					t.Laid.ID(), t.Cells[i].Row, t.Cells[i].Column, n),
				Hint: "widen film: field:, or use a wider web", Measured: fmt.Sprint(n), Expected: "3", Source: "common practice, no source",
			}
			if t.Laid.Placement.ToEdge { // the edges of the surface stand in the opening
				f.Level, f.Hint = layouts.Warn, "lay each film so that the ends of its openings stand on the edges of the surface, and by the stripes painted before"
			}
			findings = append(findings, f)
		} else if turnsOnto(t.pointsOf(i)) {
			findings = append(findings, t.turnFinding(i))
		}
	}
	return findings
}

func (t Tiling) pointsOf(cell int) []g.Point {
	var out []g.Point
	for _, m := range t.Cells[cell].Marks {
		out = append(out, t.Marks[m].Film)
	}
	return out
}

type setter struct {
	t       *Tiling
	painted g.Path
}

// add puts a mark at p into the cells given, unless it cannot stand there.
func (s *setter) add(p g.Point, cells ...int) bool {
	uv, ok := s.stands(p)
	if !ok {
		return false
	}
	m := RegistrationMark{ID: markName(len(s.t.Marks)), Film: p, UV: uv, Skin: g.PositionOf(skin.PointAt(s.t.Laid.Placement.Surface, uv))}
	s.t.Marks = append(s.t.Marks, m)
	for _, c := range cells {
		s.t.Cells[c].Marks = append(s.t.Cells[c].Marks, len(s.t.Marks)-1)
	}
	return true
}

// stands tells whether a mark can stand at p: on skin, clear of paint, of slits, of
// other marks, and of the edge of a plate.
func (s *setter) stands(p g.Point) (skin.UV, bool) {
	uv, ok := s.t.Laid.Map.ToSkin(p)
	if !ok || !s.t.Laid.Placement.Surface.Contains(uv) {
		return uv, false
	}
	if edged, ok := s.t.Laid.Placement.Surface.(interface{ Clearance(skin.UV) g.Length }); ok && edged.Clearance(uv) < MarkRadius {
		return uv, false
	}
	if s.painted.Contains(p, g.OutlineTolerance) || s.painted.Distance(p, g.OutlineTolerance) < MarkRadius+markClearance {
		return uv, false
	}
	for _, slit := range s.t.Laid.Slits {
		if (g.Path{g.Polyline(slit.From, slit.To)}).Distance(p, g.OutlineTolerance) < MarkRadius+markClearance {
			return uv, false
		}
	}
	for _, m := range s.t.Marks {
		if m.Film.Dist(p) < 4*MarkRadius {
			return uv, false
		}
	}
	return uv, true
}

// onSeam puts two marks on the seam from p to q, as near its ends as they can
// stand, and one where there is no room for two. On some seams they stand
// further in where there is room.
func (s *setter) onSeam(a, b int, p, q g.Point, further bool) {
	insets := []float64{markInset}
	if further {
		insets = []float64{markInset + markStagger, markInset}
	}
	n := int(p.Dist(q) / 0.125)
	for _, ends := range [2][2]g.Point{{p, q}, {q, p}} {
		for _, inset := range insets {
			set := false
			for i := 0; i <= n/2 && !set; i++ {
				d := inset + 0.125*float64(i)
				if d > p.Dist(q)-0.25 {
					break
				}
				set = s.add(ends[0].Lerp(ends[1], d/p.Dist(q)), a, b)
			}
			if set {
				break
			}
		}
	}
}

// fill adds marks to a cell until it has four, or three where there is no room:
// first near its corners, then wherever the waste has room, always the place
// farthest from those it has. Marks of a cell's own keep off its seams. One more is
// added to marks that would meet themselves on a tile turned end for end.
func (s *setter) fill(cell int) {
	r := s.t.Cells[cell].Rect
	top, low := markInset, markInset
	if in := math.Min(markStagger, r.Width()/8); staggered(s.t.Cells[cell].Row) {
		low += in
	} else {
		top += in
	}
	corners := []g.Point{
		{X: r.Min.X + top, Y: r.Max.Y - markInset}, {X: r.Max.X - top, Y: r.Max.Y - markInset},
		{X: r.Max.X - low, Y: r.Min.Y + markInset}, {X: r.Min.X + low, Y: r.Min.Y + markInset},
	}
	var anywhere []g.Point
	const step = 0.5
	for y := r.Max.Y - markInset; y >= r.Min.Y+MarkRadius; y -= step {
		for x := r.Min.X + markInset; x <= r.Max.X-MarkRadius; x += step {
			anywhere = append(anywhere, g.Point{X: x, Y: y})
		}
	}
	for _, places := range [][]g.Point{corners, anywhere} {
		for have := s.t.pointsOf(cell); len(have) < 4 || !spread(have) && len(have) < mostMarks; have = s.t.pointsOf(cell) {
			if !s.addBest(cell, have, places, func([]g.Point) bool { return true }) {
				break
			}
		}
		if spread(s.t.pointsOf(cell)) {
			break
		}
	}
	if have := s.t.pointsOf(cell); turnsOnto(have) {
		s.addBest(cell, have, append(corners, anywhere...), func(all []g.Point) bool { return !turnsOnto(all) })
	}
}

// addBest adds the most useful mark at one of the places, of those that can stand
// and with which all are as asked.
func (s *setter) addBest(cell int, have, places []g.Point, asked func(all []g.Point) bool) bool {
	best, far := g.Point{}, -1.0
	for _, p := range places {
		if d := usefulness(have, p); d > far {
			if _, ok := s.stands(p); ok && asked(append(have[:len(have):len(have)], p)) {
				best, far = p, d
			}
		}
	}
	return far >= 0 && s.add(best, cell)
}

// mostMarks is the most marks a tile gets while it looks for three off one line.
const mostMarks = 8

// usefulness says how well a further mark would hold a tile: how far it is from
// those there are, or, while those lie on one line, how far off that line.
func usefulness(have []g.Point, p g.Point) float64 {
	if len(have) == 0 {
		return 0
	}
	near, off := math.Inf(1), 0.0
	for i, q := range have {
		near = math.Min(near, p.Dist(q))
		for _, r := range have[:i] {
			if l := q.Dist(r); l > 0 {
				off = math.Max(off, math.Abs(q.Sub(r).Cross(p.Sub(r)))/l)
			}
		}
	}
	if len(have) >= 3 && !spread(have) {
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
	lap := func(a0, a1, b0, b1 float64) (lo, hi float64) { return math.Max(a0, b0), math.Min(a1, b1) }
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
