package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export/views"
	"maskloft/layouts/reading"
)

func previewCommand(out, errs io.Writer) *cobra.Command {
	var dir, paper string
	var asJSON, all bool
	var words []string
	choice := viewChoice{fins: true}
	c := &cobra.Command{
		Use:   "preview [LAYOUT]",
		Short: "draw the views of the aircraft only",
		Long: `Draw the aircraft with its markings as they fall on the skin: each view as SVG and
PNG, and all of them as side-view.pdf on paper, at the scale that stands on it.
Nothing is opened, and no network is used.

The views are left and right, fin (fin and rudder, both sides), and above and below
(the wings). Level is usual; --parked turns the sides until the wheels stand on the
floor, and gives heights above it.`,
		Example: "  maskloft preview mine.yaml -o pictures\n  maskloft preview mine.yaml --view left,fin --dimensions --paper tabloid",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(c *cobra.Command, args []string) error {
			var err error
			if choice.views, err = parseViews(words); err != nil {
				return err
			}
			if choice.paper, err = views.ParseDrawingPaper(paper); err != nil && paper != "" {
				return fmt.Errorf("--paper: %w", err)
			}
			if !(choice.dots >= 30 && choice.dots <= 600) {
				return fmt.Errorf("--dpi %g: a picture has 30 to 600 pixels to the inch", choice.dots)
			}
			j, say, err := prepare(c, args, errs)
			defer say.done()
			if err != nil {
				return err
			}
			if paper == "" {
				choice.paper = paperOf(j.Spec)
			}
			laid, err := j.Laid(c.Context())
			if err != nil {
				return err
			}
			layout, err := j.Layout(c.Context())
			if err != nil {
				return err
			}
			views, err := choice.chosen(layout, laid)
			if err != nil {
				return err
			}
			findings := j.Findings()
			var names []string
			err = writeFolder(dir, func() ([]packFile, error) {
				files, err := drawn(c.Context(), pictures(views, choice))
				for _, f := range files {
					names = append(names, f.name)
				}
				return files, err
			})
			if err != nil {
				return err
			}
			say.done()
			if asJSON {
				if err := writeJSON(out, previewReport{dir, names, reportFindings(findings)}); err != nil {
					return err
				}
				return verdict(findings)
			}
			if all {
				printFindings(out, findings)
			} else {
				printDecided(out, findings, nil, askedOf(c, args))
			}
			fmt.Fprintf(out, "written to %s: %s\n", printable(dir), strings.Join(names, ", "))
			return verdict(findings)
		},
	}
	c.Flags().StringVarP(&dir, "out", "o", "maskloft-preview", "folder to write the pictures to")
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	c.Flags().StringSliceVar(&words, "view", nil, "views to draw, of "+strings.Join(viewWords, ", ")+"; all there are where none is named")
	c.Flags().BoolVar(&choice.with.Dimensions, "dimensions", false, "dimensions of each marking, where its middle is, and what is nearest; heights above the floor with --parked")
	c.Flags().BoolVar(&choice.with.Parked, "parked", false, "turn the sides until the ground line of the layout is level, and draw the floor")
	c.Flags().StringVar(&paper, "paper", "", "paper of side-view.pdf: letter, a4, tabloid or a3; if left out, as sheets: of the layout")
	c.Flags().BoolVar(&all, "all", false, "say everything that was found, not only what is to be decided")
	addUnits(c)
	c.Flags().Float64Var(&choice.dots, "dpi", viewDots, "pixels to the inch of the PNG files, 30 to 600")
	addDemo(c)
	return c
}

// previewReport is what preview --json prints.
type previewReport struct {
	Folder   string          `json:"folder"`
	Files    []string        `json:"files"`
	Findings []ReportFinding `json:"findings"`
}

func startCommand(out io.Writer) *cobra.Command {
	c := &cobra.Command{
		Use:     "start",
		Short:   "print a commented layout file to begin with",
		Long:    "Print a layout file with remarks to begin with: change it, then `maskloft check` and\n`maskloft build` it. Its job: is an id of this job alone, under which the job book keeps ticks.",
		Example: "  maskloft start > mine.yaml\n  maskloft start --demo sandling > mine.yaml",
		Args:    arguments(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			name, err := c.Flags().GetString(demoFlag)
			if err != nil {
				return err
			}
			text, err := reading.Starter(name)
			if err != nil {
				return err
			}
			_, err = io.WriteString(out, reading.WithJobID(text, reading.NewJobID()))
			return err
		},
	}
	addDemo(c)
	return c
}
