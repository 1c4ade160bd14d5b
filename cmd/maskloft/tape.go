package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"maskloft/export"
	"maskloft/layouts"
	"maskloft/layouts/masks"
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

Type what the tapes read on the finished job into the last column of the --csv
list, and give it back with --measured: out come the deviation of each point, and
the offset and turn of each marking.`,
		Example: "  maskloft tape mine.yaml -o tapes --paper a4\n  maskloft tape mine.yaml --csv > tapes.csv\n  maskloft tape mine.yaml --measured tapes.csv",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			var readings []masks.TapeReading
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
				if err := writeTapes(dir, paper, job); err != nil {
					return err
				}
				printFindings(out, reportFindings(job.Findings))
				fmt.Fprintf(out, "written to %s: tape-checklist.pdf, .md and .csv\n", dir)
				return verdict(job.Findings)
			}
			data := export.TapeText(job.Layout, job.Tapes)
			if csv {
				if data, err = export.TapeCSV(job.Tapes); err != nil {
					return err
				}
			}
			if _, err := out.Write(data); err != nil {
				return err
			}
			return verdict(job.Findings)
		},
	}
	c.Flags().BoolVar(&csv, "csv", false, "print comma-separated values")
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	c.Flags().BoolVar(&metric, "metric", false, "readings in millimetres")
	c.Flags().BoolVar(&burn, "burn-inch", false, "readings for a tape held at its 1 in mark (100 mm with --metric)")
	c.Flags().StringVarP(&dir, "out", "o", "", "folder to write the printed sheets, the text and the table to")
	c.Flags().StringVar(&paper, "paper", "letter", "paper of the sheets: letter or a4")
	c.Flags().StringVar(&measured, "measured", "", "a list from --csv with its last column filled in: print how the markings really lie")
	return c
}

// writeTapes writes the tape list as sheets, text and table.
func writeTapes(dir, paper string, job *Job) error {
	on, err := export.ParsePaper(paper)
	if err != nil {
		return fmt.Errorf("--paper: %w", err)
	}
	sheets, err := document("tape-checklist.pdf", "Tape checklist: "+job.Layout.Spec.Name, export.TapeSheets(on, job.Layout, job.Laid, job.Tapes))
	if err != nil {
		return err
	}
	csv, err := export.TapeCSV(job.Tapes)
	if err != nil {
		return err
	}
	pack, err := export.NewPack(dir)
	if err != nil {
		return err
	}
	defer pack.Abort()
	for _, f := range []packFile{sheets, {"tape-checklist.csv", csv}, {"tape-checklist.md", export.TapeText(job.Layout, job.Tapes)}} {
		if err := pack.Add(f.name, f.data); err != nil {
			return err
		}
	}
	return pack.Commit()
}

func readMeasured(name string) ([]masks.TapeReading, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("--measured: %w", err)
	}
	defer f.Close()
	return export.ReadTapeCSV(name, f)
}

func printBuilt(out io.Writer, job *Job, readings []masks.TapeReading) error {
	built, findings, err := masks.AsBuilt(job.Tilings, job.Tapes.Points, readings)
	if err != nil {
		return err
	}
	if _, err := out.Write(export.BuiltText(job.Layout, built)); err != nil {
		return err
	}
	for _, f := range findings {
		fmt.Fprintln(out, f)
	}
	return verdict(findings)
}
