package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// inputs reads the layout that a verb works on: the file named, or the example.
func inputs(c *cobra.Command, args []string, errs io.Writer) (*layouts.Spec, error) {
	name, err := c.Flags().GetString(demoFlag)
	if err != nil {
		return nil, err
	}
	if len(args) > 0 {
		if name != "" {
			return nil, fmt.Errorf("--%s %s: give a layout file or an example, not both", demoFlag, name)
		}
		return reading.Load(args[0])
	}
	file, err := reading.ExampleFile(name)
	if err != nil {
		return nil, fmt.Errorf("--%s: %w", demoFlag, err)
	}
	if name == "" {
		fmt.Fprintln(errs, "no layout file given: using the demo (an invented aircraft); `maskloft start` prints one to begin with")
	}
	return reading.LoadFS(reading.DemoFiles(), file)
}

const demoFlag = "demo"

// addDemo gives a verb the option that picks an example.
func addDemo(c *cobra.Command) {
	var names []string
	for _, e := range reading.Examples {
		names = append(names, e.Name)
	}
	c.Flags().String(demoFlag, "", "work on an example, an invented aircraft: "+strings.Join(names, " or "))
}

// prepare reads the layout. Nothing of its job is computed yet; the caller clears the
// progress line.
func prepare(c *cobra.Command, args []string, errs io.Writer) (*job.Job, progress, error) {
	say := newProgress(terminal(errs))
	spec, err := inputs(c, args, errs)
	if err != nil {
		return nil, say, err
	}
	return job.New(spec, say.step), say, nil
}

func terminal(w io.Writer) io.Writer {
	if f, ok := w.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			return w
		}
	}
	return nil
}

func buildCommand(out, errs io.Writer) *cobra.Command {
	var dir, stage, paper, units string
	var asJSON bool
	c := &cobra.Command{
		Use:   "build [LAYOUT...]",
		Short: "write the whole job pack",
		Long: `Write the whole job pack: cut files for every pass and tile (SVG and PDF), side
views, the film on the web, trial prints on paper and pounce patterns, tape
checklist, report.json, and manifest.txt with checksums.

The pack is written whole or not at all. A folder that this program did not
write, or one of whose files was changed since, is left alone.

Several layouts, or the layouts of a folder, are built side by side, as many at a time
as there are processors: each pack goes into a folder of its own, named as the layout,
under -o (` + fleetFolder + ` where none is given). One that fails keeps no other from being
built; the summary lists it, and the exit code is that of the worst. Schemes of one
aircraft name the same aircraft file: aircraft: hack.yaml.`,
		Example: "  maskloft build mine.yaml -o pack-july\n  maskloft build schemes/ -o packs\n  maskloft build --show masks mine.yaml",
		Args:    cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if err := checkStage(stage); err != nil {
				return err
			}
			if err := onlyWith(c, "show", "json", "out", "paper", "svg-units"); err != nil {
				return err
			}
			on, err := sheet.ParsePaper(paper)
			if err != nil {
				return fmt.Errorf("--paper: %w", err)
			}
			flavour, err := sheet.ParseFlavour(units)
			if err != nil {
				return fmt.Errorf("--svg-units: %w", err)
			}
			if isFleet(args) {
				if c.Flags().Changed("show") || c.Flags().Changed(demoFlag) {
					return fmt.Errorf("build: --show and --%s are of one layout, got %d: %q", demoFlag, len(args), args)
				}
				if !c.Flags().Changed("out") {
					dir = fleetFolder
				}
				return fleetRun(c.Context(), out, errs, args, dir, packOptions{Paper: on, SVG: flavour}, asJSON)
			}
			j, say, err := prepare(c, args, errs)
			defer say.done()
			if err != nil {
				return err
			}
			if stage != "" {
				return show(c.Context(), out, stage, j)
			}
			whole, err := j.Whole(c.Context())
			if err != nil {
				return err
			}
			if len(whole.Tilings) == 0 {
				say.done()
				printFindings(out, reportFindings(whole.Findings))
				fmt.Fprintf(out, "no marking is left to cut: nothing was written to %s\n", dir)
				return errStop
			}
			report, err := writePack(c.Context(), dir, whole, packOptions{Paper: on, SVG: flavour}, say)
			say.done()
			if err != nil {
				return err
			}
			if asJSON {
				data, err := report.bytes()
				if err != nil {
					return err
				}
				if _, err := out.Write(data); err != nil {
					return err
				}
			} else {
				summary(out, dir, report)
			}
			return verdict(whole.Findings)
		},
	}
	c.Flags().StringVarP(&dir, "out", "o", "maskloft-pack", "folder to write the pack to")
	c.Flags().BoolVar(&asJSON, "json", false, "print the report as one JSON document")
	c.Flags().StringVar(&paper, "paper", "letter", "paper of what is printed: letter or a4")
	c.Flags().StringVar(&units, "svg-units", "px96", "units of the cut files' viewBox, for a shop's program that looks at nothing else: px96, pt72, px90 or mm; the size is the same")
	c.Flags().StringVar(&stage, "show", "", "print one stage as text and write nothing: "+strings.Join(stages, ", "))
	addDemo(c)
	return c
}

// verdict returns errStop where a finding says not to cut.
func verdict(findings []layouts.Finding) error {
	for _, f := range findings {
		if f.Level == layouts.Stop {
			return errStop
		}
	}
	return nil
}

// summary prints what was written, for a person.
func summary(w io.Writer, dir string, r Report) {
	fmt.Fprintf(w, "%s\n%s\n\n", r.Name, r.Aircraft)
	var others []ReportFinding
	for _, f := range r.Findings {
		if f.Rule != layouts.MissingRule {
			others = append(others, f)
			continue
		}
		printFindings(w, []ReportFinding{f})
	}
	fmt.Fprintf(w, "%-20s %-11s %-6s %13s %15s %5s %5s  %s\n", "marking", "on", "side", "FS / WL", "film, in", "films", "tiles", "skin")
	files := 0
	for _, m := range r.Markings {
		tiles := 0
		for _, k := range m.Masks {
			tiles += len(k.Tiles)
		}
		files += tiles
		skin := "exact"
		if !m.Exact {
			skin = fmt.Sprintf("squeezed %s, stretched %s, outline +/- %.4f in", percent(m.Strain.Compression), percent(m.Strain.Tension), m.Outline.PlusMinus)
		}
		fmt.Fprintf(w, "%-20s %-11s %-6s %6.1f / %4.1f %7s x %5s %5d %5d  %s\n", strings.TrimSuffix(m.ID, "-"+m.Side), m.Surface, m.Side,
			m.Anchor.FS, m.Anchor.WL, geometry.FormatNumber(m.Masks[0].Width, 3), geometry.FormatNumber(m.Masks[0].Height, 3), len(m.Masks), tiles, skin)
	}
	fmt.Fprintf(w, "\nfilm:  %s, %.1f ft of %s in web, %.0f %% waste; no way to lay them is under %.1f ft, laid in rows they take %.1f ft\n",
		geometry.Counted(files, "tile"), r.Film.Run/12, geometry.FormatNumber(r.Film.Web, 3), r.Film.Waste*100, r.Film.LowerBound/12, r.Film.Shelves/12)
	for _, p := range r.Paint {
		fmt.Fprintf(w, "paint: %-16s %.2f ft2 a coat, %.0f US fl oz to mix\n", p.Colour, p.Area, p.Mix)
	}
	taped := 0
	for _, c := range r.Checkpoints {
		if len(c.Tapes) == 2 {
			taped++
		}
	}
	byString := ""
	if n := len(r.Checkpoints) - taped; n > 0 {
		byString = fmt.Sprintf(", %d more by string or girth", n)
	}
	fmt.Fprintf(w, "tape:  %s to place from two hardpoints each%s\n", geometry.Counted(taped, "point"), byString)
	fmt.Fprintf(w, "exact: outlines within %g in of the true curve by computation, of other film within what stands beside it; tape, placing and structure add about 1/8 in (common practice, no source)\n", r.Tolerance)
	printFindings(w, others)
	fmt.Fprintf(w, "\nwritten to %s: index.html (the job book), shop-ticket.pdf, the films in cut/ and nested in run/, proof.pdf, film-run.svg, the tape checklist, the views, trial prints, weather-card.pdf, dossier.md, report.json\n", dir)
	fmt.Fprintln(w, "Layout aid, not approved data. Measure the windows 10 in apart on the first film before you cut the rest.")
}

func percent(e float64) string {
	if e < 0.00005 {
		return fmt.Sprintf("%.4f %%", e*100)
	}
	return fmt.Sprintf("%.2f %%", e*100)
}

// printFindings prints the gravest first, what to do under each that is more than a
// note; the hints of notes stand in report.json.
func printFindings(w io.Writer, findings []ReportFinding) {
	for _, level := range []layouts.Level{layouts.Stop, layouts.Warn, layouts.Note} {
		for _, f := range findings {
			if f.Level != string(level) {
				continue
			}
			fmt.Fprintf(w, "%s: %s: %s\n", f.Level, f.Rule, printable(f.Message))
			if f.Hint != "" && level != layouts.Note {
				fmt.Fprintf(w, "      hint: %s\n", printable(f.Hint))
			}
		}
	}
}
