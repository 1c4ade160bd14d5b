package main

import (
	"fmt"
	"io"
	"strings"

	"maskloft/export"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/proportions"
)

func (r checkResult) print(w io.Writer, dir string) {
	u := r.sheets.Units
	fmt.Fprintf(w, "%s\n", r.title)
	if r.ranked {
		r.printCandidates(w)
	}
	if r.counted {
		fmt.Fprintf(w, "%s found\n", geometry.Counted(len(r.checked), "insignia"))
	}
	for _, x := range r.checked {
		fmt.Fprintf(w, "\n%s against %s: %s\n", x.id, ruleID(x.rule), export.RuleSource(x.rule))
		fmt.Fprintf(w, "  %-68s %11s %11s %10s %9s  %s\n", "dimension ("+r.sheets.Units.Word()+" where no other unit stands)", "measured", "expected", "off by", "within", "verdict")
		for _, c := range x.checks {
			if c.Said != "" {
				fmt.Fprintf(w, "  %s  %s  %s\n", c.Dimension(), c.Said, verdictWords(c))
				continue
			}
			fmt.Fprintf(w, "  %-68s %11s %11s %10s %9s  %s\n", strings.TrimSpace(c.Dimension()+"  "+c.What), figureOf(u, c, c.Measured), figureOf(u, c, c.Expected), signedOf(u, c, c.Difference), figureOf(u, c, c.Tolerance), verdictWords(c))
		}
	}
	if len(r.checked) == 0 && !r.ranked {
		fmt.Fprintln(w, "no marking follows a published rule: there are no proportions to hold against one")
	}
	fmt.Fprintln(w)
	for _, f := range r.findings {
		fmt.Fprintln(w, f)
		if f.Source != "" {
			fmt.Fprintf(w, "      source: %s\n", f.Source)
		}
	}
	for _, n := range r.notes {
		fmt.Fprintf(w, "note: %s\n", n)
	}
	if dir != "" {
		fmt.Fprintf(w, "written to %s: check.pdf\n", printable(dir))
	}
	r.printEnd(w)
}

func (r checkResult) printEnd(w io.Writer) {
	fmt.Fprintf(w, "Layout aid, not approved data. Lengths in %s, measured on the finished outlines.\n", r.sheets.Units.Name())
}

// printShort prints how many dimensions conform, those that do not, what is to be decided
// and the kinds of notes.
func (r checkResult) printShort(w io.Writer, dir string, as asked) {
	fmt.Fprintln(w, r.title)
	for _, x := range r.checked {
		good := 0
		for _, c := range x.checks {
			if fine(c) {
				good++
			}
		}
		fmt.Fprintf(w, "%s: %d of %s conform to %s\n", x.id, good, geometry.Counted(len(x.checks), "dimension"), ruleID(x.rule))
		for _, c := range x.checks {
			if !fine(c) {
				said := c.Said
				if said == "" {
					said = figureOf(r.sheets.Units, c, c.Measured) + ", expected " + figureOf(r.sheets.Units, c, c.Expected)
				}
				printFolded(w, "      ", "        ", fmt.Sprintf("%s: %s: %s", strings.TrimSpace(c.Dimension()+" "+c.What), said, verdictWords(c)), mostOfADecision)
			}
		}
	}
	if len(r.checked) == 0 {
		fmt.Fprintln(w, "no marking follows a published rule: there are no proportions to hold against one")
	}
	offers := job.Offers(r.findings)
	printDecided(w, r.findings, offers, as)
	if len(offers) > 0 && as.file != "" {
		fmt.Fprintf(w, "the numbers are of list %s: add --list %s to be sure of them\n", job.ListMark(offers), job.ListMark(offers))
	}
	for _, n := range r.notes {
		fmt.Fprintf(w, "note: %s\n", n)
	}
	if dir != "" {
		fmt.Fprintf(w, "written to %s: check.pdf\n", printable(dir))
	}
	r.printEnd(w)
}

func fine(c proportions.Check) bool {
	return c.Verdict == proportions.Conforms || c.Verdict == proportions.Following
}

// figureOf writes a length of a check; that of an angle, which is an arc at the end of
// its arm, in degrees.
func figureOf(u geometry.Units, c proportions.Check, l geometry.Length) string {
	if degreeOf(c) == 0 {
		return u.FixedNumber(geometry.Length(round6(l.Inches())), 3)
	}
	return fmt.Sprintf("%.2f deg", float64(l/degreeOf(c)))
}

// degreeOf is the arc of one degree of a check of an angle, and 0 for a length.
func degreeOf(c proportions.Check) geometry.Length {
	if c.Unit != proportions.Degrees || c.Expected == 0 || c.ExpectedRatio == 0 {
		return 0
	}
	return c.Expected / geometry.Length(c.ExpectedRatio)
}

// partAnd says what was measured, and of which part where the words do not.
func partAnd(c proportions.Check) string {
	if c.Part == "" || strings.Contains(c.What, c.Part) {
		return c.What
	}
	return c.Part + ": " + c.What
}

func signedOf(u geometry.Units, c proportions.Check, l geometry.Length) string {
	s := figureOf(u, c, l)
	if l >= 0 || strings.Trim(s, "-0. deg") == "" {
		s = "+" + strings.TrimPrefix(s, "-")
	}
	return s
}

func verdictWords(c proportions.Check) string {
	s := string(c.Verdict)
	if c.Other != "" {
		s += ": " + c.Other
	}
	if c.Follows != "" {
		s += ": " + c.Follows
	}
	if len(c.Evidence) > 0 {
		s += ": " + strings.Join(c.Evidence, ", ")
	}
	return s
}

// printCandidates lists the forms that a file may be of.
func (r checkResult) printCandidates(w io.Writer) {
	if len(r.candidates) == 0 {
		return
	}
	fmt.Fprintf(w, "%-8s %-34s %-10s %-24s %-46s %s\n", "page", "form", "nation", "in force", "name", "how it fits")
	for _, c := range r.candidates {
		fmt.Fprintf(w, "%-8s %-34s %-10s %-24s %-46s %s\n", c.page, ruleID(c.Rule), c.Rule.Nation, inForce(c.Rule), c.Rule.Name, c.fits())
	}
}

// drawings returns the checked insignia for the sheet.
func (r checkResult) drawings() []export.CheckedDrawing {
	var out []export.CheckedDrawing
	for _, x := range r.checked {
		d := export.CheckedDrawing{Title: x.id + ": " + x.rule.Name, Against: export.RuleSource(x.rule), Regions: x.regions, Hex: x.hex}
		if x.over != nil {
			d.Rule = x.over.Outlines
			for _, m := range x.over.Marks {
				d.Marks = append(d.Marks, export.CheckedMark(m))
			}
		}
		marks := map[[2]geometry.Point]string{} // one letter for each place
		for _, c := range x.checks {
			row := export.CheckedRow{
				What: partAnd(c), Degree: degreeOf(c), Measured: c.Measured, Expected: c.Expected, Difference: c.Difference, Tolerance: c.Tolerance,
				Verdict: verdictWords(c), Good: fine(c), Source: c.Text, Hint: c.Hint, Line: c.Line,
			}
			if c.Line[0].Dist(c.Line[1]) > 1e-3 && len(marks) < 26 {
				if marks[c.Line] == "" {
					marks[c.Line] = string(rune('a' + len(marks)))
				}
				row.Mark = marks[c.Line]
			}
			d.Rows = append(d.Rows, row)
		}
		out = append(out, d)
	}
	return out
}

// write writes check.pdf.
func (r checkResult) write(dir string) error {
	paper := paperOf(&layouts.Spec{Sheets: r.sheets})
	return writeFolder(dir, one(func() (packFile, error) {
		return document("check.pdf", "Check: "+r.title, export.CheckSheet(paper, r.sheets.Units, "Check: "+r.title, r.drawings(), r.findings))
	}))
}
