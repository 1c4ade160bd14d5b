package main

import (
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

func rulesCommand(out io.Writer) *cobra.Command {
	var ask ruleQuery
	var dir, paper, serial, specimen, terms string
	var asJSON, alphabets, paints, propose bool
	c := &cobra.Command{
		Use:   "rules [RULE]",
		Short: "list the rules, show one, or say which form stood where on a date",
		Long: `List the rules known; show one with its numbers, readings, sizes, uses and sources;
or, with --on, say place by place which form stood there on that date, what came
before and after, and how that is known. Unknown does not mean none: none is said where a
source says so.

Nations are given by name or adjective: us, American; uk, British. Dates are a day, a
month or a year. --service, --place, --finish, --type and --kind narrow the answer;
--terms lists their words. --paints lists the paints of the date; --propose prints a
layout with what stood there, each line with its source.

With -o, what is told is drawn: a card for each rule (PDF) and its figure (SVG). A rule
read in a document or a copy of one may stop a job, a secondary work may warn; what a
tertiary page says, or memory, is a note.

--alphabets lists the letterforms known, --specimen draws one, your own file included.`,
		Example: "  maskloft rules --on 1935-06 --nation uk --finish silver\n  maskloft rules an-i-9b/star-and-bars -o card\n  maskloft rules --call-number 42-50123\n  maskloft rules --specimen block-1940s -o specimen",
		Args:    arguments(0, 1, "rule"),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 && (serial != "" || alphabets || specimen != "") {
				return errors.New("rules: give a rule, or --call-number, --alphabets or --specimen, not both")
			}
			if err := errors.Join(
				onlyWith(c, "call-number", append([]string{"alphabets", "specimen", "terms", "out", "json", "paper"}, asking...)...),
				onlyWith(c, "alphabets", append([]string{"specimen", "terms", "out", "json", "paper"}, asking...)...),
				onlyWith(c, "specimen", append([]string{"terms", "json"}, asking...)...),
				onlyWith(c, "propose", "paints", "out", "json", "paper"),
				onlyWith(c, "paints", "out", "paper"),
				onlyWith(c, "terms", append([]string{"out", "json", "paper"}, asking...)...),
			); err != nil {
				return err
			}
			if serial != "" {
				number, err := standards.CallNumber(serial)
				if err != nil {
					return err
				}
				_, err = fmt.Fprintf(out, "%s\n", number)
				return err
			}
			if alphabets {
				return listAlphabets(out)
			}
			if specimen != "" {
				return drawSpecimen(out, specimen, dir, paper)
			}
			if terms != "" {
				return listTerms(out, terms)
			}
			chosen, err := ask.choose(args)
			if err != nil {
				return err
			}
			if propose {
				return ask.propose(out, chosen)
			}
			if paints {
				r, err := ask.paints(chosen)
				if err != nil {
					return err
				}
				if asJSON {
					return writeJSON(out, r)
				}
				showPaints(out, ask.on, r)
				return nil
			}
			if dir != "" {
				if err := drawRules(dir, paper, chosen.rules); err != nil {
					return err
				}
			}
			switch {
			case asJSON:
				return writeJSON(out, chosen.report())
			case len(args) > 0:
				if err := showRule(out, chosen.rules[0]); err != nil {
					return err
				}
			case ask.on != "":
				showAnswers(out, chosen)
			default:
				listRules(out, chosen.rules)
			}
			if dir != "" {
				fmt.Fprintf(out, "\ndrawn in %s\n", dir)
			}
			return nil
		},
	}
	f := c.Flags()
	f.Var((*dateFlag)(&ask.on), "on", "date: 1943-07-15, 1943-07 or 1943")
	f.StringVar(&ask.nation, "nation", "", "nation, such as us, British or France")
	f.StringVar(&ask.service, "service", "", "service, such as army, navy, raf or civil")
	f.StringVar(&ask.place, "place", "", "place on the aircraft, such as 'upper wing' or rudder")
	f.StringVar(&ask.finish, "finish", "", "finish, such as silver, camouflage or night")
	f.StringVar(&ask.kind, "kind", "", "kind of marking, such as insignia, rudder or serial")
	f.StringSliceVar(&ask.types, "type", nil, "types of aircraft, such as fighters or trainers")
	f.BoolVar(&paints, "paints", false, "list the paints of the date: names, standards of the time, colours for pictures")
	f.BoolVar(&propose, "propose", false, "print a layout with what stood there on the date, to paste and edit")
	f.StringVar(&terms, "terms", "", "list the words for: nation, service, place, finish, type or kind")
	f.StringVarP(&dir, "out", "o", "", "folder to draw the rules in")
	f.StringVar(&paper, "paper", "letter", "paper of the cards: letter or a4")
	f.StringVar(&serial, "call-number", "", "print the radio call number of a United States serial, such as 42-50123")
	f.BoolVar(&alphabets, "alphabets", false, "list the alphabets with their ratios and sources")
	f.StringVar(&specimen, "specimen", "", "draw the specimen sheet of an alphabet, a .yaml file of ratios or a font")
	f.BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

// drawRules writes a card and, where there is one, a figure for each rule.
func drawRules(dir, paper string, rules []*standards.Rule) error {
	on, err := sheet.ParsePaper(paper)
	if err != nil {
		return fmt.Errorf("--paper: %w", err)
	}
	return writeFolder(dir, func() ([]packFile, error) { return ruleFiles(on, rules) })
}

// ruleFiles draws a card and, where there is one, a figure for each rule.
func ruleFiles(on sheet.Paper, rules []*standards.Rule) ([]packFile, error) {
	var files []packFile
	done := map[string]bool{}
	for _, r := range rules {
		name := strings.NewReplacer("/", "-", "@", "-").Replace(ruleID(r))
		if done[name] {
			continue
		}
		done[name] = true
		sheets, err := export.RuleCard(on, r, nil)
		if err != nil {
			return nil, err
		}
		card, err := document(name+".pdf", r.ID, sheets)
		if err != nil {
			return nil, err
		}
		files = append(files, card)
		if len(r.Parts) > 0 {
			figure, err := layouts.InsigniaFigure(r, geometry.Length(r.OwnSize()), nil)
			if err != nil {
				return nil, err
			}
			sheet, err := export.FigureSheet(figure, path.Base(name))
			if err != nil {
				return nil, err
			}
			drawn, err := picture(name+".svg", sheet)
			if err != nil {
				return nil, err
			}
			files = append(files, drawn)
		}
	}
	return files, nil
}
