package taping

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/worked"
)

// spheroidWith is a layout on a spheroid of 25 by 120 in, its middle at FS 120, given by
// circles at stations.
func spheroidWith(along string, stations ...float64) string {
	var sections []string
	radius := func(fs float64) float64 { return 25 * math.Sqrt(1-math.Pow((fs-120)/120, 2)) }
	for _, fs := range stations {
		sections = append(sections, fmt.Sprintf("        - {fs: %g, circle: {radius: %.9f, wl: 40}}", fs, radius(fs)))
	}
	return fmt.Sprintf(`
name: spheroid
aircraft:
  name: spheroid
  datum: FS 0 is the nose, positive aft; WL 40 the axis
  surfaces:
    - id: body
      kind: faired
      along: %s
      sections:
%s
  hardpoints:
    - {id: P1, name: fore, side: both, fs: 84, bl: %.9f, wl: 40}
    - {id: P2, name: aft, side: both, fs: 156, bl: %.9f, wl: 40}
markings:
  - id: disc
    figure: {discs: [{diameter: 10, colour: red}]}
    where: {surface: body, side: left, fs: 122, wl: 52}
`+worked.Common, along, strings.Join(sections, "\n"), radius(84), radius(156))
}

// One more frame where the finding says makes the expected error what it says, or less;
// the error counts in the budget. Skin that is straight between frames by the layout's
// word is noted and counts for nothing.
func TestSectionsAreDoubted(t *testing.T) {
	budget := func(along string, stations ...float64) (MaskBudget, []layouts.Finding) {
		w := worked.Worked(t, "spheroid", worked.LayoutOf(t, spheroidWith(along, stations...)))
		points := checklist(t, w)
		b := Budgets(w.Layout, w.Tilings, points, g.NetTolerance)
		require.Len(t, b, 1)
		require.NotNil(t, b[0].Sections)
		return b[0], inspectSections(w.Tilings, b)
	}
	few := []float64{12, 48, 84, 156, 192, 228}
	before, findings := budget("natural", few...)
	d := before.Sections
	require.Len(t, findings, 1)
	assert.Equal(t, "few-sections", findings[0].Rule)
	assert.Contains(t, findings[0].Hint, fmt.Sprintf("measure one more frame at FS %s: the expected error falls from %.2f to %.2f in", g.FormatNumber(d.At.Inches(), 1), d.Limit.Inches(), d.After.Inches()))
	require.Less(t, d.After, d.Limit)
	var more []float64
	for _, fs := range few {
		if len(more) > 0 && more[len(more)-1] < d.At.Inches() && fs > d.At.Inches() {
			more = append(more, d.At.Inches())
		}
		more = append(more, fs)
	}
	after, _ := budget("natural", more...)
	t.Logf("limit %.4f at first, %.4f expected with a frame at %v, %.4f then", d.Limit.Inches(), d.After.Inches(), d.At, after.Sections.Limit.Inches())
	assert.LessOrEqual(t, after.Sections.Limit.Inches(), d.After.Inches()*1.05)
	named := func(b MaskBudget) bool {
		for _, term := range b.Terms {
			if term.Name == "skin between frames" {
				return true
			}
		}
		return false
	}
	assert.True(t, named(before))
	assert.Greater(t, before.Position.RMS(), after.Position.RMS())

	straight, findings := budget("ruled", few...)
	require.Len(t, findings, 1)
	assert.Equal(t, layouts.Note, findings[0].Level)
	assert.Contains(t, findings[0].Message, "if the skin is not straight between its frames")
	assert.False(t, named(straight))

	lone, findings := budget("natural", 84, 156)
	assert.True(t, math.IsNaN(lone.Sections.Limit.Inches()))
	require.Len(t, findings, 1)
	assert.Contains(t, findings[0].Message, "too few frames of the body to say")
	assert.Equal(t, "measure more frames of the body", findings[0].Hint)
}
