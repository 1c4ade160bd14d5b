package tapelist

import (
	"math"
	"slices"

	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Inks of the pictures of a tape sheet.
var (
	inkTapeSkin = sheet.Ink{Stroke: "#1f5f7a", Width: 0.014}
	inkTapeAir  = sheet.Ink{Stroke: "#1f5f7a", Width: 0.014, Dash: []float64{0.1, 0.05}}
	inkPlaced   = sheet.Ink{Fill: "#1a1a1a"}
	inkLeader   = sheet.Ink{Stroke: "#1a1a1a", Width: 0.005}
	inkFrame    = sheet.Ink{Stroke: "#8a979e", Width: 0.008}
)

// tapeView is how a marking is looked at: square to the side, or square to the wing's
// face with the nose up.
type tapeView struct {
	scale float64
	to    func(g.Position) g.Point
	lines []sheet.Item // the aircraft in that view
}

// viewOf looks at a marking so that the positions fill a box, no larger than true
// size.
func (s *tapeSheets) viewOf(place layouts.Placement, window []g.Position, box g.Rect) tapeView {
	side, face := place.Side, place.Face()
	right := 1.0
	if face == layouts.LowerFace {
		right = -1
	}
	flat := func(p g.Position) g.Point {
		if face != layouts.NoFace {
			return g.Point{X: right * p.BL.Inches(), Y: -p.FS.Inches()}
		}
		return g.Point{X: side.Reading() * p.FS.Inches(), Y: p.WL.Inches()}
	}
	var pts []g.Point
	for _, p := range window {
		pts = append(pts, flat(p))
	}
	bounds := g.BoundsOf(pts...).Grown(0.5)
	scale, fit := sheet.Fitted(bounds, box, 1)
	v := tapeView{scale: scale, to: func(p g.Position) g.Point { return fit(flat(p)) }}
	c := bounds.Centre()
	if face != layouts.NoFace {
		pv := views.Plan{Right: right, Scale: scale, Fs0: -c.Y, Origin: g.Point{X: box.Centre().X - float64(c.X*scale), Y: box.Centre().Y}}
		v.lines = views.PlanStructure(s.l.PlainSkin(), pv)
		return v
	}
	sv := views.View{Side: side, Scale: scale, Fs0: side.Reading() * c.X, Wl0: c.Y, Origin: box.Centre()}
	v.lines = views.SkinFill(s.l.PlainSkin(), s.edges, sv)
	v.lines = append(v.lines, views.Structure(s.l.PlainSkin(), s.edges, sv)...)
	return v
}

// Heights of the pictures of a marking, in inches: the near one takes what is left of the
// page.
const (
	farHigh    = 1.9
	nearLeast  = 1.2
	nearMost   = 5.0
	legendHigh = 0.2
)

// pictures draws a marking near, with the points that its film is laid by and what is
// measured to them; and from afar with the hardpoints of the side, where tapes or strings
// hang on these and the page has room. below is the height of what follows.
func (s *tapeSheets) pictures(t *masks.Tiling, p taping.Placing, below float64) {
	if len(p.Points) == 0 {
		return
	}
	place := t.Laid.Placement
	var near, far []g.Position
	hooks := false
	for _, q := range p.Points {
		near = append(near, q.Point.Mark.Skin)
		if w, ok := q.Way(); ok {
			hooks = hooks || w.Method == taping.ByTapes || w.Method == taping.ByString
		}
	}
	for _, c := range s.pointsOf(p.Marking) { // the corners of the paint
		if c.Role == masks.Extent {
			near = append(near, c.Mark.Skin)
		}
	}
	far = append(far, near...)
	for _, h := range s.l.Airframe.Hardpoints(place.Side) {
		far = append(far, h.At)
	}
	s.Space(0.05)
	room := s.Room() - below - legendHigh - 0.2
	if hooks && room > farHigh+nearLeast+0.5 {
		s.far(t, p, s.viewWindow(place, far, s.Block(farHigh), 0.3))
		s.Space(0.08)
		room -= farHigh + 0.08
	}
	s.near(t, p, s.viewWindow(place, near, s.Block(math.Max(nearLeast, math.Min(nearMost, room))), 0.45))
	s.Space(0.05)
	s.Draw(s.legend(s.Block(legendHigh))...)
}

// picture is a view with its window on the page, and what is taken in it.
type picture struct {
	tapeView
	window g.Rect
	taken  []g.Rect
	items  []sheet.Item
}

func (s *tapeSheets) viewWindow(place layouts.Placement, shown []g.Position, window g.Rect, rim float64) *picture {
	return &picture{tapeView: s.viewOf(place, shown, window.Grown(-rim)), window: window}
}

func (pic *picture) clip(items ...sheet.Item) {
	for _, it := range items {
		pic.items = append(pic.items, sheet.Clipped(it, pic.window)...)
	}
}

// base draws the aircraft and the marking.
func (s *tapeSheets) base(pic *picture, t *masks.Tiling) {
	pic.clip(pic.lines...)
	for _, it := range views.Painted(s.l, t.Laid, pic.scale, pic.to) {
		it.ID, it.Ink.Fill = "", views.Tint(it.Ink.Fill, 0.45)
		pic.clip(it)
	}
	pic.nose(t.Laid.Placement, s.l.Airframe.Hardpoints(t.Laid.Placement.Side))
}

// nose draws the arrow to the nose into the upper corner on that side; halfway down
// where a hardpoint is in the way.
func (pic *picture) nose(place layouts.Placement, hard []layouts.Hardpoint) {
	w := sheet.SetStrong.Width("NOSE")
	if place.Face() != layouts.NoFace { // up the page
		x, y := pic.window.Min.X+0.32, pic.window.Max.Y-0.5
		pic.items = append(pic.items, sheet.DrawRect(g.Rect{Min: g.Point{X: x - 0.28, Y: y - 0.17}, Max: g.Point{X: x + 0.28, Y: pic.window.Max.Y - 0.06}}, sheet.Ink{Fill: "#ffffff"}), arrowHead(g.Point{X: x, Y: pic.window.Max.Y - 0.12}, g.Vec{Y: 1}), sheet.SetStrong.At("NOSE", x, y-0.12, 0.5))
		pic.take(g.Rect{Min: g.Point{X: x - 0.3, Y: y - 0.2}, Max: g.Point{X: x + 0.3, Y: pic.window.Max.Y}})
		return
	}
	y := pic.window.Max.Y - 0.2
	d := g.Vec{X: -place.Side.Reading()}
	tip, x, align := pic.window.Min.X+0.12, pic.window.Min.X+0.58, 0.0
	if d.X > 0 {
		tip, x, align = pic.window.Max.X-0.12, pic.window.Max.X-0.58, 1
	}
	back := g.Rect{Min: g.Point{X: math.Min(tip, x-float64(align*w)) - 0.06, Y: y - 0.13}, Max: g.Point{X: math.Max(tip, x+float64((1-align)*w)) + 0.06, Y: y + 0.13}}
	if down := pic.window.Height()/2 - 0.2; slices.ContainsFunc(hard, func(h layouts.Hardpoint) bool { return pic.shows(h) && back.Grown(0.14).Contains(pic.to(h.At)) }) {
		y -= down
		back.Min.Y, back.Max.Y = back.Min.Y-down, back.Max.Y-down
	}
	pic.items = append(pic.items, sheet.DrawRect(back, sheet.Ink{Fill: "#ffffff"}), arrowHead(g.Point{X: tip, Y: y}, d), sheet.SetStrong.At("NOSE", x, y-sheet.SetStrong.Cap/2, align))
	pic.take(back)
}

// arrowHead is a short arrow with its tip at a point.
func arrowHead(tip g.Point, d g.Vec) sheet.Item {
	at := func(back, left float64) g.Point { return tip.Add(d.Scale(-back)).Add(d.Perp().Scale(left)) }
	return sheet.Item{Path: g.Path{g.Polygon(tip, at(0.17, 0.09), at(0.17, 0.03), at(0.4, 0.03), at(0.4, -0.03), at(0.17, -0.03), at(0.17, -0.09))}, Ink: inkPlaced}
}

// tape draws a tape as it runs on the skin or through the air.
func (pic *picture) tape(t taping.Taping, ink sheet.Ink) {
	var pts []g.Point
	for _, p := range t.Path {
		if q := pic.to(p); len(pts) == 0 || q.Dist(pts[len(pts)-1]) > 0.01 {
			pts = append(pts, q)
		}
	}
	if len(pts) > 1 {
		for _, c := range sheet.ClipLine(pts, pic.window) {
			pic.items = append(pic.items, sheet.Item{Path: g.Path{c}, Ink: ink})
		}
	}
}

func tapeInk(t taping.Taping) sheet.Ink {
	if t.Kind == taping.Straight {
		return inkTapeAir
	}
	return inkTapeSkin
}

// wayTo draws what is measured to a point: tapes where they run, a length along a line
// from where it starts to the foot, and from there to the point.
func (pic *picture) wayTo(q taping.PlacePoint) {
	w, ok := q.Way()
	if !ok {
		return
	}
	for _, t := range w.Tapes {
		pic.tape(t, tapeInk(t))
	}
	if len(w.Tapes) > 0 {
		return
	}
	line := func(a, b g.Position) {
		if a == (g.Position{}) || b == (g.Position{}) {
			return
		}
		for _, c := range sheet.ClipLine([]g.Point{pic.to(a), pic.to(b)}, pic.window) {
			pic.items = append(pic.items, sheet.Item{Path: g.Path{c}, Ink: inkTapeSkin})
		}
	}
	a, b := w.Readings[0], w.Readings[1]
	switch w.Method {
	case taping.ByEdges:
		line(a.Start, q.Point.Mark.Skin)
	case taping.ByFrame, taping.ByRib, taping.ByString:
		line(a.Start, b.Start)
	}
	line(b.Start, q.Point.Mark.Skin)
}

// far draws all hardpoints of the side, and what is measured to the points.
func (s *tapeSheets) far(t *masks.Tiling, p taping.Placing, pic *picture) {
	s.base(pic, t)
	for _, q := range p.Points {
		pic.wayTo(q)
	}
	s.hooks(pic, t.Laid.Placement)
	s.Draw(append(pic.items, sheet.DrawRect(pic.window, inkFrame))...)
}

// hooks draws the hardpoints inside the window, with their names.
func (s *tapeSheets) hooks(pic *picture, place layouts.Placement) {
	const r = views.HookRadius
	hard := s.l.Airframe.Hardpoints(place.Side)
	var shown []layouts.Hardpoint
	for _, h := range hard {
		c := pic.to(h.At)
		if !pic.shows(h) {
			continue
		}
		shown = append(shown, h)
		pic.take(g.BoundsOf(c).Grown(1.6 * r))
		pic.items = append(pic.items, sheet.Item{Path: g.Path{g.Circle(c, r), g.Polyline(g.Point{X: c.X - 1.6*r, Y: c.Y}, g.Point{X: c.X + 1.6*r, Y: c.Y}), g.Polyline(g.Point{X: c.X, Y: c.Y - 1.6*r}, g.Point{X: c.X, Y: c.Y + 1.6*r})}, Ink: sheet.InkPoint})
	}
	set := sheet.Lettering{Cap: 12 * sheet.PointCap, Bold: true, Ink: sheet.InkTextPoint}
	for _, h := range shown {
		pic.label(pic.to(h.At), h.ID, set, 0.2)
	}
}

// shows tells whether a hardpoint lies inside the window, its mark and all.
func (pic *picture) shows(h layouts.Hardpoint) bool {
	return pic.window.Grown(-1.6 * views.HookRadius).Contains(pic.to(h.At))
}

// near draws the points with their names and what is measured to them, tapes named where
// they leave the picture.
func (s *tapeSheets) near(t *masks.Tiling, p taping.Placing, pic *picture) {
	s.base(pic, t)
	for _, q := range p.Points {
		pic.wayTo(q)
	}
	for _, q := range p.Points {
		at := pic.to(q.Point.Mark.Skin)
		pic.take(g.BoundsOf(at).Grown(0.05))
		pic.items = append(pic.items, sheet.Item{Path: g.Path{g.Circle(at, 0.04)}, Ink: inkPlaced})
	}
	s.hooks(pic, t.Laid.Placement)
	for _, q := range p.Points {
		pic.label(pic.to(q.Point.Mark.Skin), q.Name, sheet.SetNumber, 0.16)
	}
	for _, q := range p.Points {
		if w, ok := q.Way(); ok {
			for _, tape := range w.Tapes {
				if at, leaves := pic.exit(tape); leaves {
					pic.label(at, "to "+tape.From.ID, sheet.Lettering{Cap: 10 * sheet.PointCap, Bold: true, Ink: sheet.InkTextPoint}, 0.2)
				}
			}
		}
	}
	s.Draw(append(pic.items, sheet.DrawRect(pic.window, inkFrame))...)
}

// legend says what the lines of the pictures are.
func (s *tapeSheets) legend(box g.Rect) []sheet.Item {
	x, y := box.Min.X, box.Centre().Y
	var out []sheet.Item
	for _, k := range []struct {
		ink  sheet.Ink
		text string
	}{{inkTapeSkin, "along the skin, or along a line"}, {inkTapeAir, "straight"}} {
		out = append(out, sheet.Item{Path: g.Path{g.Polyline(g.Point{X: x, Y: y}, g.Point{X: x + 0.35, Y: y})}, Ink: k.ink}, sheet.SetSoft.At(k.text, x+0.42, y-sheet.SetSoft.Cap/2, 0))
		x += 0.42 + sheet.SetSoft.Width(k.text) + 0.25
	}
	return append(out, sheet.SetSoft.At("dots: the marks cut in the film", x, y-sheet.SetSoft.Cap/2, 0))
}
