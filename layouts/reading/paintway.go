package reading

import (
	"regexp"
	"strconv"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

const (
	// widestTrap bounds a trap: twice the usual 1/8 in; it catches a slip of the
	// unit (common practice, no source).
	widestTrap = geometry.Inch / 4

	mostCoats = 20 // catches a slip of the finger; three are usual

	// litresPerGallon and feetPerMetre turn m2/l into ft2/gal: a US gallon is
	// 231 in3, an inch 25.4 mm (exact by definition).
	litresPerGallon = 231 * 2.54 * 2.54 * 2.54 / 1000
	feetPerMetre    = 1 / 0.3048
)

// readSpray reads the keys of paint: that say how it is sprayed; field is the film
// kept around the paint, of which the trap takes up to a half: the usual one is made
// narrower where the field asks for it.
func (r *layoutReader) readSpray(f fields, field geometry.Length) layouts.SpraySpec {
	s := layouts.UsualSpray()
	s.Way = choice(f.at("way"), s.Way, layouts.OpenWay, layouts.KeepDownWay)
	least := func(v value) geometry.Length { return v.atLeastZero("") }
	most := min(widestTrap, field/2)
	s.Trap = f.at("trap").or(min(s.Trap, most), least)
	if s.Trap > most {
		hint := "write trap: 1/16 in"
		if most < layouts.UsualSpray().Trap {
			hint = f.units().Sprintf("write trap: %s or less, or widen field: to twice the trap or more", most)
		}
		f.at("trap").Fail(hint, "trap is %s, must be at most %s", s.Trap, most)
	}
	s.Skirt = f.at("skirt").or(s.Skirt, least)
	if v := f.at("coats"); v.Written() {
		s.Coats = v.coats()
	}
	if v := f.at("coverage"); v.Written() {
		s.Coverage = v.coverage()
	}
	list, _ := f.at("under").entries()
	for _, e := range list {
		s.Under = append(s.Under, layouts.UnderSpec{Paint: r.paints.refer(e.key), Coats: e.value.coats()})
	}
	return s
}

// coats reads a number of coats.
func (v value) coats() int {
	text, ok := v.Scalar("a number of coats")
	if !ok {
		return 0
	}
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n < 1 || n > mostCoats {
		v.Fail("write a whole number, 3", "%s: %q is no number of coats from 1 to %d", v.Name, document.Shorten(text), mostCoats)
		return 0
	}
	return n
}

var coverageText = regexp.MustCompile(`^(\d+(?:\.\d*)?|\.\d+)\s*(ft2/gal|m2/l)?$`)

// coverage reads what a measure of paint covers with one coat, in square feet a
// US gallon.
func (v value) coverage() float64 {
	text, ok := v.Scalar("a coverage")
	if !ok {
		return 0
	}
	const hint = "write coverage: 192 ft2/gal (US gallon, one coat) or 4.7 m2/l"
	m := coverageText.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		v.Fail(hint, "%s: %q is no coverage", v.Name, document.Shorten(text))
		return 0
	}
	if m[2] == "" {
		v.Fail(hint, "%s: %s has no unit", v.Name, document.Shorten(m[1]))
		return 0
	}
	c, err := strconv.ParseFloat(m[1], 64)
	if m[2] == "m2/l" {
		c *= feetPerMetre * feetPerMetre * litresPerGallon
	}
	if err != nil || c < 1 || c > 10000 {
		v.Fail(hint, "%s is %s, must lie between 1 and 10000 ft2/gal", v.Name, document.Shorten(text))
		return 0
	}
	return c
}

// readControl reads whether a surface moves, and where its hinge line is.
func readControl(f fields, s *layouts.SurfaceSpec) {
	s.Control = f.at("control").yes()
	if v := f.at("hinge"); v.Written() {
		hinge := v.station()
		s.Hinge, s.Control = &hinge, true
		if c := f.at("control"); c.Written() && !c.yes() {
			v.Fail("take hinge: out, or write control: true", "a surface with a hinge is a control surface")
		}
	}
}
