package masks

import (
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// tapeStep is the spacing, in inches of station and parts of a bay, at which a
// finishing tape is carried into the flat: it only weighs where a seam may stand.
const tapeStep = 2.0

// finishingTapes returns the finishing tapes that lie under the film of a marking, in its
// flat: a row of quadrilaterals for each, as wide as the tape. Tapes run along named
// lines, or round a station.
func finishingTapes(aircraft layouts.AircraftSpec, l Laid) []g.Path {
	var out []g.Path
	for _, o := range aircraft.Obstacles {
		if !o.Under(l.Placement) {
			continue
		}
		var run []skin.UV
		us, vs, period := l.Placement.Surface.Breaks()
		switch o.Kind {
		case layouts.FinishingTape:
			i := slices.IndexFunc(aircraft.Surfaces, func(s layouts.SurfaceSpec) bool { return s.ID == o.Surface })
			if i < 0 || period <= 0 {
				continue
			}
			k := slices.Index(aircraft.Surfaces[i].Lines, o.Line)
			if k < 0 {
				continue
			}
			// line k of a stringer skin lies at k down the right side, at -k down the left
			run = alongAll(us, float64(k)*l.Placement.Side.Sign())
		case layouts.Around:
			if o.OnWing {
				run = alongAll(us, o.BL.Inches()*l.Placement.Side.Sign())
				break
			}
			for k := 0; k+1 < len(vs); k++ {
				for i := range 4 {
					run = append(run, skin.UV{U: o.At.FS.Inches(), V: vs[k] + (vs[k+1]-vs[k])*float64(i)/4})
				}
			}
			run = append(run, skin.UV{U: o.At.FS.Inches(), V: vs[len(vs)-1]})
		}
		if band := bandOf(l, run, o.Size.Inches()/2); len(band) > 0 {
			out = append(out, band)
		}
	}
	return out
}

// alongAll returns points along the whole of a surface at one V, [tapeStep] apart.
func alongAll(us []float64, v float64) []skin.UV {
	var run []skin.UV
	lo, hi := us[0], us[len(us)-1]
	for n, i := int(math.Ceil((hi-lo)/tapeStep)), 0; i <= n; i++ {
		run = append(run, skin.UV{U: lo + (hi-lo)*float64(i)/float64(n), V: v})
	}
	return run
}

// bandOf carries a run of points of the skin into the flat, as a band of half a width
// to either side, where it lies under the field.
func bandOf(l Laid, run []skin.UV, half float64) g.Path {
	var out g.Path
	for i := 1; i < len(run); i++ {
		p, ok := l.Map.ToFlat(run[i-1])
		q, also := l.Map.ToFlat(run[i])
		if !ok || !also || p.Dist(q) < g.SnapTolerance {
			continue
		}
		side := q.Sub(p).Unit().Perp().Scale(half)
		quad := g.Polygon(p.Add(side.Scale(-1)), q.Add(side.Scale(-1)), q.Add(side), p.Add(side))
		b, f := quad.Bounds(), l.Field
		if b.Max.X > f.Min.X && b.Min.X < f.Max.X && b.Max.Y > f.Min.Y && b.Min.Y < f.Max.Y {
			out = append(out, quad)
		}
	}
	return out
}
