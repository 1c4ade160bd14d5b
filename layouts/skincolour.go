package layouts

import "maskloft/layouts/standards"

// plainSkin is the skin in pictures where neither a colour nor a finish is named: light,
// and dark enough that white paint shows on it.
const plainSkin = "#e3e5dc"

// SkinColour returns the colour of a surface under its markings, "#rrggbb", for pictures.
func (s *Spec) SkinColour(surface string) string {
	if hex := s.SkinSaid(surface); hex != "" {
		return hex
	}
	return plainSkin
}

// SkinSaid is what the layout says of that colour, else what is near to the finish that its
// rules name; empty where neither is named.
func (s *Spec) SkinSaid(surface string) string {
	if hex := s.Paint.Skin.Only[surface]; hex != "" {
		return hex
	}
	if s.Paint.Skin.All != "" {
		return s.Paint.Skin.All
	}
	if t, err := standards.Word("finish", s.Rules.Finish); err == nil && t.Hex != "" {
		return t.Hex
	}
	return ""
}

// PlainSkin is the layout with a plain light skin, for drawings that are written over.
func (l *Layout) PlainSkin() *Layout {
	spec, out := *l.Spec, *l
	spec.Paint.Skin = SkinColours{All: plainSkin}
	out.Spec = &spec
	return &out
}

// ProfileColour is that of what is drawn of the profile alone: as of the first body.
func (s *Spec) ProfileColour() string {
	for _, surface := range s.Aircraft.Surfaces {
		if surface.Kind != Wing && surface.Kind != Foil && surface.Kind != Plate {
			return s.SkinColour(surface.ID)
		}
	}
	return s.SkinColour("")
}
