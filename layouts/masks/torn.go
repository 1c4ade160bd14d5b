package masks

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
)

// torn refuses a contour, true in side view, that the cast onto the skin tears:
// where the outermost skin ends at the rim of a hollow, the ray jumps to the skin
// behind it. Locate casts a point of the drawing onto the surface s.
func torn(s skin.Surface, c g.Contour, locate func(g.Point) (skin.UV, error)) error {
	const (
		step  = 0.25 // inches of outline between casts
		steep = 6.0  // inches of butt line an inch: beyond any stretch that is let pass
		jump  = 0.01 // inches of butt line between two points that are one in the view
	)
	for i := range c.Segments {
		n := max(2, g.Steps(g.Contour{Start: c.From(i), Segments: c.Segments[i : i+1]}.Length(), step))
		cast := func(t float64) (g.Vec3, error) {
			uv, err := locate(c.At(i, t))
			return skin.PointAt(s, uv), err
		}
		last, err := cast(0)
		if err != nil {
			return err
		}
		for k := 1; k <= n; k++ {
			t0, t1 := float64(k-1)/float64(n), float64(k)/float64(n)
			a, b := last, g.Vec3{}
			if b, err = cast(t1); err != nil {
				return err
			}
			last = b
			if math.Abs(b.Y-a.Y) < steep*same.Hypot(b.X-a.X, b.Z-a.Z) {
				continue
			}
			for t1-t0 > 1e-7 { // keep the half with the larger jump
				mid := (t0 + t1) / 2
				m, err := cast(mid)
				if err != nil {
					return err
				}
				if math.Abs(m.Y-a.Y) > math.Abs(b.Y-m.Y) {
					t1, b = mid, m
				} else {
					t0, a = mid, m
				}
			}
			if math.Abs(b.Y-a.Y) > jump {
				return g.Errorf("FS %v WL %v: seen from the side the skin jumps there from BL %v to BL %v, behind the rim of a hollow, and the drawing would be torn: keep it on one side of the rim with where: fs: and wl:, or write true: skin",
					g.Station(a.X), g.Waterline(a.Z), g.ButtLine(a.Y), g.ButtLine(b.Y))
			}
		}
	}
	return nil
}
