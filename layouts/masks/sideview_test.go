package masks

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// A disc of 20 in drawn true in side view, centred 15 in above the axis of a
// cylinder of radius 30: the film is 20 wide and as high as the arc between
// WL 5 and WL 25 is long, 30 (asin 25/30 - asin 5/30); its middle lies above the
// anchor, which stands at 30 asin 15/30 (derived).
func TestTrueSideOnCylinder(t *testing.T) {
	laid := lesson(t, "03").laid
	require.Len(t, laid, 2)
	low, high, anchor := 30*math.Asin(5.0/30), 30*math.Asin(25.0/30), 30*math.Asin(15.0/30)
	assert.InDelta(t, 24.529881123541692, high-low, 1e-12)
	assert.InDelta(t, 1.580420, (low+high)/2-anchor, 1e-6)
	for _, l := range laid {
		b := l.Painted.Bounds()
		assert.InDelta(t, 20, b.Width(), 0.001, l.ID())
		assert.InDelta(t, high-low, b.Height(), 0.001, l.ID())
		assert.InDelta(t, 0, b.Centre().X, 0.001, l.ID())
		assert.InDelta(t, 1.580420, b.Centre().Y, 0.001, l.ID())
		assert.Equal(t, b, l.Masks[0].Opening.Bounds())
		assert.Less(t, l.Deviation, 0.001)
		assert.Greater(t, l.Deviation, 0.0)
		assert.True(t, l.Exact)

		// the outline, point by point: at x the drawing is 15 +- sqrt(100 - x^2) high
		for _, q := range points(l.Painted, 16) {
			wl := 30 * math.Sin((q.Y+anchor)/30)
			assert.InDelta(t, 10, math.Hypot(q.X, wl-15), 0.001, "%s at %v", l.ID(), q)
		}
		along, side := l.Heights()
		assert.InDelta(t, high-low, along, 0.001)
		assert.InDelta(t, 20, side, 0.001)
	}
}

// What is seen from the side is the drawing, within 0.001 in, on both sides: each
// point of the film outline, carried to the skin and looked at along the butt
// line, lies on the outline drawn; and each point of the outline drawn lies on
// the film.
func TestTrueSideIsTheDrawing(t *testing.T) {
	tests := []struct{ name, aircraft, marking string }{
		{"disc on a cone", "round", `
    figure: {discs: [{diameter: 20, colour: red}]}
    where: {surface: cone, side: both, fs: 60, wl: 7}`},
		{"star and bars on a cone", "round", `
    figure: {rule: an-i-9a/blue-border, size: 12}
    where: {surface: cone, side: both, fs: 50, wl: -5}
    colours: {insignia_white: white, insignia_blue: blue}`},
		{"letters leaning on a cone", "round", `
    figure: {text: R4, alphabet: block-6x4, height: 12}
    where: {surface: cone, side: both, fs: 40, wl: 4, angle: 15 deg, hold: fore}
    colours: {text: white}`},
		{"insignia over the stringers", "kittock", `
    figure: {rule: hcf-order-12/insignia, size: 7}
    where: {surface: fuselage, side: both, fs: 134, wl: 57}
    handed: handed
    colours: {insignia_white: white, insignia_blue: white, orange_yellow: red}`},
		{"letters over the stringers", "kittock", `
    figure: {text: R4, alphabet: block-6x4, height: 12}
    where: {surface: fuselage, side: both, fs: 184, wl: 53, angle: -4 deg}
    colours: {text: white}`},
		{"disc over the lower longeron", "kittock", `
    figure: {discs: [{diameter: 6, colour: red}]}
    where: {surface: fuselage, side: left, fs: 150, wl: 42}`},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			laid := laidOf(t, "name: "+tc.name+"\naircraft: "+tc.aircraft+".yaml\nmarkings:\n  - id: it\n    true: side"+tc.marking+common)
			require.NotEmpty(t, laid)
			for _, l := range laid {
				p := l.Placement
				drawn, err := p.Figure.Regions()
				require.NoError(t, err)
				require.Len(t, l.Regions, len(drawn))
				lean := p.Marking.Where.Angle * math.Pi / 180 * p.Side.Reading() // clockwise, as the reader sees it
				sin, cos := math.Sincos(lean)
				seen := func(pos g.Position) g.Point { // in the drawing's own axes
					x, y := float64(pos.FS-p.Anchor.FS)*p.Side.Reading(), float64(pos.WL-p.Anchor.WL)
					return g.Point{X: x*cos - y*sin, Y: x*sin + y*cos}
				}
				worstFilm, worstDrawn := 0.0, 0.0
				for i, r := range l.Regions {
					require.Equal(t, drawn[i].Colour, r.Colour)
					drawing, film := chords(drawn[i].Outline), chords(r.Outline)
					for _, q := range points(r.Outline, 8) {
						pos, ok := l.Map.PositionOf(q)
						require.True(t, ok, "%v", q)
						worstFilm = math.Max(worstFilm, drawing.Distance(seen(pos), 1e-5))
					}
					for _, q := range points(drawn[i].Outline, 24) {
						x, y := q.X*cos+q.Y*sin, -q.X*sin+q.Y*cos
						uv, err := skin.LocateSide(p.Surface, p.Side, g.SidePosition{
							FS: p.Anchor.FS + g.Station(x*p.Side.Reading()), WL: p.Anchor.WL + g.Waterline(y),
						})
						require.NoError(t, err)
						flat, ok := l.Map.ToFlat(uv)
						require.True(t, ok)
						worstDrawn = math.Max(worstDrawn, film.Distance(flat, 1e-5))
					}
				}
				assert.Less(t, worstFilm, 0.001, "%s: film seen from the side against the drawing", l.ID())
				assert.Less(t, worstDrawn, 0.001, "%s: drawing cast on the skin against the film", l.ID())
				assert.LessOrEqual(t, l.Deviation, 0.001, "%s says so", l.ID())
				assert.GreaterOrEqual(t, l.Deviation, 0.0)
			}
		})
	}
}

// On a slab the side view and the skin are one: both ways of being true give the
// same film.
func TestTrueSideOnSlab(t *testing.T) {
	const layout = `
name: slab
aircraft: slab.yaml
markings:
  - id: star
    figure: {rule: an-i-9a/blue-border, size: 20}
    where: {surface: slab, side: both, fs: 60, wl: 30}
    colours: {insignia_white: white, insignia_blue: blue}
`
	along := laidOf(t, layout+common)
	side := laidOf(t, layout+"    true: side\n"+common)
	for i, l := range along {
		for k, m := range l.Masks {
			// the outline may lie the tolerance off, all the way along
			length := 0.0
			for _, c := range m.Opening {
				length += c.Length()
			}
			assert.Less(t, difference(t, m.Opening, side[i].Masks[k].Opening), 0.001*length, m.ID)
		}
	}
}
