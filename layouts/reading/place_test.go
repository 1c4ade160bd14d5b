package reading

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/layouts"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

const placeAircraft = `
name: t
units: in
aircraft:
  name: bodies
  datum: FS 0 fore, WL 0 axis, BL 0 middle
  surfaces:
    - {id: cylinder, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 30, wl: 0}]}
    - {id: cone, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 10, wl: 0}]}
    - id: box
      kind: stringers
      lines: [T, S1, S2, B]
      sections:
        - {fs: 0, points: [[0, 20], [10, 20], [10, -20], [0, -20]]}
        - {fs: 100, points: [[0, 20], [10, 20], [10, -10], [0, -10]]}
    - {id: foil, kind: foil, leading: [[0, 0], [20, 40]], trailing: [[60, 0], [60, 40]], naca: "0012"}
    - {id: fin, kind: plate, thickness: 1, outline: [[0, 0], [40, 0], [40, 40], [20, 40]]}
  hardpoints:
    - {id: P1, name: low, side: both, fs: 0, bl: 30, wl: 0}
    - {id: P2, name: high, side: both, fs: 120, bl: 30, wl: 0}
markings:
  - id: m
    figure: {text: A, alphabet: block-6x4, height: 2}
    where: {surface: SURFACE, side: SIDE, WHERE}
    colours: {text: black}
paint: {order: [black], colours: {black: {name: black, hex: "#000000"}}}
`

func placed(t testing.TB, surface, side, where string) (layouts.Placement, error) {
	t.Helper()
	text := strings.NewReplacer("SURFACE", surface, "SIDE", side, "WHERE", where).Replace(placeAircraft)
	spec, err := LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(text)}}, "a.yaml")
	if err != nil {
		return layouts.Placement{}, err
	}
	if err := missing(t, spec); err != nil {
		return layouts.Placement{}, err
	}
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	require.Len(t, l.Placed, 1)
	return l.Placed[0], nil
}

// missing returns what is said of the first marking that cannot be placed; nil where
// all are.
func missing(t testing.TB, spec *layouts.Spec) error {
	t.Helper()
	_, findings, err := layouts.Resolve(spec)
	require.NoError(t, err)
	for _, f := range findings {
		if f.Rule == layouts.MissingRule {
			require.Equal(t, layouts.Stop, f.Level)
			return errors.New(f.Message)
		}
	}
	return nil
}

// Places given along the skin, against closed forms: the girth of a circle of 30
// from the crown, and straight sides.
func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		name, surface, side, where string
		fs, bl, wl                 float64
	}{
		{"waterline", "cylinder", "left", "fs: 50, wl: 15", 50, -30 * math.Cos(math.Pi/6), 15},
		{"girth from the crown", "cylinder", "right", "fs: 50, from: {line: crown, down: 20 in}", 50, 30 * math.Sin(20.0/30), 30 * math.Cos(20.0/30)},
		{"the same on the left", "cylinder", "left", "fs: 50, from: {line: crown, down: 20 in}", 50, -30 * math.Sin(20.0/30), 30 * math.Cos(20.0/30)},
		{"up from the keel", "cylinder", "left", "fs: 50, from: {line: keel, up: 20 in}", 50, -30 * math.Sin(20.0/30), -30 * math.Cos(20.0/30)},
		{"down from a named line", "box", "right", "fs: 50, from: {line: S1, down: 6 in}", 50, 10, 14},
		{"down from a named line, left", "box", "left", "fs: 50, from: {line: S1, down: 6 in}", 50, -10, 14},
		{"round a corner", "box", "left", "fs: 50, from: {line: T, down: 13 in}", 50, -10, 17},
		{"between two lines", "box", "right", "fs: 50, between: [S1, S2]", 50, 10, 2.5},
		{"between two stations", "box", "left", "fs: [40, 60], wl: 3", 50, -10, 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := placed(t, c.surface, c.side, c.where)
			require.NoError(t, err)
			require.InDelta(t, c.fs, p.Anchor.FS.Inches(), 1e-9)
			require.InDelta(t, c.bl, p.Anchor.BL.Inches(), 1e-6)
			require.InDelta(t, c.wl, p.Anchor.WL.Inches(), 1e-6)
		})
	}
}

// Directions of the drawing's up, against closed forms.
func TestAlignments(t *testing.T) {
	slope := math.Atan2(10, 100) // of line S2 of the box, up towards the tail
	for _, c := range []struct {
		name, surface, side, where string
		up                         g.Vec3
	}{
		{"waterline", "box", "left", "fs: 50, wl: 5", g.Vec3{Z: 1}},
		{"line, left: reading aft, the drawing turns up", "box", "left", "fs: 50, wl: 5, align: S2", g.Vec3{X: -math.Sin(slope), Z: math.Cos(slope)}},
		{"line, right: the same line", "box", "right", "fs: 50, wl: 5, align: S2", g.Vec3{X: -math.Sin(slope), Z: math.Cos(slope)}},
		{"angle leans aft on the left", "box", "left", "fs: 50, wl: 5, angle: 30", g.Vec3{X: 0.5, Z: math.Cos(math.Pi / 6)}},
		{"angle leans aft on the right", "box", "right", "fs: 50, wl: 5, angle: 30", g.Vec3{X: 0.5, Z: math.Cos(math.Pi / 6)}},
		{"station", "cone", "left", "fs: 60, wl: 10, align: station", g.Vec3{Y: 0.5, Z: math.Sqrt(3) / 2}},
		{"leading edge of a foil", "foil", "left", "fs: 40, wl: 20, align: leading-edge", g.Vec3{}},
		{"leading edge", "fin", "right", "fs: 25, wl: 20, align: leading-edge", g.Vec3{X: 20, Z: 40}.Unit()},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := placed(t, c.surface, c.side, c.where)
			require.NoError(t, err)
			if c.up == (g.Vec3{}) { // on a curved face: as seen from the side
				require.InDelta(t, 0.5, p.Frame.Up.X/p.Frame.Up.Z, 0.02)
				return
			}
			require.InDelta(t, 0, p.Frame.Up.Sub(c.up).Norm(), 1e-6, "up is %v", p.Frame.Up)
		})
	}
	// on a cone the level direction and the section are not square in space, and
	// their difference is the cone's slope seen on the skin
	level, err := placed(t, "cone", "left", "fs: 60, wl: 10")
	require.NoError(t, err)
	_, n := level.Surface.At(level.Frame.At, skin.UV(level.Frame.At))
	require.InDelta(t, 0, level.Frame.Up.Cross(n).Z, 1e-9, "x runs level")
}

func TestPlaceMistakes(t *testing.T) {
	for _, c := range []struct{ surface, where, want string }{
		{"box", "fs: 50, from: {line: S9, down: 6 in}", "has no line \"S9\": it has T, S1, S2, B, crown, keel"},
		{"fin", "fs: 25, from: {line: crown, down: 6 in}", "give wl:"},
		{"box", "fs: 50, wl: 3, from: {line: S1, down: 6 in}", "gives the height more than once"},
		{"box", "fs: 50, from: {line: S1}", "wants one of down and up"},
		{"box", "fs: [1, 2, 3], wl: 3", "fs lists 3 stations"},
		{"box", "fs: 50, between: [S1]", "between lists 1 lines"},
		{"box", "fs: 50", "where has no wl"},
		{"box", "fs: 50, wl: 5, align: sideways", "or write waterline, station or leading-edge"},
		{"cylinder", "fs: 50, wl: 5, align: leading-edge", "has no leading edge"},
		{"cylinder", "fs: 50, from: {line: crown, down: 200 in}", "runs past its end"},
	} {
		_, err := placed(t, c.surface, "left", c.where)
		require.ErrorContains(t, err, c.want, c.where)
	}
}

// Two markings whose sides would bear one name are told apart before anything is
// drawn; both sides of "code" and a left "code-left" met at the writing of the pack.
func TestSideNamesMeet(t *testing.T) {
	spec, err := LoadFS(DemoFiles(), DemoName)
	require.NoError(t, err)
	other := spec.Markings[1]
	require.Equal(t, "code", other.ID)
	other.ID, other.Where.Side = "code-left", layouts.LeftSide
	spec.Markings = append(spec.Markings, other)
	err = missing(t, spec)
	require.ErrorContains(t, err, other.Place.String())
	require.ErrorContains(t, err, fmt.Sprintf("called code-left, as code of line %d", spec.Markings[1].Place.Line))
	other.Where.Side = layouts.RightSide // code-left-right
	spec.Markings[len(spec.Markings)-1] = other
	require.NoError(t, missing(t, spec))
}
