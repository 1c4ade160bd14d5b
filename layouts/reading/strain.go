package reading

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/document"
)

// largestStrain bounds what a band may be, as a fraction: film does not lie on a
// skin at half its length (derived from nothing finer; it catches a slip of the
// decimal point).
const largestStrain = 0.5

// strain reads the bands of film strain; what is not written keeps its usual
// value.
func (v value) strain() layouts.StrainBands {
	s := layouts.UsualStrain()
	if !v.Written() {
		return s
	}
	s.Place = v.Place()
	f := v.block("strain")
	s.Squeezed = f.limits(s.Squeezed)
	if t := f.at("stretched"); t.Written() {
		s.Stretched = t.block("stretched").limits(s.Stretched)
	}
	return s
}

// limits reads the upper ends of three bands, and reports the first that does not
// lie above the one before it.
func (f fields) limits(usual layouts.StrainLimits) layouts.StrainLimits {
	out := usual
	below, name := 0.0, ""
	for _, b := range []struct {
		key string
		to  *float64
	}{{"easy", &out.Easy}, {"warm", &out.Warm}, {"split", &out.Split}} {
		at := f.at(b.key)
		if at.Written() {
			*b.to = at.percent()
		}
		if math.IsNaN(*b.to) {
			return out
		}
		if name != "" && *b.to <= below {
			if !at.Written() {
				at = f.value
			}
			at.Fail("write easy below warm below split", "%s is %s, must be above %s, %s", b.key, layouts.PercentOf(*b.to), name, layouts.PercentOf(below))
			return out
		}
		below, name = *b.to, b.key
	}
	return out
}

var percentText = regexp.MustCompile(`^([+-]?(?:\d+(?:\.\d*)?|\.\d+))\s*(%?)$`)

// percent reads a percentage above 0 and below 50 and returns it as a fraction.
// What cannot be read is reported and is not a number.
func (v value) percent() float64 {
	text, ok := v.Scalar("a percentage")
	if !ok {
		return math.NaN()
	}
	text = strings.TrimSpace(text)
	m := percentText.FindStringSubmatch(text)
	switch {
	case m == nil && strings.Contains(text, ","):
		v.Fail("write a decimal point, not a comma: "+strings.ReplaceAll(document.Shorten(text), ",", "."), "%s: %q is not a percentage", v.Name, document.Shorten(text))
		return math.NaN()
	case m == nil:
		v.Fail("write "+v.Name+": 0.5 %", "%s: %q is not a percentage", v.Name, document.Shorten(text))
		return math.NaN()
	case m[2] == "":
		v.Fail("write "+document.Shorten(m[1])+" % if per cent is meant", "%s: %s has no percent sign", v.Name, document.Shorten(m[1]))
		return math.NaN()
	}
	p, err := strconv.ParseFloat(m[1], 64)
	if err != nil || p <= 0 || p >= largestStrain*100 {
		v.Fail("write "+v.Name+": 0.5 %", "%s is %s %%, must lie above 0 %% and below %s", v.Name, document.Shorten(m[1]), layouts.PercentOf(largestStrain))
		return math.NaN()
	}
	return p / 100
}
