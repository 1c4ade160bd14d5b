package proportions

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// ofPlacement holds a marking on one side against its rule, by what its paints show
// in the drawing.
func ofPlacement(t *testing.T, p layouts.Placement) ([]Check, error) {
	t.Helper()
	regions, err := p.Figure.Regions()
	require.NoError(t, err)
	return OfFigure(p.Figure, regions, OptionsOf(p.Marking))
}

// A marking as a layout places it: size, readings and evidence come from the
// layout, outlines from what its paints show, on both sides.
func TestPlacedFigure(t *testing.T) {
	for _, tc := range []struct {
		options []layouts.OptionChoice
		other   string
	}{{nil, ""}, {[]layouts.OptionChoice{{Option: "bar-length", Choice: "from-tangent"}}, ""}} {
		rule := ruleOf(t, "an-i-9b/star-and-bars")
		fig, err := layouts.InsigniaFigure(rule, 30*geometry.Inch, tc.options)
		require.NoError(t, err)
		m := &layouts.MarkingSpec{
			ID: "star", Figure: layouts.FigureSpec{Rule: rule.ID, Size: 30 * geometry.Inch, Options: tc.options},
			Explains: []layouts.Explained{{Dimension: "size", Evidence: []string{"E-1"}}},
		}
		for _, side := range []geometry.Side{geometry.Left, geometry.Right} {
			p := layouts.Placement{Marking: m, Side: side, Figure: fig.For(side).Moved(geometry.Vec{X: -4, Y: 2})}
			checks, err := ofPlacement(t, p)
			require.NoError(t, err)
			assert.Empty(t, Findings("", checks))
			for _, c := range checks {
				assert.Equal(t, "star", c.Marking)
				assert.Equal(t, Conforms, c.Verdict)
				assert.Empty(t, c.Other)
			}
			assert.Equal(t, "size", checks[0].Dimension())
			assert.Equal(t, []string{"E-1"}, checks[0].Evidence)
		}
		// The drawing at another size than the layout says: evidence is on file.
		m.Figure.Size = 32 * geometry.Inch
		checks, err := ofPlacement(t, layouts.Placement{Marking: m, Figure: fig})
		require.NoError(t, err)
		assert.Equal(t, OnFile, checks[0].Verdict)
		assert.Equal(t, layouts.Note, Findings("", checks)[0].Level)
	}
	o := OptionsOf(&layouts.MarkingSpec{Figure: layouts.FigureSpec{Options: []layouts.OptionChoice{{Option: "a", Choice: "b"}}}})
	assert.Equal(t, []standards.Pick{{Option: "a", Choice: "b"}}, o.Picks)

	plain, err := layouts.DiscsFigure([]layouts.DiscSpec{{Diameter: 3, Colour: "red"}})
	require.NoError(t, err)
	checks, err := ofPlacement(t, layouts.Placement{Marking: &layouts.MarkingSpec{}, Figure: plain})
	assert.NoError(t, err)
	assert.Empty(t, checks, "no rule, no checks")
}

// A wider tolerance is taken as asked, but never so wide that two texts can no
// longer be told apart.
func TestTolerance(t *testing.T) {
	wide := rightBars()
	wide.border *= 1.02
	drawing := at40.drawn(wide.layers(8, true), fixed())
	assert.Equal(t, []string{"border.width"}, raised(checksOf(t, "an-i-9b/star-and-bars", drawing, Options{})))
	assert.Empty(t, raised(checksOf(t, "an-i-9b/star-and-bars", drawing, Options{Tolerance: 0.03})))
	half := rightBars()
	half.length = 0.5
	c := checkOf(t, checksOf(t, "an-i-9b/star-and-bars", at40.drawn(half.layers(8, true), fixed()), Options{Tolerance: 0.6}), "bars.length")
	assert.Equal(t, Superseded, c.Verdict)
}
