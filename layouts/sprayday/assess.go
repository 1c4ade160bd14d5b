package sprayday

import (
	"fmt"
	"math"
	"time"

	"maskloft/geometry/same"
)

// none is the bound of a window that has none.
var none = math.NaN()

// Reading is the air and the surface at one time.
type Reading struct {
	At       time.Time // zero where only one reading is given
	Air      Temperature
	Humidity float64 // percent
	Surface  Temperature
}

// Assessment is a reading held against the windows.
type Assessment struct {
	Reading Reading
	Dew     Temperature
	Within  float64 // C: how far the dew point may be off
	Gap     float64 // C: surface, at its lower bound, above the dew point at its upper bound
	Verdict Verdict
	Reasons []Reason
}

// Reason is why a verdict is not go.
type Reason struct {
	Verdict  Verdict
	Message  string // measured against the limit
	Source   string
	Forecast bool // by the trend, not by the reading
}

// Assess holds one reading against the windows. The dew point counts at its upper
// bound and the surface at its lower one.
func Assess(r Reading, s Sensors, windows []Window) Assessment {
	a := Assessment{Reading: r, Verdict: Inside}
	a.Dew, a.Within = DewPointWithin(r.Air, r.Humidity, s)
	a.Gap = float64(r.Surface-a.Dew) - same.Hypot(a.Within, s.Surface)
	for _, w := range outside(a, windows) {
		a.Verdict = worse(a.Verdict, w.Outside)
		a.Reasons = append(a.Reasons, Reason{Verdict: w.Outside, Message: w.breach(a), Source: w.Source})
	}
	return a
}

// outside returns the windows that an assessment breaks: of one quantity only the
// worst.
func outside(a Assessment, windows []Window) []Window {
	var out []Window
	at := map[Quantity]int{}
	for _, w := range windows {
		if w.Holds(w.value(a)) {
			continue
		}
		i, again := at[w.Quantity]
		switch {
		case !again:
			at[w.Quantity] = len(out)
			out = append(out, w)
		case w.Outside.rank() > out[i].Outside.rank():
			out[i] = w
		}
	}
	return out
}

// GapText says how far the surface is from the dew point at the sensors' worst:
// above it or below.
func (a Assessment) GapText() string {
	where := "above"
	if tidy(a.Gap) < 0 {
		where = "below"
	}
	gap := math.Abs(a.Gap)
	return fmt.Sprintf("%.1f C (%.1f F) %s", tidy(gap), tidy(gap*9/5), where)
}

// breach says by how much an assessment breaks the window.
func (w Window) breach(a Assessment) string {
	switch w.Quantity {
	case Humidity:
		return fmt.Sprintf("relative humidity is %.0f %%; wanted: %s", a.Reading.Humidity, w.Text())
	case Air:
		return fmt.Sprintf("air is at %v; wanted: %s", a.Reading.Air, w.Text())
	}
	return fmt.Sprintf("surface at %v is %s the dew point %v at the sensors' worst; wanted: %s", a.Reading.Surface, a.GapText(), a.Dew, w.Text())
}
