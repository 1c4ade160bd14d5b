package skin

import (
	"math"

	g "maskloft/geometry"
)

// Strain is how much film is stretched or squeezed when a flat piece is laid on
// the skin. Both peaks are magnitudes: 0.01 is one part in a hundred.
type Strain struct {
	Compression   float64
	CompressionAt g.Position
	Tension       float64
	TensionAt     g.Position
}

// Exact tells whether the flat keeps lengths, angles and areas to limit.
func (s Strain) Exact(limit float64) bool { return s.Compression <= limit && s.Tension <= limit }

// Strain returns the peak strains of the film inside a rectangle of the flat,
// from the principal stretches of the triangles of the finest net, whose error
// falls with its spacing.
func (m *FlatMap) Strain(within g.Rect) Strain {
	var out Strain
	for _, tri := range m.fine.tris {
		a, b, c := m.laid[tri.n[0]], m.laid[tri.n[1]], m.laid[tri.n[2]]
		mid := g.Point{X: (a.X + b.X + c.X) / 3, Y: (a.Y + b.Y + c.Y) / 3}
		if !within.Contains(mid) {
			continue
		}
		ref, _ := tri.reference()
		f1, f2, _, _ := strainTerms(tri, ref, m.laid)
		s1, s2 := singular(f1, f2)
		at := func() g.Position {
			u := [3]UV{m.fine.nodeUV(tri.n[0]), m.fine.nodeUV(tri.n[1]), m.fine.nodeUV(tri.n[2])}
			return g.PositionOf(PointAt(m.s, UV{(u[0].U + u[1].U + u[2].U) / 3, (u[0].V + u[1].V + u[2].V) / 3}))
		}
		// the map runs from skin to flat; the film runs the other way
		if e := 1 - 1/s1; e > out.Compression {
			out.Compression, out.CompressionAt = e, at()
		}
		if e := 1/s2 - 1; e > out.Tension {
			out.Tension, out.TensionAt = e, at()
		}
	}
	return out
}

// singular returns the larger and the smaller stretch of the map with the given
// columns.
func singular(f1, f2 g.Vec) (large, small float64) {
	a, b, c := f1.Dot(f1), f2.Dot(f2), f1.Dot(f2)
	m, d := (a+b)/2, math.Hypot((a-b)/2, c)
	return math.Sqrt(m + d), math.Sqrt(math.Max(0, m-d))
}
