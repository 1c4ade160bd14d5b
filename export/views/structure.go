package views

import (
	"math"
	"slices"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
)

func line(v View, pts ...g.SidePosition) g.Contour {
	var out []g.Point
	for _, p := range pts {
		out = append(out, v.at(p.FS.Inches(), p.WL.Inches()))
	}
	return g.Polyline(out...)
}

// Structure draws the surfaces: outlines, longerons, stringers, sections, ribs,
// and the profile lines.
func Structure(l *layouts.Layout, edges [][]g.SidePosition, v View) []sheet.Item {
	var out []sheet.Item
	put := func(ink sheet.Ink, c ...g.Contour) { out = append(out, sheet.Item{Path: c, Ink: ink}) }
	for i, p := range l.Airframe.Spec.Profile {
		pts, ink := p.Points, inkOutline
		if p.Closed {
			pts = Closed(pts)
		}
		if within(l, i) {
			ink = on(l.Spec.ProfileColour(), InkStructure)
		}
		put(ink, line(v, pts...))
	}
	for i, s := range l.Airframe.Spec.Surfaces {
		skin := l.Spec.SkinColour(s.ID)
		put := func(ink sheet.Ink, c ...g.Contour) { put(on(skin, ink), c...) }
		switch s.Kind {
		case layouts.Wing: // seen in the plan view
		case layouts.Plate, layouts.Foil:
			for _, wl := range s.Ribs {
				for _, c := range AcrossAt(edges[i], wl) {
					put(inkStringer, line(v, c[0], c[1]))
				}
			}
			put(inkOutline, line(v, Closed(edges[i])...))
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
				put(InkStructure, line(v, pts...))
			}
			for k, name := range s.Lines {
				ink := inkStringer
				if hard[name] {
					ink = InkStructure
				}
				if k == 0 || k == len(s.Lines)-1 {
					ink = inkOutline
				}
				var pts []g.SidePosition
				for _, sec := range s.Sections {
					pts = append(pts, g.SidePosition{FS: sec.FS, WL: sec.Points[k].WL})
				}
				put(ink, line(v, pts...))
			}
		default: // a body given by sections or a scan
			for _, sec := range s.Sections {
				if top, low, ok := heights(l, s, sec.FS); ok {
					put(InkStructure, line(v, g.SidePosition{FS: sec.FS, WL: top}, g.SidePosition{FS: sec.FS, WL: low}))
				}
			}
			if len(edges[i]) > 0 {
				put(inkOutline, line(v, Closed(edges[i])...))
			}
		}
	}
	return out
}

// Closed returns a run of points with the first repeated at the end.
func Closed(pts []g.SidePosition) []g.SidePosition {
	return append(slices.Clone(pts), pts[0])
}

// within tells whether a line of the profile lies within another one: it is then no
// outline but a door or a window.
func within(l *layouts.Layout, i int) bool {
	ring := func(p layouts.ProfileSpec) []g.Point {
		var out []g.Point
		for _, q := range p.Points {
			out = append(out, g.Point{X: q.FS.Inches(), Y: q.WL.Inches()})
		}
		return out
	}
	all := l.Airframe.Spec.Profile
	for k, other := range all {
		if k == i || len(other.Points) < 3 {
			continue
		}
		outer := ring(other)
		if !slices.ContainsFunc(ring(all[i]), func(p g.Point) bool { return !g.Inside(p, outer) }) {
			return true
		}
	}
	return false
}

// SkinFill fills what is covered with the colours of the skin, so that white paint shows.
func SkinFill(l *layouts.Layout, edges [][]g.SidePosition, v View) []sheet.Item {
	var out []sheet.Item
	fill := func(pts []g.SidePosition, colour string) {
		if len(pts) > 2 {
			out = append(out, sheet.Item{Path: g.Path{line(v, Closed(pts)...)}, Ink: sheet.Ink{Fill: colour}})
		}
	}
	for _, p := range l.Airframe.Spec.Profile {
		fill(p.Points, l.Spec.ProfileColour())
	}
	for i, edge := range edges {
		fill(edge, l.Spec.SkinColour(l.Airframe.Spec.Surfaces[i].ID))
	}
	return out
}

// leastContrast is the least difference of lightness between a thin line and what it is
// drawn on (common practice, no source).
const leastContrast = 0.25

// on returns the ink of a line on a skin: darker or lighter where it would not show.
func on(skin string, ink sheet.Ink) sheet.Ink {
	l := lightness(skin)
	if math.Abs(lightness(ink.Stroke)-l) < leastContrast {
		ink.Stroke = "#39444a"
		if l < 0.5 {
			ink.Stroke = "#c9d1d5"
		}
	}
	return ink
}

// HookRadius is that of the circle drawn at a hardpoint, in inches; its cross reaches
// farther by the half and more.
const HookRadius = 0.07
