package layouts

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The colour of a skin is what the layout says of the surface, then of all, then what is
// near to the finish of its rules; white paint shows on what is left.
func TestSkinColour(t *testing.T) {
	s := &Spec{}
	assert.Equal(t, plainSkin, s.SkinColour("fuselage"))
	s.Rules.Finish = "silver"
	assert.Regexp(t, "^#[0-9a-f]{6}$", s.SkinColour("fuselage"))
	assert.NotEqual(t, plainSkin, s.SkinColour("fuselage"))
	s.Rules.Finish = "camouflage" // of several colours
	assert.Equal(t, plainSkin, s.SkinColour("fuselage"))
	s.Paint.Skin = SkinColours{All: "#112233", Only: map[string]string{"wing": "#e0aa2b"}}
	assert.Equal(t, "#112233", s.SkinColour("fuselage"))
	assert.Equal(t, "#e0aa2b", s.SkinColour("wing"))
	s.Aircraft.Surfaces = []SurfaceSpec{{ID: "wing", Kind: Wing}, {ID: "body", Kind: Stringers}}
	s.Paint.Skin.Only["body"] = "#445566"
	assert.Equal(t, "#445566", s.ProfileColour())
	assert.Equal(t, plainSkin, (&Layout{Spec: s}).PlainSkin().Spec.SkinColour("fuselage"))
	assert.Equal(t, "#112233", s.SkinColour("fuselage"), "the layout itself is as it was")
}
