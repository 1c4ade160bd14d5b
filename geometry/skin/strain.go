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

// strainGrid is how many places each way of a rectangle the strain is taken at,
// its edges and corners included: peaks sit at the edges.
const strainGrid = 24

// Strain returns the peak strains of the film inside a rectangle of the flat, as
// far as it lies on the patch.
func (m *FlatMap) Strain(within g.Rect) Strain {
	var out Strain
	for i := 0; i <= strainGrid; i++ {
		for j := 0; j <= strainGrid; j++ {
			uv, ok := m.ToSkin(g.Point{
				X: within.Min.X + within.Width()*float64(i)/strainGrid,
				Y: within.Min.Y + within.Height()*float64(j)/strainGrid,
			})
			if !ok {
				continue
			}
			s := m.net.sampleAt(uv)
			large, small := singular(s.gradient(m.flat))
			// the map runs from skin to flat; the film runs the other way
			if e := 1 - 1/large; e > out.Compression {
				out.Compression, out.CompressionAt = e, g.PositionOf(PointAt(m.s, uv))
			}
			if e := 1/small - 1; e > out.Tension {
				out.Tension, out.TensionAt = e, g.PositionOf(PointAt(m.s, uv))
			}
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
