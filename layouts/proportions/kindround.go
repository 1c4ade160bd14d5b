package proportions

import (
	"math"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

func traceDisc(t tracing) { t.circle("edge", t.radiusOf(t.Part)) }

func measureDisc(m *matched, p standards.Part) []dimension {
	name, what := circleName(p), "radius"
	if name == "diameter" {
		what = "radius, half the diameter" // a radius is what was measured
	}
	return m.radius(p, name, what, "edge")
}

// radius measures one circle.
func (m *matched) radius(p standards.Part, name, what, edge string) []dimension {
	l, err, ok := m.circleOf(p.ID + "." + edge)
	if !ok {
		return nil
	}
	d := one(p, name, what)
	d.found, d.err, d.rms = l.radius, err, l.rms
	d.line = [2]geometry.Point{{}, polar(l.radius, math.Pi/4)}
	return []dimension{d}
}

func traceRing(t tracing) {
	t.circle("outer", t.get("outer"))
	t.circle("inner", t.get("inner"))
}

func measureRing(m *matched, p standards.Part) []dimension {
	return append(m.radius(p, "outer", "outer radius", "outer"), m.radius(p, "inner", "inner radius", "inner")...)
}
