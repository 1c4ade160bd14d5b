package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/layouts"
	"maskloft/layouts/sprayday"
)

// temperatureFlag is a temperature on the command line.
type temperatureFlag struct {
	t   sprayday.Temperature
	set bool
}

func (f *temperatureFlag) String() string { return "" }
func (f *temperatureFlag) Type() string   { return "temperature" }
func (f *temperatureFlag) Set(s string) (err error) {
	f.t, err = sprayday.ParseTemperature(s)
	f.set = err == nil
	return err
}

// humidityFlag is a relative humidity on the command line.
type humidityFlag struct {
	rh  float64
	set bool
}

func (f *humidityFlag) String() string { return "" }
func (f *humidityFlag) Type() string   { return "percent" }
func (f *humidityFlag) Set(s string) (err error) {
	f.rh, err = sprayday.ParseHumidity(s)
	f.set = err == nil
	return err
}

func weatherCommand(out io.Writer) *cobra.Command {
	var air, surface temperatureFlag
	var humidity humidityFlag
	var file, dir string
	var dry time.Duration
	var asJSON bool
	c := &cobra.Command{
		Use:   "weather",
		Short: "hold air and surface against the windows for spraying: inside, wait or stop, with the reasons",
		Long: `Hold air and surface against the windows for spraying dope: the dew point with the error of the
sensors, humidity and temperature against windows that each name their source,
the surface against the dew point, and the trend where a file of readings is given.

A file of readings is comma-separated and begins with time,air,rh,surface; every
temperature carries its scale. Inside the windows is no leave to spray: the paint maker's
sheet and the painter decide.

Exit codes: 0 inside the windows or wait, 1 stop, 2 could not run.`,
		Example: "  maskloft weather --air 70F --rh 65% --surface 68F\n  maskloft weather --readings log.csv -o card",
		Args:    arguments(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			readings, err := weatherReadings(air, humidity, surface, file)
			if err != nil {
				return err
			}
			if dry <= 0 || dry > 48*time.Hour {
				return fmt.Errorf("--dry %v: write the time a coat dries, above 0 and at most 48h", dry)
			}
			day := sprayday.AssessDay(readings, sprayday.ShopSensors, sprayday.Windows(), dry)
			if dir != "" {
				if err := writeCard(dir, sheetsOf(c), day); err != nil {
					return err
				}
			}
			if asJSON {
				err = weatherJSON(out, day)
			} else {
				weatherText(out, day, dry)
			}
			if err == nil && day.Verdict == sprayday.Stop {
				return errStop
			}
			return err
		},
	}
	f := c.Flags()
	f.Var(&air, "air", "temperature of the air, like 70F or 21C")
	f.Var(&humidity, "rh", "relative humidity of the air, like 65%")
	f.Var(&surface, "surface", "temperature of the surface to be sprayed")
	f.StringVar(&file, "readings", "", "file of readings instead: time,air,rh,surface")
	f.DurationVar(&dry, "dry", sprayday.DryTime, "how long a coat dries: the trend is followed so far")
	f.StringVarP(&dir, "out", "o", "", "folder to write the card to (weather-card.pdf)")
	addUnits(c)
	addPaper(c, "the card")
	f.BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

// weatherReadings takes the readings from the flags or from a file, never both.
func weatherReadings(air temperatureFlag, humidity humidityFlag, surface temperatureFlag, file string) ([]sprayday.Reading, error) {
	if file == "" {
		if !air.set || !humidity.set || !surface.set {
			return nil, errors.New("weather: give --air, --rh and --surface, like --air 70F --rh 65% --surface 68F, or --readings FILE")
		}
		return []sprayday.Reading{{Air: air.t, Humidity: humidity.rh, Surface: surface.t}}, nil
	}
	if air.set || humidity.set || surface.set {
		return nil, errors.New("weather: give --readings, or --air, --rh and --surface, not both")
	}
	data, err := readInput(file, largestTable)
	if err != nil {
		return nil, fmt.Errorf("--readings: %w", err)
	}
	return sprayday.ReadReadings(filepath.Base(file), bytes.NewReader(data))
}

func writeCard(dir string, sheets layouts.SheetSpec, day sprayday.Day) error {
	on := paperOf(&layouts.Spec{Sheets: sheets})
	return writeFolder(dir, one(func() (packFile, error) {
		return document("weather-card.pdf", "Weather card", export.WeatherCard(on, sheets.Units, day))
	}))
}

func weatherText(w io.Writer, day sprayday.Day, dry time.Duration) {
	last := day.Assessed[len(day.Assessed)-1]
	fmt.Fprintf(w, "%s\n", strings.ToUpper(string(day.Verdict)))
	fmt.Fprintf(w, "air       %v, %.0f %% relative humidity\n", last.Reading.Air, last.Reading.Humidity)
	fmt.Fprintf(w, "dew point %v, within %.1f C by the sensors (Magnus form, coefficients of Sonntag, 1990; WMO-No. 8, annex 4.B)\n", last.Dew, last.Within)
	fmt.Fprintf(w, "surface   %v, %s the dew point at the sensors' worst\n", last.Reading.Surface, last.GapText())
	if t := day.Trend; t != nil {
		fmt.Fprintf(w, "trend     air %+.1f C, humidity %+.1f %%, surface %+.1f C an hour over %d readings; followed for %v\n", t.Air, t.Humidity, t.Surface, len(day.Assessed), dry)
	}
	for _, r := range day.Reasons {
		fmt.Fprintf(w, "%s: %s\n      source: %s\n", r.Verdict, r.Message, r.Source)
	}
	fmt.Fprintln(w)
	for _, c := range sheet.Cautions {
		fmt.Fprintln(w, c)
	}
}

// weatherReport is what --json prints.
type weatherReport struct {
	Verdict  sprayday.Verdict  `json:"verdict"`
	Readings []weatherAssessed `json:"readings"`
	Trend    *weatherTrend     `json:"trend,omitempty"`
	Reasons  []weatherReason   `json:"reasons"`
	Cautions []string          `json:"cautions"`
}

type weatherAssessed struct {
	At       string           `json:"time,omitempty"`
	Air      float64          `json:"air_c"`
	Humidity float64          `json:"rh_percent"`
	Surface  float64          `json:"surface_c"`
	Dew      float64          `json:"dew_point_c"`
	Within   float64          `json:"dew_point_within_c"`
	Gap      float64          `json:"surface_above_c"`
	Verdict  sprayday.Verdict `json:"verdict"`
}

type weatherTrend struct {
	Air      float64 `json:"air_c_per_h"`
	Humidity float64 `json:"rh_percent_per_h"`
	Surface  float64 `json:"surface_c_per_h"`
}

type weatherReason struct {
	Verdict  sprayday.Verdict `json:"verdict"`
	Message  string           `json:"message"`
	Source   string           `json:"source"`
	Forecast bool             `json:"forecast"`
}

func weatherJSON(w io.Writer, day sprayday.Day) error {
	r := weatherReport{Verdict: day.Verdict, Readings: []weatherAssessed{}, Reasons: []weatherReason{}, Cautions: sheet.Cautions}
	for _, a := range day.Assessed {
		one := weatherAssessed{Air: round6(float64(a.Reading.Air)), Humidity: a.Reading.Humidity, Surface: round6(float64(a.Reading.Surface)),
			Dew: round6(float64(a.Dew)), Within: round6(a.Within), Gap: round6(a.Gap), Verdict: a.Verdict}
		if !a.Reading.At.IsZero() {
			one.At = a.Reading.At.Format("15:04")
		}
		r.Readings = append(r.Readings, one)
	}
	if t := day.Trend; t != nil {
		r.Trend = &weatherTrend{round6(t.Air), round6(t.Humidity), round6(t.Surface)}
	}
	for _, x := range day.Reasons {
		r.Reasons = append(r.Reasons, weatherReason(x))
	}
	return writeJSON(w, r)
}
