package sprayday

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Dew points of a published chart in whole degrees F (a chart of dew points at
// handypdf.com, read). The chart is low by up to 2.4 F in its hot and dry corner,
// so that cell is held to be off, not the formula.
func TestDewPointAgainstAFahrenheitChart(t *testing.T) {
	good := []struct{ air, rh, dew float64 }{
		{70, 90, 67}, {70, 85, 65}, {70, 80, 63}, {70, 75, 62}, {70, 70, 60}, {70, 65, 57}, {70, 60, 55}, {70, 55, 53}, {70, 50, 50},
		{60, 70, 50}, {50, 60, 36},
	}
	for _, c := range good {
		require.InDelta(t, c.dew, DewPoint(Fahrenheit(c.air), c.rh).F(), 1, "%v F, %v %%", c.air, c.rh)
	}
	bad := []struct{ air, rh, printed float64 }{{100, 35, 65}}
	for _, c := range bad {
		require.Greater(t, math.Abs(DewPoint(Fahrenheit(c.air), c.rh).F()-c.printed), 1.0, "a cell known to be misprinted")
	}
}

// Dew points of a published climate table in whole degrees C (scribd 39380596,
// read), which truncates. 35 C at 50 % and 10 C at 60 % are blunders of that table.
func TestDewPointAgainstACelsiusTable(t *testing.T) {
	good := []struct{ air, rh, dew float64 }{{20, 60, 12}, {20, 70, 14}, {25, 80, 21}, {30, 70, 24}, {30, 80, 26}, {30, 90, 28}}
	for _, c := range good {
		require.InDelta(t, c.dew, float64(DewPoint(Temperature(c.air), c.rh)), 5.0/9, "%v C, %v %%", c.air, c.rh)
	}
	bad := []struct{ air, rh, printed float64 }{{35, 50, 21}, {10, 60, 1}}
	for _, c := range bad {
		require.Greater(t, math.Abs(float64(DewPoint(Temperature(c.air), c.rh))-c.printed), 1.0, "a cell known to be misprinted")
	}
}

// Two other published pairs of coefficients give the same dew point within the
// bound that each states: 17.625 and 243.04 (Alduchov and Eskridge, 1996; 0.35 C),
// 17.27 and 237.7 (0.4 C); both from memory, read as cited.
func TestDewPointAgainstOtherCoefficients(t *testing.T) {
	for _, k := range []struct{ a, b, within float64 }{{17.625, 243.04, 0.35}, {17.27, 237.7, 0.4}} {
		for air := 5.0; air <= 40; air += 2.5 {
			for rh := 30.0; rh <= 100; rh += 5 {
				gamma := math.Log(rh/100) + k.a*air/(k.b+air)
				require.InDelta(t, k.b*gamma/(k.a-gamma), float64(DewPoint(Temperature(air), rh)), k.within)
			}
		}
	}
}

// Over water the pressure at the dew point is rh times that at air temperature.
func TestDewPointClosesOnItsPressure(t *testing.T) {
	e := func(c float64) float64 { return 6.112 * math.Exp(17.62*c/(243.12+c)) }
	for air := -10.0; air <= 45; air += 2.5 {
		require.InDelta(t, air, float64(DewPoint(Temperature(air), 100)), 1e-9)
		for rh := 5.0; rh <= 100; rh += 5 {
			require.InEpsilon(t, rh/100*e(air), e(float64(DewPoint(Temperature(air), rh))), 1e-12)
		}
	}
	// saturation at 20 C is 23.393 hPa in steam tables (from memory): the form is 0.3 % low
	require.InEpsilon(t, 23.393, e(20), 0.0032)
}

// At 20 C and 70 %: 3 % of humidity moves the dew point by 0.65 C and half a
// degree of air by 0.48 C; together 0.81 C.
func TestDewPointWithin(t *testing.T) {
	dew, within := DewPointWithin(20, 70, ShopSensors)
	require.InDelta(t, 14.36, float64(dew), 0.005)
	require.InDelta(t, 0.81, within, 0.01)
	_, air := DewPointWithin(20, 70, Sensors{Air: 0.5})
	require.InDelta(t, 0.48, air, 0.005)
	_, rh := DewPointWithin(20, 70, Sensors{Humidity: 3})
	require.InDelta(t, 0.65, rh, 0.005)
}
