package export

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// plan maps positions of the plan view to the sheet: nose up, seen from above or
// from below.
type plan struct {
	scale  float64
	origin g.Point
	fs0    float64
	right  float64 // +1 where BL runs to the reader's right
}

func (v plan) at(fs, bl float64) g.Point {
	return g.Point{X: v.origin.X + v.right*bl*v.scale, Y: v.origin.Y - (fs-v.fs0)*v.scale}
}

// Shows tells what there is to draw: anything in a side view, wings in a plan view.
func Shows(l *layouts.Layout) (sides, wings bool) {
	sides = len(l.Airframe.Spec.Profile) > 0
	for _, s := range l.Airframe.Spec.Surfaces {
		wings = wings || s.Kind == layouts.Wing
		sides = sides || s.Kind != layouts.Wing
	}
	return sides, wings
}

// PlanView returns the wings and tailplanes seen square from above (upper face) or
// from below (lower face), nose up, with the markings of that face as they fall on
// the skin.
func PlanView(l *layouts.Layout, laid []masks.Laid, face layouts.Face) Sheet {
	const width, most = 17.0, 11.0
	var pts []g.Point
	for _, s := range l.Airframe.Spec.Surfaces {
		for _, p := range append(append([]layouts.PlanPosition(nil), s.Span.Leading...), s.Span.Trailing...) {
			pts = append(pts, g.Point{X: float64(p.BL), Y: float64(p.FS)}, g.Point{X: -float64(p.BL), Y: float64(p.FS)})
		}
	}
	box := g.BoundsOf(pts...)
	v := plan{right: 1, scale: 1 / drawingScales[len(drawingScales)-1]}
	if face == layouts.LowerFace {
		v.right = -1
	}
	for _, n := range drawingScales {
		if box.Width()/n <= width-2.6 && box.Height()/n <= most-3.4 {
			v.scale = 1 / n
			break
		}
	}
	height := box.Height()*v.scale + 3.2
	v.fs0 = box.Centre().Y
	v.origin = g.Point{X: width/2 + 0.3, Y: height/2 - 0.1}
	word := "FROM ABOVE, nose up"
	if face == layouts.LowerFace {
		word = "FROM BELOW, nose up"
	}
	return Sheet{
		Title: fmt.Sprintf("%s, %s face of the wings", l.Spec.Name, face), Width: width, Height: height,
		Layers: []Layer{
			{Name: "frame", Items: sheetFrame(l, word, v.scale, width, height)},
			{Name: "stations and butt lines", Items: planRulers(v, box)},
			{Name: "structure", Items: planStructure(l, v)},
			{Name: "markings", Items: planMarkings(l, laid, v, face)},
		},
	}
}

func planRulers(v plan, box g.Rect) []Item {
	step := 10.0
	for step*v.scale < 0.45 {
		step *= 2
	}
	b := box.Grown(4)
	var out []Item
	for bl := math.Ceil(b.Min.X/step) * step; bl <= b.Max.X; bl += step {
		p, q := v.at(b.Max.Y, bl), v.at(b.Min.Y, bl)
		out = append(out, Item{Path: g.Path{g.Polyline(p, q)}, Ink: inkGrid}, textAt(g.FormatNumber(bl, 0), 0.11, p.X, p.Y-0.2, 0.5, inkTextSoft))
	}
	for fs := math.Ceil(b.Min.Y/step) * step; fs <= b.Max.Y; fs += step {
		p, q := v.at(fs, b.Min.X), v.at(fs, b.Max.X)
		if p.X > q.X {
			p, q = q, p
		}
		out = append(out, Item{Path: g.Path{g.Polyline(p, q)}, Ink: inkGrid}, textAt(g.FormatNumber(fs, 0), 0.11, p.X-0.1, p.Y-0.055, 1, inkTextSoft))
	}
	low := v.at(b.Max.Y, 0)
	left := math.Min(v.at(0, b.Min.X).X, v.at(0, b.Max.X).X)
	return append(out, textAt("BL, inches, right positive", 0.11, low.X, low.Y-0.42, 0.5, inkTextSoft),
		textAt("FS, inches", 0.11, left-0.55, v.at(b.Min.Y, 0).Y+0.06, 0, inkTextSoft))
}

func planStructure(l *layouts.Layout, v plan) []Item {
	var out []Item
	for _, s := range l.Airframe.Spec.Surfaces {
		if s.Kind != layouts.Wing {
			continue
		}
		for _, side := range []float64{1, -1} {
			var pts []g.Point
			for _, p := range s.Span.Leading {
				pts = append(pts, v.at(float64(p.FS), side*float64(p.BL)))
			}
			for i := len(s.Span.Trailing) - 1; i >= 0; i-- {
				p := s.Span.Trailing[i]
				pts = append(pts, v.at(float64(p.FS), side*float64(p.BL)))
			}
			outline := g.Path{g.Polygon(pts...)}
			out = append(out, Item{Path: outline, Ink: inkSkin})
			for _, rib := range s.Span.Ribs {
				x := v.at(0, side*float64(rib)).X
				for _, c := range upright(pts, x) {
					out = append(out, Item{Path: g.Path{g.Polyline(c[0], c[1])}, Ink: inkStringer})
				}
			}
			out = append(out, Item{Path: outline, Ink: inkOutline})
		}
	}
	return out
}

// upright returns the pieces of a vertical line inside a closed outline.
func upright(pts []g.Point, x float64) [][2]g.Point {
	var turned []g.SidePosition
	for _, p := range pts {
		turned = append(turned, g.SidePosition{FS: g.Station(p.Y), WL: g.Waterline(p.X)})
	}
	var out [][2]g.Point
	for _, c := range acrossAt(turned, g.Waterline(x)) {
		out = append(out, [2]g.Point{{X: x, Y: float64(c[0].FS)}, {X: x, Y: float64(c[1].FS)}})
	}
	return out
}

func planMarkings(l *layouts.Layout, laid []masks.Laid, v plan, face layouts.Face) []Item {
	var out []Item
	for _, one := range laid {
		if one.Placement.Face() == face {
			out = append(out, painted(l, one, v.scale, func(p g.Position) g.Point { return v.at(float64(p.FS), float64(p.BL)) })...)
		}
	}
	return out
}

// painted draws the regions of a laid marking as they fall on the skin, in their
// paints.
func painted(l *layouts.Layout, one masks.Laid, scale float64, to func(g.Position) g.Point) []Item {
	hex := map[string]string{}
	for _, c := range l.Spec.Paint.Colours {
		hex[c.ID] = strings.ToLower(c.Hex)
	}
	var out []Item
	for k, r := range one.Regions {
		var path g.Path
		for _, c := range r.Outline {
			if pts := seen(one.Map, c, scale, to); len(pts) > 2 {
				path = append(path, g.Polygon(pts...))
			}
		}
		fill := hex[r.Colour]
		if fill == "" {
			fill = "#9aa0a3"
		}
		if len(path) > 0 {
			out = append(out, Item{ID: fmt.Sprintf("%s-%d", one.ID(), k+1), Path: path, Ink: Ink{Fill: fill, Stroke: "#1a1a1a", Width: 0.004}})
		}
	}
	return out
}

// sheetFrame draws the border, the title, and the cautions.
func sheetFrame(l *layouts.Layout, word string, scale, width, height float64) []Item {
	out := []Item{{Path: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: 0.35, Y: 0.35}, Max: g.Point{X: width - 0.35, Y: height - 0.35}})}, Ink: Ink{Stroke: "#1a1a1a", Width: 0.012}}}
	title, _ := glyphs.Label(l.Spec.Name, 0.2, true)
	out = append(out, Item{Path: title.Moved(g.Vec{X: 0.6, Y: height - 0.8}), Ink: inkText})
	out = append(out, textAt(word+", level", 0.15, width-0.6, height-0.78, 1, inkText))
	out = append(out, textAt(fmt.Sprintf("scale 1:%s on a sheet of %s x %s in", g.FormatNumber(1/scale, 0), g.FormatNumber(width, 1), g.FormatNumber(height, 1)), 0.11, width-0.6, height-1.05, 1, inkTextSoft))
	out = append(out, textAt(l.Airframe.Spec.Name, 0.11, 0.6, height-1.05, 0, inkTextSoft))
	return append(out, textAt("Layout aid, not approved data. A picture: do not scale or cut from it.", 0.1, 0.6, 0.52, 0, inkTextSoft))
}
