package reading

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
)

// withPaint is a layout whose paint has further keys, on line 12.
func withPaint(keys string) string {
	return strings.Replace(withFilm(""), "paint: {order: [red], ", "paint: {order: [red], "+keys, 1)
}

func TestSprayKeys(t *testing.T) {
	usual := layouts.UsualSpray()
	for keys, want := range map[string]func(*layouts.SpraySpec){
		"":                               func(*layouts.SpraySpec) {},
		"way: open, ":                    func(*layouts.SpraySpec) {},
		"way: keep-down, ":               func(s *layouts.SpraySpec) { s.Way = layouts.KeepDownWay },
		"trap: 1/8 in, ":                 func(s *layouts.SpraySpec) { s.Trap = geometry.Inch / 8 },
		"trap: 0, ":                      func(s *layouts.SpraySpec) { s.Trap = 0 },
		"skirt: 305 mm, ":                func(s *layouts.SpraySpec) { s.Skirt = 305 * geometry.Millimetre },
		"coats: 2, ":                     func(s *layouts.SpraySpec) { s.Coats = 2 },
		"coverage: 150.5 ft2/gal, ":      func(s *layouts.SpraySpec) { s.Coverage = 150.5 },
		"under: {red: 2}, ":              func(s *layouts.SpraySpec) { s.Under = []layouts.UnderSpec{{Paint: "red", Coats: 2}} },
		"trap: 1/8 in, way: keep-down, ": func(s *layouts.SpraySpec) { s.Way, s.Trap = layouts.KeepDownWay, geometry.Inch/8 },
	} {
		spec, err := loadText(t, withPaint(keys))
		require.NoError(t, err, keys)
		s := usual
		want(&s)
		assert.InDelta(t, s.Skirt.Inches(), spec.Paint.Spray.Skirt.Inches(), 1e-12, keys)
		s.Skirt = spec.Paint.Spray.Skirt
		assert.Equal(t, s, spec.Paint.Spray, keys)
	}
	// 1 m2/l is 10.7639 ft2 over 0.264172 US gal (NIST Handbook 44, appendix C)
	spec, err := loadText(t, withPaint("coverage: 4.7 m2/l, "))
	require.NoError(t, err)
	assert.InEpsilon(t, 4.7*10.76391/0.2641720, spec.Paint.Spray.Coverage, 1e-6)

	spec, err = loadText(t, strings.Replace(withFilm(""), `"#9b0a18"`, `"#9b0a18", coats: 4`, 1))
	require.NoError(t, err)
	assert.Equal(t, []int{4, 3}, []int{spec.Paint.CoatsOf("red"), spec.Paint.CoatsOf("blue")})
}

func TestSprayKeysRefused(t *testing.T) {
	for _, tc := range []struct{ keys, message, hint string }{
		{"way: keepdown, ", `way is "keepdown", wanted open or keep-down`, "did you mean keep-down?"},
		{"trap: -1, ", "trap is -1 in, must be 0 or more", "without the minus"},
		{"trap: 1 in, ", "trap is 1 in, must be at most 0.25 in", "write trap: 1/16 in"},
		{"coats: 0, ", `coats: "0" is no number of coats from 1 to 20`, "write a whole number, 3"},
		{"coats: 2.5, ", `coats: "2.5" is no number of coats`, "write a whole number, 3"},
		{"coats: [3], ", "coats", "write coats: 3"},
		{"coverage: 192, ", "coverage: 192 has no unit", "192 ft2/gal"},
		{"coverage: much, ", `coverage: "much" is no coverage`, "4.7 m2/l"},
		{"coverage: 0 ft2/gal, ", "coverage is 0 ft2/gal, must lie between 1 and 10000", "192 ft2/gal"},
		{"under: {rde: 1}, ", `there is no paint "rde"`, "did you mean red?"},
		{"under: {red: one}, ", `red: "one" is no number of coats`, "write a whole number, 3"},
		{"under: 1, ", "under", "write under: {orange-yellow: 1}"},
		{"trpa: 1 in, ", "paint has no key trpa", "did you mean trap?"},
	} {
		p := problemsOf(t, withPaint(tc.keys))[0]
		assert.Contains(t, p.Message, tc.message, tc.keys)
		assert.Contains(t, p.Hint, tc.hint, tc.keys)
		assert.Equal(t, 12, p.Place.Line, tc.keys)
	}
}

// A hinge makes a control surface; other kinds have none.
func TestHinge(t *testing.T) {
	of := func(surface string) string {
		return strings.Replace(withFilm(""), "  surfaces:\n", "  surfaces:\n    - "+surface+"\n", 1)
	}
	for keys, control := range map[string]bool{"": false, ", control: true": true, ", control: false": false, ", hinge: 4": true} {
		spec, err := loadText(t, of("{id: tail, kind: plate, thickness: 1, outline: [[4, 0], [9, 0], [9, 9]]"+keys+"}"))
		require.NoError(t, err, keys)
		s := spec.Aircraft.Surfaces[0]
		assert.Equal(t, control, s.Control, keys)
		assert.Equal(t, strings.Contains(keys, "hinge"), s.Hinge != nil, keys)
		if s.Hinge != nil {
			assert.InDelta(t, 4, float64(*s.Hinge), 1e-12)
		}
	}
	p := problemsOf(t, of("{id: tail, kind: plate, thickness: 1, outline: [[4, 0], [9, 0], [9, 9]], control: false, hinge: 4}"))[0]
	assert.Contains(t, p.Message, "a surface with a hinge is a control surface")
	p = problemsOf(t, of("{id: tube, kind: round, sections: [{fs: 0, radius: 2, wl: 0}, {fs: 9, radius: 2, wl: 0}], hinge: 4}"))[0]
	assert.Contains(t, p.Message, "surface of kind round has no key hinge")
}
