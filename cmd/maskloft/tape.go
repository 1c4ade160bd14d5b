package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"maskloft/export/sheet"
	"maskloft/export/tapelist"
	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
	"maskloft/layouts/taping"
)

func tapeCommand(out, errs io.Writer) *cobra.Command {
	var csv, metric, burn, asJSON, all bool
	var measured, dir string
	limit := lengthFlag(taping.PlacingLimit)
	c := &cobra.Command{
		Use:   "tape [LAYOUT]",
		Short: "print the tape list: the points that each first film is laid by",
		Long: `Print the tape list: three points a marking (a stencil: two) that are marks cut in its
first film, each by the way of least expected error, from frames and stringers, edges
and ribs, hardpoints, a string or the floor; the other ways; how well that places the
film, and where one more hardpoint would help. --all adds every other point that can be
found, the lengths to check on the film, and heights above the floor.

With -o the list is written to a folder instead: as sheets to print and work from
(tape-checklist.pdf), as text (.md) and as a table (.csv).

Type what the tapes read on the finished job into the last column of the --csv
list, as any spreadsheet saves it, and give it back with --measured; or give it the
job-state.json that the job book saves, with what was typed on the phone. All readings of
a film, tapes and the other ways of the list, are adjusted together, and each is tested
against the others: out come how each film lies and how sure that is, which reading is
wrong and how, and what would have been seen. A film outside --limit, or a mistake that
no reading can be blamed for, ends with exit 1.`,
		Example: "  maskloft tape mine.yaml -o tapes --paper a4\n  maskloft tape mine.yaml --csv > tapes.csv\n  maskloft tape mine.yaml --measured tapes.csv",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case dir == "" && c.Flags().Changed("paper"):
				return errors.New("--paper is for sheets to print: give a folder for them with -o")
			case asJSON && (csv || dir != ""):
				return errors.New("--json prints one document: leave out --csv and -o")
			case measured == "" && c.Flags().Changed("limit"):
				return errors.New("--limit is for films as measured: give the readings with --measured")
			case csv && measured != "":
				return errors.New("--measured reads a list, --csv prints one: give one of them")
			case dir != "" && (csv || measured != ""):
				return errors.New("-o writes the list in all its forms: leave out --csv and --measured")
			}
			var readings []taping.TapeReading
			var of string       // the job that the readings are of
			if measured != "" { // a slip in it is told before the work
				var err error
				if readings, of, err = readMeasured(measured); err != nil {
					return err
				}
			}
			j, say, err := prepare(c, args, errs)
			if err != nil {
				return err
			}
			if of != "" && j.Spec.Job != "" && of != j.Spec.Job {
				return fmt.Errorf("--measured: %s is of job %s, and the layout of job %s: save the state from the book of this layout", measured, of, j.Spec.Job)
			}
			if metric {
				j.Spec.Tape = j.Spec.Tape.Metric()
			}
			j.Spec.Tape.Burn = j.Spec.Tape.Burn || burn
			list, err := j.Tapes(c.Context())
			say.done()
			if err != nil {
				return err
			}
			if measured != "" {
				return printBuilt(c.Context(), out, j, readings, g.Length(limit), asJSON)
			}
			list.All = all
			findings := j.Findings()
			if asJSON {
				r := tapeReport{Place: reportPlaces(list.Tape, list.Placings), Checkpoints: []ReportCheckpoint{}, Tapes: reportTapes(list), Findings: reportFindings(findings)}
				for _, c := range list.Points {
					r.Checkpoints = append(r.Checkpoints, reportCheckpoint(c))
				}
				if err := writeJSON(out, r); err != nil {
					return err
				}
				return verdict(findings)
			}
			if dir != "" {
				return writeTapes(c.Context(), out, dir, j, paperOf(j.Spec), all)
			}
			layout, err := j.Layout(c.Context())
			if err != nil {
				return err
			}
			data := tapelist.TapeText(layout, list)
			if csv {
				if data, err = tapelist.TapeCSV(list); err != nil {
					return err
				}
			}
			if _, err := out.Write(data); err != nil {
				return err
			}
			return tellStops(errs, findings) // beside the list, which may go to a file
		},
	}
	c.Flags().BoolVar(&csv, "csv", false, "print comma-separated values")
	c.Flags().BoolVar(&all, "all", false, "every point that can be found, not only those that films are laid by")
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	c.Flags().BoolVar(&metric, "metric", false, "readings in millimetres")
	c.Flags().BoolVar(&burn, "burn-inch", false, "readings for a tape held at its 1 in mark (100 mm with --metric)")
	c.Flags().StringVar(&measured, "measured", "", "a list from --csv with its last column filled in, or job-state.json from the job book: print how the markings really lie")
	c.Flags().Var(&limit, "limit", "with --measured, how far a corner of the paint may lie from where it was meant")
	c.Flags().StringVarP(&dir, "out", "o", "", "folder to write the list to, as sheets to print, text and table")
	addUnits(c)
	addPaper(c, "the sheets of -o")
	addDemo(c)
	return c
}

// toPlace computes what the placing of films stands on.
func toPlace(ctx context.Context, j *job.Job) (*layouts.Layout, []masks.Tiling, taping.TapeList, error) {
	list, err := j.Tapes(ctx)
	if err != nil {
		return nil, nil, list, err
	}
	tilings, err := j.Tilings(ctx)
	if err != nil {
		return nil, nil, list, err
	}
	layout, err := j.Layout(ctx)
	return layout, tilings, list, err
}

// writeTapes writes the tape list as a pack of its own.
func writeTapes(ctx context.Context, out io.Writer, dir string, j *job.Job, paper sheet.Paper, all bool) error {
	layout, tilings, list, err := toPlace(ctx, j)
	if err != nil {
		return err
	}
	list.All = all
	if err := writeFolder(dir, func() ([]packFile, error) { return tapeFiles(layout, tilings, list, paper) }); err != nil {
		return err
	}
	findings := j.Findings()
	printFindings(out, findings)
	fmt.Fprintf(out, "written to %s: tape-checklist.pdf, .md and .csv\n", printable(dir))
	return verdict(findings)
}

// readMeasured reads a list or the state that the job book saves; of a state, also the id of
// its job.
func readMeasured(name string) ([]taping.TapeReading, string, error) {
	data, err := readInput(name, largestTable)
	if err != nil {
		return nil, "", fmt.Errorf("--measured: %w", err)
	}
	if tapelist.IsJobState(data) {
		return tapelist.ReadJobState(name, data)
	}
	readings, err := tapelist.ReadTapeCSV(name, bytes.NewReader(data))
	return readings, "", err
}

// printBuilt adjusts readings and says how the markings lie.
func printBuilt(ctx context.Context, out io.Writer, j *job.Job, readings []taping.TapeReading, limit g.Length, asJSON bool) error {
	layout, tilings, list, err := toPlace(ctx, j)
	if err != nil {
		return err
	}
	built, findings, err := taping.AsBuilt(list.Tape, tilings, list.Points, readings, limit)
	if err != nil {
		return err
	}
	if asJSON {
		if err := writeJSON(out, builtReportOf(built, findings)); err != nil {
			return err
		}
		return verdict(findings)
	}
	if _, err := out.Write(tapelist.BuiltText(layout, built)); err != nil {
		return err
	}
	if len(findings) > 0 {
		fmt.Fprintln(out)
	}
	for _, f := range findings {
		fmt.Fprintln(out, f)
	}
	return verdict(findings)
}
