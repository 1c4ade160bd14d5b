package layouts

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// SideHeight returns the lowest and the highest waterline of the side of a
// placement's surface at a station, as seen from the side: between the outermost
// hard lines where the surface names two or more (its longerons), else all of the
// skin that is seen, and of a plate what lies in one piece with the anchor's
// height. False where there is no skin.
func (l *Layout) SideHeight(p Placement, fs g.Station) (lo, hi g.Waterline, ok bool) {
	u0, u1 := skin.Extent(p.Surface)
	if p.Face() != NoFace || fs.Inches() < u0 || fs.Inches() > u1 {
		return 0, 0, false
	}
	low, high := math.Inf(1), math.Inf(-1)
	if spec, known := l.Airframe.SurfaceSpec(p.Marking.Where.Surfaces[0]); known && len(spec.Hard) > 1 {
		for _, line := range spec.Hard {
			v, err := l.Airframe.lineV(p.Surface, p.Marking.Where.Surfaces, line, p.Side)
			if err != nil {
				return 0, 0, false
			}
			z := skin.PointAt(p.Surface, skin.UV{U: fs.Inches(), V: v}).Z
			low, high = math.Min(low, z), math.Max(high, z)
		}
		return g.Waterline(low), g.Waterline(high), high > low
	}
	low, high = skin.SeenHeights(p.Surface, p.Side, fs)
	if _, _, period := p.Surface.Breaks(); period > 0 {
		return g.Waterline(low), g.Waterline(high), high > low
	}
	const step = 1.0 / 64
	at := func(z float64) bool { return p.Surface.Contains(skin.UV{U: fs.Inches(), V: z}) }
	from := p.Anchor.WL.Inches()
	if !at(from) {
		return 0, 0, false
	}
	bottom, top := from, from
	for bottom-step >= low && at(bottom-step) {
		bottom -= step
	}
	for top+step <= high && at(top+step) {
		top += step
	}
	return g.Waterline(bottom), g.Waterline(top), top > bottom
}
