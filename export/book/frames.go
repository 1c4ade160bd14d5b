package book

import (
	"math"

	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Lines of the scene leave out what lies within sceneFine of a straight line, inches.
const sceneFine = 0.05

// cover adds a surface in a colour, and the lines of its structure: sections at its stations and
// the lines along it.
func (s *scene) cover(surface skin.Surface, colour string) {
	grid := gridOf(surface)
	grid.Colour = colour
	s.Skins = append(s.Skins, grid)
	us, vs, period := surface.Breaks()
	if wing, ok := surface.(*skin.LiftingSkin); ok {
		s.edges(wing, vs)
		return
	}
	round := vs
	if period > 0 {
		round = append(append([]float64{}, vs...), vs[0]+period)
	}
	if len(us) <= sceneAlong { // a scan has a line at every point
		for _, u := range us {
			s.frame(surface, spread(round, sceneRound), func(v float64) skin.UV { return skin.UV{U: u, V: v} })
		}
	}
	if len(vs) <= sceneRound/2 {
		for _, v := range vs {
			s.frame(surface, spread(us, sceneAlong), func(u float64) skin.UV { return skin.UV{U: u, V: v} })
		}
	}
}

// edges adds the leading and the trailing edge of a wing or fin, and its chords where it
// has breaks along the span.
func (s *scene) edges(wing *skin.LiftingSkin, vs []float64) {
	for _, aft := range []bool{false, true} {
		s.frame(wing, spread(vs, sceneRound), func(v float64) skin.UV {
			lo, hi := wing.Chord(v)
			if aft {
				lo = hi
			}
			return skin.UV{U: lo, V: v}
		})
	}
	for _, v := range vs {
		lo, hi := wing.Chord(v)
		s.frame(wing, spread([]float64{lo, hi}, sceneChord), func(u float64) skin.UV { return skin.UV{U: u, V: v} })
	}
}

// frame adds a line on a surface through the values of one of its parameters.
func (s *scene) frame(surface skin.Surface, values []float64, at func(float64) skin.UV) {
	var line []g.Vec3
	for _, v := range values {
		line = append(line, skin.PointAt(surface, at(v)))
	}
	s.Frames = append(s.Frames, flatLine(line))
}

// structure adds the hardpoints, the ribs and outlines of plates, and the profile.
func (s *scene) structure(a *layouts.Airframe) {
	for _, spec := range a.Spec.Surfaces {
		if spec.Kind != layouts.Plate {
			continue
		}
		for _, side := range []float64{-1, 1} {
			y := side * (spec.Thickness.Inches()/2 + sceneOff/2)
			var edge []g.Vec3
			for _, p := range views.Closed(spec.Outline) {
				edge = append(edge, g.Vec3{X: p.FS.Inches(), Y: y, Z: p.WL.Inches()})
			}
			s.Frames = append(s.Frames, flatLine(edge))
			for _, wl := range spec.Ribs {
				for _, c := range views.AcrossAt(spec.Outline, wl) {
					s.Frames = append(s.Frames, flatLine([]g.Vec3{{X: c[0].FS.Inches(), Y: y, Z: wl.Inches()}, {X: c[1].FS.Inches(), Y: y, Z: wl.Inches()}}))
				}
			}
		}
	}
	for _, p := range a.Spec.Profile {
		pts := p.Points
		if p.Closed {
			pts = views.Closed(pts)
		}
		var line []g.Vec3
		for _, q := range pts {
			line = append(line, g.Vec3{X: q.FS.Inches(), Z: q.WL.Inches()})
		}
		s.Shape = append(s.Shape, flatLine(line))
	}
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range a.Hardpoints(side) {
			s.Points = append(s.Points, scenePoint{h.ID, [3]float64{hundredths(h.At.FS.Inches()), hundredths(h.At.BL.Inches()), hundredths(h.At.WL.Inches())}})
		}
	}
}

// tapeLine is a tape a little outside its path, so that it shows on the skin.
func tapeLine(path []g.Position) []float64 {
	var line []g.Vec3
	for _, p := range path {
		line = append(line, g.Vec3{X: p.FS.Inches(), Y: p.BL.Inches() * 1.006, Z: p.WL.Inches()})
	}
	return flatLine(line)
}

// flatLine writes a line as its coordinates, without the points that lie within
// sceneFine of the line between those that stay (Douglas and Peucker 1973).
func flatLine(line []g.Vec3) []float64 { return flatLineWithin(line, sceneFine) }

// flatLineWithin is flatLine to another tolerance.
func flatLineWithin(line []g.Vec3, fine float64) []float64 {
	keep := keptWithin(len(line), 1, fine, func(i, _ int) g.Vec3 { return line[i] })
	out := []float64{}
	for i, p := range line {
		if keep[i] {
			out = append(out, hundredths(p.X), hundredths(p.Y), hundredths(p.Z))
		}
	}
	return out
}

// keptLines tells which of n lines of a grid, of so many points each, stay.
func keptLines(n, points int, at func(line, point int) g.Vec3) []bool {
	return keptWithin(n, points, sceneFine, at)
}

// keptWithin tells which of n lines stay when those are left out whose points all lie within
// fine of the segments between the same points of the lines that stay.
func keptWithin(n, points int, fine float64, at func(line, point int) g.Vec3) []bool {
	keep := make([]bool, n)
	var part func(a, b int)
	part = func(a, b int) {
		keep[a], keep[b] = true, true
		far, where := fine, -1
		for p := range points {
			from := at(a, p)
			along := at(b, p).Sub(from)
			for i := a + 1; i < b; i++ {
				to := at(i, p).Sub(from)
				if n := along.Norm(); n > 0 {
					t := math.Min(1, math.Max(0, to.Dot(along)/(n*n)))
					to = to.Sub(along.Scale(t))
				}
				// on a grid, so that of two alike every processor takes the first
				if d := g.OnGrid(to.Norm(), 1e-6); d > far {
					far, where = d, i
				}
			}
		}
		if where >= 0 {
			part(a, where)
			part(where, b)
		}
	}
	if n > 0 {
		part(0, n-1)
	}
	return keep
}
