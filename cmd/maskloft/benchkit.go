package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"runtime/debug"
	"slices"
	"strings"

	"maskloft/export/bench"
	"maskloft/export/sheet"
	"maskloft/export/tapelist"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/taping"
)

// programVersion is that of the module, as the Go tools know it.
func programVersion() string {
	if info, ok := debug.ReadBuildInfo(); ok {
		return info.Main.Version
	}
	return "unknown"
}

// benchKit is what the verbs of the program give to the page.
func benchKit() bench.Kit {
	return bench.Kit{
		Check: func(ctx context.Context, j *job.Job) (any, []layouts.Finding, error) {
			r, err := checkMade(ctx, j)
			if err != nil {
				return nil, nil, err
			}
			return r.report(), r.findings, nil
		},
		Rules: func(q bench.Request) (any, error) {
			c, err := ruleQuery{on: q.On, nation: q.Nation, service: q.Service, place: q.Place, finish: q.Finish, kind: q.Kind, types: q.Types}.choose(nil)
			if err != nil {
				return nil, err
			}
			return c.report(), nil
		},
		Place:    benchPlace,
		Readings: benchReadings,
		Pack:     benchPack,
	}
}

func benchPlace(ctx context.Context, j *job.Job) (any, error) {
	_, _, list, err := toPlace(ctx, j)
	if err != nil {
		return nil, err
	}
	r := tapeReport{Checkpoints: []ReportCheckpoint{}, Tapes: reportTapes(list), Findings: reportFindings(j.Placed())}
	for _, c := range list.Points {
		r.Checkpoints = append(r.Checkpoints, reportCheckpoint(c))
	}
	return r, nil
}

// benchReadings adjusts readings: a list as tape --csv prints it, or single ones as they
// were typed, in the unit of the layout's tape.
func benchReadings(ctx context.Context, j *job.Job, q bench.Request) (any, error) {
	_, tilings, list, err := toPlace(ctx, j)
	if err != nil {
		return nil, err
	}
	var readings []taping.TapeReading
	if q.CSV != "" {
		if readings, err = tapelist.ReadTapeCSV("readings", bytes.NewReader([]byte(q.CSV))); err != nil {
			return nil, err
		}
	}
	unit := geometry.Inch
	if list.Tape.Units.Metric() {
		unit = geometry.Millimetre
	}
	for _, r := range q.Readings {
		l, err := geometry.ParseLength(r.Reads, unit)
		if err != nil {
			return nil, fmt.Errorf("%s from %s: %w", r.Point, r.From, err)
		}
		readings = append(readings, taping.TapeReading{
			Point: r.Point, From: r.From, Kind: taping.TapeKind(r.Kind), Printed: printedLength(list.Points, r), Measured: l - list.Tape.Start(), Typed: float64(l / unit), Unit: unit,
		})
	}
	built, findings, err := taping.AsBuilt(list.Tape, tilings, list.Points, readings, taping.PlacingLimit)
	if err != nil {
		return nil, err
	}
	return builtReportOf(built, findings), nil
}

// printedLength is the length that the list gives for a reading, NaN where it has none.
func printedLength(points []taping.Checkpoint, r bench.ReadingAsked) geometry.Length {
	for _, p := range points {
		if p.ID != r.Point {
			continue
		}
		tapes := p.Tapes
		if p.Closure != nil {
			tapes = append(tapes[:len(tapes):len(tapes)], *p.Closure)
		}
		for _, t := range tapes {
			if t.From.ID == r.From {
				return t.Length
			}
		}
		for _, o := range p.Offsets {
			if o.From == r.From && string(o.Kind) == r.Kind {
				return o.Length
			}
		}
	}
	return geometry.Length(math.NaN())
}

// benchPack draws what build writes with its usual options.
func benchPack(ctx context.Context, j *job.Job, say func(string)) ([]bench.File, error) {
	whole, err := j.Whole(ctx)
	if err != nil {
		return nil, err
	}
	if len(whole.Tilings) == 0 {
		return nil, fmt.Errorf("no marking is left to cut: nothing was written")
	}
	flavour, err := sheet.ParseFlavour("px96")
	if err != nil {
		return nil, err
	}
	var out []bench.File
	_, err = drawPack(ctx, whole, packOptions{SVG: flavour}, say, func(f packFile) error {
		out = append(out, bench.File{Name: f.name, Data: f.data})
		return nil
	})
	slices.SortFunc(out, func(a, b bench.File) int { return strings.Compare(a.Name, b.Name) })
	return out, err
}
