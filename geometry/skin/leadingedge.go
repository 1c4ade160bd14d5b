package skin

import g "maskloft/geometry"

// LeadingEdge returns the station of the foremost point of the section at a span,
// V of the surface: where a square held to the edge touches it.
func (s *LiftingSkin) LeadingEdge(v float64) g.Station {
	fs, _ := s.le.at(s.mirror * v)
	return g.Station(fs)
}
