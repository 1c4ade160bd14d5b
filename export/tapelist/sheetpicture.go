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
	inkTapeSkin  = sheet.Ink{Stroke: "#1f5f7a", Width: 0.014}
	inkTapeAir   = sheet.Ink{Stroke: "#1f5f7a", Width: 0.014, Dash: []float64{0.1, 0.05}}
	inkTapeFaint = sheet.Ink{Stroke: "#9fbecb", Width: 0.006}
	inkCheck     = sheet.Ink{Stroke: "#a03a1e", Width: 0.010, Dash: []float64{0.03, 0.03}}
	inkPlaced    = sheet.Ink{Fill: "#1a1a1a"}
	inkLeader    = sheet.Ink{Stroke: "#1a1a1a", Width: 0.005}
	inkFrame     = sheet.Ink{Stroke: "#8a979e", Width: 0.008}
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
			return g.Point{X: right * float64(p.BL), Y: -float64(p.FS)}
		}
		return g.Point{X: side.Reading() * float64(p.FS), Y: float64(p.WL)}
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
		v.lines = views.PlanStructure(s.l, pv)
		return v
	}
	sv := views.View{Side: side, Scale: scale, Fs0: side.Reading() * c.X, Wl0: c.Y, Origin: box.Centre()}
	v.lines = views.SkinFill(s.l, s.edges, sv)
	v.lines = append(v.lines, views.Structure(s.l, s.edges, sv)...)
	return v
}

// Heights of the pictures of a marking, in inches: the near one takes what the other
// leaves of the page.
const (
	farHigh    = 2.1
	legendHigh = 0.2
)

// pictures draws a marking twice: from afar with all hardpoints and the tapes to its
// centre, and near with its points numbered in the order of work.
func (s *tapeSheets) pictures(t *masks.Tiling, points []taping.Checkpoint) {
	if len(points) == 0 {
		return
	}
	place := t.Laid.Placement
	var near, far []g.Position
	for _, c := range points {
		near = append(near, c.Mark.Skin)
	}
	far = append(far, near...)
	for _, h := range s.l.Airframe.Hardpoints(place.Side) {
		far = append(far, h.At)
	}
	s.Space(0.05)
	s.far(t, points, s.viewWindow(place, far, s.Block(farHigh), 0.3))
	s.Space(0.08)
	s.near(t, points, s.viewWindow(place, near, s.Block(s.Room()-legendHigh-0.1), 0.4))
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

// tapes draws the tapes to the first point that has any: those that place it, and its
// check.
func (pic *picture) tapesOf(c taping.Checkpoint) {
	if c.Closure != nil {
		pic.tape(*c.Closure, inkCheck)
	}
	for _, t := range c.Tapes {
		pic.tape(t, tapeInk(t))
	}
}

// far draws all hardpoints of the side, and the tapes to the first point.
func (s *tapeSheets) far(t *masks.Tiling, points []taping.Checkpoint, pic *picture) {
	s.base(pic, t)
	pic.tapesOf(firstTaped(points))
	s.hooks(pic, t.Laid.Placement)
	s.Draw(append(pic.items, sheet.DrawRect(pic.window, inkFrame))...)
}

func firstTaped(points []taping.Checkpoint) taping.Checkpoint {
	for _, c := range points {
		if len(c.Tapes) == 2 {
			return c
		}
	}
	return points[0]
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

// near draws the points with their numbers, the tapes to each faint and those to the
// first strong, named where they leave the picture.
func (s *tapeSheets) near(t *masks.Tiling, points []taping.Checkpoint, pic *picture) {
	s.base(pic, t)
	for _, c := range points {
		for _, tape := range c.Tapes {
			pic.tape(tape, inkTapeFaint)
		}
	}
	first := firstTaped(points)
	pic.tapesOf(first)
	for _, c := range points {
		at := pic.to(c.Mark.Skin)
		pic.take(g.BoundsOf(at).Grown(0.05))
		pic.items = append(pic.items, sheet.Item{Path: g.Path{g.Circle(at, 0.035)}, Ink: inkPlaced})
	}
	s.hooks(pic, t.Laid.Placement)
	tapes := first.Tapes
	if first.Closure != nil {
		tapes = append(append([]taping.Taping(nil), tapes...), *first.Closure)
	}
	for _, tape := range tapes {
		if at, leaves := pic.exit(tape); leaves {
			pic.label(at, "to "+tape.From.ID, sheet.Lettering{Cap: 10 * sheet.PointCap, Bold: true, Ink: sheet.InkTextPoint}, 0.2)
		}
	}
	for _, c := range points {
		pic.label(pic.to(c.Mark.Skin), number(c.Step), sheet.SetStrong, 0.14)
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
	}{{inkTapeSkin, "tape on the skin, to point 1"}, {inkTapeAir, "straight"}, {inkCheck, "check"}, {inkTapeFaint, "tapes to the others"}} {
		out = append(out, sheet.Item{Path: g.Path{g.Polyline(g.Point{X: x, Y: y}, g.Point{X: x + 0.35, Y: y})}, Ink: k.ink}, sheet.SetSoft.At(k.text, x+0.42, y-sheet.SetSoft.Cap/2, 0))
		x += 0.42 + sheet.SetSoft.Width(k.text) + 0.25
	}
	return out
}
