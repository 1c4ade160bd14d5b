package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// kittock surveys markings on the invented aircraft, by its own obstacles.
func kittock(t testing.TB, markings string) standing { return surveyOf(t, "kittock", "", markings, "") }

const codeAt = `
  - id: code
    figure: {text: K4, alphabet: block-6x4, height: 12 in}
    where: {surface: fuselage, side: both, fs: 184, wl: `

const red = "}\n    colours: {text: red}"

// The case laid down with the demo aircraft: the code at WL 53 spans WL 47 to 59,
// and the inspection ring of 4 in at FS 186, WL 47, left side only, reaches up to
// WL 49: 2 in up clears it with the whole character. The bar of the 4 stands 2.36 in
// above the baseline, so that paint and ring are 2.36 - 2 + 0.03 in apart (0.03: the
// girth from WL 53 to WL 47 is longer than 6 in by that; computed by hand from the
// offsets of S4, S5 and S6 at FS 186).
func TestDemoCodeAndInspectionRing(t *testing.T) {
	s := kittock(t, codeAt+"53"+red)
	found := s.of("obstacle", "code-left")
	require.Len(t, found, 1)
	assert.Equal(t, layouts.Warn, found[0].Level)
	assert.Contains(t, found[0].Hint, "where.wl: 53.125 in (0.125 in up: keeps 0.5 in from it")
	assert.Contains(t, found[0].Hint, "where.wl: 55 in (2 in up: clears it with the whole character")
	c := s.clearance(t, "inspection ring")
	assert.InDelta(t, 0.39, c.Distance.Inches(), 0.01)
	assert.Equal(t, []rune("4"), c.Within)
	assert.Empty(t, s.of("obstacle", "code-right"))

	s = kittock(t, codeAt+"55"+red)
	assert.Empty(t, s.of("obstacle", "code-left"))
	c = s.clearance(t, "inspection ring")
	assert.Empty(t, c.Within)
	// the foot of the K is nearest now, 3 in forward of the ring's centre and 2 in above it,
	// and a little more on the skin, which tapers
	assert.InDelta(t, math.Hypot(3, 2)-2, c.Distance.Inches(), 0.08)

	s = kittock(t, codeAt+"54.875"+red)
	assert.NotEmpty(t, s.clearance(t, "inspection ring").Within, "an eighth less does not clear it")

	s = kittock(t, codeAt+"50"+red) // the bar of the 4 over the ring
	found = s.of("obstacle", "code-left")
	require.Len(t, found, 1)
	assert.Equal(t, layouts.Stop, found[0].Level)
}

// The tail number laid down with the demo aircraft: at a start of FS 227.0 the "1"
// stands at FS 240.333 to 241.667, and the hinge gap ends at 240.375: 1/24 in by
// 8 in of it under paint. At 227.521 a gap of 1.333 in has the hinge of 0.375 in
// in its middle: (1.333 - 0.375)/2 = 0.479 in on either side.
func TestDemoTailNumberOverTheHinge(t *testing.T) {
	at := func(fs string) standing {
		return kittock(t, `
  - id: number
    figure: {text: 0417, alphabet: block-6x4, height: 8 in, gap: 1.3333333 in}
    where: {surface: [fin, rudder], side: left, hold: fore, wl: 78, fs: `+fs+red)
	}
	s := at("227")
	found := s.of("hinge", "number-left")
	require.Len(t, found, 1)
	assert.Equal(t, layouts.Stop, found[0].Level)
	assert.Contains(t, found[0].Hint, `where.fs: 227.5208 in (0.5208 in aft: brings the gap between '4' and '1' over the hinge`)
	assert.InDelta(t, 8.0/24, s.clearance(t, "hinge gap").Overlap, 1e-3)

	s = at("227.521")
	assert.Empty(t, s.of("hinge", "number-left"))
	assert.InDelta(t, (4.0/3-0.375)/2, s.clearance(t, "hinge gap").Distance.Inches(), 1e-3)
	assert.Empty(t, worked.Rules(s.findings, layouts.Warn, layouts.Stop))

	s = at("227.2") // 0.158 in aft of the gap: clear of it, but near
	found = s.of("hinge", "number-left")
	require.Len(t, found, 1)
	assert.Equal(t, layouts.Warn, found[0].Level)
	assert.Equal(t, "0.16 in", found[0].Measured)
}

// Marks on the side end forward of FS 212, 2 in short of the tailplane slot: laid
// down with the demo aircraft. A disc of 4 in about FS 210.5 ends at FS 212.49; along
// the skin, 1.00552 times the station (the true length of line S3 there), the slot at
// FS 214 is 3.5 x 1.00552 - 2 in from it.
func TestDemoTailplaneSlot(t *testing.T) {
	at := func(fs string) standing {
		return kittock(t, `
  - id: disc
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: fuselage, side: left, wl: 59.5, fs: `+fs+"}")
	}
	s := at("210.5")
	require.Len(t, s.of("obstacle", "disc-left"), 1)
	assert.Equal(t, layouts.Warn, s.of("obstacle", "disc-left")[0].Level)
	assert.InDelta(t, 3.5*1.00552-2, s.clearance(t, "tailplane slot").Distance.Inches(), 0.01)
	assert.Contains(t, s.of("obstacle", "disc-left")[0].Hint, "fs: 210 in (0.5 in forward: ")

	assert.Empty(t, at("210").of("obstacle", "disc-left"))

	s = at("213")
	require.Len(t, s.of("obstacle", "disc-left"), 1)
	assert.Equal(t, layouts.Stop, s.of("obstacle", "disc-left")[0].Level)
	// seen from the side 1 in of the disc's radius lies forward of the slot and 3 in of WL of
	// the slot are cut from it: the rest of the disc aft of FS 214, between WL 58.5 and 61.5
	strip := func(y float64) float64 { return math.Sqrt(4-y*y) - 1/1.0 }
	area := g.Integrate(strip, -1, math.Sqrt(3)) // half-chord beyond 1 in of the centre, from WL 58.5 up to where the disc ends at FS 214
	assert.InDelta(t, area, s.clearance(t, "tailplane slot").Overlap, 0.05)
}

const insigniaAt = `
  - id: insignia
    figure: {rule: hcf-order-12/insignia, size: 20 in}
    where: {surface: fuselage, side: both, wl: 51, fs: `

const insigniaColours = "}\n    handed: handed\n    colours: {insignia_blue: blue, insignia_white: white, orange_yellow: red}"

// The limit laid down with the demo aircraft: an insignia of 20 in is 74.7 % of the
// side between the longerons at FS 134 and passes at 75 %; at FS 150 it is 82 % and
// fails. The height there is 29 - 19 (FS - 120)/120: S2 falls by 5 in and S6 rises
// by 14 in over 120 in. 75 % is reached at FS 120 + 120 (29 - 20/0.75)/19 = 134.737.
func TestDemoHeightLimit(t *testing.T) {
	height := func(fs float64) float64 { return 29 - 19*(fs-120)/120 }
	s := kittock(t, insigniaAt+"134"+insigniaColours)
	require.NotNil(t, s.surveyed[0].Fit)
	assert.InDelta(t, height(134), s.surveyed[0].Fit.Height.Inches(), 1e-6)
	assert.InDelta(t, 0.747, s.surveyed[0].Fit.Part, 0.0005)
	assert.Empty(t, s.of("height-limit", "insignia-left"))

	s = kittock(t, insigniaAt+"150"+insigniaColours)
	for _, id := range []string{"insignia-left", "insignia-right"} {
		found := s.of("height-limit", id)
		require.Len(t, found, 1)
		assert.Equal(t, layouts.Stop, found[0].Level)
		assert.Equal(t, "82.5 %", found[0].Measured)
		assert.Contains(t, found[0].Hint, "figure.size: 18 in (the ", "three quarters of 24.25 in are 18.19: the step of 18 in fits")
		assert.Contains(t, found[0].Hint, "fs: 134.625 in (the ", "the last eighth before 134.737")
	}
	for fs, passes := range map[string]bool{"134.625": true, "134.75": false} {
		assert.Equal(t, passes, len(kittock(t, insigniaAt+fs+insigniaColours).of("height-limit", "insignia-left")) == 0, fs)
	}
}
