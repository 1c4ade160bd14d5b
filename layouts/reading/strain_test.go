package reading

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
)

// withFilm is a layout with the given film key.
func withFilm(film string) string {
	return `name: strain
units: in
aircraft:
  name: tube
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up
  surfaces:
    - {id: body, kind: round, sections: [{fs: 0, radius: 20, wl: 0}, {fs: 80, radius: 20, wl: 0}]}
markings:
  - id: disc
    figure: {discs: [{diameter: 5, colour: red}]}
    where: {surface: body, fs: 40, wl: 0}
paint: {order: [red], colours: {red: {hex: "#9b0a18"}}}
` + film + "\n"
}

func TestStrainBands(t *testing.T) {
	usual := layouts.UsualStrain()
	for _, tc := range []struct {
		film string
		want layouts.StrainBands
	}{
		{"", usual},
		{"film: {web: 24}", usual},
		{"film: {strain: {}}", usual},
		{"film: {strain: {easy: 1 %, warm: 1.5%, split: \"3. %\"}}", layouts.StrainBands{Squeezed: layouts.StrainLimits{Easy: 0.01, Warm: 0.015, Split: 0.03}, Stretched: usual.Stretched}},
		{"film: {strain: {warm: 3 %}}", layouts.StrainBands{Squeezed: layouts.StrainLimits{Easy: 0.005, Warm: 0.03, Split: 0.04}, Stretched: usual.Stretched}},
		{"film:\n  strain:\n    stretched: {easy: .1 %, warm: 6 %, split: 49.9 %}", layouts.StrainBands{Squeezed: usual.Squeezed, Stretched: layouts.StrainLimits{Easy: 0.001, Warm: 0.06, Split: 0.499}}},
	} {
		spec, err := loadText(t, withFilm(tc.film))
		require.NoError(t, err, tc.film)
		for _, l := range [2][2]layouts.StrainLimits{{tc.want.Squeezed, spec.Film.Strain.Squeezed}, {tc.want.Stretched, spec.Film.Strain.Stretched}} {
			assert.InDelta(t, l[0].Easy, l[1].Easy, 1e-12, tc.film)
			assert.InDelta(t, l[0].Warm, l[1].Warm, 1e-12, tc.film)
			assert.InDelta(t, l[0].Split, l[1].Split, 1e-12, tc.film)
		}
	}
}

func TestStrainBandsRefused(t *testing.T) {
	for _, tc := range []struct{ strain, message, hint string }{
		{"{easy: 0.5}", "easy: 0.5 has no percent sign", "write 0.5 %"},
		{`{easy: "0,5 %"}`, `easy: "0,5 %" is not a percentage`, "0.5 %"},
		{"{easy: .3e0 %}", `easy: ".3e0 %" is not a percentage`, "write easy: 0.5 %"},
		{"{easy: half}", `easy: "half" is not a percentage`, "write easy: 0.5 %"},
		{"{easy: 0 %}", "easy is 0 %, must lie above 0 % and below 50 %", "write easy: 0.5 %"},
		{"{easy: -1 %}", "easy is -1 %, must lie above 0 %", "write easy: 0.5 %"},
		{"{split: 50 %}", "split is 50 %, must lie above 0 % and below 50 %", "write split: 0.5 %"},
		{"{easy: 2 %}", "warm is 2 %, must be above easy, 2 %", "easy below warm below split"},
		{"{split: 1 %}", "split is 1 %, must be above warm, 2 %", "easy below warm below split"},
		{"{stretched: {easy: 20 %}}", "warm is 5 %, must be above easy, 20 %", "easy below warm below split"},
		{"{worm: 1 %}", "strain has no key worm", "did you mean warm?"},
		{"{stretched: {cold: 1 %}}", "stretched has no key cold", "known keys: easy, warm, split"},
		{"2 %", "strain", "write strain: {easy: 0.5 %, warm: 2 %, split: 4 %}"},
		{"{easy: [1 %]}", "easy", "write easy: 0.5 %"},
	} {
		p := problemsOf(t, withFilm("film: {strain: "+tc.strain+"}"))[0]
		assert.Contains(t, p.Message, tc.message, tc.strain)
		assert.Contains(t, p.Hint, tc.hint, tc.strain)
		assert.Equal(t, 13, p.Place.Line, tc.strain)
	}
}

// A limit belongs to the band below it.
func TestBandOfStrain(t *testing.T) {
	l := layouts.UsualStrain().Squeezed
	for strain, want := range map[float64]layouts.StrainBand{
		0: layouts.EasyBand, 0.005: layouts.EasyBand, 0.0051: layouts.WarmBand, 0.02: layouts.WarmBand, 0.0201: layouts.SplitBand, 0.04: layouts.SplitBand, 0.0401: layouts.PiecesBand, 0.4: layouts.PiecesBand,
	} {
		assert.Equal(t, want, l.Band(strain), "%v", strain)
	}
}
