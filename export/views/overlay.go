package views

import (
	"fmt"
	"math"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// overlay is a picture being drawn over: inches of its sheet are pixels over
// [overlayDPI], so that an SVG of the sheet has the picture's pixels for units.
type overlay struct {
	l             *layouts.Layout
	v             layouts.PhotoView
	width, height float64 // pixels
	unit          float64 // sheet inches of what would be an inch on a picture 12 in wide
}

const overlayDPI = 96

// Inks of an overlay: light lines with a dark edge are seen on any picture.
var (
	overlayEdge = "#10181c"
	overlayInks = map[lineKind]sheet.Ink{
		outlineLine:   {Stroke: "#ffe14d", Width: 0.018},
		structureLine: {Stroke: "#ffe14d", Width: 0.011},
		stringerLine:  {Stroke: "#8fdcff", Width: 0.010},
		profileLine:   {Stroke: "#ffffff", Width: 0.008, Dash: []float64{0.06, 0.045}},
	}
	overlayPoint  = sheet.Ink{Stroke: "#ff5a36", Width: 0.012}
	overlaySeen   = sheet.Ink{Stroke: "#ffffff", Width: 0.012}
	overlayVector = sheet.Ink{Stroke: "#ff3df2", Width: 0.014}
)

// Names of the layers of [Overlay].
const (
	overlayPaint = "markings"
	overlayLines = "structure"
)

// residualScale returns by how much residuals are enlarged: as much as keeps the
// longest within a twentieth of the picture.
func (o overlay) residualScale() float64 {
	longest := 0.0
	for _, d := range o.v.Fit.Left {
		longest = math.Max(longest, d.Norm())
	}
	scale := 1.0
	for _, k := range []float64{2, 5, 10, 20, 50, 100} {
		if k*longest <= math.Max(o.width, o.height)/20 {
			scale = k
		}
	}
	return scale
}

// Overlay returns the drawing to lay over a photograph of so many pixels: the
// structure and the markings as its camera sees them, parts that skin hides left
// out; the hardpoints; and at each point of the fit where it was seen (ring), where
// the camera has it (cross), and what is left between, enlarged.
func Overlay(l *layouts.Layout, laid []masks.Laid, v layouts.PhotoView, width, height int) sheet.Sheet {
	o := overlay{l: l, v: v, width: float64(width), height: float64(height)}
	o.unit = math.Max(o.width, o.height) / overlayDPI / 12
	s := sheet.Sheet{Title: fmt.Sprintf("%s, over photo %s", l.Spec.Name, v.Photo.ID), Width: o.width / overlayDPI, Height: o.height / overlayDPI}
	labels := &labelling{sheet: g.Rect{Max: g.Point{X: s.Width, Y: s.Height}}}
	marks := append(o.points(labels), o.hardpoints(labels)...)
	s.Layers = []sheet.Layer{
		{Name: overlayPaint, Items: o.markings(laid)},
		{Name: overlayLines, Items: o.structure()},
		{Name: "points and residuals", Items: marks},
		{Name: "labels", Items: append(labels.items, o.legend()...)},
	}
	return s
}

// at returns where a position falls on the sheet; false behind the camera or far
// outside the picture.
func (o overlay) at(p g.Vec3) (g.Point, bool) {
	q, ok := o.v.Fit.Camera.Project(g.PositionOf(p))
	return o.onSheet(q), ok && math.Abs(q.X-o.width/2) < 2*o.width && math.Abs(q.Y-o.height/2) < 2*o.height
}

// onSheet carries a pixel to the sheet: the centre of the upper left pixel is half a
// pixel from both edges.
func (o overlay) onSheet(pixel g.Point) g.Point {
	return g.Point{X: (pixel.X + 0.5) / overlayDPI, Y: (o.height - pixel.Y - 0.5) / overlayDPI}
}

// ink returns an ink with its widths for this picture.
func (o overlay) ink(k sheet.Ink) sheet.Ink {
	k.Width *= o.unit
	dash := k.Dash
	k.Dash = nil
	for _, d := range dash {
		k.Dash = append(k.Dash, d*o.unit)
	}
	return k
}

// edged returns lines with a dark edge beneath.
func (o overlay) edged(path g.Path, k sheet.Ink) []sheet.Item {
	if len(path) == 0 {
		return nil
	}
	under := k
	under.Stroke, under.Dash = overlayEdge, nil
	under.Width += 0.006
	out := []sheet.Item{{Path: path, Ink: o.ink(under)}, {Path: path, Ink: o.ink(k)}}
	if len(k.Dash) > 0 {
		return out[1:]
	}
	return out
}

// structure draws the lines of all surfaces that are seen: thin ones first.
func (o overlay) structure() []sheet.Item {
	eye := o.v.Eye()
	paths := map[lineKind]g.Path{}
	for _, line := range structureLines(o.l, o.v.Skins, eye) {
		paths[line.kind] = append(paths[line.kind], o.seenRuns(line)...)
	}
	var out []sheet.Item
	for _, k := range []lineKind{profileLine, stringerLine, structureLine, outlineLine} {
		out = append(out, o.edged(paths[k], overlayInks[k])...)
	}
	return out
}

// offSkin is how far off the skin, in inches, a point is taken when it is asked what
// hides it: more than the triangles it is held against stand out of a hollow skin.
const offSkin = 0.15

// seenRuns returns the runs of a line that are seen.
func (o overlay) seenRuns(line sightLine) g.Path {
	var out g.Path
	var run []g.Point
	end := func() {
		if len(run) > 1 && run[0].Dist(run[len(run)-1]) > 10*sheet.HairOpen {
			out = append(out, g.Polyline(run...))
		} else if len(run) > 3 { // it closes on itself
			out = append(out, g.Polygon(run[:len(run)-1]...))
		}
		run = nil
	}
	for _, p := range line.points {
		q, ok := o.at(p.at)
		if !ok || !p.faces || line.kind != profileLine && layouts.Hidden(o.v.Skins, o.v.Eye(), p.at.Add(p.out.Scale(offSkin))) {
			end()
			continue
		}
		run = append(run, q)
	}
	end()
	return out
}

// markings draws the paint of each marking where it is seen.
func (o overlay) markings(laid []masks.Laid) []sheet.Item {
	var out []sheet.Item
	for _, one := range laid {
		visible, all := o.visible(one)
		if !all && len(visible) == 0 {
			continue
		}
		scale := o.v.Fit.Camera.Focal / math.Max(1, o.v.Fit.Camera.Depth(one.Placement.Anchor)) / overlayDPI
		for k, r := range one.Regions {
			outline := r.Outline
			if !all {
				cut, err := g.Intersect(outline, visible)
				if err != nil { // it is drawn whole: a picture, not a measure
					cut = outline
				}
				outline = cut
			}
			var path g.Path
			for _, c := range outline {
				if pts := seen(one.Map, c, scale, func(p g.Position) g.Point { q, _ := o.at(p.Vec()); return q }); len(pts) > 2 {
					path = append(path, g.Polygon(pts...))
				}
			}
			if len(path) > 0 {
				out = append(out, sheet.Item{ID: fmt.Sprintf("%s-%d", one.ID(), k+1), Path: path, Ink: o.ink(sheet.Ink{Fill: HexOf(o.l.Spec.Paint, r.Colour), Stroke: "#1a1a1a", Width: 0.004})})
			}
		}
	}
	return out
}

// visible returns the part of a marking's flat that is seen, or that all of it is.
func (o overlay) visible(one masks.Laid) (part g.Path, all bool) {
	on, eye := one.Map.Surface(), o.v.Eye()
	return visiblePart(one.Painted.Bounds(), func(p g.Point) bool {
		uv, ok := one.Map.ToSkin(p)
		if !ok {
			return false
		}
		at, n := on.At(uv, uv)
		if _, ok := o.at(at); !ok {
			return false
		}
		return n.Dot(eye.Sub(at)) > 0 && !layouts.Hidden(o.v.Skins, eye, at.Add(n.Scale(offSkin)))
	})
}

// points draws the points of the fit.
func (o overlay) points(labels *labelling) []sheet.Item {
	var out []sheet.Item
	r, enlarged := 0.07*o.unit, o.residualScale()
	for i, s := range o.v.Fit.Sights {
		seen := o.onSheet(s.Pixel)
		computed, ok := o.at(s.At.Vec())
		if !ok {
			continue
		}
		labels.keepClear(g.Rect{Min: seen, Max: seen}.Grown(r))
		out = append(out, o.edged(g.Path{g.Circle(seen, r)}, overlaySeen)...)
		out = append(out, o.edged(cross(computed, r), overlayPoint)...)
		left := o.v.Fit.Left[i]
		if tip := computed.Add(g.Vec{X: left.X, Y: -left.Y}.Scale(enlarged / overlayDPI)); tip.Dist(computed) > 0.02*o.unit {
			out = append(out, o.edged(g.Path{g.Polyline(computed, tip)}, overlayVector)...)
			labels.keepClear(g.BoundsOf(computed, tip))
		}
	}
	for i, s := range o.v.Fit.Sights {
		ink := sheet.InkTextPoint
		if i == o.v.Fit.Suspect {
			ink = sheet.Ink{Fill: "#d000c4"}
		}
		labels.put(pointWord(i, s.Name), o.onSheet(s.Pixel), r, 0.12*o.unit, ink)
	}
	return out
}

// hardpoints draws those that took no part in the fit and are seen.
func (o overlay) hardpoints(labels *labelling) []sheet.Item {
	used := map[string]bool{}
	for _, p := range o.v.Photo.Points {
		used[p.Hardpoint+p.Side.String()] = true
	}
	var out []sheet.Item
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range o.l.Airframe.Hardpoints(side) {
			q, ok := o.at(h.At.Vec())
			if !ok || used[h.ID+side.String()] || !labels.sheet.Contains(q) || layouts.Hidden(o.v.Skins, o.v.Eye(), h.At.Vec()) {
				continue
			}
			r := 0.05 * o.unit
			out = append(out, o.edged(cross(q, r), overlayPoint)...)
			name := h.ID
			if side != o.v.Photo.Side {
				name += ", " + side.String()
			}
			labels.put(name, q, r, 0.1*o.unit, sheet.InkTextPoint)
		}
	}
	return out
}

// pointWord is the label of a point: its number in the table, and its name if that is
// short.
func pointWord(i int, name string) string {
	if len(name) > 14 {
		return fmt.Sprintf("%d", i+1)
	}
	return fmt.Sprintf("%d %s", i+1, name)
}

func cross(c g.Point, r float64) g.Path {
	return g.Path{
		g.Polyline(g.Point{X: c.X - float64(1.4*r), Y: c.Y}, g.Point{X: c.X + float64(1.4*r), Y: c.Y}),
		g.Polyline(g.Point{X: c.X, Y: c.Y - float64(1.4*r)}, g.Point{X: c.X, Y: c.Y + float64(1.4*r)}),
	}
}

// legend says what is drawn, at the lower left corner.
func (o overlay) legend() []sheet.Item {
	c := o.v.Fit.Camera
	u := o.l.Spec.Sheets.Units
	_, bl, _ := o.v.Fit.Sigma()
	lines := []string{
		fmt.Sprintf("photo %s: camera at %s, BL plus or minus %s; focal length %s px", o.v.Photo.ID, positionWord(u, c.At), u.Length(bl, 1), g.FormatNumber(c.Focal, 0)),
		fmt.Sprintf("ring: seen; cross: where the camera has it; magenta: what is left, %.0f times. Evidence with an interval: do not scale from it.", o.residualScale()),
	}
	var out []sheet.Item
	cap, wide := 0.1*o.unit, 0.0
	for i, s := range lines {
		text := TextAt(s, cap, 0.15*o.unit, (0.12+float64(0.18*float64(len(lines)-1-i)))*o.unit, 0, sheet.Ink{Fill: "#1a1a1a"})
		wide = math.Max(wide, text.Path.Bounds().Max.X)
		out = append(out, text)
	}
	back := g.Rectangle(g.Rect{Max: g.Point{X: wide + float64(0.1*o.unit), Y: (float64(0.18*float64(len(lines))) + 0.12) * o.unit}})
	return append([]sheet.Item{{Path: g.Path{back}, Ink: sheet.Ink{Fill: "#ffffff"}}}, out...)
}

func positionWord(u g.Units, p g.Position) string {
	return fmt.Sprintf("FS %s BL %s WL %s", u.Number(g.Length(p.FS), 0), u.Number(g.Length(p.BL), 0), u.Number(g.Length(p.WL), 0))
}
