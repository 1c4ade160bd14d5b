package layouts

import (
	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// Skin is one surface of the aircraft made ready to be looked at. A body is one
// skin; a plate or foil is two, its sides; a wing is four, its faces on both sides.
type Skin struct {
	On       string // the surface's id
	Side     g.Side // of a plate, foil or wing
	Face     Face   // of a wing
	Kind     SurfaceKind
	Surface  skin.Surface
	Sighting *skin.Sighting
}

// Skins returns all skins of the aircraft, in the order of the file.
//
// Errors: those of [Airframe.Surface]; none where the airframe could be built.
func (a *Airframe) Skins() ([]Skin, error) {
	var out []Skin
	add := func(s SurfaceSpec, side g.Side, face Face, on skin.Surface, err error) error {
		if err == nil {
			out = append(out, Skin{s.ID, side, face, s.Kind, on, skin.NewSighting(on)})
		}
		return err
	}
	for _, s := range a.Spec.Surfaces {
		for _, side := range []g.Side{g.Left, g.Right} {
			switch {
			case s.Kind == Wing:
				for _, face := range []Face{UpperFace, LowerFace} {
					on, err := a.WingSurface(s.ID, side, face)
					if err := add(s, side, face, on, err); err != nil {
						return nil, err
					}
				}
			case s.Kind == Plate || s.Kind == Foil || side == g.Left: // a body has both sides in one
				on, err := a.Surface([]string{s.ID}, side)
				if err := add(s, side, NoFace, on, err); err != nil {
					return nil, err
				}
			}
		}
	}
	return out, nil
}

// Met is what a line of sight meets first.
type Met struct {
	Skin Skin
	skin.SightHit
}

// FirstMet returns what the half-line from a point in a direction of unit length
// meets first; false where it passes the aircraft by.
func FirstMet(skins []Skin, from, dir g.Vec3) (Met, bool) {
	var best Met
	found := false
	for _, s := range skins {
		if hits := s.Sighting.Meets(from, dir); len(hits) > 0 && (!found || hits[0].Distance < best.Distance) {
			best, found = Met{s, hits[0]}, true
		}
	}
	return best, found
}

// sightSlack is how far before a point, in inches, skin must stand to hide it: more
// than the triangles of a [skin.Sighting] lie off the skin where it is seen at a
// slant, and less than the thickness of a fin.
const sightSlack = 0.5

// Hidden tells whether skin stands between an eye and a point.
func Hidden(skins []Skin, eye, p g.Vec3) bool {
	for _, s := range skins {
		if s.Sighting.Hides(eye, p, sightSlack) {
			return true
		}
	}
	return false
}
