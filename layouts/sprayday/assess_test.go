package sprayday

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func assess(air, rh, surface string) Assessment {
	a, err := ParseTemperature(air)
	if err != nil {
		panic(err)
	}
	h, err := ParseHumidity(rh)
	if err != nil {
		panic(err)
	}
	s, err := ParseTemperature(surface)
	if err != nil {
		panic(err)
	}
	return Assess(Reading{Air: a, Humidity: h, Surface: s}, ShopSensors, Windows())
}

func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		air, rh, surface string
		want             Verdict
		reasons          []Quantity // in order
	}{
		{"70F", "50%", "70F", Inside, nil},
		{"75F", "55", "24C", Inside, nil},
		{"70F", "66%", "74F", Wait, []Quantity{Humidity}},
		{"70F", "71%", "80F", Stop, []Quantity{Humidity}},
		{"80F", "40%", "80F", Wait, []Quantity{Air}},
		{"86F", "40%", "86F", Stop, []Quantity{Air}},
		{"64F", "40%", "64F", Stop, []Quantity{Air}},
		{"70F", "60%", "61F", Stop, []Quantity{Gap}}, // a cold surface, dry enough air
		{"18C", "75%", "15C", Stop, []Quantity{Humidity, Air, Gap}},
	} {
		got := assess(c.air, c.rh, c.surface)
		require.Equal(t, c.want, got.Verdict, "%+v: %+v", c, got)
		require.Len(t, got.Reasons, len(c.reasons), "%+v", got.Reasons)
		for i, q := range c.reasons {
			words := map[Quantity]string{Humidity: "relative humidity", Air: "air is", Gap: "dew point"}
			require.Contains(t, got.Reasons[i].Message, words[q])
			require.NotEmpty(t, got.Reasons[i].Source)
		}
	}
}

// The bounds themselves belong to the windows, in either scale.
func TestBoundsAreIn(t *testing.T) {
	require.Equal(t, Inside, assess("65F", "40%", "65F").Verdict)
	require.Equal(t, Inside, assess("75F", "40%", "75F").Verdict)
	require.Equal(t, Wait, assess("75.2F", "40%", "75F").Verdict)
	require.Equal(t, Inside, assess("70F", "65%", "74F").Verdict)
	require.Equal(t, Wait, assess("70F", "70%", "76F").Verdict)
}

// At surface = air the 3 C rule trips far above the humidity that dope bears: at
// 20 C the gap is 3 C at 82.9 % (arithmetic). So both are asked.
func TestHumidityTripsBeforeTheGap(t *testing.T) {
	exact := Sensors{}
	gap := func(rh float64) float64 {
		return Assess(Reading{Air: 20, Humidity: rh, Surface: 20}, exact, Windows()).Gap
	}
	require.Greater(t, gap(82.8), 3.0)
	require.Less(t, gap(83.0), 3.0)
}

func TestTrend(t *testing.T) {
	at := func(h, m int) time.Time { return time.Date(2026, 5, 2, h, m, 0, 0, time.UTC) }
	rows := []Reading{
		{At: at(10, 0), Air: 22, Humidity: 50, Surface: 22},
		{At: at(10, 30), Air: 21.5, Humidity: 53, Surface: 21.5},
		{At: at(11, 0), Air: 21, Humidity: 56, Surface: 21},
		{At: at(11, 30), Air: 20.5, Humidity: 59, Surface: 20.5},
	}
	d := AssessDay(rows, ShopSensors, Windows(), DryTime)
	require.InDelta(t, 6, d.Trend.Humidity, 1e-9)
	require.InDelta(t, -1, d.Trend.Air, 1e-9)
	require.InDelta(t, 71, d.Trend.Ahead.Reading.Humidity, 1e-9)
	require.Equal(t, Stop, d.Verdict, "71 percent is reached while the coat dries")
	require.True(t, d.Reasons[len(d.Reasons)-1].Forecast)
	// one wrong reading does not turn the median of slopes
	wrong := append([]Reading(nil), rows...)
	wrong[1].Humidity = 95
	require.Less(t, AssessDay(wrong, ShopSensors, Windows(), DryTime).Trend.Humidity, 7.0)
	// two readings have no trend; order in the file does not matter
	require.Nil(t, AssessDay(rows[:2], ShopSensors, Windows(), DryTime).Trend)
	back := []Reading{rows[3], rows[1], rows[0], rows[2]}
	require.Equal(t, d, AssessDay(back, ShopSensors, Windows(), DryTime))
}

func TestReadReadings(t *testing.T) {
	got, err := ReadReadings("log.csv", strings.NewReader("# hangar\nTime, air, rh, surface\n10:00, 70F, 55%, 20C\n\n10:30,21.0 °C,56,69 °F\n"))
	require.NoError(t, err)
	require.Len(t, got, 2)
	require.InDelta(t, 70, got[0].Air.F(), 1e-9)
	require.InDelta(t, 69, got[1].Surface.F(), 1e-9)
	for text, want := range map[string]string{
		"":                                       "empty",
		"time,air,rh\n":                          `"surface" is missing`,
		"time,air,rh,surface,wind\n":             `log.csv:1:21: column "wind" is unknown`,
		"time,air,rh,surface\n":                  "no reading",
		"time,air,rh,surface\n10:00,70,55,68F\n": `log.csv:2:7: temperature "70" has no scale: write 70F or 70C`,
		"time,air,rh,surface\n10:00,70F,0,68F\n": "log.csv:2:11: humidity",
		"time,air,rh,surface\n10h,70F,50,68F\n":  "log.csv:2:1: time",
		"time,air,rh,surface\n10:00,70F,50\n":    "log.csv:2: 3 fields",
	} {
		_, err := ReadReadings("log.csv", strings.NewReader(text))
		require.ErrorContains(t, err, want)
	}
}
