package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"maskloft/export/audit"
	"maskloft/geometry"
	"maskloft/geometry/parallel"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// fleetFolder is where the packs of several layouts go, a folder each.
const fleetFolder = "maskloft-packs"

// isFleet tells whether the arguments of build name several layouts, or a folder of them.
func isFleet(args []string) bool {
	if len(args) != 1 {
		return len(args) > 1
	}
	info, err := os.Stat(args[0])
	return err == nil && info.IsDir()
}

// fleetJob is one layout of several.
type fleetJob struct {
	file, dir string
}

// fleetOf are the layouts that files and folders name, in that order, and where each
// pack goes; passed are the YAML files of the folders that are no layouts, such as those
// of aircraft.
//
// Errors: what is not there, a folder without a layout, two layouts for one folder.
func fleetOf(args []string, under string) (jobs []fleetJob, passed []string, err error) {
	taken := map[string]string{}
	add := func(file string) error {
		name := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
		if first, twice := taken[strings.ToLower(name)]; twice {
			return fmt.Errorf("%s: its pack would go where that of %s goes: give one of them another name", file, first)
		}
		taken[strings.ToLower(name)] = file
		jobs = append(jobs, fleetJob{file, filepath.Join(under, name)})
		return nil
	}
	for _, arg := range args {
		info, err := os.Stat(arg)
		if err != nil {
			return nil, nil, inputError(arg, err)
		}
		if !info.IsDir() {
			if err := add(arg); err != nil {
				return nil, nil, err
			}
			continue
		}
		entries, err := os.ReadDir(arg)
		if err != nil {
			return nil, nil, inputError(arg, err)
		}
		before := len(jobs)
		for _, e := range entries {
			file := filepath.Join(arg, e.Name())
			ext := filepath.Ext(file)
			if info, err := os.Stat(file); ext != ".yaml" && ext != ".yml" || err == nil && !info.Mode().IsRegular() {
				continue // no name of one, a folder, or a pipe, which would be waited for
			}
			// One that cannot be read is told in its turn, and keeps no other from being built.
			if data, err := readInput(file, largestTable); err == nil && !reading.LooksLikeLayout(data) {
				passed = append(passed, file)
			} else if err := add(file); err != nil {
				return nil, nil, err
			}
		}
		if len(jobs) == before {
			return nil, nil, fmt.Errorf("%s: no file in the folder is a layout: give a file that ends in .yaml and has markings:", arg)
		}
	}
	return jobs, passed, nil
}

// FleetReport is what build --json prints for several layouts.
type FleetReport struct {
	Layouts []FleetLayout `json:"layouts"`
	Passed  []string      `json:"no_layouts"` // files of a folder that are none
	Code    int           `json:"exit_code"`
}

// FleetLayout is one layout of several.
type FleetLayout struct {
	File     string          `json:"file"`
	Folder   string          `json:"folder,omitempty"` // empty: no pack was written
	Code     int             `json:"exit_code"`        // as if it had been built by itself
	Name     string          `json:"name,omitempty"`
	Markings int             `json:"markings"`
	Films    int             `json:"films"`
	Run      float64         `json:"run_in"`
	Findings []ReportFinding `json:"findings"`
	Error    string          `json:"error,omitempty"`
	units    geometry.Units  // of its sheets
}

// count is how many findings are of a level.
func (l FleetLayout) count(level layouts.Level) int {
	n := 0
	for _, f := range l.Findings {
		if f.Level == string(level) {
			n++
		}
	}
	return n
}

// buildFleet builds every layout into a folder of its own, as many at a time as there are
// processors, each on one. One that fails keeps no other from being built.
func buildFleet(ctx context.Context, jobs []fleetJob, passed []string, o packOptions, say progress) (FleetReport, error) {
	report := FleetReport{Layouts: make([]FleetLayout, len(jobs)), Passed: slices.Concat([]string{}, passed)}
	for _, j := range jobs {
		if err := audit.Sweep(j.dir); err != nil {
			return report, err
		}
		if err := audit.CanWrite(j.dir); err != nil {
			return report, err
		}
	}
	var frames job.Airframes
	begins := say.step("building")
	err := parallel.Each(ctx, len(jobs), func(i int) error {
		begins(jobs[i].file)
		report.Layouts[i] = buildOne(parallel.OneByOne(ctx), jobs[i], &frames, o)
		return nil
	})
	for _, l := range report.Layouts {
		report.Code = max(report.Code, l.Code)
	}
	return report, err
}

// buildOne builds one layout of several.
func buildOne(ctx context.Context, fleet fleetJob, frames *job.Airframes, o packOptions) FleetLayout {
	out := FleetLayout{File: fleet.file, Findings: []ReportFinding{}}
	err := whole(func() error {
		spec, err := reading.Load(fleet.file)
		if err != nil {
			return err
		}
		if o.Choose != nil {
			o.Choose(spec)
		}
		out.Name, out.units = spec.Name, spec.Sheets.Units
		all, err := frames.New(spec, nil).Whole(ctx)
		if err != nil {
			return err
		}
		out.Findings = reportFindings(all.Findings)
		if verdict(all.Findings) != nil {
			out.Code = exitStop
		}
		if len(all.Tilings) == 0 {
			return nil
		}
		report, err := writePack(ctx, fleet.dir, all, o, newProgress(nil))
		if err != nil {
			return err
		}
		out.Folder, out.Markings, out.Films, out.Run = fleet.dir, len(report.Markings), len(report.Film.Placed), report.Film.Run
		return nil
	})
	if err != nil {
		out.Code, out.Error = exitFailed, geometry.ErrorIn(out.units, err)
	}
	return out
}

// fleetSummary prints a row for each layout, then what went wrong.
func fleetSummary(w io.Writer, r FleetReport) {
	wide := len("layout")
	for _, l := range r.Layouts {
		wide = max(wide, len([]rune(l.File)))
	}
	fmt.Fprintf(w, "%-*s %9s %6s %9s %5s %5s %5s  %s\n", wide, "layout", "markings", "films", "film", "stop", "warn", "note", "pack")
	var count [3]int
	for _, l := range r.Layouts {
		count[l.Code]++
		pack := l.Folder
		switch {
		case l.Error != "":
			pack = "not written: see below"
		case pack == "":
			pack = "not written: no marking is left to cut"
		}
		fmt.Fprintf(w, "%-*s %9d %6d %9s %5d %5d %5d  %s\n", wide, printable(l.File), l.Markings, l.Films, l.units.Long(geometry.Length(l.Run)), l.count(layouts.Stop), l.count(layouts.Warn), l.count(layouts.Note), printable(pack))
	}
	for _, l := range r.Layouts {
		var stops []ReportFinding
		for _, f := range l.Findings {
			if f.Level == string(layouts.Stop) {
				stops = append(stops, f)
			}
		}
		if l.Error == "" && len(stops) == 0 {
			continue
		}
		fmt.Fprintf(w, "\n%s\n", printable(l.File))
		if l.Error != "" {
			fmt.Fprintln(w, printable(l.Error))
		}
		for _, f := range stops {
			fmt.Fprintf(w, "%s: %s: %s\n", f.Level, layouts.KindOf(f.Rule), f.Message)
			if f.Hint != "" {
				fmt.Fprintf(w, "      hint: %s\n", f.Hint)
			}
		}
	}
	if len(r.Passed) > 0 {
		fmt.Fprintf(w, "\nno layouts, passed over: %s\n", printable(strings.Join(r.Passed, ", ")))
	}
	fmt.Fprintf(w, "\n%s: %d clean, %d with a finding of level stop, %d could not be built\n", geometry.Counted(len(r.Layouts), "layout"), count[exitClean], count[exitStop], count[exitFailed])
}

// fleetRun is build with several layouts.
func fleetRun(ctx context.Context, out, errs io.Writer, args []string, dir string, o packOptions, asJSON bool) error {
	jobs, passed, err := fleetOf(args, dir)
	if err != nil {
		return err
	}
	say := newProgress(terminal(errs))
	report, err := buildFleet(ctx, jobs, passed, o, say)
	say.done()
	if errors.Is(err, context.Canceled) {
		written := 0
		for _, l := range report.Layouts {
			if l.Folder != "" {
				written++
			}
		}
		return fmt.Errorf("interrupted: %d of %d packs were written, each of them whole", written, len(jobs))
	}
	if err != nil {
		return err
	}
	if asJSON {
		if err := writeJSON(out, report); err != nil {
			return err
		}
	} else {
		fleetSummary(out, report)
	}
	switch report.Code {
	case exitStop:
		return errStop
	case exitFailed:
		return errListed
	}
	return nil
}
