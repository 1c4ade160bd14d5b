package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export/views"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
	"maskloft/layouts/proportions"
	"maskloft/layouts/standards"
)

func checkCommand(out, errs io.Writer) *cobra.Command {
	var file, as, text, dir string
	var size lengthFlag
	var readings, take []string
	var list string
	var asJSON, all bool
	c := &cobra.Command{
		Use:   "check [LAYOUT] | check --file FILE [--as RULE]",
		Short: "hold insignia and their places against the published documents",
		Long: `Measure the finished outlines of every insignia of a layout, not the numbers that
drew them, and hold each dimension against its rule: it conforms, conforms to a
superseded or misprinted text (which is named), deviates with evidence on file, or
deviates unexplained. Lettering is measured where its figure names a rule, as:
14-cfr-45/29. Places, clearances, heights, dates and the two sides are looked at as
well.

With --file, look for the insignia of a rule in a drawing made elsewhere (SVG, PDF or
DXF), whatever its size, turn, units and curves, and measure that: every insignia of
every page, every number, whether all of it is there, its paints, and what is there
besides. What is not an insignia of the rule is reported as that. Without --as, the forms
that the drawing fits are listed, the likeliest first. Lettering is held against a rule
for lettering with --text, which says what it reads. A film that this program cut has
one paint of several: the outlines of that paint are checked.

With --take, write values that findings propose into the layout file: by their
numbers in the list that check prints, or by marking and rule. The layout is then
computed with each: its finding must be gone, and no other stop may have come; else
nothing is written. Every other byte of the file stays as it is.

Exit codes: 0 nothing stops, 1 something does, 2 could not run.`,
		Example: "  maskloft check mine.yaml -o dossier\n  maskloft check mine.yaml --take 1,3\n  maskloft check mine.yaml --take code/obstacle\n  maskloft check --file from-the-shop.pdf --as an-i-9b/star-and-bars --size \"40 in\"\n  maskloft check --file number.dxf --as 14-cfr-45/29 --text N123AB",
		Args:    arguments(0, 1, "layout file"),
		RunE: func(c *cobra.Command, args []string) error {
			var result checkResult
			var err error
			switch {
			case list != "" && len(take) == 0:
				return errors.New("check: --list goes with --take: it says which list the numbers are of")
			case len(take) > 0 && (file != "" || dir != ""):
				return errors.New("check: --take writes into the layout: leave out --file and -o, and check again afterwards")
			case len(take) > 0:
				taken, err := takeHints(c.Context(), args, take, list)
				if err != nil {
					return err
				}
				if asJSON {
					return writeJSON(out, taken)
				}
				taken.print(out)
				return nil
			case file != "" && len(args) > 0:
				return errors.New("check: give a layout, or --file and --as, not both")
			case file != "" && as == "" && len(readings) > 0:
				return errors.New("check: --reading goes with --as RULE")
			case text != "" && (file == "" || as == ""):
				return errors.New("check: --text goes with --file FILE --as RULE: what the lettering in the file reads")
			case file != "" && as == "":
				result, err = whatIsThis(c.Context(), sheetsOf(c), file, geometry.Length(size))
			case file != "":
				result, err = checkFile(c.Context(), sheetsOf(c), file, as, geometry.Length(size), text, readings)
			case as != "" || size != 0 || len(readings) > 0:
				return errors.New("check: --as, --size and --reading go with --file FILE")
			default:
				result, err = checkLayout(c, args, errs)
			}
			if err != nil {
				return err
			}
			if dir != "" {
				if err := result.write(dir); err != nil {
					return err
				}
			}
			switch name := strings.Join(args, ""); {
			case asJSON:
				err = writeJSON(out, result.report())
			case all || file != "":
				result.print(out, dir)
				printOffers(out, name, result.findings)
			default:
				result.printShort(out, dir, askedOf(c, args))
			}
			if err != nil {
				return err
			}
			return verdict(result.findings)
		},
	}
	f := c.Flags()
	f.StringVar(&file, "file", "", "drawing made elsewhere, SVG, PDF or DXF")
	f.StringVar(&as, "as", "", "rule to look for in it, such as an-i-9b/star-and-bars; left out: what is it?")
	f.Var(&size, "size", "governing size it should have, such as \"40 in\"; of lettering its height")
	f.StringVar(&text, "text", "", "what the lettering in the file reads, where --as is a rule for lettering")
	f.StringArrayVar(&readings, "reading", nil, "reading of the rule, such as bar-length=from-tangent; may be repeated")
	f.StringVarP(&dir, "out", "o", "", "folder to write check.pdf to, for the dossier")
	f.StringSliceVar(&take, "take", nil, "proposals to write into the layout: numbers of the list, or MARKING/RULE")
	f.StringVar(&list, "list", "", "mark of the list that the numbers of --take are of, as check prints it")
	f.BoolVar(&all, "all", false, "say every dimension and everything that was found, not only what is to be decided")
	addUnits(c)
	addPaper(c, "check.pdf")
	f.BoolVar(&asJSON, "json", false, "print one JSON document")
	addDemo(c)
	return c
}

// checkResult is everything that was held against a rule, and what was found.
type checkResult struct {
	title      string
	sheets     layouts.SheetSpec
	checked    []checkedInsignia
	findings   []layouts.Finding
	notes      []string
	counted    bool // insignia of a file
	ranked     bool // the forms of a file were asked for
	candidates []candidate
}

// checkedInsignia is one insignia, or one text, with its checks.
type checkedInsignia struct {
	id      string
	rule    *standards.Rule
	checks  []proportions.Check
	regions []layouts.Region
	hex     func(string) string
	over    *proportions.Recognition // of a file: what to draw over it
}

// checkLayout measures every insignia and text that has a rule, on its film, or as seen from the side
// where that is what is true, and adds what was found of places and what stands round them.
func checkLayout(c *cobra.Command, args []string, errs io.Writer) (checkResult, error) {
	j, say, err := prepare(c, args, errs)
	defer say.done()
	if err != nil {
		return checkResult{}, err
	}
	return checkMade(c.Context(), j)
}

// checkMade checks the markings of a job.
func checkMade(ctx context.Context, j *job.Job) (checkResult, error) {
	laid, err := j.Laid(ctx)
	if err != nil {
		return checkResult{}, err
	}
	if _, err := j.Surveyed(ctx); err != nil {
		return checkResult{}, err
	}
	return checkLaid(j.Spec, laid, j.Checked())
}

// checkLaid measures laid markings; the findings of the job follow those of the checks.
func checkLaid(spec *layouts.Spec, laid []masks.Laid, findings []layouts.Finding) (checkResult, error) {
	r := checkResult{title: spec.Name, sheets: spec.Sheets}
	for _, l := range laid {
		p := l.Placement
		regions := l.Seen()
		o := proportions.OptionsOf(p.Marking)
		o.Marking, o.Units = l.ID(), spec.Sheets.Units
		for _, rule := range p.Figure.Rules() {
			checks, err := checksOf(p.Figure, rule, regions, o)
			if err != nil {
				return r, fmt.Errorf("%v: %s: %w", p.Marking.Place, l.ID(), err)
			}
			r.checked = append(r.checked, checkedInsignia{id: l.ID(), rule: rule, checks: checks, regions: regions, hex: func(id string) string { return views.PaintHex(spec.Paint, id) }})
			r.findings = append(r.findings, proportions.Findings(o.Units, checks)...)
		}
	}
	r.findings = append(r.findings, findings...)
	return r, nil
}

// checksOf holds the outlines of a figure against one of its rules.
func checksOf(fig layouts.Figure, rule *standards.Rule, regions []layouts.Region, o proportions.Options) ([]proportions.Check, error) {
	if rule.Lettering != nil {
		return proportions.OfLettering(fig, rule, regions, o)
	}
	return proportions.OfFigure(fig, regions, o)
}
