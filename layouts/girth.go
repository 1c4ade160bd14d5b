package layouts

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// GirthLength says where a point is along the skin from a line that one can find on
// the aircraft, in one plane: on a body, in the section plane of a station, from a
// named line, the crown or the keel; on a fin or a wing, in the plane of a waterline
// or butt line, from the fore edge, as seen square to it.
type GirthLength struct {
	Line    string
	Plane   string // FS, WL or BL
	At      float64
	Length  g.Length
	Towards string // down, up or aft
}

// ForeEdge is the line that lengths on fins and wings are measured from.
const ForeEdge = "fore edge"

// GirthTo returns the length to a point of a marking's skin, on a body from the line
// nearest to it; false where there is none.
func (a *Airframe) GirthTo(p Placement, uv skin.UV) (GirthLength, bool) {
	_, _, period := p.Surface.Breaks()
	if period <= 0 {
		return fromForeEdge(p, uv)
	}
	spec, ok := a.SurfaceSpec(p.On)
	if !ok {
		return GirthLength{}, false
	}
	names := append([]string{CrownLine, KeelLine}, spec.Lines...)
	out := GirthLength{Plane: "FS", At: uv.U, Towards: "down"}
	gap, v := math.Inf(1), 0.0
	for _, name := range names {
		at, err := a.lineV(p.Surface, []string{p.On}, name, p.Side)
		if err != nil {
			continue
		}
		// of two names for one line the drawing's own is the later
		if d := math.Abs(math.Remainder(uv.V-at, period)); d <= gap+1e-9 {
			out.Line, gap, v = name, d, at
		}
	}
	if out.Line == "" {
		return GirthLength{}, false
	}
	length := girthDown(p, v, uv)
	out.Length = g.Length(math.Abs(length))
	if length < 0 {
		out.Towards = "up"
	}
	return out, true
}

// GirthFrom returns the length along the section, in inches, from one line to a point
// of a marking's skin, down positive; on fins and wings from [ForeEdge], aft positive.
func (a *Airframe) GirthFrom(p Placement, line string, uv skin.UV) (float64, bool) {
	if line == ForeEdge {
		out, ok := fromForeEdge(p, uv)
		return out.Length.Inches(), ok
	}
	v, err := a.lineV(p.Surface, []string{p.On}, line, p.Side)
	if err != nil {
		return 0, false
	}
	return girthDown(p, v, uv), true
}

// girthDown returns the length along the section from a line at V to a point, down
// positive: V rises from the crown down the right side, and on up the left one.
func girthDown(p Placement, v float64, uv skin.UV) float64 {
	_, _, period := p.Surface.Breaks()
	to := v + math.Remainder(uv.V-v, period)
	return math.Copysign(skin.Girth(p.Surface, g.Station(uv.U), v, to).Inches(), (to-v)*p.Side.Sign())
}

// FrameBefore returns the section of a body that stands next ahead of a station, an
// inch off or more; false where there is none.
func (a *Airframe) FrameBefore(p Placement, fs g.Station) (g.Station, bool) {
	spec, ok := a.SurfaceSpec(p.On)
	if !ok {
		return 0, false
	}
	best, found := g.Station(0), false
	for _, s := range spec.Sections {
		if d := s.FS.To(fs).Inches(); d >= 1 && (!found || s.FS > best) {
			best, found = s.FS, true
		}
	}
	return best, found
}

// fromForeEdge returns the length from the edge of the surface ahead of a point, at
// its own waterline or butt line, as seen square to the side or from above: round
// the nose of a section no tape lies well.
func fromForeEdge(p Placement, uv skin.UV) (GirthLength, bool) {
	at := skin.PointAt(p.Surface, uv)
	out := GirthLength{Line: ForeEdge, Plane: "WL", At: at.Z, Towards: "aft"}
	if p.Face() != NoFace {
		out.Plane, out.At = "BL", at.Y
	}
	if s, ok := p.Surface.(interface{ LeadingEdge(v float64) g.Station }); ok {
		out.Length = s.LeadingEdge(uv.V).To(g.Station(uv.U))
		return out, true
	}
	const step = 0.25 // inches: outlines nearer to each other than that count as one
	lo, _ := skin.Extent(p.Surface)
	edge := uv.U
	for edge > lo && p.Surface.Contains(skin.UV{U: math.Max(lo, edge-step), V: uv.V}) {
		edge = math.Max(lo, edge-step)
	}
	if out := math.Max(lo, edge-step); edge > lo {
		for range 40 {
			if m := (edge + out) / 2; p.Surface.Contains(skin.UV{U: m, V: uv.V}) {
				edge = m
			} else {
				out = m
			}
		}
	}
	out.Length = g.Length(uv.U - edge)
	return out, true
}
