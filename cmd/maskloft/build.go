package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export/book"
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
	chosen := func(spec *layouts.Spec, err error) (*layouts.Spec, error) {
		if err == nil {
			chooseSheets(c.Flags(), spec)
			keepUnits(c, spec)
		}
		return spec, err
	}
	if len(args) > 0 {
		if name != "" {
			return nil, fmt.Errorf("--%s %s: give a layout file or an example, not both", demoFlag, name)
		}
		return chosen(reading.Load(args[0]))
	}
	file, err := reading.ExampleFile(name)
	if err != nil {
		return nil, fmt.Errorf("--%s: %w", demoFlag, err)
	}
	if name == "" {
		fmt.Fprintln(errs, "no layout file given: using the demo (an invented aircraft); `maskloft start` prints one to begin with")
	}
	return chosen(reading.LoadFS(reading.DemoFiles(), file))
}

const demoFlag = "demo"

// addDemo gives a verb the option that picks an example.
func addDemo(c *cobra.Command) {
	var names []string
	for _, e := range reading.Examples {
		names = append(names, e.Name)
	}
	c.Flags().String(demoFlag, "", "use an example, an invented aircraft: "+strings.Join(names, " or "))
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
	var dir, stage, units string
	var asJSON, all bool
	c := &cobra.Command{
		Use:   "build [LAYOUT...]",
		Short: "write the whole job pack",
		Long: `Write the whole job pack: cut files for every pass and tile (SVG, PDF and
DXF), views, the film on the web, trial prints on paper and pounce patterns (markings
that take a quarter of a page at most stand several to a page), tape checklist,
report.json, and manifest.txt with checksums.

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
			if err := onlyWith(c, "show", "json", "all", "out", "paper", "svg-units"); err != nil {
				return err
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
				return fleetRun(c.Context(), out, errs, args, dir, packOptions{SVG: flavour, Choose: func(s *layouts.Spec) { chooseSheets(c.Flags(), s) }}, asJSON)
			}
			j, say, err := prepare(c, args, errs)
			defer say.done()
			if err != nil {
				return err
			}
			if stage != "" {
				if err := show(c.Context(), out, stage, j); err != nil {
					return err
				}
				say.done()
				return tellStops(errs, j.Findings()) // beside the stage, which may go to a file
			}
			whole, err := j.Whole(c.Context())
			if err != nil {
				return err
			}
			if len(whole.Tilings) == 0 {
				say.done()
				printFindings(out, whole.Findings)
				fmt.Fprintf(out, "no marking is left to cut: nothing was written to %s\n", printable(dir))
				return errStop
			}
			whole.Tapes.All = all
			report, err := writePack(c.Context(), dir, whole, packOptions{SVG: flavour}, say)
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
			} else if err := summary(out, dir, whole, report, askedOf(c, args), all); err != nil {
				return err
			}
			return verdict(whole.Findings)
		},
	}
	c.Flags().StringVarP(&dir, "out", "o", "maskloft-pack", "folder to write the pack to")
	c.Flags().BoolVar(&asJSON, "json", false, "print the report as one JSON document")
	c.Flags().BoolVar(&all, "all", false, "say everything that was found, not only what is to be decided, and list every point that can be taped")
	addUnits(c)
	addPaper(c, "what is printed")
	c.Flags().StringVar(&units, "svg-units", "px96", "units of the cut files' viewBox, for a shop's program that looks at nothing else: px96, pt72, px90 or mm; the size is the same")
	c.Flags().StringVar(&stage, "show", "", "print one stage as text and write nothing: "+strings.Join(stages, ", "))
	addDemo(c)
	return c
}

// tellStops prints the findings of level stop; it returns errStop where there is one.
func tellStops(w io.Writer, findings []layouts.Finding) error {
	for _, f := range findings {
		if f.Level == layouts.Stop {
			fmt.Fprintln(w, f)
		}
	}
	return verdict(findings)
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

// summary prints what was written, for a person: what was made, what to decide, the kinds
// of notes and where to open; all findings in full instead with all.
func summary(w io.Writer, dir string, whole *job.Whole, r Report, as asked, all bool) error {
	u := whole.Layout.Spec.Sheets.Units
	fmt.Fprintf(w, "%s\n%s\n", r.Name, r.Aircraft)
	if all {
		fmt.Fprintln(w)
		fullSummary(w, dir, u, whole, r)
		return nil
	}
	for _, f := range whole.Findings {
		if f.Rule == layouts.MissingRule {
			printFolded(w, "left out: ", "      ", strings.Replace(f.Message, ": left out of everything", "", 1), mostOfADecision)
		}
	}
	printMade(w, u, r)
	fmt.Fprintf(w, "film   %s, %s of web %s wide, %.0f %% waste\n", geometry.Counted(tilesIn(r), "tile"),
		u.Long(geometry.Length(r.Film.Run)), u.Length(geometry.Length(r.Film.Web), 3), r.Film.Waste*100)
	var paints []string
	for _, p := range r.Paint {
		paints = append(paints, fmt.Sprintf("%s %s, %s", p.Colour, u.Area(p.Area), u.Volume(p.Mix)))
	}
	printFolded(w, "paint  ", "       ", "a coat and to mix: "+strings.Join(paints, "; "), 0)
	fmt.Fprintf(w, "tape   %s\n", pointsWords(r))
	offers, err := takeable(whole)
	if err != nil {
		return err
	}
	printDecided(w, whole.Findings, offers, as)
	open := printable(filepath.Join(dir, "index.html")) + ", the job book."
	for _, o := range openings(whole) {
		open += " " + o.For + ": " + strings.TrimSpace(strings.Join(o.Files, ", ")+" "+o.And) + "."
	}
	printFolded(w, "open ", "", open, 0)
	fmt.Fprintf(w, "Layout aid, not approved data. Measure the windows %s apart on the first film before you cut the rest.\n", u.Length(10, 0))
	return nil
}

// openings are the files of a pack to open beside the job book.
func openings(whole *job.Whole) []book.Opening {
	return []book.Opening{
		{For: "For the shop", Files: []string{"shop-ticket.pdf"}, And: "with run/ or cut/"},
		{For: "To place and paint", Files: []string{"tape-checklist.pdf", "pass-cards.pdf", "weather-card.pdf"}},
		{For: "All figures", Files: []string{"report.json", "dossier.md"}},
	}
}

// takeable is what check --take can write of a job, with its numbers.
func takeable(whole *job.Whole) ([]job.Offer, error) {
	if !slices.ContainsFunc(whole.Findings, func(f layouts.Finding) bool { return f.Level != layouts.Note && len(f.Proposals) > 0 }) {
		return nil, nil
	}
	checked, err := checkLaid(whole.Layout.Spec, whole.Laid, whole.Checked)
	return job.Offers(checked.findings), err
}

func tilesIn(r Report) (n int) {
	for _, m := range r.Markings {
		for _, k := range m.Masks {
			n += len(k.Tiles)
		}
	}
	return n
}

// pointsWords says how many points the first films are laid by.
func pointsWords(r Report) string {
	points, lost := 0, 0
	for _, p := range r.Place {
		points += len(p.Points)
		for _, q := range p.Points {
			if len(q.Ways) == 0 {
				lost++
			}
		}
	}
	words := fmt.Sprintf("%s to mark for %s", geometry.Counted(points, "point"), geometry.Counted(len(r.Place), "film"))
	if lost > 0 {
		words += fmt.Sprintf("; nothing finds %d of them", lost)
	}
	return words
}

// fullSummary prints every marking and side by itself, and every finding.
func fullSummary(w io.Writer, dir string, u geometry.Units, whole *job.Whole, r Report) {
	missing := func(f layouts.Finding) bool { return f.Rule == layouts.MissingRule }
	printFindings(w, slices.DeleteFunc(slices.Clone(whole.Findings), func(f layouts.Finding) bool { return !missing(f) }))
	fmt.Fprintf(w, "%-20s %-11s %-6s %13s %15s %5s %5s  %s\n", "marking", "on", "side", "FS / WL", "film, "+u.Word(), "films", "tiles", "skin")
	for _, m := range r.Markings {
		tiles := 0
		for _, k := range m.Masks {
			tiles += len(k.Tiles)
		}
		skin := "exact"
		if !m.Exact {
			skin = fmt.Sprintf("squeezed %s, stretched %s, outline +/- %s", percent(m.Strain.Compression), percent(m.Strain.Tension), u.Fixed(geometry.Length(m.Outline.PlusMinus), 4))
		}
		number := func(v float64, d int) string { return u.Number(geometry.Length(v), d) }
		fmt.Fprintf(w, "%-20s %-11s %-6s %6s / %4s %7s x %5s %5d %5d  %s\n", strings.TrimSuffix(m.ID, "-"+m.Side), m.Surface, m.Side,
			u.FixedNumber(geometry.Length(m.Anchor.FS), 1), u.FixedNumber(geometry.Length(m.Anchor.WL), 1), number(m.Masks[0].Width, 3), number(m.Masks[0].Height, 3), len(m.Masks), tiles, skin)
	}
	fmt.Fprintf(w, "\nfilm:  %s, %s of %s web, %.0f %% waste; the least possible is %s, in plain rows %s\n",
		geometry.Counted(tilesIn(r), "tile"), u.Long(geometry.Length(r.Film.Run)), u.Length(geometry.Length(r.Film.Web), 3), r.Film.Waste*100,
		u.Long(geometry.Length(r.Film.LowerBound)), u.Long(geometry.Length(r.Film.Shelves)))
	for _, p := range r.Paint {
		fmt.Fprintf(w, "paint: %-16s %s a coat, %s to mix\n", p.Colour, u.Area(p.Area), u.Volume(p.Mix))
	}
	fmt.Fprintf(w, "tape:  %s\n", pointsWords(r))
	fmt.Fprintf(w, "exact: outlines within %s of the true curve by computation, of other film within what stands beside it; tape, placing and structure add about %s (common practice, no source)\n",
		u.Length(geometry.Length(r.Tolerance), 4), u.Fraction(1.0/8, 8))
	printFindings(w, slices.DeleteFunc(slices.Clone(whole.Findings), missing))
	fmt.Fprintf(w, "\nwritten to %s: index.html (the job book), shop-ticket.pdf, the films in cut/ and nested in run/, proof.pdf, film-run.svg, the tape checklist, the views, trial prints, pass-cards.pdf, weather-card.pdf, dossier.md, report.json\n", printable(dir))
	fmt.Fprintf(w, "Layout aid, not approved data. Measure the windows %s apart on the first film before you cut the rest.\n", u.Length(10, 0))
}

func percent(e float64) string {
	if e < 0.00005 {
		return fmt.Sprintf("%.4f %%", e*100)
	}
	return fmt.Sprintf("%.2f %%", e*100)
}

// printFindings prints the gravest first, what to do under each that is more than a
// note; the hints of notes stand in report.json.
func printFindings(w io.Writer, findings []layouts.Finding) {
	for _, level := range []layouts.Level{layouts.Stop, layouts.Warn, layouts.Note} {
		for _, f := range findings {
			if f.Level != level {
				continue
			}
			if level == layouts.Note {
				f.Hint = ""
			}
			fmt.Fprintln(w, f)
		}
	}
}
