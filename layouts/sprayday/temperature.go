package sprayday

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"maskloft/geometry"
)

// Temperature is in degrees Celsius.
type Temperature float64

// Fahrenheit returns the temperature of f degrees Fahrenheit.
func Fahrenheit(f float64) Temperature { return Temperature((f - 32) * 5 / 9) }

// F returns t in degrees Fahrenheit.
func (t Temperature) F() float64 { return float64(t)*9/5 + 32 }

// String writes both scales, to a tenth.
func (t Temperature) String() string {
	return fmt.Sprintf("%.1f F (%.1f C)", tidy(t.F()), tidy(float64(t)))
}

// In writes both scales, the one of the units first.
func (t Temperature) In(u geometry.Units) string {
	if u.Metric() {
		return fmt.Sprintf("%.1f C (%.1f F)", tidy(float64(t)), tidy(t.F()))
	}
	return t.String()
}

// tidy rounds to a tenth, and never to -0.
func tidy(v float64) float64 { return math.Round(v*10)/10 + 0 }

// Limits of what is taken for a temperature in a shop: a number outside is a
// slip, and the formula of the dew point ends at 60 C.
const (
	coldest = Temperature(-40)
	hottest = Temperature(60)
)

// ParseTemperature reads a temperature with its scale: 70F, 70 °F, 21.5 C.
//
// Errors: no number, no scale, or outside -40 to 60 C.
func ParseTemperature(text string) (Temperature, error) {
	s := strings.TrimSpace(text)
	number := strings.TrimRight(s, "°FfCc ")
	scale := strings.ToUpper(strings.Trim(s[len(number):], "° "))
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("temperature %q is no number: write it like 70F or 21C", text)
	}
	t := Temperature(v)
	switch scale {
	case "F":
		t = Fahrenheit(v)
	case "C":
	default:
		return 0, fmt.Errorf("temperature %q has no scale: write %sF or %sC", text, number, number)
	}
	if t < coldest || t > hottest {
		return 0, fmt.Errorf("temperature %q lies outside %v to %v: check the number and its scale", text, coldest, hottest)
	}
	return t, nil
}

// ParseHumidity reads a relative humidity in percent: 65% or 65.
//
// Errors: no number, or outside 1 to 100.
func ParseHumidity(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%")), 64)
	if err != nil || math.IsNaN(v) {
		return 0, fmt.Errorf("humidity %q is no number: write it in percent, like 65%%", text)
	}
	if v < 1 || v > 100 {
		return 0, fmt.Errorf("humidity %q lies outside 1%% to 100%%: write it in percent, like 65%%", text)
	}
	return v, nil
}
