package reading

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
)

// ruled is a layout with the lines given for rules: and paint:.
func ruled(t testing.TB, rules, paint string) (*layouts.Spec, error) {
	t.Helper()
	text := `name: a cylinder
units: in
aircraft:
  name: cylinder
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up; BL 0 the plane of symmetry, positive to the right.
  surfaces: [{id: body, kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 120, radius: 30, wl: 0}]}]
  hardpoints: [{id: P1, name: low, side: both, fs: 0, bl: 26, wl: -15}, {id: P2, name: high, side: both, fs: 0, bl: 26, wl: 15}]
markings:
  - id: star
    figure: {rule: us-star/disc-1942, size: 30 in}
    where: {surface: body, side: both, fs: 60, wl: 0}
` + rules + paint
	return LoadFS(fstest.MapFS{"mine.yaml": {Data: []byte(text)}}, "mine.yaml")
}

// Dates are a day, a month or a year; words of the lists are known by other names too.
func TestRulesBlock(t *testing.T) {
	for date, ok := range map[string]bool{"1942-06-15": true, "1942-06": true, "1942": true, "June 1942": false, "1942-13": false} {
		_, err := ruled(t, "rules: {date: "+date+", nation: American}\n", "")
		if ok {
			assert.NoError(t, err, date)
		} else {
			assert.ErrorContains(t, err, "is not a date", date)
		}
	}
	s, err := ruled(t, "rules: {date: 1942, nation: British, service: RAF, finish: camouflaged, type: [fighter, biplane]}\n", "")
	require.NoError(t, err)
	assert.Equal(t, []string{"uk", "raf", "camouflage", "fighters", "biplanes"}, append([]string{s.Rules.Nation, s.Rules.Service, s.Rules.Finish}, s.Rules.Types...))
	_, err = ruled(t, "rules: {date: 1942, nation: Brittish}\n", "")
	assert.ErrorContains(t, err, `unknown nation "Brittish": write uk`)
	_, err = ruled(t, "rules: {date: 1942, nation: us, finish: shiny}\n", "")
	assert.ErrorContains(t, err, "unknown finish")
}

// Where colours: is left out the paints of the order are those of the rules, with a
// standard only where it existed on the date (ANA Bulletin 166, 14 December 1943).
func TestColoursOfRules(t *testing.T) {
	for date, standard := range map[string]string{"1942": "", "1944-06": "ANA 502 / FS 15044"} {
		s, err := ruled(t, "rules: {date: "+date+", nation: us}\n", "paint: {order: [insignia-white, insignia-blue]}\n")
		require.NoError(t, err)
		require.Len(t, s.Paint.Colours, 2)
		assert.Equal(t, "insignia-blue", s.Paint.Colours[1].ID)
		assert.Equal(t, "#172035", s.Paint.Colours[1].Hex)
		assert.Equal(t, standard, s.Paint.Colours[1].Standard, date)
	}
	_, err := ruled(t, "", "paint: {order: [insignia-white, insigna-blue]}\n")
	assert.ErrorContains(t, err, "did you mean insignia-blue?")
}
