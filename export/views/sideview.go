package views

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/export/sheet"
	"maskloft/geometry/same"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Line weights of the side view, in inches of the sheet: outlines twice as heavy
// as structure, structure twice as heavy as the grid (engineering drawing
// practice, common practice, no source).
var (
	inkOutline   = sheet.Ink{Stroke: "#1a1a1a", Width: 0.020}
	InkStructure = sheet.Ink{Stroke: "#5c6b73", Width: 0.010}
	inkStringer  = sheet.Ink{Stroke: "#8a979e", Width: 0.006}
	inkGrid      = sheet.Ink{Stroke: "#c9d2d6", Width: 0.005}
	inkDashed    = sheet.Ink{Stroke: "#8a979e", Width: 0.006, Dash: []float64{0.06, 0.04}}
)

// View maps positions of the side view to the sheet.
type View struct {
	Side   g.Side
	Scale  float64 // inches of sheet per inch of aircraft
	Origin g.Point // of the sheet, where (fs0, wl0) falls
	Fs0    float64
	Wl0    float64
	turn   *parked // nil: level
}

// seenGrid is the grid of points of a picture, in inches of sheet.
const seenGrid = 1e-8

func (v View) at(fs, wl float64) g.Point {
	if v.turn != nil {
		fs, wl = v.turn.at(fs, wl)
	}
	return g.Point{X: v.Origin.X + float64(v.Side.Reading()*(fs-v.Fs0)*v.Scale), Y: v.Origin.Y + float64((wl-v.Wl0)*v.Scale)}
}

// parked turns the side view until the ground line is level.
type parked struct {
	main     g.SidePosition // where the main wheel touches
	sin, cos float64        // of the ground angle
}

func parkedOn(l *layouts.Layout) *parked {
	angle, ok := l.Airframe.GroundAngle()
	if !ok {
		return nil
	}
	p := &parked{main: l.Airframe.Spec.Ground.Main}
	p.sin, p.cos = same.Sincos(angle)
	return p
}

// at returns the distance along the floor, aft of the main wheel, and the height above
// the floor of a position, in inches.
func (p *parked) at(fs, wl float64) (along, above float64) {
	x, z := fs-p.main.FS.Inches(), wl-p.main.WL.Inches()
	return float64(x*p.cos) + float64(z*p.sin), float64(z*p.cos) - float64(x*p.sin)
}

// SideView returns the aircraft as seen square from one side, nose to the left on the
// left side and to the right on the right side; level, or parked where that is asked
// for and the ground line is known. Markings are drawn where their film lies: each
// outline is carried from the flat to the skin and then seen along the butt line.
func SideView(l *layouts.Layout, laid []masks.Laid, side g.Side, o ViewOptions) sheet.Sheet {
	d := newSideDrawing(l, laid, side, o)
	return d.sheet(extent(l, d.edges), fmt.Sprintf("%s side view", side), strings.ToUpper(side.String())+" SIDE")
}

// FinView returns the fin and rudder alone, as [SideView] shows them but larger, with
// what is on them and the lines of the body behind.
func FinView(l *layouts.Layout, laid []masks.Laid, side g.Side, o ViewOptions) sheet.Sheet {
	edges := Silhouettes(l)
	fins := map[string]bool{}
	var pts []g.SidePosition
	for i, s := range l.Airframe.Spec.Surfaces {
		if s.Kind == layouts.Plate || s.Kind == layouts.Foil {
			fins[s.ID] = true
			pts = append(pts, edges[i]...)
		}
	}
	var shown []masks.Laid
	for _, one := range laid {
		if one.Placement.Side == side && slices.ContainsFunc(one.Placement.Marking.Where.Surfaces, func(id string) bool { return fins[id] }) {
			shown = append(shown, one)
		}
	}
	d := sideDrawing{l: l, laid: shown, edges: edges, side: side, o: o}
	return d.sheet(pts, fmt.Sprintf("fin and rudder, %s side", side), "FIN AND RUDDER, "+strings.ToUpper(side.String())+" SIDE")
}

// extent returns the corners of everything drawn.
func extent(l *layouts.Layout, edges [][]g.SidePosition) []g.SidePosition {
	var pts []g.SidePosition
	for _, edge := range edges {
		pts = append(pts, edge...)
	}
	for _, p := range l.Airframe.Spec.Profile {
		pts = append(pts, p.Points...)
	}
	if gr := l.Airframe.Spec.Ground; gr != nil {
		pts = append(pts, gr.Main, gr.Tail)
	}
	return pts
}

// sideDrawing is a side view being drawn.
type sideDrawing struct {
	l      *layouts.Layout
	laid   []masks.Laid // that are seen
	edges  [][]g.SidePosition
	side   g.Side
	o      ViewOptions
	ground bool // the ground line is drawn
	v      View
}

// frame lays out the sheet of what lies between the points, and how they map to it; how
// says how the aircraft stands, paints what is in the key.
func (d *sideDrawing) frame(pts []g.SidePosition) (s viewSheet, how string, paints []layouts.ColourSpec) {
	d.v = View{Side: d.side, Scale: 1}
	how = "level"
	if d.o.Parked {
		if d.v.turn = parkedOn(d.l); d.v.turn != nil {
			how = fmt.Sprintf("parked, %.2f deg nose up", same.Atan2(d.v.turn.sin, d.v.turn.cos)*180/math.Pi)
		}
	}
	var turned []g.Point
	for _, p := range pts {
		q := g.Point{X: p.FS.Inches(), Y: p.WL.Inches()}
		if d.v.turn != nil {
			q.X, q.Y = d.v.turn.at(q.X, q.Y)
		}
		turned = append(turned, q)
	}
	box := g.BoundsOf(turned...)
	paints = paintsSeen(d.l, d.laid)
	s = sheetWithKey(d.l.Spec.Sheets.Units, box, len(paints), d.o)
	d.v.Scale, d.v.Origin, d.v.Fs0, d.v.Wl0 = s.scale, s.window.Centre(), box.Centre().X, box.Centre().Y
	return s, how, paints
}

// SideAt returns where a position, FS and WL in inches, falls on the sheet that [SideView]
// draws with the same arguments: inches of sheet, y up.
func SideAt(l *layouts.Layout, laid []masks.Laid, side g.Side, o ViewOptions) func(fs, wl float64) g.Point {
	d := newSideDrawing(l, laid, side, o)
	d.frame(extent(l, d.edges))
	return d.v.at
}

func newSideDrawing(l *layouts.Layout, laid []masks.Laid, side g.Side, o ViewOptions) *sideDrawing {
	var shown []masks.Laid
	for _, one := range laid {
		if one.Placement.Side == side && one.Placement.Face() == layouts.NoFace {
			shown = append(shown, one)
		}
	}
	return &sideDrawing{l: l, laid: shown, edges: Silhouettes(l), side: side, o: o, ground: true}
}

// sheet draws what lies between the points.
func (d *sideDrawing) sheet(pts []g.SidePosition, title, shown string) sheet.Sheet {
	s, how, paints := d.frame(pts)
	if t := d.v.turn; t != nil {
		floor := d.v.at(t.main.FS.Inches(), t.main.WL.Inches()).Y
		d.ground = floor > s.window.Min.Y && floor < s.window.Max.Y
	}
	nose := "nose to the left, " + how
	if d.side == g.Right {
		nose = "nose to the right, " + how
	}
	inWindow := func(items []sheet.Item) []sheet.Item {
		var out []sheet.Item
		for _, it := range items {
			out = append(out, sheet.Clipped(it, s.window)...)
		}
		return out
	}
	painted := d.markings()
	lines := inWindow(Structure(d.l, d.edges, d.v))
	words := newViewLabels(s.window, painted, lines)
	fittings := d.fittings(s, words)
	grid := s.rulers(d.v.at, "FS", "WL")
	if d.ground && d.v.turn != nil {
		grid = append(grid, d.heights(s)...)
	}
	out := sheet.Sheet{Title: d.l.Spec.Name + ", " + title, Width: s.width, Height: s.height, Layers: []sheet.Layer{
		{Name: "frame", Items: s.frame(d.l, paints, shown, nose, d.o)},
		{Name: "stations and waterlines", Items: grid},
		{Name: "skin", Items: inWindow(SkinFill(d.l, d.edges, d.v))},
		{Name: "structure", Items: lines},
		{Name: "finishing tapes", Items: inWindow(d.tapes())},
		{Name: "markings", Items: painted},
		{Name: "obstacles and hardpoints", Items: fittings},
	}}
	name := "names"
	d.names(s, words)
	if d.o.Dimensions {
		name = "dimensions and names"
		d.dimensions(words)
	}
	out.Layers = append(out.Layers, sheet.Layer{Name: name, Items: words.items})
	return out
}

// markings draws each marking as it falls on the skin.
func (d *sideDrawing) markings() []sheet.Item {
	var out []sheet.Item
	for _, one := range d.laid {
		out = append(out, Painted(d.l, one, d.v.Scale, d.to)...)
	}
	return out
}

// to takes a position to the sheet.
func (d *sideDrawing) to(p g.Position) g.Point { return d.v.at(p.FS.Inches(), p.WL.Inches()) }

// TextAt sets a label whose left, middle or right (0, 0.5, 1) stands at x.
func TextAt(s string, cap, x, y, align float64, ink sheet.Ink) sheet.Item {
	text, w := glyphs.Label(s, cap, false)
	return sheet.Item{Path: text.Moved(g.Vec{X: x - float64(align*w), Y: y}), Ink: ink}
}

// seen returns a flat outline as chords of a picture: each chord is a hundredth
// of an inch of sheet or so, its points on a grid far finer than is drawn, so that the
// last digits of the relaxation decide no printed one.
func seen(m *skin.FlatMap, c g.Contour, scale float64, to func(g.Position) g.Point) []g.Point {
	var out []g.Point
	step := 0.015 / scale
	for i := range c.Segments {
		piece := g.Contour{Start: c.From(i), Segments: c.Segments[i : i+1]}
		n := g.Steps(piece.Length(), step)
		for k := 0; k < n; k++ {
			if pos, ok := m.PositionOf(c.At(i, float64(k)/float64(n))); ok {
				q := to(pos)
				out = append(out, g.Point{X: g.OnGrid(q.X, seenGrid), Y: g.OnGrid(q.Y, seenGrid)})
			}
		}
	}
	return out
}
