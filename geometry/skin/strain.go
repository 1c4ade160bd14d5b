package skin

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Strain is how much film is stretched or squeezed when a flat piece is laid on
// the skin. Both peaks are magnitudes: 0.01 is one part in a hundred.
type Strain struct {
	Compression     float64
	CompressionAt   g.Position
	CompressionFlat g.Point // the same place in the flat, inches
	Tension         float64
	TensionAt       g.Position
	TensionFlat     g.Point
}

// Exact tells whether the flat keeps lengths, angles and areas to limit.
func (s Strain) Exact(limit float64) bool { return s.Compression <= limit && s.Tension <= limit }

// Exact tells whether the film inside a rectangle of the flat keeps lengths, angles and
// areas: neither a peak of its strain nor the root mean square of all of it is more than
// [g.ExactStrain].
func (m *FlatMap) Exact(within g.Rect) bool {
	return m.left <= g.ExactStrain && m.Strain(within).Exact(g.ExactStrain)
}

// strainGrid is how many places each way of a rectangle the strain is taken at,
// its edges and corners included: peaks sit at the edges.
const strainGrid = 24

// tie is the factor by which a peak must exceed the one found before it: of equal
// peaks, as on a symmetric skin, the first stands on every machine.
const tie = 1 + 1e-6

// Strain returns the peak strains of the film inside a rectangle of the flat, as
// far as it lies on the patch.
func (m *FlatMap) Strain(within g.Rect) Strain {
	var out Strain
	for i := 0; i <= strainGrid; i++ {
		for j := 0; j <= strainGrid; j++ {
			q := g.Point{
				X: within.Min.X + within.Width()*float64(i)/strainGrid,
				Y: within.Min.Y + within.Height()*float64(j)/strainGrid,
			}
			at, ok := m.onNet(q)
			if !ok {
				continue
			}
			s := m.strainAt(at)
			if e := -s.Least; e > out.Compression*tie {
				out.Compression, out.CompressionAt, out.CompressionFlat = e, g.PositionOf(PointAt(m.net.s, at)), q
			}
			if e := s.Most; e > out.Tension*tie {
				out.Tension, out.TensionAt, out.TensionFlat = e, g.PositionOf(PointAt(m.net.s, at)), q
			}
		}
	}
	return out
}

// LocalStrain is the strain of the film at one place, as fractions: positive
// stretched, negative squeezed.
type LocalStrain struct {
	Least, Most float64
	Squeeze     g.Vec // unit direction of Least in the flat, either way along it
}

// StrainAt returns the strain of the film at a point of the flat; false where the
// patch does not reach.
func (m *FlatMap) StrainAt(q g.Point) (LocalStrain, bool) {
	at, ok := m.onNet(q)
	if !ok {
		return LocalStrain{}, false
	}
	return m.strainAt(at), true
}

// strainAt returns the strain at a place of the net's parameters.
func (m *FlatMap) strainAt(at UV) LocalStrain {
	s := m.net.sampleAt(at)
	f1, f2 := s.gradient(m.flat)
	large, small := singular(f1, f2)
	// The map runs from skin to flat; the film runs the other way. The flat
	// direction of the larger stretch is an eigenvector of F transposed(F).
	xx, yy, xy := float64(f1.X*f1.X)+float64(f2.X*f2.X), float64(f1.Y*f1.Y)+float64(f2.Y*f2.Y), float64(f1.X*f1.Y)+float64(f2.X*f2.Y)
	sin, cos := same.Sincos(same.Atan2(2*xy, xx-yy) / 2)
	return LocalStrain{Least: 1/large - 1, Most: 1/small - 1, Squeeze: g.Vec{X: cos, Y: sin}}
}

// singular returns the larger and the smaller stretch of the map with the given
// columns.
func singular(f1, f2 g.Vec) (large, small float64) {
	a, b, c := f1.Dot(f1), f2.Dot(f2), f1.Dot(f2)
	m, d := (a+b)/2, same.Hypot((a-b)/2, c)
	return math.Sqrt(m + d), math.Sqrt(max(0, m-d))
}
