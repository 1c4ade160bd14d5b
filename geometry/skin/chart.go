package skin

import (
	"math"

	g "maskloft/geometry"
)

// charted is a surface whose net is drawn in other parameters than its own, in which it
// is smoother: see [LiftingSkin.chart].
type charted interface{ chart() chart }

// chart is a surface in parameters of its own, and the way there and back. Its U need
// not be the station. For most surfaces it is the surface itself.
type chart struct {
	Surface
	to   func(UV) (UV, bool) // from the surface's parameters; false where the chart does not reach
	from func(UV) UV
}

// chartOf returns the parameters in which the net of a surface is drawn.
func chartOf(s Surface) chart {
	if c, ok := s.(charted); ok {
		return c.chart()
	}
	return chart{s, func(uv UV) (UV, bool) { return uv, true }, func(uv UV) UV { return uv }}
}

// profileChart is a face of a chord profile by the root of the fraction of the chord,
// times the longest chord, and the span: lines of constant U are the lines that the face
// unrolls along, and the round of the leading edge is as smooth as the rest.
type profileChart struct {
	*LiftingSkin
	long float64 // the longest chord, inches
	u    []float64
}

// chartAhead is the part of the chord at which the chart of a profile begins: ahead of
// the skin, so that what lies a little beyond its edge still has a place in the flat.
const chartAhead = LeadingEdgeLimit / 3

// chart returns the skin by its profile.
func (s *LiftingSkin) chart() chart {
	c := profileChart{LiftingSkin: s}
	for _, v := range s.v {
		le, te, _, _ := s.chord(v)
		c.long = max(c.long, te-le)
	}
	for _, q := range append(append([]float64{chartAhead}, s.face.of.creases()...), 1) {
		if q >= chartAhead {
			c.u = append(c.u, c.long*math.Sqrt(q))
		}
	}
	return chart{c, c.to, c.from}
}

func (c profileChart) Breaks() (u, v []float64, period float64) {
	return c.u, c.v, 0
}

func (c profileChart) At(uv, in UV) (g.Vec3, g.Vec3) {
	le, dle, chord, dchord := c.panelChord(uv.V, in.V)
	q := c.fraction(uv)
	for _, crease := range c.face.of.creases() { // the side of it that the panel lies on
		if at := float64(c.long * math.Sqrt(crease)); math.Abs(uv.U-at) < 1e-9 {
			q = math.Nextafter(crease, 2)
			if in.U < at {
				q = math.Nextafter(crease, 0)
			}
		}
	}
	p := c.face.point(q)
	return c.place(le+float64(chord*p.x), uv.V, chord*p.y, p.slope, float64(-p.slope*dle)+float64((p.y-float64(p.slope*p.x))*dchord))
}

// cells tells that the net wants four times the cells along the chord, along which alone
// the face bends, and a quarter of them along the span, where its lines are straight.
func (c profileChart) cells() (u, v float64) { return 4, 1.0 / 4 }

// fraction returns the profile's parameter at a place of the chart.
func (c profileChart) fraction(uv UV) float64 {
	r := max(0.1*math.Sqrt(chartAhead), uv.U/c.long)
	return r * r
}

// to returns the place on the chart of a place of the skin.
func (c profileChart) to(uv UV) (UV, bool) {
	le, te, _, _ := c.chord(max(c.v[0], min(c.v[len(c.v)-1], uv.V)))
	x := (uv.U - le) / max(te-le, 1e-9)
	if x > c.face.hi.x+1e-9 {
		return UV{}, false
	}
	q := max(chartAhead/2, min(1, x))
	for i := 0; i < 20; i++ {
		p, d := c.face.of.profile(c.face.side, q)
		step := (x - p.X - float64(c.face.tan*p.Y)) / (d.X + float64(c.face.tan*d.Y))
		q = max(chartAhead/2, min(1, q+step))
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return UV{c.long * math.Sqrt(q), uv.V}, q > chartAhead-1e-12
}

// from returns the place of the skin at a place of the chart.
func (c profileChart) from(uv UV) UV {
	le, te, _, _ := c.chord(uv.V)
	return UV{le + float64((te-le)*c.face.point(c.fraction(uv)).x), uv.V}
}
