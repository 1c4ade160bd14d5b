package sprayday

import (
	"fmt"

	"maskloft/geometry"
)

// Verdict says what to do, from the best.
type Verdict string

// Verdicts.
const (
	Inside Verdict = "inside the windows" // no leave to spray: people decide that
	Wait   Verdict = "wait"
	Stop   Verdict = "stop"
)

func (v Verdict) rank() int { return map[Verdict]int{Inside: 0, Wait: 1, Stop: 2}[v] }

// worse returns the worse of two.
func worse(a, b Verdict) Verdict {
	if b.rank() > a.rank() {
		return b
	}
	return a
}

// Quantity is what a window bounds.
type Quantity string

// Quantities.
const (
	Humidity Quantity = "relative humidity"       // percent
	Air      Quantity = "air temperature"         // C
	Gap      Quantity = "surface above dew point" // C, dew point at its upper bound
)

// Window bounds a quantity: outside it the verdict is at least Outside. Both ends
// belong to the window. NaN is no bound.
type Window struct {
	Quantity Quantity
	Low      float64
	High     float64
	Outside  Verdict
	Source   string
}

// Windows are those of dope, in the order in which they are told. A user's own may
// replace them; the paint maker's sheet comes first.
func Windows() []Window {
	f := func(v float64) float64 { return float64(Fahrenheit(v)) }
	return []Window{
		{Humidity, none, 65, Wait, "AC 43.13-1B paragraph 2-21: below 65 percent (read in a copy)"},
		{Humidity, none, 70, Stop, "common practice for dope, no source: hold off above 70 percent (one article calls 70 percent acceptable for butyrate)"},
		{Air, f(65), f(75), Wait, "AC 43.13-1B paragraph 2-21: 65 to 75 F is ideal (read in a copy)"},
		{Air, f(65), f(85), Stop, "article on spraying dope: butyrate not below 65 F nor above 85 F (read, secondary)"},
		{Gap, 5, none, Wait, "common practice, no source: 5 C where 3 C is the limit"},
		{Gap, 3, none, Stop, "secondary texts on paint for steel: surface 3 C (5 F) above the dew point"},
	}
}

// value returns the quantity of an assessed reading.
func (w Window) value(a Assessment) float64 {
	switch w.Quantity {
	case Humidity:
		return a.Reading.Humidity
	case Air:
		return float64(a.Reading.Air)
	}
	return a.Gap
}

// Holds tells whether a value lies in the window; a hair's breadth outside counts
// as in, so that 65 F read in Celsius and back is 65 F.
func (w Window) Holds(v float64) bool {
	const hair = 1e-6
	return !(v < w.Low-hair) && !(v > w.High+hair)
}

// Text says the window in words.
func (w Window) Text() string { return w.In(geometry.ReadInches) }

// In says the window in words, in both scales where it is a temperature, that of the
// units first.
func (w Window) In(u geometry.Units) string {
	say := func(v float64) string {
		switch w.Quantity {
		case Humidity:
			return fmt.Sprintf("%.0f %%", v)
		case Air:
			return Temperature(v).In(u)
		}
		return fmt.Sprintf("%.1f C (%.1f F)", v, v*9/5)
	}
	switch {
	case w.Low != w.Low:
		return fmt.Sprintf("%s at most %s", w.Quantity, say(w.High))
	case w.High != w.High:
		return fmt.Sprintf("%s at least %s", w.Quantity, say(w.Low))
	}
	return fmt.Sprintf("%s %s to %s", w.Quantity, say(w.Low), say(w.High))
}
