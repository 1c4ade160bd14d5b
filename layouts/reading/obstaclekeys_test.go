package reading

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
)

// Obstacles of a wing are given in plan; what only a body has is refused there, with
// what to write instead.
func TestObstacleOnWing(t *testing.T) {
	read := func(obstacle string) (*layouts.Spec, error) {
		text := `name: t
units: in
aircraft:
  name: t
  datum: FS 0 at the nose
  surfaces:
    - {id: wing, kind: wing, leading: [[0, 0], [0, 200]], trailing: [[100, 0], [100, 200]], wl: 0, naca: 0012}
  obstacles: [` + obstacle + `]
markings:
  - id: m
    figure: {discs: [{diameter: 20, colour: black}]}
    where: {surface: wing, face: upper, side: left, fs: 50, bl: 80}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`
		return LoadFS(fstest.MapFS{"t.yaml": {Data: []byte(text)}}, "t.yaml")
	}
	spec, err := read("{id: gap, kind: opening, surface: wing, face: lower, points: [[70, 90], [71, 90], [71, 180]]}, {id: rib, kind: section, surface: wing, bl: 30, size: 2}")
	require.NoError(t, err)
	gap, rib := spec.Aircraft.Obstacles[0], spec.Aircraft.Obstacles[1]
	require.Equal(t, layouts.PlanPosition{FS: 71, BL: 180}, gap.Plan[2])
	require.Equal(t, layouts.LowerFace, gap.Face)
	require.Equal(t, layouts.UsualClear, gap.Clear)
	require.True(t, gap.Keeps() && gap.OnWing && rib.OnWing && !rib.Keeps())
	require.Equal(t, geometry.ButtLine(30), rib.BL)
	for obstacle, want := range map[string]string{
		"{id: gap, kind: hinge, surface: wing, fs: 70, to: 71}":                   "an aileron's gap is an opening, points: [[fs, bl], ...]",
		"{id: plate, kind: ring, surface: wing, fs: 70, wl: 3, size: 4}":          "has no key wl",
		"{id: gap, kind: opening, surface: wing, points: [[70, 90], [71, 90]]}":   "2 points, wanted 3 or more",
		"{id: rib, kind: section, surface: wing, bl: 30, size: 2, clear: 1}":      "has no key clear",
		"{id: plate, kind: ring, surface: wing, fs: 70, bl: 3, size: 4, face: x}": "upper",
	} {
		_, err := read(obstacle)
		require.ErrorContains(t, err, want, obstacle)
	}
}
