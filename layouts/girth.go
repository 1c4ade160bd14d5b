package layouts

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// GirthRun says where a point of a body is by a named line: go to the line at the
// point's station and down (negative: up) along the skin in that section.
type GirthRun struct {
	Line string
	FS   g.Station
	Down g.Length
}

// GirthTo returns the run from the line nearest to a point of a body, among those
// on its side; false for what is no body.
func (a *Airframe) GirthTo(p Placement, uv skin.UV) (GirthRun, bool) {
	_, _, period := p.Surface.Breaks()
	spec, ok := a.SurfaceSpec(p.On)
	if period <= 0 || !ok {
		return GirthRun{}, false
	}
	names := append([]string{CrownLine, KeelLine}, spec.Lines...)
	var best GirthRun
	gap, v := math.Inf(1), 0.0
	for _, name := range names {
		at, err := a.lineV(p.Surface, []string{p.On}, name, p.Side)
		if err != nil {
			continue
		}
		// the lines of a body are evenly spaced in V; of two names for one line the
		// drawing's own is the later
		if d := math.Abs(math.Remainder(uv.V-at, period)); d <= gap+1e-9 {
			best.Line, gap, v = name, d, at
		}
	}
	if best.Line == "" {
		return GirthRun{}, false
	}
	to := v + math.Remainder(uv.V-v, period)
	girth := skin.Girth(p.Surface, g.Station(uv.U), v, to).Inches()
	best.FS = g.Station(uv.U)
	// V rises from the crown down the right side, and on up the left one
	best.Down = g.Length(math.Copysign(math.Abs(girth), (to-v)*p.Side.Sign()))
	return best, true
}
