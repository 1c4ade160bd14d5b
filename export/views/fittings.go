package views

import (
	"fmt"
	"math"
	"slices"

	"maskloft/export/sheet"
	"maskloft/geometry/same"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// fittings draws obstacles, hardpoints, level pegs and the ground, and keeps their
// places clear of words.
func (d *sideDrawing) fittings(s viewSheet, words *viewLabels) []sheet.Item {
	var out []sheet.Item
	put := func(ink sheet.Ink, box g.Rect, path ...g.Contour) bool {
		if !s.window.Contains(box.Min) || !s.window.Contains(box.Max) {
			return false
		}
		out = append(out, edged(ink, path...)...)
		return true
	}
	for _, o := range d.l.Airframe.Spec.Obstacles {
		if o.OnWing || !slices.Contains(o.Side.List(), d.side) {
			continue
		}
		c := d.v.at(o.At.FS.Inches(), o.At.WL.Inches())
		switch r := o.Size.Inches() / 2 * d.v.Scale; o.Kind {
		case layouts.Ring, layouts.Spot:
			if box := g.BoundsOf(c).Grown(r); put(InkStructure, box, g.Circle(c, r)) {
				words.keep(c, box)
			}
		case layouts.Opening:
			corners := d.corners(o)
			put(InkStructure, g.BoundsOf(corners...), g.Polygon(corners...))
		}
	}
	for _, h := range d.l.Airframe.Hardpoints(d.side) {
		c := d.to(h.At)
		if box := g.BoundsOf(c).Grown(1.6 * HookRadius); put(sheet.InkPoint, box, hookSymbol(c)...) {
			words.keep(c, box)
		}
	}
	for _, p := range d.l.Airframe.Spec.LevelPegs {
		if !slices.Contains(p.Side.List(), d.side) {
			continue
		}
		c := d.v.at(p.At.FS.Inches(), p.At.WL.Inches())
		if box := g.BoundsOf(c).Grown(1.6 * pegHalf); put(sheet.InkPoint, box, pegSymbol(c)...) {
			words.keep(c, box)
		}
	}
	if gr := d.l.Airframe.Spec.Ground; gr != nil && d.ground {
		out = append(out, d.groundLine(gr, s)...)
	}
	return out
}

// hookSymbol is a circle with a cross through it, at a hardpoint.
func hookSymbol(c g.Point) g.Path {
	const r = 1.6 * HookRadius
	return g.Path{g.Circle(c, HookRadius), g.Polyline(g.Point{X: c.X - r, Y: c.Y}, g.Point{X: c.X + r, Y: c.Y}), g.Polyline(g.Point{X: c.X, Y: c.Y - r}, g.Point{X: c.X, Y: c.Y + r})}
}

// pegHalf is half the width of the symbol of a level peg, in inches.
const pegHalf = 0.05

// pegSymbol is a triangle that points up to a level peg.
func pegSymbol(c g.Point) g.Path {
	low := c.Y - 1.6*pegHalf
	return g.Path{g.Polygon(c, g.Point{X: c.X + pegHalf, Y: low}, g.Point{X: c.X - pegHalf, Y: low})}
}

// inkTapeEdge is that of the edges of finishing tapes.
var inkTapeEdge = sheet.Ink{Stroke: "#b09f7e", Width: 0.005, Dash: []float64{0.03, 0.02}}

// tapes draws the edges of the finishing tapes: along a line, half the width to either
// side of it in the planes of the sections; round a station, at its two stations.
func (d *sideDrawing) tapes() []sheet.Item {
	var out []sheet.Item
	for _, o := range d.l.Airframe.Spec.Obstacles {
		s, ok := d.l.Airframe.SurfaceSpec(o.Surface)
		if !ok || !slices.Contains(o.Side.List(), d.side) {
			continue
		}
		half := o.Size.Inches() / 2
		switch k := slices.Index(s.Lines, o.Line); {
		case o.Kind == layouts.Around:
			for _, fs := range []g.Station{o.At.FS.Plus(g.Length(-half)), o.At.FS.Plus(g.Length(half))} {
				if len(s.Sections) > 1 && fs > s.Sections[0].FS && fs < s.Sections[len(s.Sections)-1].FS {
					if hi, lo, ok := heights(d.l, s, fs); ok {
						out = append(out, sheet.Item{Path: g.Path{line(d.v, g.SidePosition{FS: fs, WL: hi}, g.SidePosition{FS: fs, WL: lo})}, Ink: inkTapeEdge})
					}
				}
			}
		case o.Kind == layouts.FinishingTape && k >= 0 && s.Kind == layouts.Stringers:
			for _, next := range []int{k - 1, k + 1} {
				if next < 0 || next >= len(s.Lines) {
					continue
				}
				var pts []g.SidePosition
				for _, sec := range s.Sections {
					p, q := sec.Points[k], sec.Points[next]
					reach := same.Hypot(float64(q.BL-p.BL), float64(q.WL-p.WL))
					if reach < half {
						continue // the tape covers the bay
					}
					pts = append(pts, g.SidePosition{FS: sec.FS, WL: p.WL.Plus(g.Length(float64(q.WL-p.WL) * half / reach))})
				}
				if len(pts) > 1 {
					out = append(out, sheet.Item{Path: g.Path{line(d.v, pts...)}, Ink: inkTapeEdge})
				}
			}
		}
	}
	return out
}

// corners returns those of an opening.
func (d *sideDrawing) corners(o layouts.ObstacleSpec) []g.Point {
	out := o.Corners()
	for i, q := range out {
		out[i] = d.v.at(q.X, q.Y)
	}
	return out
}

// groundLine draws the line through the wheels' contacts: dashed in the level view, as
// the floor in the parked one.
func (d *sideDrawing) groundLine(gr *layouts.GroundSpec, s viewSheet) []sheet.Item {
	main, tail := d.v.at(gr.Main.FS.Inches(), gr.Main.WL.Inches()), d.v.at(gr.Tail.FS.Inches(), gr.Tail.WL.Inches())
	dir := tail.Sub(main).Unit()
	ends, ok := sheet.ClipChord([2]g.Point{main.Add(dir.Scale(-100)), tail.Add(dir.Scale(100))}, s.window)
	if !ok {
		return nil
	}
	var wheels g.Path
	for _, c := range []g.Point{main, tail} {
		up := dir.Perp()
		if up.Y < 0 {
			up = up.Scale(-1)
		}
		wheels = append(wheels, g.Polyline(c.Add(up.Scale(0.16)), c.Add(up.Scale(-0.08))))
	}
	out := []sheet.Item{{Path: wheels, Ink: InkStructure}}
	if d.v.turn == nil {
		return append(out, sheet.Item{Path: g.Path{g.Polyline(ends[0], ends[1])}, Ink: inkDashed})
	}
	var hatch g.Path
	for x := s.window.Min.X + 0.15; x < s.window.Max.X; x += 0.15 {
		hatch = append(hatch, g.Polyline(g.Point{X: x, Y: main.Y - 0.01}, g.Point{X: x - 0.08, Y: main.Y - 0.09}))
	}
	return append(out, sheet.Item{Path: hatch, Ink: inkStringer}, sheet.Item{Path: g.Path{g.Polyline(ends[0], ends[1])}, Ink: inkOutline})
}

// heights draws the rule of heights above the floor at the right of a parked view.
func (d *sideDrawing) heights(s viewSheet) []sheet.Item {
	step := s.step()
	t := d.v.turn.main
	floor := d.v.at(t.FS.Inches(), t.WL.Inches()).Y
	x := s.window.Max.X
	rule := g.Path{g.Polyline(g.Point{X: x, Y: floor}, g.Point{X: x, Y: s.window.Max.Y})}
	var out []sheet.Item
	for h := 0.0; floor+float64(h*s.scale) <= s.window.Max.Y; h += step {
		y := floor + float64(h*s.scale)
		rule = append(rule, g.Polyline(g.Point{X: x - 0.08, Y: y}, g.Point{X: x, Y: y}))
		out = append(out, lettered(s.units.Number(g.Length(h), 0), 0.11, x+0.06, y-0.055, 0, sheet.InkText))
	}
	out = append(out, lettered("above the floor", 0.11, s.width-viewBorder-0.1, s.window.Max.Y+0.14, 1, sheet.InkText))
	return append(out, sheet.Item{Path: rule, Ink: InkStructure})
}

// names sets the names of lines, hardpoints, obstacles, pegs and the ground line.
func (d *sideDrawing) names(s viewSheet, words *viewLabels) {
	inside := func(p g.Point) bool { return s.window.Contains(p) }
	for _, sf := range d.l.Airframe.Spec.Surfaces {
		for k := 1; k+1 < len(sf.Lines); k++ {
			sec := sf.Sections[0]
			if c := d.v.at(sec.FS.Inches(), sec.Points[k].WL.Inches()); inside(c) {
				words.beside(sf.Lines[k], 0.1, c, -d.side.Reading(), sheet.InkTextSoft)
			}
		}
	}
	for _, h := range d.l.Airframe.Hardpoints(d.side) {
		if c := d.to(h.At); inside(c) {
			words.word(h.ID, 0.12, c, HookRadius, sheet.InkTextPoint)
		}
	}
	for _, p := range d.l.Airframe.Spec.LevelPegs {
		if c := d.v.at(p.At.FS.Inches(), p.At.WL.Inches()); inside(c) && slices.Contains(p.Side.List(), d.side) {
			words.word(p.ID, 0.1, c, 0.05, sheet.InkTextPoint)
		}
	}
	for _, o := range d.l.Airframe.Spec.Obstacles {
		if o.OnWing || !slices.Contains(o.Side.List(), d.side) {
			continue
		}
		switch o.Kind {
		case layouts.Ring, layouts.Spot:
			if c := d.v.at(o.At.FS.Inches(), o.At.WL.Inches()); inside(c) {
				words.word(o.ID, 0.1, c, o.Size.Inches()/2*d.v.Scale, sheet.InkTextSoft)
			}
		case layouts.Opening:
			corners := d.corners(o)
			if b := g.BoundsOf(corners...); inside(b.Min) && inside(b.Max) {
				words.word(o.ID, 0.1, b.Centre(), b.Height()/2, sheet.InkTextSoft)
			}
		}
	}
	gr := d.l.Airframe.Spec.Ground
	if gr == nil || !d.ground {
		return
	}
	for _, w := range []struct {
		name string
		at   g.SidePosition
	}{{"main wheel", gr.Main}, {"tail wheel", gr.Tail}} {
		if c := d.v.at(w.at.FS.Inches(), w.at.WL.Inches()); inside(c) {
			words.word(fmt.Sprintf("%s, FS %s, WL %s", w.name, s.units.Number(g.Length(w.at.FS), 2), s.units.Number(g.Length(w.at.WL), 2)), 0.1, c, 0.1, sheet.InkTextSoft)
		}
	}
	if angle, ok := d.l.Airframe.GroundAngle(); ok && d.v.turn == nil {
		mid := d.v.at(float64(gr.Main.FS+gr.Tail.FS)/2, float64(gr.Main.WL+gr.Tail.WL)/2)
		words.word(fmt.Sprintf("ground line when parked, %.2f deg", angle*180/math.Pi), 0.1, mid, 0.1, sheet.InkTextSoft)
	}
}
