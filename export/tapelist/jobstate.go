package tapelist

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

// IsJobState tells whether a file is the state of a job that the job book saves, and no
// table.
func IsJobState(data []byte) bool {
	return bytes.HasPrefix(bytes.TrimSpace(data), []byte("{"))
}

// jobState is what of job-state.json readings are read from.
type jobState struct {
	Format   string `json:"format"`
	Version  int    `json:"version"`
	Job      string `json:"job"`
	Readings map[string]struct {
		Value   *float64 `json:"value"`
		Unit    string   `json:"unit"`
		Point   string   `json:"point"`
		From    string   `json:"from"`
		Kind    string   `json:"kind"`
		Printed *float64 `json:"printed_in"`
		Starts  float64  `json:"starts_at_in"`
	} `json:"readings"`
}

// ReadJobState reads the readings that the job book keeps, in the order of their points,
// and the id of its job. A reading that was taken back is left out.
//
// Errors name the file and what to do.
func ReadJobState(name string, data []byte) (readings []taping.TapeReading, job string, err error) {
	var s jobState
	if err := json.Unmarshal(data, &s); err != nil {
		return nil, "", fmt.Errorf("%s: no JSON of a job's state: %w", name, err)
	}
	switch {
	case s.Format != "maskloft job state":
		return nil, "", fmt.Errorf("%s: this is no state of a job: save job-state.json from the job book", name)
	case s.Version != 1:
		return nil, "", fmt.Errorf("%s: a state of version %d, and this program reads version 1", name, s.Version)
	}
	keys := make([]string, 0, len(s.Readings))
	for k := range s.Readings {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		x, y := s.Readings[a], s.Readings[b]
		for _, c := range [][2]string{{x.Point, y.Point}, {x.From, y.From}, {x.Kind, y.Kind}, {a, b}} {
			if c[0] != c[1] {
				return bytes.Compare([]byte(c[0]), []byte(c[1]))
			}
		}
		return 0
	})
	var out []taping.TapeReading
	for _, k := range keys {
		r := s.Readings[k]
		if r.Value == nil || r.Point == "" {
			continue // taken back, or of a point that the page which read it did not know
		}
		unit := g.Inch
		if r.Unit == "mm" {
			unit = g.Millimetre
		}
		one := taping.TapeReading{
			Place: layouts.Place{File: name}, Point: r.Point, From: r.From, Kind: taping.TapeKind(r.Kind),
			Printed: g.Length(math.NaN()), Measured: g.Length(g.Length(*r.Value)*unit) - g.Length(r.Starts)*g.Inch, Typed: *r.Value, Unit: unit,
		}
		if r.Printed != nil {
			one.Printed = g.Length(*r.Printed) * g.Inch
		}
		if one.Measured <= 0 {
			return nil, "", fmt.Errorf("%s: %s from %s leaves no length: read it again", name, r.Point, r.From)
		}
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, "", fmt.Errorf("%s: it holds no reading: type what the tapes read under Place films, and save it again", name)
	}
	return out, s.Job, nil
}
