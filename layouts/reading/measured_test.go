package reading

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"

	g "maskloft/geometry"
)

const slabText = `name: tape
units: in
aircraft:
  name: slab
  datum: d
  surfaces: [{id: slab, kind: plate, thickness: 1, outline: [[0, 0], [120, 0], [120, 60]]}]
  hardpoints:
    - {id: P1, name: corner, side: SIDE, fs: 1, bl: 0.5, wl: 2MEASURED}
  PEGS
markings:
  - id: disc
    figure: {discs: [{diameter: 1, colour: red}]}
    where: {surface: slab, side: left, fs: 60, wl: 10}
paint: {order: [red], colours: {red: {hex: "#9B0A18"}}}
TAPE
`

func tapeText(side, measured, pegs, tape string) string {
	return strings.NewReplacer("SIDE", side, "MEASURED", measured, "  PEGS\n", pegs, "TAPE", tape).Replace(slabText)
}

func TestTapeKeys(t *testing.T) {
	inch := g.Inch
	for text, want := range map[string]layouts.TapeSpec{
		"":                                    {Class: layouts.TapeUS, Units: g.ReadInches, Reading: inch / 16},
		"tape: {class: eu-2}":                 {Class: layouts.TapeEU2, Units: g.ReadInches, Reading: inch / 16},
		"tape: {burn: yes, reading: 1/32 in}": {Class: layouts.TapeUS, Units: g.ReadInches, Reading: inch / 32, Burn: true},
		"tape: {burn: no, units: mm}":         {Class: layouts.TapeUS, Units: g.ReadMillimetres, Reading: g.Millimetre},
		"tape: {units: mm, reading: 0.5 mm}":  {Class: layouts.TapeUS, Units: g.ReadMillimetres, Reading: g.Millimetre / 2},
	} {
		spec, err := loadText(t, tapeText("both", "", "", text))
		require.NoError(t, err, text)
		got := spec.Tape
		got.Place = layouts.Place{}
		assert.InDelta(t, want.Reading.Inches(), got.Reading.Inches(), 1e-12, text)
		got.Reading = want.Reading
		assert.Equal(t, want, got, text)
	}
	spec, err := loadText(t, tapeText("both", "", "", "tape: {burn: yes, reading: 1/32 in}"))
	require.NoError(t, err)
	assert.Equal(t, inch, spec.Tape.Start())
	assert.InDelta(t, 100, spec.Tape.Metric().Start().Millimetres(), 1e-9)
	assert.InDelta(t, 1, spec.Tape.Metric().Reading.Millimetres(), 1e-9)
	assert.Zero(t, layouts.UsualTape().Start())
}

func TestMeasuredKeys(t *testing.T) {
	spec, err := loadText(t, tapeText("both", ", measured: {left: {fs: 1.25, bl: 0.5, wl: 30 mm}}, sigma: 1/16 in",
		"  level-pegs: [{id: LP1, fs: 84, wl: 46}, {id: LP2, fs: 114, wl: 46.5, side: left}]\n", ""))
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	left, right := l.Airframe.Hardpoints(g.Left)[0], l.Airframe.Hardpoints(g.Right)[0]
	assert.Equal(t, g.Position{FS: 1.25, BL: -0.5, WL: 30 / 25.4}, left.At)
	assert.Equal(t, g.Position{FS: 1, BL: -0.5, WL: 2}, left.Drawn)
	assert.True(t, left.Measured)
	assert.Equal(t, g.Position{FS: 1, BL: 0.5, WL: 2}, right.At)
	assert.False(t, right.Measured)
	assert.Equal(t, [2]g.Length{0.0625, 0.0625}, [2]g.Length{left.Sigma, right.Sigma}, "as written")
	assert.Equal(t, "LP2", spec.Aircraft.LevelPegs[1].ID)
	assert.Equal(t, g.SidePosition{FS: 114, WL: 46.5}, spec.Aircraft.LevelPegs[1].At)

	spec, err = loadText(t, tapeText("both", ", measured: {left: {fs: 1.25, bl: 0.5, wl: 2}}", "", ""))
	require.NoError(t, err)
	l, _, err = layouts.Resolve(spec)
	require.NoError(t, err)
	assert.Equal(t, layouts.MeasuredSigma, l.Airframe.Hardpoints(g.Left)[0].Sigma)
	assert.Equal(t, layouts.DrawnSigma, l.Airframe.Hardpoints(g.Right)[0].Sigma)
}

// Each mistake is reported at its line, with what to type.
func TestMeasuredMistakes(t *testing.T) {
	for _, c := range []struct{ side, measured, pegs, tape, says string }{
		{"both", ", measured: {port: {fs: 1, bl: 0, wl: 2}}", "", "", "measured has no key port"},
		{"both", ", measured: {left: {fs: 1, wl: 2}}", "", "", "measured left has no bl"},
		{"both", ", measured: {left: {fs: 1, bl: -0.5, wl: 2}}", "", "", "BL counts outwards on either side"},
		{"right", ", measured: {left: {fs: 1, bl: 0.5, wl: 2}}", "", "", "the hardpoint is on the right side, and measured on the left"},
		{"both", ", sigma: 0", "", "", "sigma is 0 in, must be above 0"},
		{"both", "", "  level-pegs: [{id: LP1, fs: 84, wl: 46}]\n", "", "one level peg; a level lies on two"},
		{"both", "", "  level_pegs: [{id: LP1, fs: 84, wl: 46}]\n", "", "did you mean level-pegs?"},
		{"both", "", "", "tape: {class: eu}", `class is "eu", wanted us, eu-1 or eu-2`},
		{"both", "", "", "tape: {burn: maybe}", `burn is "maybe", wanted yes or no`},
		{"both", "", "", "tape: {reading: 1/12 in}", "no graduation of a tape in inches"},
		{"both", "", "", "tape: {reading: 1 mm}", "no graduation of a tape in inches"},
		{"both", "", "", "tape: {units: mm, reading: 1/16 in}", "no graduation of a tape in millimetres"},
		{"both", "", "", "tape: {units: ft}", `units is "ft", wanted in or mm`},
	} {
		_, err := loadText(t, tapeText(c.side, c.measured, c.pegs, c.tape))
		require.ErrorContains(t, err, c.says)
		assert.Regexp(t, `:\d+:\d+: `, err.Error())
	}
}
