package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export"
	"maskloft/layouts"
)

func previewCommand(out, errs io.Writer) *cobra.Command {
	var dir string
	var asJSON bool
	c := &cobra.Command{
		Use:     "preview [LAYOUT]",
		Short:   "draw the views of the aircraft alone",
		Example: "  maskloft preview mine.yaml -o pictures",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(_ *cobra.Command, args []string) error {
			job, say, err := prepare(args, errs)
			defer say.done()
			if err != nil {
				return err
			}
			pack, err := export.NewPack(dir)
			if err != nil {
				return err
			}
			defer pack.Abort()
			drawn, err := pictures(job.Layout, job.Laid)
			if err != nil {
				return err
			}
			names := make([]string, len(drawn))
			for i, f := range drawn {
				if err := pack.Add(f.name, f.data); err != nil {
					return err
				}
				names[i] = f.name
			}
			if err := pack.Commit(); err != nil {
				return err
			}
			say.done()
			if asJSON {
				if err := writeJSON(out, previewReport{dir, names, reportFindings(job.Findings)}); err != nil {
					return err
				}
				return verdict(job.Findings)
			}
			printFindings(out, reportFindings(job.Findings))
			fmt.Fprintf(out, "written to %s: %s\n", dir, strings.Join(names, ", "))
			return verdict(job.Findings)
		},
	}
	c.Flags().StringVarP(&dir, "out", "o", "maskloft-preview", "folder to write the pictures to")
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

// previewReport is what preview --json prints.
type previewReport struct {
	Folder   string          `json:"folder"`
	Files    []string        `json:"files"`
	Findings []ReportFinding `json:"findings"`
}

func startCommand(out io.Writer) *cobra.Command {
	return &cobra.Command{
		Use:     "start",
		Short:   "print a commented layout file to begin with",
		Example: "  maskloft start > mine.yaml",
		Args:    arguments(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			text, err := layouts.Starter()
			if err != nil {
				return err
			}
			_, err = io.WriteString(out, text)
			return err
		},
	}
}
