package views

import (
	"cmp"
	"fmt"
	"slices"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Plan maps positions of the plan view to the sheet: nose up, seen from above or
// from below.
type Plan struct {
	Scale  float64
	Origin g.Point
	Fs0    float64
	Right  float64 // +1 where BL runs to the reader's right
}

func (v Plan) at(fs, bl float64) g.Point {
	return g.Point{X: v.Origin.X + float64(v.Right*bl*v.Scale), Y: v.Origin.Y - float64((fs-v.Fs0)*v.Scale)}
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

// ShowsFin tells whether a fin and rudder is worth a view of its own: there are flat
// surfaces, and something beside them.
func ShowsFin(l *layouts.Layout) bool {
	fins, others := false, len(l.Airframe.Spec.Profile) > 0
	for _, s := range l.Airframe.Spec.Surfaces {
		flat := s.Kind == layouts.Plate || s.Kind == layouts.Foil
		fins, others = fins || flat, others || !flat && s.Kind != layouts.Wing
	}
	return fins && others
}

// PlanView returns the wings and tailplanes seen square from above (upper face) or
// from below (lower face), nose up, with the markings of that face as they fall on
// the skin.
func PlanView(l *layouts.Layout, laid []masks.Laid, face layouts.Face, o ViewOptions) sheet.Sheet {
	v, s, shown, paints := planFrame(l, laid, face, o)
	word := "FROM ABOVE"
	if face == layouts.LowerFace {
		word = "FROM BELOW"
	}
	structure, painted := PlanStructure(l, v), planMarkings(l, shown, v)
	words := newViewLabels(s.window, painted, structure)
	fittings := v.fittings(l, face, words)
	words.cross(fittings)
	out := sheet.Sheet{
		Title: fmt.Sprintf("%s, %s face of the wings", l.Spec.Name, face), Width: s.width, Height: s.height,
		Layers: []sheet.Layer{
			{Name: "frame", Items: s.frame(l, paints, word, "nose up, level", o)},
			{Name: "stations and butt lines", Items: s.rulers(func(bl, fs float64) g.Point { return v.at(fs, bl) }, "BL, right positive", "FS")},
			{Name: "structure", Items: structure},
			{Name: "markings", Items: painted},
			{Name: "obstacles and hardpoints", Items: fittings},
		},
	}
	name := "names"
	if o.Dimensions {
		v.dimensions(l, shown, words)
		name = "dimensions and names"
	}
	v.names(l, face, words)
	out.Layers = append(out.Layers, sheet.Layer{Name: name, Items: words.items})
	return out
}

// planFrame lays out the sheet of a plan view: how positions map to it, the markings of
// the face, and what is in the key.
func planFrame(l *layouts.Layout, laid []masks.Laid, face layouts.Face, o ViewOptions) (Plan, viewSheet, []masks.Laid, []layouts.ColourSpec) {
	var pts []g.Point
	for _, s := range l.Airframe.Spec.Surfaces {
		for _, p := range append(append([]layouts.PlanPosition(nil), s.Span.Leading...), s.Span.Trailing...) {
			pts = append(pts, g.Point{X: p.BL.Inches(), Y: p.FS.Inches()}, g.Point{X: -p.BL.Inches(), Y: p.FS.Inches()})
		}
	}
	var shown []masks.Laid
	for _, one := range laid {
		if one.Placement.Face() == face {
			shown = append(shown, one)
		}
	}
	box, paints := g.BoundsOf(pts...), paintsSeen(l, shown)
	s := sheetWithKey(l.Spec.Sheets.Units, box, len(paints), o)
	s.plan = true
	v := Plan{Right: 1, Scale: s.scale, Fs0: box.Centre().Y, Origin: s.window.Centre()}
	if face == layouts.LowerFace {
		v.Right = -1
	}
	return v, s, shown, paints
}

// PlanAt returns where a position, FS and BL in inches, falls on the sheet that
// [PlanView] draws with the same arguments: inches of sheet, y up.
func PlanAt(l *layouts.Layout, laid []masks.Laid, face layouts.Face, o ViewOptions) func(fs, bl float64) g.Point {
	v, _, _, _ := planFrame(l, laid, face, o)
	return v.at
}

// PlanStructure draws the wings, what lies nearer to the eye over what lies beyond.
func PlanStructure(l *layouts.Layout, v Plan) []sheet.Item {
	var wings []layouts.SurfaceSpec
	for _, s := range l.Airframe.Spec.Surfaces {
		if s.Kind == layouts.Wing {
			wings = append(wings, s)
		}
	}
	slices.SortStableFunc(wings, func(a, b layouts.SurfaceSpec) int { return int(v.Right) * cmp.Compare(a.Span.WL, b.Span.WL) })
	var out []sheet.Item
	for _, s := range wings {
		for _, side := range []float64{1, -1} {
			pts := v.outline(s, side)
			outline := g.Path{g.Polygon(pts...)}
			out = append(out, sheet.Item{Path: outline, Ink: sheet.Ink{Fill: l.Spec.SkinColour(s.ID)}})
			for _, rib := range s.Span.Ribs {
				x := v.at(0, side*rib.Inches()).X
				for _, c := range upright(pts, x) {
					out = append(out, sheet.Item{Path: g.Path{g.Polyline(c[0], c[1])}, Ink: on(l.Spec.SkinColour(s.ID), inkStringer)})
				}
			}
			out = append(out, sheet.Item{Path: outline, Ink: inkOutline})
		}
	}
	return out
}

// outline returns the corners of a wing on one side, +1 for the right one.
func (v Plan) outline(s layouts.SurfaceSpec, side float64) []g.Point {
	var pts []g.Point
	for _, p := range s.Span.Leading {
		pts = append(pts, v.at(p.FS.Inches(), side*p.BL.Inches()))
	}
	for i := len(s.Span.Trailing) - 1; i >= 0; i-- {
		p := s.Span.Trailing[i]
		pts = append(pts, v.at(p.FS.Inches(), side*p.BL.Inches()))
	}
	return pts
}

// upright returns the pieces of a vertical line inside a closed outline.
func upright(pts []g.Point, x float64) [][2]g.Point {
	var turned []g.SidePosition
	for _, p := range pts {
		turned = append(turned, g.SidePosition{FS: g.Station(p.Y), WL: g.Waterline(p.X)})
	}
	var out [][2]g.Point
	for _, c := range AcrossAt(turned, g.Waterline(x)) {
		out = append(out, [2]g.Point{{X: x, Y: c[0].FS.Inches()}, {X: x, Y: c[1].FS.Inches()}})
	}
	return out
}

func planMarkings(l *layouts.Layout, laid []masks.Laid, v Plan) []sheet.Item {
	var out []sheet.Item
	for _, one := range laid {
		out = append(out, Painted(l, one, v.Scale, func(p g.Position) g.Point { return v.at(p.FS.Inches(), p.BL.Inches()) })...)
	}
	return out
}

// Painted draws the regions of a laid marking as they fall on the skin, in their
// paints.
func Painted(l *layouts.Layout, one masks.Laid, scale float64, to func(g.Position) g.Point) []sheet.Item {
	var out []sheet.Item
	for k, r := range one.Regions {
		var path g.Path
		for _, c := range r.Outline {
			if pts := seen(one.Map, c, scale, to); len(pts) > 2 {
				path = append(path, g.Polygon(pts...))
			}
		}
		fill := HexOf(l.Spec.Paint, r.Colour)
		if len(path) > 0 {
			out = append(out, sheet.Item{ID: fmt.Sprintf("%s-%d", one.ID(), k+1), Path: path, Ink: sheet.Ink{Fill: fill, Stroke: "#1a1a1a", Width: 0.004}})
		}
	}
	return out
}
