package views

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// lineKind says how a line of the structure is drawn.
type lineKind int

const (
	stringerLine  lineKind = iota // stringers, ribs, crown and keel of smooth bodies
	structureLine                 // longerons and sections
	outlineLine                   // what bounds a surface, or where it turns from the eye
	profileLine                   // lines of the side view, taken on BL 0
)

// sightLine is a line on the aircraft, as points near one another.
type sightLine struct {
	kind   lineKind
	points []sightPoint
}

// sightPoint is a point of a line; faces tells whether the skin there is turned to
// the eye, and out is its outward normal then, where there is one.
type sightPoint struct {
	at    g.Vec3
	faces bool
	out   g.Vec3
}

// facing looks at a point of a skin in the panels that hold any of in: it faces the
// eye where one of them does.
func facing(s layouts.Skin, uv skin.UV, eye g.Vec3, in ...skin.UV) sightPoint {
	var out sightPoint
	for _, panel := range in {
		p, n := s.Surface.At(uv, panel)
		out.at = p
		if n.Dot(eye.Sub(p)) > 0 && !out.faces {
			out.faces, out.out = true, n
		}
	}
	return out
}

// lineStep is the distance of points along a line of the structure, in inches.
const lineStep = 1.0

// structureLines returns the lines of the structure in space, and where smooth bodies
// turn from the eye.
func structureLines(l *layouts.Layout, skins []layouts.Skin, eye g.Vec3) []sightLine {
	var out []sightLine
	for _, p := range l.Airframe.Spec.Profile {
		pts := p.Points
		if p.Closed {
			pts = Closed(pts)
		}
		out = append(out, sightLine{profileLine, alongPlane(pts, 0, true)})
	}
	for _, s := range skins {
		spec, _ := l.Airframe.SurfaceSpec(s.On)
		switch s.Kind {
		case layouts.Plate:
			bl := float64(spec.Thickness.Inches() / 2 * s.Side.Sign())
			faces := s.Side.Sign()*(eye.Y-bl) > 0
			out = append(out, sightLine{outlineLine, alongPlane(Closed(spec.Outline), bl, faces)})
			for _, wl := range spec.Ribs {
				for _, c := range AcrossAt(spec.Outline, wl) {
					out = append(out, sightLine{stringerLine, alongPlane(c[:], bl, faces)})
				}
			}
		case layouts.Foil:
			if s.Side == g.Left { // its edges lie on BL 0 and belong to both sides
				out = append(out, sightLine{outlineLine, alongPlane(Closed(foilOutline(spec)), 0, true)})
			}
			for _, wl := range spec.Ribs {
				out = append(out, chordLine(s, eye, func(u float64) skin.UV { return skin.UV{U: u, V: wl.Inches()} }))
			}
		case layouts.Wing:
			if s.Face == layouts.UpperFace {
				out = append(out, wingOutline(s, spec))
			}
			for _, bl := range spec.Span.Ribs {
				out = append(out, chordLine(s, eye, func(u float64) skin.UV { return skin.UV{U: u, V: bl.Inches() * s.Side.Sign()} }))
			}
		default:
			out = append(out, bodyLines(s, spec, eye)...)
		}
	}
	return out
}

// alongPlane returns a polyline of the side view in the plane of a butt line.
func alongPlane(pts []g.SidePosition, bl float64, faces bool) []sightPoint {
	var out []sightPoint
	vec := func(p g.SidePosition) g.Vec3 { return g.Vec3{X: p.FS.Inches(), Y: bl, Z: p.WL.Inches()} }
	for i := 0; i+1 < len(pts); i++ {
		a, b := vec(pts[i]), vec(pts[i+1])
		n := g.Steps(b.Sub(a).Norm(), lineStep)
		for k := range n {
			out = append(out, sightPoint{at: a.Lerp(b, float64(k)/float64(n)), faces: faces})
		}
	}
	return append(out, sightPoint{at: vec(pts[len(pts)-1]), faces: faces})
}

// chordLine returns a line of a lifting surface from its leading to its trailing edge.
func chordLine(s layouts.Skin, eye g.Vec3, at func(u float64) skin.UV) sightLine {
	out := sightLine{kind: stringerLine}
	lo, hi := skin.Extent(s.Surface)
	n := max(2, g.Steps(hi-lo, lineStep))
	for k := 0; k <= n; k++ {
		if uv := at(lo + (hi-lo)*float64(k)/float64(n)); s.Surface.Contains(uv) {
			out.points = append(out.points, facing(s, uv, eye, uv))
		}
	}
	return out
}

// wingOutline returns the edges of one side of a wing.
func wingOutline(s layouts.Skin, spec layouts.SurfaceSpec) sightLine {
	var plan []g.Point // FS, BL outwards
	for _, p := range spec.Span.Leading {
		plan = append(plan, g.Point{X: p.FS.Inches(), Y: p.BL.Inches()})
	}
	trailing := spec.Span.Trailing
	forward := spec.Span.Leading[0].BL < spec.Span.Leading[len(spec.Span.Leading)-1].BL
	for i := range trailing {
		p := trailing[i]
		if (trailing[0].BL < trailing[len(trailing)-1].BL) == forward {
			p = trailing[len(trailing)-1-i]
		}
		plan = append(plan, g.Point{X: p.FS.Inches(), Y: p.BL.Inches()})
	}
	plan = append(plan, plan[0])
	out := sightLine{kind: outlineLine}
	for i := 0; i+1 < len(plan); i++ {
		n := g.Steps(plan[i].Dist(plan[i+1]), lineStep)
		for k := 0; k <= n; k++ {
			p := plan[i].Lerp(plan[i+1], float64(k)/float64(n))
			at := skin.PointAt(s.Surface, skin.UV{U: p.X, V: p.Y * s.Side.Sign()})
			out.points = append(out.points, sightPoint{at: at, faces: true})
		}
	}
	return out
}

// bodyLines returns sections, named lines, crown and keel of a body, and where it
// turns from the eye.
func bodyLines(s layouts.Skin, spec layouts.SurfaceSpec, eye g.Vec3) []sightLine {
	us, vs, period := s.Surface.Breaks()
	var out []sightLine
	var rings []float64
	for _, sec := range spec.Sections {
		rings = append(rings, sec.FS.Inches())
	}
	if len(rings) == 0 { // a scan has none of its own
		const n = 12
		for k := range n + 1 {
			rings = append(rings, us[0]+(us[len(us)-1]-us[0])*float64(k)/n)
		}
	}
	for _, u := range rings {
		out = append(out, ringAt(s, u, eye))
	}
	type named struct {
		v    float64
		kind lineKind
	}
	var lines []named
	if s.Kind == layouts.Stringers {
		hard := map[string]bool{}
		for _, h := range spec.Hard {
			hard[h] = true
		}
		last := len(spec.Lines) - 1
		for k, name := range spec.Lines {
			kind := stringerLine
			switch {
			case k == 0 || k == last:
				kind = outlineLine
			case hard[name]:
				kind = structureLine
			}
			lines = append(lines, named{float64(k), kind})
			if k > 0 && k < last {
				lines = append(lines, named{period - float64(k), kind})
			}
		}
	} else {
		lines = []named{{vs[0], stringerLine}, {vs[0] + period/2, stringerLine}}
		out = append(out, turning(s, eye)...)
	}
	for _, x := range lines {
		out = append(out, lengthwise(s, x.v, x.kind, eye))
	}
	return out
}

// ringAt returns a section of a body; its skin faces the eye where it does before or
// behind the section.
func ringAt(s layouts.Skin, u float64, eye g.Vec3) sightLine {
	us, vs, _ := s.Surface.Breaks()
	out := sightLine{kind: structureLine}
	near := []float64{math.Max(us[0], u-0.05), math.Min(us[len(us)-1], u+0.05)}
	for i := 0; i+1 < len(vs); i++ {
		mid, n := (vs[i]+vs[i+1])/2, max(8, 160/len(vs))
		for k := 0; k <= n; k++ {
			uv := skin.UV{U: u, V: vs[i] + (vs[i+1]-vs[i])*float64(k)/float64(n)}
			out.points = append(out.points, facing(s, uv, eye, skin.UV{U: near[0], V: mid}, skin.UV{U: near[1], V: mid}))
		}
	}
	return out
}

// lengthwise returns a line of constant V; its skin faces the eye where it does on
// either side of the line.
func lengthwise(s layouts.Skin, v float64, kind lineKind, eye g.Vec3) sightLine {
	us, vs, period := s.Surface.Breaks()
	beside := []float64{v - 0.01, v + 0.01}
	for i, w := range beside {
		if period > 0 {
			beside[i] = vs[0] + math.Mod(w-vs[0]+2*period, period)
		}
	}
	out := sightLine{kind: kind}
	for i := 0; i+1 < len(us); i++ {
		n := max(2, g.Steps(us[i+1]-us[i], lineStep))
		mid := (us[i] + us[i+1]) / 2
		for k := 0; k <= n; k++ {
			uv := skin.UV{U: us[i] + (us[i+1]-us[i])*float64(k)/float64(n), V: v}
			p := facing(s, skin.UV{U: uv.U, V: beside[0]}, eye, skin.UV{U: mid, V: beside[0]})
			if q := facing(s, skin.UV{U: uv.U, V: beside[1]}, eye, skin.UV{U: mid, V: beside[1]}); !p.faces {
				p = q
			}
			p.at = skin.PointAt(s.Surface, uv)
			out.points = append(out.points, p)
		}
	}
	return out
}

// turning returns where a smooth body turns from the eye, its outline as seen, as
// short lines: in each cell of a grid, where the share of the normal that looks
// to the eye passes zero, linear along the cell's edges.
func turning(s layouts.Skin, eye g.Vec3) []sightLine {
	us, vs, _ := s.Surface.Breaks()
	var out []sightLine
	for i := 0; i+1 < len(us); i++ {
		nu := max(2, g.Steps(us[i+1]-us[i], 2))
		for k := 0; k+1 < len(vs); k++ {
			nv := max(6, 160/len(vs))
			in := skin.UV{U: (us[i] + us[i+1]) / 2, V: (vs[k] + vs[k+1]) / 2}
			node := func(a, b int) (skin.UV, float64) {
				uv := skin.UV{U: us[i] + (us[i+1]-us[i])*float64(a)/float64(nu), V: vs[k] + (vs[k+1]-vs[k])*float64(b)/float64(nv)}
				p, n := s.Surface.At(uv, in)
				return uv, n.Dot(eye.Sub(p).Unit())
			}
			for a := range nu {
				for b := range nv {
					var cut []sightPoint
					corners := [4][2]int{{a, b}, {a + 1, b}, {a + 1, b + 1}, {a, b + 1}}
					for c := range corners {
						p, f := node(corners[c][0], corners[c][1])
						q, h := node(corners[(c+1)%4][0], corners[(c+1)%4][1])
						if (f > 0) != (h > 0) {
							t := f / (f - h)
							at, n := s.Surface.At(skin.UV{U: p.U + float64(t*(q.U-p.U)), V: p.V + float64(t*(q.V-p.V))}, in)
							cut = append(cut, sightPoint{at, true, n})
						}
					}
					if len(cut) == 2 {
						out = append(out, sightLine{outlineLine, cut})
					}
				}
			}
		}
	}
	return out
}
