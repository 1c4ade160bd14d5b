package export

import (
	"fmt"
	"math"
	"slices"

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
	inkOutline   = Ink{Stroke: "#1a1a1a", Width: 0.020}
	inkStructure = Ink{Stroke: "#5c6b73", Width: 0.010}
	inkStringer  = Ink{Stroke: "#8a979e", Width: 0.006}
	inkGrid      = Ink{Stroke: "#c9d2d6", Width: 0.005}
	inkDashed    = Ink{Stroke: "#8a979e", Width: 0.006, Dash: []float64{0.06, 0.04}}
	inkPoint     = Ink{Stroke: "#a03a1e", Width: 0.010}
	inkSkin      = Ink{Fill: "#e3e5dc"}
	inkText      = Ink{Fill: "#1a1a1a"}
	inkTextSoft  = Ink{Fill: "#5c6b73"}
	inkTextPoint = Ink{Fill: "#a03a1e"}
)

// view maps positions of the side view to the sheet.
type view struct {
	side   g.Side
	scale  float64 // inches of sheet per inch of aircraft
	origin g.Point // of the sheet, where (fs0, wl0) falls
	fs0    float64
	wl0    float64
}

func (v view) at(fs, wl float64) g.Point {
	return g.Point{X: v.origin.X + v.side.Reading()*(fs-v.fs0)*v.scale, Y: v.origin.Y + (wl-v.wl0)*v.scale}
}

// SideView returns the aircraft as seen square from one side, level, nose to the
// left on the left side and to the right on the right side. Markings are drawn
// where their film lies: each outline is carried from the flat to the skin and
// then seen along the butt line.
func SideView(l *layouts.Layout, laid []masks.Laid, side g.Side) Sheet {
	return SideViewOn(viewSheet, l, laid, side)
}

// SideViewOn is the view of [SideView] on a sheet of another width, in inches.
func SideViewOn(wide float64, l *layouts.Layout, laid []masks.Laid, side g.Side) Sheet {
	edges := silhouettes(l)
	box := extent(l, edges)
	scale, width, height := sheetFor(box, wide)
	c := box.Centre()
	v := view{side: side, scale: scale, fs0: c.X, wl0: c.Y, origin: g.Point{X: width/2 + 0.3, Y: height/2 - 0.1}}
	s := Sheet{Title: fmt.Sprintf("%s, %s side view", l.Spec.Name, side), Width: width, Height: height}
	s.Layers = []Layer{
		{Name: "frame", Items: sheetFrame(l, sideWords[side], v.scale, width, height)},
		{Name: "stations and waterlines", Items: rulers(v.at, box.Grown(6/v.scale/16), v.scale, "FS, inches", "WL, inches")},
		{Name: "skin", Items: skinFill(l, edges, v)},
		{Name: "structure", Items: structure(l, edges, v, side)},
		{Name: "markings", Items: markings(l, laid, v, side)},
		{Name: "obstacles and hardpoints", Items: fittings(l, v, side, box.Min.Y)},
	}
	return s
}

// sideWords say what a side view shows.
var sideWords = map[g.Side]string{g.Left: "LEFT SIDE, nose to the left", g.Right: "RIGHT SIDE, nose to the right"}

// extent returns the box of everything drawn, in FS and WL.
func extent(l *layouts.Layout, edges [][]g.SidePosition) g.Rect {
	var pts []g.Point
	add := func(q ...g.SidePosition) {
		for _, p := range q {
			pts = append(pts, g.Point{X: float64(p.FS), Y: float64(p.WL)})
		}
	}
	for _, edge := range edges {
		add(edge...)
	}
	for _, p := range l.Airframe.Spec.Profile {
		add(p.Points...)
	}
	if gr := l.Airframe.Spec.Ground; gr != nil {
		add(gr.Main, gr.Tail)
	}
	return g.BoundsOf(pts...)
}

func line(v view, pts ...g.SidePosition) g.Contour {
	var out []g.Point
	for _, p := range pts {
		out = append(out, v.at(float64(p.FS), float64(p.WL)))
	}
	return g.Polyline(out...)
}

// textAt sets a label whose left, middle or right (0, 0.5, 1) stands at x.
func textAt(s string, cap, x, y, align float64, ink Ink) Item {
	text, w := glyphs.Label(s, cap, false)
	return Item{Path: text.Moved(g.Vec{X: x - align*w, Y: y}), Ink: ink}
}

// structure draws the surfaces: outlines, longerons, stringers, sections, ribs,
// and the profile lines.
func structure(l *layouts.Layout, edges [][]g.SidePosition, v view, side g.Side) []Item {
	var out []Item
	put := func(ink Ink, c ...g.Contour) { out = append(out, Item{Path: c, Ink: ink}) }
	for _, p := range l.Airframe.Spec.Profile {
		pts := p.Points
		if p.Closed {
			pts = closed(pts)
		}
		put(inkStructure, line(v, pts...))
	}
	for i, s := range l.Airframe.Spec.Surfaces {
		switch s.Kind {
		case layouts.Wing: // seen in the plan view
		case layouts.Plate, layouts.Foil:
			for _, wl := range s.Ribs {
				for _, c := range acrossAt(edges[i], wl) {
					put(inkStringer, line(v, c[0], c[1]))
				}
			}
			put(inkOutline, line(v, closed(edges[i])...))
		case layouts.Stringers:
			hard := map[string]bool{}
			for _, h := range s.Hard {
				hard[h] = true
			}
			for _, sec := range s.Sections {
				var pts []g.SidePosition
				for _, p := range sec.Points {
					pts = append(pts, g.SidePosition{FS: sec.FS, WL: p.WL})
				}
				put(inkStructure, line(v, pts...))
			}
			for k, name := range s.Lines {
				ink := inkStringer
				if hard[name] {
					ink = inkStructure
				}
				if k == 0 || k == len(s.Lines)-1 {
					ink = inkOutline
				}
				var pts []g.SidePosition
				for _, sec := range s.Sections {
					pts = append(pts, g.SidePosition{FS: sec.FS, WL: sec.Points[k].WL})
				}
				put(ink, line(v, pts...))
				end := pts[0]
				if k > 0 && k < len(s.Lines)-1 {
					at := v.at(float64(end.FS), float64(end.WL))
					out = append(out, haloed(textAt(name, 0.08, at.X-side.Reading()*0.16, at.Y-0.04, (1+side.Reading())/2, inkTextSoft))...)
				}
			}
		default: // a body given by sections or a scan
			for _, sec := range s.Sections {
				if top, low, ok := heights(l, s, sec.FS); ok {
					put(inkStructure, line(v, g.SidePosition{FS: sec.FS, WL: top}, g.SidePosition{FS: sec.FS, WL: low}))
				}
			}
			if len(edges[i]) > 0 {
				put(inkOutline, line(v, closed(edges[i])...))
			}
		}
	}
	return out
}

// closed returns a run of points with the first repeated at the end.
func closed(pts []g.SidePosition) []g.SidePosition {
	return append(slices.Clone(pts), pts[0])
}

// skinFill tints what is covered, so that white paint shows.
func skinFill(l *layouts.Layout, edges [][]g.SidePosition, v view) []Item {
	var out []Item
	fill := func(pts []g.SidePosition) {
		if len(pts) > 2 {
			out = append(out, Item{Path: g.Path{line(v, closed(pts)...)}, Ink: inkSkin})
		}
	}
	for _, p := range l.Airframe.Spec.Profile {
		fill(p.Points)
	}
	for _, edge := range edges {
		fill(edge)
	}
	return out
}

// haloColour is that of the light edge of labels.
const haloColour = "#ffffff"

// haloed returns a label with a light edge, so that it reads over lines.
func haloed(it Item) []Item {
	edge := it
	edge.Ink = Ink{Stroke: haloColour, Width: 0.045}
	return []Item{edge, it}
}

// silhouettes returns the outline of every surface seen from the side, in the order
// of the aircraft; none for a wing.
func silhouettes(l *layouts.Layout) [][]g.SidePosition {
	out := make([][]g.SidePosition, len(l.Airframe.Spec.Surfaces))
	for i, s := range l.Airframe.Spec.Surfaces {
		switch s.Kind {
		case layouts.Wing:
		case layouts.Plate:
			out[i] = s.Outline
		case layouts.Foil:
			out[i] = foilOutline(s)
		default:
			out[i] = silhouette(l, s)
		}
	}
	return out
}

// silhouette returns the outline of a body seen from the side: its highest points
// from nose to tail and its lowest back again.
func silhouette(l *layouts.Layout, s layouts.SurfaceSpec) []g.SidePosition {
	body, err := l.Airframe.Surface([]string{s.ID}, g.Left)
	if err != nil {
		return nil
	}
	us, _, _ := body.Breaks()
	const n = 24 // stations between two grid lines
	var top, low []g.SidePosition
	for i := 0; i+1 < len(us); i++ {
		for k := 0; k <= n; k++ {
			if k == n && i+2 < len(us) {
				continue // the next bay begins there
			}
			fs := g.Station(us[i] + (us[i+1]-us[i])*float64(k)/n)
			if hi, lo, ok := heights(l, s, fs); ok {
				top, low = append(top, g.SidePosition{FS: fs, WL: hi}), append(low, g.SidePosition{FS: fs, WL: lo})
			}
		}
	}
	slices.Reverse(low)
	return append(top, low...)
}

// foilOutline returns the planform of a fin or rudder: up its leading edge and
// down its trailing edge.
func foilOutline(s layouts.SurfaceSpec) []g.SidePosition {
	up, down := slices.Clone(s.Leading), slices.Clone(s.Trailing)
	if (up[0].WL < up[len(up)-1].WL) == (down[0].WL < down[len(down)-1].WL) {
		slices.Reverse(down)
	}
	return append(up, down...)
}

// heights returns the highest and the lowest waterline of a body at a station.
func heights(l *layouts.Layout, s layouts.SurfaceSpec, fs g.Station) (hi, lo g.Waterline, ok bool) {
	body, err := l.Airframe.Surface([]string{s.ID}, g.Left)
	if err != nil {
		return 0, 0, false
	}
	_, vs, _ := body.Breaks()
	hi, lo = g.Waterline(math.Inf(-1)), g.Waterline(math.Inf(1))
	for i := 0; i+1 < len(vs); i++ {
		const n = 32
		for k := 0; k <= n; k++ {
			uv := skin.UV{U: float64(fs), V: vs[i] + (vs[i+1]-vs[i])*float64(k)/n}
			p, _ := body.At(uv, skin.UV{U: uv.U, V: (vs[i] + vs[i+1]) / 2})
			hi, lo = max(hi, g.Waterline(p.Z)), min(lo, g.Waterline(p.Z))
		}
	}
	return hi, lo, true
}

// acrossAt returns the pieces of a waterline inside a closed outline.
func acrossAt(outline []g.SidePosition, wl g.Waterline) [][2]g.SidePosition {
	var xs []float64
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.WL > wl) != (b.WL > wl) {
			xs = append(xs, float64(a.FS)+float64(b.FS-a.FS)*float64(wl-a.WL)/float64(b.WL-a.WL))
		}
	}
	slices.Sort(xs)
	var out [][2]g.SidePosition
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, [2]g.SidePosition{{FS: g.Station(xs[i]), WL: wl}, {FS: g.Station(xs[i+1]), WL: wl}})
	}
	return out
}

// markings draws each marking as it falls on the skin.
func markings(l *layouts.Layout, laid []masks.Laid, v view, side g.Side) []Item {
	var out []Item
	for _, one := range laid {
		if one.Placement.Side == side && one.Placement.Face() == layouts.NoFace {
			out = append(out, painted(l, one, v.scale, func(p g.Position) g.Point { return v.at(float64(p.FS), float64(p.WL)) })...)
		}
	}
	return out
}

// seen returns a flat outline as chords of a picture: each chord is a hundredth
// of an inch of sheet or so.
func seen(m *skin.FlatMap, c g.Contour, scale float64, to func(g.Position) g.Point) []g.Point {
	var out []g.Point
	step := 0.015 / scale
	for i := range c.Segments {
		piece := g.Contour{Start: c.From(i), Segments: c.Segments[i : i+1]}
		n := max(1, int(math.Ceil(piece.Length()/step)))
		for k := 0; k < n; k++ {
			if pos, ok := m.PositionOf(c.At(i, float64(k)/float64(n))); ok {
				out = append(out, to(pos))
			}
		}
	}
	return out
}

// fittings draws obstacles, hardpoints and the ground line.
func fittings(l *layouts.Layout, v view, side g.Side, low float64) []Item {
	var out []Item
	a := l.Airframe
	on := func(s layouts.Sides) bool {
		for _, x := range s.List() {
			if x == side {
				return true
			}
		}
		return false
	}
	for _, o := range a.Spec.Obstacles {
		if !on(o.Side) {
			continue
		}
		c := v.at(float64(o.At.FS), float64(o.At.WL))
		switch o.Kind {
		case layouts.Ring, layouts.Spot:
			out = append(out, Item{Path: g.Path{g.Circle(c, o.Size.Inches()/2*v.scale)}, Ink: inkStructure})
			out = append(out, haloed(textAt(o.ID, 0.08, c.X, c.Y-o.Size.Inches()/2*v.scale-0.14, 0.5, inkTextSoft))...)
		case layouts.Opening:
			var corners []g.Point
			for _, q := range o.Points {
				corners = append(corners, v.at(float64(q.FS), float64(q.WL)))
			}
			out = append(out, Item{Path: g.Path{g.Polygon(corners...)}, Ink: inkStructure})
		}
	}
	for _, h := range a.Hardpoints(side) {
		c := v.at(float64(h.At.FS), float64(h.At.WL))
		const r = 0.07
		out = append(out, Item{Path: g.Path{
			g.Circle(c, r), g.Polyline(g.Point{X: c.X - 1.6*r, Y: c.Y}, g.Point{X: c.X + 1.6*r, Y: c.Y}),
			g.Polyline(g.Point{X: c.X, Y: c.Y - 1.6*r}, g.Point{X: c.X, Y: c.Y + 1.6*r}),
		}, Ink: inkPoint})
		out = append(out, haloed(textAt(h.ID, 0.12, c.X+side.Reading()*0.1, c.Y+0.1, (1-side.Reading())/2, inkTextPoint))...)
	}
	if gr := a.Spec.Ground; gr != nil {
		d := float64(gr.Tail.WL-gr.Main.WL) / float64(gr.Tail.FS-gr.Main.FS)
		p := g.SidePosition{FS: gr.Main.FS - 30, WL: gr.Main.WL.Plus(g.Length(-30 * d))}
		q := g.SidePosition{FS: gr.Tail.FS + 14, WL: gr.Tail.WL.Plus(g.Length(14 * d))}
		if float64(p.WL) < low-4 {
			p = g.SidePosition{FS: gr.Main.FS, WL: gr.Main.WL}
		}
		out = append(out, Item{Path: g.Path{line(v, p, q)}, Ink: inkDashed})
		if angle, ok := a.GroundAngle(); ok {
			at := v.at(float64(gr.Main.FS+gr.Tail.FS)/2, float64(gr.Main.WL+gr.Tail.WL)/2)
			out = append(out, textAt(fmt.Sprintf("ground line when parked, %.2f deg", angle*180/math.Pi), 0.1, at.X-side.Reading()*0.1, at.Y-0.3, (1-side.Reading())/2, inkTextSoft))
		}
	}
	return out
}
