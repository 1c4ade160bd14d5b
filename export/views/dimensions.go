package views

import (
	"fmt"
	"math"
	"slices"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// differs is how far two lengths may lie apart, in inches, before both are printed.
const differs = 1.0 / 32

// outermost are the points of a marking farthest out in a view, on the sheet.
type outermost struct{ left, right, low, high g.Point }

// outermostOf looks at every outline of a marking as it is drawn.
func outermostOf(one masks.Laid, scale float64, to func(g.Position) g.Point) (outermost, bool) {
	var o outermost
	none := true
	for _, r := range one.Regions {
		for _, c := range r.Outline {
			for _, p := range seen(one.Map, c, scale, to) {
				if none {
					o, none = outermost{p, p, p, p}, false
				}
				if p.X < o.left.X {
					o.left = p
				}
				if p.X > o.right.X {
					o.right = p
				}
				if p.Y < o.low.Y {
					o.low = p
				}
				if p.Y > o.high.Y {
					o.high = p
				}
			}
		}
	}
	return o, !none
}

// size sets the width and the height of a marking as they are seen, with those on the
// skin where they differ. The inner box is that of the marking, which the lines stay
// outside of.
func (v *viewLabels) size(o outermost, one masks.Laid, scale float64) {
	flat := g.BoundsOf(pointsOf(one.Painted)...)
	v.dimension(dimension{a: o.left, b: o.right, text: twoLengths(one.Placement.Read, (o.right.X-o.left.X)/scale, flat.Width())}, o.low.Y, o.high.Y)
	v.dimension(dimension{a: o.low, b: o.high, upright: true, text: twoLengths(one.Placement.Read, (o.high.Y-o.low.Y)/scale, flat.Height())}, o.left.X, o.right.X)
}

func pointsOf(p g.Path) []g.Point {
	var out []g.Point
	for _, c := range p {
		out = append(out, c.Flattened(0.002)...)
	}
	return out
}

// twoLengths writes a length as seen, and the one along the skin in brackets where it
// differs.
func twoLengths(u g.Units, seen, skin float64) string {
	text := u.Number(g.Length(seen), 2)
	if math.Abs(seen-skin) > differs {
		text += " (" + u.Number(g.Length(skin), 2) + ")"
	}
	return text
}

// middle marks the middle of a marking with a cross, and says where it is.
func (v *viewLabels) middle(o outermost, at g.Point, text string) {
	r := math.Min(0.07, math.Min(o.right.X-o.left.X, o.high.Y-o.low.Y)/6) // small lettering stays to be read
	cross := g.Path{g.Polyline(g.Point{X: at.X - r, Y: at.Y}, g.Point{X: at.X + r, Y: at.Y}), g.Polyline(g.Point{X: at.X, Y: at.Y - r}, g.Point{X: at.X, Y: at.Y + r})}
	v.items = append(v.items, sheet.Item{Path: cross, Ink: halo(0.022)}, sheet.Item{Path: cross, Ink: inkDimension})
	v.word(text, dimensCap, at, 0.02, sheet.Ink{Fill: inkDimension.Stroke})
}

// middleOf returns the point of the skin under the middle of a marking's film, or of
// the drawing where that is true in side view.
func middleOf(one masks.Laid) (g.Position, bool) {
	if one.Placement.Marking.True == layouts.TrueSide {
		var pts []g.Point
		for _, r := range one.Seen() {
			pts = append(pts, pointsOf(r.Outline)...)
		}
		c, a := g.BoundsOf(pts...).Centre(), one.Placement.Anchor
		a.FS, a.WL = g.Station(one.Placement.Side.Reading()*c.X), g.Waterline(c.Y)
		return a, true
	}
	return one.Map.PositionOf(g.BoundsOf(pointsOf(one.Painted)...).Centre())
}

// dimensions sets the dimensions of every marking of a side view: level, its width and
// height, the nearest named station or edge, and where its middle is; parked, how high
// its lowest point and its middle stand above the floor.
func (d *sideDrawing) dimensions(words *viewLabels) {
	u := d.l.Spec.Sheets.Units
	var middles []func() // that find a place more easily than lines do
	for _, one := range d.laid {
		o, drawn := outermostOf(one, d.v.Scale, d.to)
		at, ok := middleOf(one)
		if !drawn || !ok {
			continue
		}
		text := fmt.Sprintf("FS %s, WL %s", u.Number(g.Length(at.FS), 2), u.Number(g.Length(at.WL), 2))
		if d.v.turn == nil {
			words.size(o, one, d.v.Scale)
			if gap, ok := d.nearest(one, o, at.WL); ok {
				words.dimension(gap, o.low.Y, o.high.Y)
			}
		} else {
			_, above := d.v.turn.at(at.FS.Inches(), at.WL.Inches())
			text += fmt.Sprintf(", %s above the floor", u.Number(g.Length(above), 2))
			main := d.v.turn.main
			floor := g.Point{X: o.low.X, Y: d.v.at(main.FS.Inches(), main.WL.Inches()).Y}
			words.dimension(dimension{a: floor, b: o.low, upright: true, text: u.Number(g.Length((o.low.Y-floor.Y)/d.v.Scale), 2)}, o.low.X-dimensFirst, o.low.X-dimensFirst)
		}
		middles = append(middles, func() { words.middle(o, d.to(at), text) })
	}
	for _, set := range middles {
		set()
	}
}

// nearest returns the dimension from a marking to the nearest section or edge of its
// surfaces fore or aft of it, at a waterline.
func (d *sideDrawing) nearest(one masks.Laid, o outermost, wl g.Waterline) (dimension, bool) {
	u := d.l.Spec.Sheets.Units
	best, found := dimension{}, math.Inf(1)
	try := func(fs g.Station, name string) {
		p := d.v.at(fs.Inches(), wl.Inches())
		for _, end := range []g.Point{o.left, o.right} {
			gap, away := math.Abs(p.X-end.X)/d.v.Scale, math.Copysign(1, p.X-end.X)
			if outside := p.X < o.left.X || p.X > o.right.X; outside && gap > 0.01 && gap < found {
				found = gap
				best = dimension{a: p, b: end, text: u.Number(g.Length(gap), 2) + " to " + name, away: away}
			}
		}
	}
	for i, s := range d.l.Airframe.Spec.Surfaces {
		if !slices.Contains(one.Placement.Marking.Where.Surfaces, s.ID) {
			continue
		}
		for _, sec := range s.Sections {
			try(sec.FS, "FS "+u.Number(g.Length(sec.FS), 2))
		}
		if s.Kind == layouts.Plate || s.Kind == layouts.Foil {
			for _, c := range AcrossAt(d.edges[i], wl) {
				try(c[0].FS, "the edge")
				try(c[1].FS, "the edge")
			}
		}
	}
	return best, !math.IsInf(found, 1)
}

// dimensions sets the width, the height and the place of every marking of a plan view,
// and the nearest rib or tip.
func (v Plan) dimensions(l *layouts.Layout, laid []masks.Laid, words *viewLabels) {
	u := l.Spec.Sheets.Units
	to := func(p g.Position) g.Point { return v.at(p.FS.Inches(), p.BL.Inches()) }
	for _, one := range laid {
		o, ok := outermostOf(one, v.Scale, to)
		if !ok {
			continue
		}
		words.size(o, one, v.Scale)
		at, ok := middleOf(one)
		if !ok {
			continue
		}
		best, found := dimension{}, math.Inf(1)
		for _, s := range l.Airframe.Spec.Surfaces {
			if s.Kind != layouts.Wing || !slices.Contains(one.Placement.Marking.Where.Surfaces, s.ID) {
				continue
			}
			for _, rib := range s.Span.Ribs {
				bl := math.Copysign(rib.Inches(), at.BL.Inches())
				p := v.at(at.FS.Inches(), bl)
				for _, end := range []g.Point{o.left, o.right} {
					gap := math.Abs(p.X-end.X) / v.Scale
					if (p.X < o.left.X || p.X > o.right.X) && gap > 0.01 && gap < found {
						found = gap
						best = dimension{a: p, b: end, text: u.Number(g.Length(gap), 2) + " to BL " + u.Number(g.Length(bl), 2), away: math.Copysign(1, p.X-end.X)}
					}
				}
			}
		}
		if !math.IsInf(found, 1) {
			words.dimension(best, o.low.Y, o.high.Y)
		}
		words.middle(o, to(at), fmt.Sprintf("FS %s, BL %s", u.Number(g.Length(at.FS), 2), u.Number(g.Length(at.BL), 2)))
	}
}
