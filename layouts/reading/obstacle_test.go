package reading

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
)

const slabWith = `
name: it
units: in
aircraft:
  name: slab
  datum: FS 0 and WL 0 are the fore lower corner, positive aft and up
  surfaces: [{id: slab, kind: plate, thickness: 1, outline: [[0, 0], [120, 0], [120, 60], [0, 60]]}]
  obstacles:
`

const slabMarking = `
markings:
  - id: disc
    figure: {discs: [{diameter: 10, colour: red}]}
    where: {surface: slab, side: left, fs: 60, wl: 30}
paint: {order: [red], colours: {red: {hex: "#9B0A18"}}}
`

func TestObstacleKeys(t *testing.T) {
	spec, err := loadText(t, slabWith+`
    - {id: ring, kind: ring, surface: slab, fs: 60, wl: 40, size: 4, clear: 25.4 mm}
    - {id: spot, kind: spot, surface: slab, fs: 60, wl: 20, size: 1}
    - {id: hinge, kind: hinge, surface: slab, fs: 90, to: 90.5}
    - {id: slot, kind: opening, surface: slab, points: [[10, 10], [20, 10], [20, 20]], clear: 0}
`+slabMarking+"rules: {date: 1944-06, nation: us, edge: 2 in}\n")
	require.NoError(t, err)
	var clear []geometry.Length
	for _, o := range spec.Aircraft.Obstacles {
		clear = append(clear, o.Clear)
	}
	assert.InDeltaSlice(t, []float64{1, 0.5, 0.25, 0}, []float64{clear[0].Inches(), clear[1].Inches(), clear[2].Inches(), clear[3].Inches()}, 1e-12)
	assert.Equal(t, geometry.SidePosition{FS: 20, WL: 20}, spec.Aircraft.Obstacles[3].Points[2])
	assert.Equal(t, 2*geometry.Inch, spec.Rules.Edge)

	for _, wrong := range []string{
		"{id: slot, kind: opening, surface: slab, points: [[10, 10], [20, 10]]}",
		"{id: slot, kind: opening, surface: slab}",
		"{id: ring, kind: ring, surface: slab, fs: 60, wl: 40, size: 4, clear: -1}",
		"{id: ring, kind: ring, surface: slab, fs: 60, wl: 40, size: 4, points: [[1, 2]]}",
	} {
		assert.Len(t, problemsOf(t, slabWith+"    - "+wrong+slabMarking), 1, wrong)
	}
}

// An obstacle of a wing without its kind is told once, at its place (once a panic).
func TestObstacleOfAWingNeedsItsKind(t *testing.T) {
	const wing = "name: x\nunits: in\naircraft:\n  name: a\n  datum: d\n  surfaces:\n    - {id: wing, kind: wing, leading: [[20, 0], [20, 150]], trailing: [[80, 0], [80, 150]], wl: 32, naca: 2412}\n" +
		"  obstacles:\n    - {id: plate, KINDsurface: wing, fs: 44, bl: 50, size: 5}\n" +
		"markings:\n  - {id: m, figure: {discs: [{diameter: 4, colour: black}]}, where: {surface: wing, face: upper, fs: 52, bl: 120}}\npaint: {order: [black]}\n"
	problems := problemsOf(t, strings.Replace(wing, "KIND", "", 1))
	require.Len(t, problems, 1)
	assert.Equal(t, []int{9, 7}, []int{problems[0].Place.Line, problems[0].Place.Column})
	assert.Contains(t, problems[0].Message, "has no kind")
}

// An obstacle that is nowhere on the skin is told with each marking of its surface.
func TestObstacleOffTheSkin(t *testing.T) {
	spec, err := loadText(t, slabWith+"    - {id: ring, kind: ring, surface: slab, fs: 160, wl: 40, size: 4}\n"+slabMarking)
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	on, findings := l.ObstaclesOn(l.Placed[0])
	assert.Empty(t, on)
	require.Len(t, findings, 1)
	assert.Equal(t, "obstacle-off-skin", findings[0].Rule)
	assert.Equal(t, "disc-left", findings[0].Marking)
}

// The side of a plate is what lies in one piece with the anchor: of this one, 60 in
// at any station, to the step of the search.
func TestSideHeight(t *testing.T) {
	spec, err := loadText(t, slabWith[:len(slabWith)-len("  obstacles:\n")]+slabMarking)
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	lo, hi, ok := l.SideHeight(l.Placed[0], 60)
	require.True(t, ok)
	assert.InDelta(t, 0, lo.Inches(), 1.0/32)
	assert.InDelta(t, 60, hi.Inches(), 1.0/32)
	_, _, ok = l.SideHeight(l.Placed[0], 121)
	assert.False(t, ok)
}
