package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

func TestOffSkin(t *testing.T) {
	tests := []struct {
		name, aircraft, marking string
		off                     []string  // markings with a finding
		edge                    g.Station // of the skin, where they leave it
	}{
		{"clear of the hinge gap", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: [fin, rudder], side: both, fs: 237.9, wl: 75}`, nil, 0},
		{"over the hinge gap", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: [fin, rudder], side: both, fs: 238.5, wl: 75}`, []string{"it-left", "it-right"}, 240},
		{"a part of it just in the gap", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}, {diameter: 1, colour: white}]}
    where: {surface: [fin, rudder], side: left, fs: 238.1, wl: 75}`, []string{"it-left"}, 240},
		{"on the rudder alone", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: rudder, side: left, fs: 242.6, wl: 75}`, nil, 0},
		{"over the edge of a plate", "slab", `
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: slab, side: right, fs: 115, wl: 30}`, []string{"it-right"}, 120},
		{"over the fore end of a cylinder", "round", `
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cylinder, side: left, fs: 5, wl: 0}`, []string{"it-left"}, 0},
		{"at the fore end of a cylinder", "round", `
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cylinder, side: left, fs: 10.001, wl: 0}`, nil, 0},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			laid, findings := lay(t, worked.LayoutOf(t, "name: it\naircraft: "+tc.aircraft+".yaml\nmarkings:\n  - id: it"+tc.marking+worked.Common))
			var off []string
			for _, f := range findings {
				if f.Rule != "off-skin" {
					continue
				}
				off = append(off, f.Marking)
				assert.Equal(t, layouts.Stop, f.Level)
				assert.NotEmpty(t, f.Hint)
				assert.NotEmpty(t, f.Source)
				// where the skin goes on a little the place is that of the outline, else the anchor
				if anchor := worked.Find(t, laid, f.Marking).Placement.Anchor; f.Where != anchor {
					assert.InDelta(t, tc.edge.Inches(), f.Where.FS.Inches(), 0.5, f.Message)
					assert.Less(t, float64(f.Where.To(anchor)), 10.5, f.Message)
				}
			}
			assert.Equal(t, tc.off, off)
		})
	}
}

// The tail number of the demo has a gap between two characters on the hinge:
// nothing is painted over it.
func TestDemoClearsTheHinge(t *testing.T) {
	w := worked.Demo(t)
	assert.Empty(t, worked.Rules(w.Findings, layouts.Stop, layouts.Warn))
	for _, id := range []string{"tail-number-left", "tail-number-right"} {
		l := worked.Find(t, w.Laid, id)
		for _, x := range [2]float64{240, 240.375} {
			flat := (x - l.Placement.Anchor.FS.Inches()) * l.Placement.Side.Reading()
			assert.True(t, l.Field.Min.X < flat && flat < l.Field.Max.X, "%s: the film spans the hinge", id)
			assert.Greater(t, l.Painted.Distance(g.Point{X: flat, Y: 0}, 1e-4), 0.3, "%s", id)
		}
		lo, hi := (240-l.Placement.Anchor.FS.Inches())*l.Placement.Side.Reading(), (240.375-l.Placement.Anchor.FS.Inches())*l.Placement.Side.Reading()
		gap := g.Path{g.Rectangle(g.Rect{Min: g.Point{X: math.Min(lo, hi), Y: -20}, Max: g.Point{X: math.Max(lo, hi), Y: 20}})}
		assert.Zero(t, worked.Overlap(t, l.Painted, gap), "%s", id)
	}
}

// Both heights are told where they differ by more than a tape shows. On a
// cylinder, 20 in along the skin about a point 30 degrees up is
// 60 cos(30) sin(20/60) in high seen from the side (derived).
func TestTwoHeights(t *testing.T) {
	laid, findings := lay(t, worked.LayoutOf(t, `
name: heights
aircraft: round.yaml
markings:
  - id: high
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cylinder, side: left, fs: 30, wl: 15}
  - id: level
    figure: {discs: [{diameter: 3, colour: red}]}
    where: {surface: cylinder, side: left, fs: 90, wl: 0}
`+worked.Common))
	seen := 60 * math.Cos(math.Pi/6) * math.Sin(20.0/60)
	along, side := laid[0].Heights()
	assert.InDelta(t, 20, along, 1e-6)
	assert.InDelta(t, seen, side, 1e-4)
	require.Equal(t, []string{"two-heights"}, worked.Rules(findings, layouts.Note, layouts.Warn, layouts.Stop))
	assert.Equal(t, "high-left", findings[0].Marking)
	assert.Equal(t, "17.002 in", findings[0].Measured)
	assert.Equal(t, "20.000 in", findings[0].Expected)

	along, side = laid[1].Heights() // 3 - 60 sin(1.5/30) = 0.0012: not worth a word
	assert.InDelta(t, 0.001250, along-side, 1e-5)
}

// A skin that bulges in both directions cannot be unrolled: the film says so.
func TestStrainIsFound(t *testing.T) {
	for _, tc := range []struct {
		radius string
		rules  []string
	}{
		{"20", []string{}},
		{"21", []string{"film-strain"}},
	} {
		laid, findings := lay(t, worked.LayoutOf(t, `
name: bulge
aircraft:
  name: bulge
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces:
    - id: body
      kind: round
      sections: [{fs: 0, radius: 20, wl: 0}, {fs: 40, radius: `+tc.radius+`, wl: 0}, {fs: 80, radius: 20, wl: 0}]
markings:
  - id: disc
    figure: {discs: [{diameter: 5, colour: red}]}
    where: {surface: body, side: left, fs: 40, wl: 0}
film: {field: 0.5}
`+worked.Common))
		assert.Equal(t, tc.rules, worked.Rules(findings, layouts.Note, layouts.Warn, layouts.Stop), tc.radius)
		assert.Equal(t, len(tc.rules) == 0, laid[0].Exact, tc.radius)
		for _, f := range findings {
			assert.Equal(t, "disc-left", f.Marking)
			assert.Equal(t, masks.Percent(laid[0].Strain.Compression), f.Measured)
			assert.Equal(t, laid[0].Strain.CompressionAt, f.Where)
			assert.Greater(t, laid[0].Strain.Compression, masks.NoteStrain)
		}
	}
}

func TestPercent(t *testing.T) {
	for e, want := range map[float64]string{0: "0.00 %", 0.0123: "1.23 %", 0.00005: "0.01 %", 0.000002: "0.0002 %", 3e-9: "3e-07 %"} {
		assert.Equal(t, want, masks.Percent(e))
	}
}
