package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"maskloft/export/sheet"
	"maskloft/export/tapelist"
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

func tapeCommand(out, errs io.Writer) *cobra.Command {
	var csv, metric, burn, asJSON bool
	var measured, dir, paper string
	c := &cobra.Command{
		Use:   "tape [LAYOUT]",
		Short: "print the tape list: every point to place, from two hardpoints",
		Long: `Print the tape list: every point to place, in working order, from two hardpoints
with a third tape to check; how well that places the film; lengths to check on the
film; heights above the floor.

With -o the list is written to a folder instead: as sheets to print and work from
(tape-checklist.pdf), as text (.md) and as a table (.csv).

Type what the tapes read on the finished job into the last column of the --csv
list, and give it back with --measured: out come the deviation of each point, and
the offset and turn of each marking.`,
		Example: "  maskloft tape mine.yaml -o tapes --paper a4\n  maskloft tape mine.yaml --csv > tapes.csv\n  maskloft tape mine.yaml --measured tapes.csv",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(c *cobra.Command, args []string) error {
			on, err := sheet.ParsePaper(paper)
			switch {
			case err != nil:
				return fmt.Errorf("--paper: %w", err)
			case dir == "" && c.Flags().Changed("paper"):
				return errors.New("--paper is for sheets to print: give a folder for them with -o")
			case asJSON && (csv || measured != "" || dir != ""):
				return errors.New("--json prints the list as one document: leave out --csv, --measured and -o")
			case csv && measured != "":
				return errors.New("--measured reads a list, --csv prints one: give one of them")
			case dir != "" && (csv || measured != ""):
				return errors.New("-o writes the list in all its forms: leave out --csv and --measured")
			}
			var readings []taping.TapeReading
			if measured != "" { // a slip in it is told before the work
				var err error
				if readings, err = readMeasured(measured); err != nil {
					return err
				}
			}
			job, say, err := prepareWith(args, errs, func(s *layouts.Spec) {
				if metric {
					s.Tape = s.Tape.Metric()
				}
				s.Tape.Burn = s.Tape.Burn || burn
			})
			say.done()
			if err != nil {
				return err
			}
			if measured != "" {
				return printBuilt(out, job, readings)
			}
			if asJSON {
				r := tapeReport{Checkpoints: []ReportCheckpoint{}, Tapes: reportTapes(job.Tapes), Findings: reportFindings(job.Findings)}
				for _, c := range job.Tapes.Points {
					r.Checkpoints = append(r.Checkpoints, reportCheckpoint(c))
				}
				if err := writeJSON(out, r); err != nil {
					return err
				}
				return verdict(job.Findings)
			}
			if dir != "" {
				return writeTapes(out, dir, job, on)
			}
			data := tapelist.TapeText(job.Layout, job.Tapes)
			if csv {
				if data, err = tapelist.TapeCSV(job.Tapes); err != nil {
					return err
				}
			}
			if _, err := out.Write(data); err != nil {
				return err
			}
			for _, f := range job.Findings { // beside the list, which may go to a file
				if f.Level == layouts.Stop {
					fmt.Fprintln(errs, f)
				}
			}
			return verdict(job.Findings)
		},
	}
	c.Flags().BoolVar(&csv, "csv", false, "print comma-separated values")
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	c.Flags().BoolVar(&metric, "metric", false, "readings in millimetres")
	c.Flags().BoolVar(&burn, "burn-inch", false, "readings for a tape held at its 1 in mark (100 mm with --metric)")
	c.Flags().StringVar(&measured, "measured", "", "a list from --csv with its last column filled in: print how the markings really lie")
	c.Flags().StringVarP(&dir, "out", "o", "", "folder to write the list to, as sheets to print, text and table")
	c.Flags().StringVar(&paper, "paper", "letter", "with -o, paper of the sheets: letter or a4")
	return c
}

// writeTapes writes the tape list as a pack of its own.
func writeTapes(out io.Writer, dir string, job *Job, paper sheet.Paper) error {
	if err := writeFolder(dir, func() ([]packFile, error) { return tapeFiles(job, paper) }); err != nil {
		return err
	}
	printFindings(out, reportFindings(job.Findings))
	fmt.Fprintf(out, "written to %s: tape-checklist.pdf, .md and .csv\n", dir)
	return verdict(job.Findings)
}

func readMeasured(name string) ([]taping.TapeReading, error) {
	data, err := readInput(name, largestTable)
	if err != nil {
		return nil, fmt.Errorf("--measured: %w", err)
	}
	return tapelist.ReadTapeCSV(name, bytes.NewReader(data))
}

func printBuilt(out io.Writer, job *Job, readings []taping.TapeReading) error {
	built, findings, err := taping.AsBuilt(job.Tilings, job.Tapes.Points, readings)
	if err != nil {
		return err
	}
	if _, err := out.Write(tapelist.BuiltText(job.Layout, built)); err != nil {
		return err
	}
	for _, f := range findings {
		fmt.Fprintln(out, f)
	}
	return verdict(findings)
}
