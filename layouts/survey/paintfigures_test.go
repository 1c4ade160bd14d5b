package survey

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Area 6.13 ft2, its middle 10.20 in aft of the hinge; one coat over both faces
// 0.069 to 0.102 lb, 0.70 to 1.04 in-lb; three coats 2.1 to 3.1 in-lb: figures of the
// demo aircraft's description, from 0.0056 to 0.0083 lb/ft2 (Wood 1947).
func TestRudderBalance(t *testing.T) {
	w := worked.Demo(t)
	figures, findings, err := FiguresOf(w.Layout, w.Laid)
	require.NoError(t, err)
	require.Len(t, figures.Balance, 1)
	b := figures.Balance[0]
	require.NotNil(t, b.Whole)
	assert.InDelta(t, 6.13, b.Whole.Face, 0.005)
	assert.InDelta(t, 10.20, b.Whole.Arm.Inches(), 0.005)
	assert.InDelta(t, 0.069, b.Whole.Weight.Low, 0.0005)
	assert.InDelta(t, 0.102, b.Whole.Weight.High, 0.0005)
	assert.InDelta(t, 0.70, b.Whole.Moment.Low, 0.005)
	assert.InDelta(t, 1.04, b.Whole.Moment.High, 0.005)
	three := momentOf(DopeWeight(2*b.Whole.Face, 3), b.Whole.Arm)
	assert.InDelta(t, 2.1, three.Low, 0.05)
	assert.InDelta(t, 3.1, three.High, 0.05)

	assert.Equal(t, "rudder", b.Surface)
	assert.Equal(t, []string{"tail-number-left", "tail-number-right"}, b.Painted)
	require.Len(t, findings, 1)
	assert.Equal(t, "balance-check", findings[0].Rule)
	assert.Equal(t, layouts.Note, findings[0].Level)
	assert.Contains(t, findings[0].Message, "BALANCE CHECK REQUIRED, signature")

	// The hinge gap lies in the gap between 4 and 1: on the left the 1 and the 7 stand
	// on the rudder, on the right, whose reader has the nose at his right hand, the 0
	// and the 4. The 1 is a bar of a sixth of its height of 8 in.
	one, seven := 8*8.0/6, figureArea(t, "7")
	zero, four := figureArea(t, "0"), figureArea(t, "4")
	assert.InDelta(t, (one+seven+zero+four)/144, b.Area, 0.002)
	assert.InDelta(t, b.Area*3*DopeLight, b.Weight.Low, 1e-9)
	assert.InDelta(t, b.Weight.High*b.Arm.Inches(), b.Moment.High, 1e-9)
	assert.Greater(t, b.Arm.Inches(), 2.0)
	assert.Less(t, b.Arm.Inches(), 11.0)
}

// figureArea returns the painted area of one figure of 8 in on the slab.
func figureArea(t testing.TB, text string) float64 {
	t.Helper()
	return worked.LaidOf(t, `
name: one
aircraft: slab.yaml
markings:
  - id: one
    figure: {text: "`+text+`", alphabet: block-6x4, height: 8}
    where: {surface: slab, side: left, fs: 60, wl: 30}
    colours: {text: white}
`+worked.Common)[0].Painted.Area()
}

// Of a roundel on a surface that moves: the moment is weight times arm, and without
// a hinge line there is none.
func TestBalanceOfADisc(t *testing.T) {
	layout := func(keys string) (*layouts.Layout, []masks.Laid) {
		l := worked.LayoutOf(t, `
name: disc
units: in
aircraft:
  name: tail
  datum: FS 0 is the sternpost, positive aft; WL 0 its foot, positive up
  surfaces:
    - {id: rudder, kind: plate, thickness: 1, outline: [[0, 0], [40, 0], [40, 40], [0, 40]]`+keys+`}
markings:
  - id: disc
    figure: {discs: [{diameter: 12, colour: red}]}
    where: {surface: rudder, side: both, fs: 30, wl: 20}
paint: {coats: 2, order: [red], colours: {red: {hex: "#9B0A18"}}}
`)
		laid, _ := lay(t, l)
		return l, laid
	}
	area := math.Pi / 4 // ft2 of a disc of 12 in

	l, laid := layout(", hinge: 4")
	f, findings, err := FiguresOf(l, laid)
	require.NoError(t, err)
	require.Len(t, f.Balance, 1)
	b := f.Balance[0]
	assert.InEpsilon(t, 2*area, b.Area, 1e-4)
	assert.InDelta(t, 26, b.Arm.Inches(), 1e-4)
	assert.InEpsilon(t, 2*2*area*0.0056*26, b.Moment.Low, 1e-4, "two sides, two coats")
	assert.InEpsilon(t, 2*2*area*0.0083*26, b.Moment.High, 1e-4)
	assert.Equal(t, layouts.Note, findings[0].Level)

	l, laid = layout(", control: true")
	f, findings, err = FiguresOf(l, laid)
	require.NoError(t, err)
	require.Len(t, f.Balance, 1)
	assert.Zero(t, f.Balance[0].Moment)
	assert.InEpsilon(t, 2*2*area*0.0056, f.Balance[0].Weight.Low, 1e-4)
	assert.Equal(t, layouts.Warn, findings[0].Level)
	assert.Contains(t, findings[0].Hint, "hinge:")

	l, laid = layout("")
	f, findings, err = FiguresOf(l, laid)
	require.NoError(t, err)
	assert.Empty(t, f.Balance)
	assert.Empty(t, findings)
}

// Quantities: area times coats over 192 ft2/gal (1604 x 12 % x 50 % / 0.5 mil =
// 192.48), times 1.3, at least 8 oz a colour. A disc of 10 ft2 with 3 coats takes
// 10 x 3 / 192.48 x 1.3 = 0.2026 gal = 25.9 oz.
func TestPaintQuantities(t *testing.T) {
	assert.InDelta(t, 192, layouts.UsualSpray().Coverage, 0.5)
	assert.InDelta(t, 25.9, gallons(30, layouts.UsualSpray().Coverage)*ouncesPerGallon, 0.05)

	l := worked.LayoutOf(t, `
name: quantities
units: in
aircraft: slab.yaml
markings:
  - id: roundel
    figure: {discs: [{diameter: 24, colour: blue}, {diameter: 12, colour: white}]}
    where: {surface: slab, side: both, fs: 60, wl: 30}
paint:
  trap: 0 in
  coverage: 2 ft2/gal
  under: {white: 1}
  order: [white, blue]
  colours: {white: {hex: "#ffffff", coats: 2}, blue: {hex: "#172035"}}
`)
	laid, _ := lay(t, l)
	f, _, err := FiguresOf(l, laid)
	require.NoError(t, err)
	require.Len(t, f.Totals, 3)
	white, blue, under := f.Totals[0], f.Totals[1], f.Totals[2]
	disc, ring := math.Pi/4, math.Pi/4*(4-1) // ft2
	assert.Equal(t, []string{"white", "blue", UnderCoat}, []string{white.Paint, blue.Paint, under.Paint})
	assert.InEpsilon(t, 2*disc, white.Sprayed, 1e-4)
	assert.InEpsilon(t, 2*disc*2, white.Coated, 1e-4)
	assert.InEpsilon(t, 2*disc*2/2*1.3, white.Gallons, 1e-4)
	assert.InEpsilon(t, white.Gallons*128, white.Ounces, 1e-9)
	assert.InEpsilon(t, 2*ring*3/2*1.3, blue.Gallons, 1e-4)
	assert.InEpsilon(t, 2*disc/2*1.3, under.Gallons, 1e-4)
	assert.InEpsilon(t, 2*ring*3*0.0083, blue.Weight.High, 1e-4)
	require.Len(t, f.Passes, 4)
	assert.InEpsilon(t, disc*3*0.0056, f.Passes[0].Weight.Low, 1e-4, "two coats and the one under them")

	// a trap is sprayed and does not show
	l.Spec.Paint.Spray.Trap = g.Inch / 8
	laid, _ = lay(t, l)
	f, _, err = FiguresOf(l, laid)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*disc, f.Totals[0].Shows, 1e-4)
	assert.InEpsilon(t, 2*math.Pi*(6.125*6.125)/144, f.Totals[0].Sprayed, 1e-4)

	// a small marking still takes a cup
	l.Spec.Paint.Spray.Coverage = 192
	f, _, err = FiguresOf(l, laid)
	require.NoError(t, err)
	assert.InDelta(t, 8, f.Totals[0].Ounces, 0)
	assert.True(t, strings.HasPrefix(f.Passes[0].Mask, "roundel-left-pass-1-white"))
}
