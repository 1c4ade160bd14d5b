package skin

import (
	"math"

	g "maskloft/geometry"
)

// law is the flat of the same film under another law of it.
type law struct{ other *FlatMap }

// setLaws relaxes the film with the least and the most of Poisson's ratio. The flat moves
// nearly in proportion to it: the second starts there, and the matrix of the usual law
// serves.
func (m *FlatMap) setLaws(f *flattening) error {
	const near = 0.02 // root mean square strain above which a law may lead far off
	if f.of != m.net {
		f.of = m.net
		at, _ := m.wrap(f.at.At)
		f.onFilm, f.counts = m.net.filmSamples(f.onFilm[:0], f.samplesOf(m.net), m.flat, m.net.pose(m.flat, Frame{at, f.at.Up}), f.film)
	}
	start := m.flat
	for _, nu := range [2]float64{leastPoisson, mostPoisson} {
		if m.left > near {
			f.factor = factor{}
		} else if len(m.laws) > 0 {
			least := m.laws[0].other.flat
			start = make([]g.Point, len(m.flat))
			for k, p := range m.flat {
				start[k] = p.Add(least[k].Sub(p).Scale((nu - poisson) / (leastPoisson - poisson)))
			}
		}
		flat, _, _, err := m.net.relax(start, f.onFilm, nu, f, f.counts)
		if err != nil {
			return err
		}
		other := *m
		other.flat = flat
		if err := other.pinned(f); err != nil {
			return err
		}
		m.laws = append(m.laws, law{&other})
	}
	return nil
}

// OutlineError is by how much the outline of a film, laid on the skin, may differ from
// what the flat says, in inches.
type OutlineError struct {
	Net float64 // the net's own: what the last halving moved
	// Holding is what the film's law moves: the film is held at the anchor, a place
	// inside it, and how that lies to the outline depends on Poisson's ratio. A film
	// fitted to its outline does not have it.
	Holding float64
}

// PlusMinus is both together, rounded up to a ten-thousandth of an inch.
func (e OutlineError) PlusMinus() g.Length {
	return g.Length(math.Ceil(float64((e.Net+e.Holding)*1e4)-1e-6) / 1e4)
}

// String writes both together in inches, rounded up.
func (e OutlineError) String() string {
	return g.FormatNumber(math.Ceil(float64((e.Net+e.Holding)*1e4)-1e-6)/1e4, 4)
}

// OutlineError returns the error of the film's outline.
func (m *FlatMap) OutlineError() OutlineError {
	e := OutlineError{Net: m.settled.Moved}
	for _, l := range m.laws {
		for _, o := range m.outline(outlinePlaces) {
			p, _, _ := l.other.net.interpolate(l.other.flat, o.at)
			e.Holding = max(e.Holding, o.flat.Dist(p))
		}
	}
	return e
}

// StrainRange is the least and the most of a peak strain over Poisson's ratio of 0.3 to
// 0.45, as fractions.
type StrainRange struct{ CompressionLeast, CompressionMost, TensionLeast, TensionMost float64 }

// StrainRange returns how far the peaks of a strain within a rectangle of the flat, s at
// the usual law, run over the film's law.
func (m *FlatMap) StrainRange(within g.Rect, s Strain) StrainRange {
	r := StrainRange{s.Compression, s.Compression, s.Tension, s.Tension}
	for _, l := range m.laws {
		o := l.other.Strain(within)
		r.CompressionLeast, r.CompressionMost = min(r.CompressionLeast, o.Compression), max(r.CompressionMost, o.Compression)
		r.TensionLeast, r.TensionMost = min(r.TensionLeast, o.Tension), max(r.TensionMost, o.Tension)
	}
	return r
}

// Energy returns the strain energy of the film in square inches: the integral over its
// skin of [ (1+nu)/2 (e11+e22)^2 + (1-nu)/2 (e11-e22)^2 + 2 (1-nu) e12^2 ], Green strain
// e, Poisson's ratio nu 0.4. Times Young's modulus, times the thickness, over 2 (1-nu^2)
// it is the work of stretching it.
func (m *FlatMap) Energy() float64 { return m.energy }
