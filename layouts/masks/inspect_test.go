package masks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/layouts"
)

func TestOffSkin(t *testing.T) {
	tests := []struct {
		name, aircraft, marking string
		off                     []string // markings with a finding
		fs, wl                  float64  // where the first one is, within an inch; 0: at the anchor
	}{
		{"clear of the hinge gap", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: [fin, rudder], side: both, fs: 237.9, wl: 75}`, nil, 0, 0},
		{"over the hinge gap", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: [fin, rudder], side: both, fs: 238.5, wl: 75}`, []string{"it-left", "it-right"}, 240.2, 75},
		{"a part of it just in the gap", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}, {diameter: 1, colour: white}]}
    where: {surface: [fin, rudder], side: left, fs: 238.1, wl: 75}`, []string{"it-left"}, 240.1, 75},
		{"on the rudder alone", "kittock", `
    figure: {discs: [{diameter: 4, colour: red}]}
    where: {surface: rudder, side: left, fs: 242.6, wl: 75}`, nil, 0, 0},
		{"over the edge of a plate", "slab", `
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: slab, side: right, fs: 115, wl: 30}`, []string{"it-right"}, 115, 30},
		{"over the fore end of a cylinder", "round", `
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cylinder, side: left, fs: 5, wl: 0}`, []string{"it-left"}, 5, 0},
		{"at the fore end of a cylinder", "round", `
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cylinder, side: left, fs: 10.001, wl: 0}`, nil, 0, 0},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			_, findings := lay(t, layoutOf(t, "name: it\naircraft: "+tc.aircraft+".yaml\nmarkings:\n  - id: it"+tc.marking+common))
			var off []string
			for _, f := range findings {
				if f.Rule != "off-skin" {
					continue
				}
				off = append(off, f.Marking)
				assert.Equal(t, layouts.Stop, f.Level)
				assert.NotEmpty(t, f.Hint)
				assert.NotEmpty(t, f.Source)
				assert.InDelta(t, tc.fs, float64(f.Where.FS), 1, f.Message)
				assert.InDelta(t, tc.wl, float64(f.Where.WL), 2, f.Message)
			}
			assert.Equal(t, tc.off, off)
		})
	}
}

// The tail number of the demo has a gap between two characters on the hinge:
// nothing is painted over it.
func TestDemoClearsTheHinge(t *testing.T) {
	w := demo(t)
	assert.Empty(t, rules(w.findings, layouts.Stop, layouts.Warn))
	for _, id := range []string{"tail-number-left", "tail-number-right"} {
		l := find(t, w.laid, id)
		gap := g.Path{}
		for _, x := range [2]float64{240, 240.375} {
			flat := (x - float64(l.Placement.Anchor.FS)) * l.Placement.Side.Reading()
			assert.True(t, l.Field.Min.X < flat && flat < l.Field.Max.X, "%s: the film spans the hinge", id)
			assert.Greater(t, l.Painted.Distance(g.Point{X: flat, Y: 0}, 1e-4), 0.3, "%s", id)
		}
		lo, hi := (240-float64(l.Placement.Anchor.FS))*l.Placement.Side.Reading(), (240.375-float64(l.Placement.Anchor.FS))*l.Placement.Side.Reading()
		gap = append(gap, g.Rectangle(g.Rect{Min: g.Point{X: math.Min(lo, hi), Y: -20}, Max: g.Point{X: math.Max(lo, hi), Y: 20}}))
		assert.Zero(t, overlap(t, l.Painted, gap), "%s", id)
	}
}

// Both heights are told where they differ by more than a tape shows. On a
// cylinder, 20 in along the skin about a point 30 degrees up is
// 60 cos(30) sin(20/60) in high seen from the side (derived).
func TestTwoHeights(t *testing.T) {
	laid, findings := lay(t, layoutOf(t, `
name: heights
aircraft: round.yaml
markings:
  - id: high
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cylinder, side: left, fs: 30, wl: 15}
  - id: level
    figure: {discs: [{diameter: 3, colour: red}]}
    where: {surface: cylinder, side: left, fs: 90, wl: 0}
`+common))
	seen := 60 * math.Cos(math.Pi/6) * math.Sin(20.0/60)
	along, side := laid[0].Heights()
	assert.InDelta(t, 20, along, 1e-6)
	assert.InDelta(t, seen, side, 1e-4)
	require.Equal(t, []string{"two-heights"}, rules(findings, layouts.Note, layouts.Warn, layouts.Stop))
	assert.Equal(t, "high-left", findings[0].Marking)
	assert.Equal(t, "17.001 in", findings[0].Measured)
	assert.Equal(t, "20.000 in", findings[0].Expected)

	along, side = laid[1].Heights() // 3 - 60 sin(1.5/30) = 0.0012: not worth a word
	assert.InDelta(t, 0.001250, along-side, 1e-5)
}

// A skin that bulges in both directions cannot be unrolled: the strain decides
// how loudly that is said.
func TestStrainLevels(t *testing.T) {
	bulge := func(radius string) (Laid, []layouts.Finding) {
		laid, findings := lay(t, layoutOf(t, `
name: bulge
aircraft:
  name: bulge
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces:
    - id: body
      kind: round
      sections: [{fs: 0, radius: 20, wl: 0}, {fs: 40, radius: `+radius+`, wl: 0}, {fs: 80, radius: 20, wl: 0}]
markings:
  - id: disc
    figure: {discs: [{diameter: 16, colour: red}]}
    where: {surface: body, side: left, fs: 40, wl: 0}
`+common))
		return laid[0], findings
	}
	levels := map[layouts.Level]bool{}
	for _, radius := range []string{"20", "21", "23", "32"} {
		l, findings := bulge(radius)
		var strain []layouts.Finding
		for _, f := range findings {
			if f.Rule == "film-strain" {
				strain = append(strain, f)
			}
		}
		c := l.Strain.Compression
		if math.Max(c, l.Strain.Tension) <= 0.0005 {
			assert.Empty(t, strain, radius)
			assert.Equal(t, "20", radius, "only the cylinder unrolls")
			assert.True(t, l.Exact)
			continue
		}
		assert.False(t, l.Exact, radius)
		require.Len(t, strain, 1, radius)
		want := layouts.Note
		switch {
		case c > 0.04:
			want = layouts.Stop
		case c > 0.005:
			want = layouts.Warn
		}
		assert.Equal(t, want, strain[0].Level, "%s: squeezed %v", radius, c)
		assert.Equal(t, want != layouts.Note, strain[0].Hint != "", radius)
		levels[want] = true
		t.Logf("radius %s: squeezed %v, stretched %v: %s", radius, c, l.Strain.Tension, want)
	}
	assert.Len(t, levels, 3, "the cases reach every level")
}

func TestPercent(t *testing.T) {
	for e, want := range map[float64]string{0: "0.00 %", 0.0123: "1.23 %", 0.00005: "0.01 %", 0.000002: "0.0002 %", 3e-9: "3e-07 %"} {
		assert.Equal(t, want, Percent(e))
	}
}
