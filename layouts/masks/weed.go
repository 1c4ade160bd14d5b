package masks

import (
	"math"

	g "maskloft/geometry"
)

// Distances of weed lines, in inches. Weed lines run through large waste and never
// touch a paint edge (common practice, no source).
const (
	WeedClearance = 0.25  // least distance from a cut edge, a registration mark, a slit and the edge of the tile
	weedBoxAt     = 0.375 // of the weed box from the pieces of a keep-down film: 1/4 to 1/2 is usual

	weedPart  = 6.0 // waste is divided into parts of about this size
	weedLarge = 3.0 // waste narrower than this comes away in one pull and is not divided
	weedLeast = 1.0 // shortest line

	weedStep  = 1.0 / 32 // least step along a line while it is tried
	weedSlack = 0.02     // that a step may dip nearer by, and the chords of curves
	weedTie   = 1e-7     // what is as far as it must be, but for rounding, is far enough
)

// WeedLine is a straight cut through waste.
type WeedLine struct{ From, To g.Point }

// Weeding is what is cut, besides the outlines, to take the waste of one tile away
// in parts: of an open film what lies in its opening, of a keep-down film what lies
// round its pieces.
type Weeding struct {
	Lines []WeedLine
	Box   []WeedLine // the weed box round the pieces of a keep-down film, broken where it would come too near something
}

// WeedingOf returns the weed lines of one tile: straight along both axes, only in
// what is removed, only through waste that is 3 in across somewhere along the line,
// and at least [WeedClearance] from every cut edge, mark, slit and edge of the tile.
func WeedingOf(t Tiling, m Mask, p Tile) Weeding {
	w := weeder{film: sidesOf(p.Film), rect: p.Cell.Rect}
	for _, i := range p.Cell.Marks {
		w.marks = append(w.marks, t.Marks[i].Film)
	}
	w.marks = append(w.marks, p.Size...)
	for _, s := range t.Laid.Slits {
		w.slits = append(w.slits, side{a: s.From, b: s.To})
	}
	waste := p.Cell.Rect
	if m.Polarity == OpenFilm {
		waste = overlapOf(m.Opening.Bounds(), waste)
	}
	var out Weeding
	for _, l := range dividing(waste) {
		out.Lines = append(out.Lines, w.along(l, true)...)
	}
	if m.Polarity == KeepDown && len(p.Film) > 0 {
		b := p.Film.Bounds().Grown(weedBoxAt)
		corners := [5]g.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}, b.Min}
		for i := range 4 {
			out.Box = append(out.Box, w.along(WeedLine{corners[i], corners[i+1]}, false)...)
		}
	}
	return out
}

// dividing returns the lines that divide a rectangle into equal parts of at most
// [weedPart].
func dividing(r g.Rect) []WeedLine {
	var out []WeedLine
	n := int(math.Ceil(r.Width()/weedPart - 1e-6))
	for k := 1; k < n; k++ {
		x := r.Min.X + r.Width()*float64(k)/float64(n)
		out = append(out, WeedLine{g.Point{X: x, Y: r.Min.Y}, g.Point{X: x, Y: r.Max.Y}})
	}
	n = int(math.Ceil(r.Height()/weedPart - 1e-6))
	for k := 1; k < n; k++ {
		y := r.Min.Y + r.Height()*float64(k)/float64(n)
		out = append(out, WeedLine{g.Point{X: r.Min.X, Y: y}, g.Point{X: r.Max.X, Y: y}})
	}
	return out
}

// overlapOf returns what two rectangles share; of no size where they share nothing.
func overlapOf(a, b g.Rect) g.Rect {
	r := g.Rect{
		Min: g.Point{X: max(a.Min.X, b.Min.X), Y: max(a.Min.Y, b.Min.Y)},
		Max: g.Point{X: min(a.Max.X, b.Max.X), Y: min(a.Max.Y, b.Max.Y)},
	}
	if r.Width() < 0 || r.Height() < 0 {
		return g.Rect{}
	}
	return r
}

type weeder struct {
	film  []side
	rect  g.Rect
	marks []g.Point
	slits []side
}

// room returns how far q is from the edges of the waste, negative outside the
// waste, and that or how far it is from a mark or slit, whichever is less.
func (w weeder) room(q g.Point) (edge, all float64) {
	near, in := math.Inf(1), false
	for _, s := range w.film {
		near = g.LeastDistance(near, q, s.a, s.b)
		if g.RayCrosses(q, s.a, s.b) {
			in = !in
		}
	}
	r := w.rect
	edge = min(min(q.X-r.Min.X, r.Max.X-q.X), min(q.Y-r.Min.Y, r.Max.Y-q.Y))
	if in {
		near = -near
	}
	edge = min(edge, near)
	all = edge
	for _, m := range w.marks {
		all = min(all, q.Dist(m)-MarkRadius)
	}
	for _, s := range w.slits {
		all = min(all, g.SegmentDistance(q, s.a, s.b))
	}
	return edge, all
}

// along returns the parts of a line that keep clear of everything; where large is
// set only those that pass through large waste. Distances change no faster than one
// goes, so a step may be as long as there is room.
func (w weeder) along(l WeedLine, large bool) []WeedLine {
	const need = WeedClearance + weedSlack
	length := l.From.Dist(l.To)
	var out []WeedLine
	from, wide := -1.0, false
	stop := func(at float64) {
		if from >= 0 && at-from >= weedLeast-weedTie && (wide || !large) {
			out = append(out, WeedLine{l.From.Lerp(l.To, from/length), l.From.Lerp(l.To, at/length)})
		}
		from, wide = -1, false
	}
	for at := 0.0; at < length; {
		edge, all := w.room(l.From.Lerp(l.To, at/length))
		if all < need-weedTie {
			stop(at - weedStep)
			at += max(weedStep, need-all)
			continue
		}
		if from < 0 {
			from = at
		}
		wide = wide || edge >= weedLarge/2-weedTie
		at += max(weedStep, all-need)
	}
	stop(length)
	return out
}
