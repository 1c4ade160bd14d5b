package sprayday

import (
	"math"

	"maskloft/geometry/same"
)

// The Magnus form over water with the coefficients of D. Sonntag, 1990, as in
// WMO-No. 8, annex 4.B (read as cited in a weather station's manual):
// e_w = 6.112 exp(17.62 t/(243.12 + t)) hPa, -45 to 60 C.
const (
	magnusA = 17.62
	magnusB = 243.12 // C
)

// DewPoint returns the dew point of air at t and relative humidity rh (percent,
// above 0). It is never above t.
func DewPoint(t Temperature, rh float64) Temperature {
	gamma := same.Log(rh/100) + magnusA*float64(t)/(magnusB+float64(t))
	return Temperature(magnusB * gamma / (magnusA - gamma))
}

// Sensors says what the instruments leave open.
type Sensors struct {
	Air      float64 // C, plus or minus
	Surface  float64 // C, plus or minus
	Humidity float64 // percent of relative humidity, plus or minus
}

// ShopSensors are those of hand instruments (common practice, no source).
var ShopSensors = Sensors{Air: 0.5, Surface: 0.5, Humidity: 3}

// DewPointWithin returns the dew point and how far it may be off: the root of the
// sum of squares of what each sensor alone would move it by.
func DewPointWithin(t Temperature, rh float64, s Sensors) (dew Temperature, within float64) {
	dew = DewPoint(t, rh)
	byAir := float64(DewPoint(t+Temperature(s.Air), rh) - dew)
	// towards dry air the formula is steeper, but the verdict asks how high the dew point may be
	byHumidity := float64(DewPoint(t, math.Min(100, rh+s.Humidity)) - dew)
	return dew, same.Hypot(byAir, byHumidity)
}
