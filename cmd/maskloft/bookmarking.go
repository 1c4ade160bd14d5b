package main

import (
	"fmt"
	"strings"

	"maskloft/export"
	"maskloft/export/book"
	"maskloft/export/views"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
	"maskloft/layouts/proportions"
)

// leastShown is the strain below which its map says nothing to look at: a fiftieth of
// a per cent, 0.005 in over 24 in.
const leastShown = 0.0002

// strained tells whether a film has a strain to look at.
func strained(l masks.Laid) bool { return max(l.Strain.Compression, l.Strain.Tension) > leastShown }

// bookMarkings gathers what is known of each marking: its rule, evidence, strain,
// findings, check and tapes.
func bookMarkings(j *job.Whole, report Report, checked checkResult, shown []book.View, place book.PlaceData) ([]book.Marking, error) {
	checks := map[string][]checkedInsignia{}
	for _, c := range checked.checked {
		checks[c.id] = append(checks[c.id], c)
	}
	tapes := bookTapes(j.Tapes, report, place)
	u := j.Layout.Spec.Sheets.Units
	full := views.StrainFull(j.Laid)
	var out []book.Marking
	for i, t := range j.Tilings {
		r := report.Markings[i]
		m := book.Marking{Unit: u.Word(), ID: r.ID, Name: bookName(t.Laid.Placement), View: viewOf(shown, r.ID), Tapes: tapes[r.ID], Rows: bookRows(j, t, r)}
		m.Where = fmt.Sprintf("%s, FS %s, WL %s", r.Surface, u.Number(geometry.Length(r.Anchor.FS), 1), u.Number(geometry.Length(r.Anchor.WL), 1))
		for _, mask := range r.Masks {
			m.Passes = append(m.Passes, bookPass(j, r, mask))
		}
		bookPictures(&m, j, t, full)
		if c := checks[r.ID]; len(c) > 0 {
			m.Check = bookCheck(u, c)
		}
		var all []layouts.Finding
		all, m.Level = findingsOf(r.ID, checked.findings)
		for _, f := range all {
			if f.Level == layouts.Note {
				m.Notes = append(m.Notes, f)
			} else {
				m.Grave = append(m.Grave, f)
			}
		}
		out = append(out, m)
	}
	return out, nil
}

// bookName is what a marking is, for people.
func bookName(p layouts.Placement) string {
	switch {
	case p.Figure.Rule != nil:
		return p.Figure.Rule.Name
	case p.Marking.Figure.Text != "":
		return strings.ReplaceAll(p.Marking.Figure.Text, "\n", " / ")
	}
	return ""
}

// findingsOf are the findings of a marking, the gravest first, and the level of the
// gravest that is no note.
func findingsOf(id string, findings []layouts.Finding) (out []layouts.Finding, level string) {
	for _, l := range []layouts.Level{layouts.Stop, layouts.Warn, layouts.Note} {
		for _, f := range findings {
			if f.Marking != id || f.Level != l {
				continue
			}
			out = append(out, f)
			if level == "" && l != layouts.Note {
				level = string(l)
			}
		}
	}
	return out, level
}

// bookRows are the rule, the evidence and the figures of a marking.
func bookRows(j *job.Whole, t masks.Tiling, r ReportMarking) []book.Row {
	p, u := t.Laid.Placement, j.Layout.Spec.Sheets.Units
	in := " " + u.Word()
	var rows []book.Row
	row := func(name string, parts ...any) {
		rows = append(rows, book.Row{Name: name, Text: words(parts...)})
	}
	if rule := p.Figure.Rule; rule != nil {
		row("rule", ruleID(rule), ": ", rule.Name)
		row("source", export.RuleSource(rule), "; ", export.KnownText(rule.Provenance))
	} else if p.Marking.Figure.Text != "" {
		row("text", p.Figure.ID, ", alphabet ", p.Marking.Figure.Alphabet, ", ", u.Length(p.Marking.Figure.Height, 4), " high")
		if against := p.Figure.LetteringWords(); against != "" {
			row("held against", against)
		}
	}
	for _, id := range p.Marking.Evidence {
		for _, e := range j.Layout.Spec.Evidence {
			if e.ID == id {
				row("evidence "+e.ID, "class ", e.Class, ": ", e.What)
			}
		}
	}
	if len(p.Marking.Evidence) == 0 {
		row("evidence", "none on file: a guess until there is some")
	}
	row("anchor", "FS ", lengthFigure(u, "anchor.fs", r.Anchor.FS, 3), ", BL ", lengthFigure(u, "anchor.bl", r.Anchor.BL, 3), ", WL ", lengthFigure(u, "anchor.wl", r.Anchor.WL, 3))
	row("height", lengthFigure(u, "height_skin_in", r.SkinHeight, 3), in+" along the skin, ", lengthFigure(u, "height_side_in", r.SideHeight, 3), in+" from the side; lengths true ", r.True)
	if r.Exact {
		row("strain", "none: the skin unrolls")
	} else {
		row("strain", "squeezed ", percentFigure("strain.compression", r.Strain.Compression), ", stretched ", percentFigure("strain.tension", r.Strain.Tension), "; ", r.Advice)
		row("outline", "plus or minus ", lengthFigure(u, "outline.plus_minus_in", r.Outline.PlusMinus, 4), in+" on the skin")
	}
	row("painted", namedFigure("area_in2", r.Area, u.SmallArea(r.Area, 2)), ", trap ", lengthFigure(u, "trap_in", r.Trap, 4), in)
	return rows
}

// bookPictures draws the film of a marking whole, and the strain where there is some; full
// is what the ends of the ladder of its colours stand for.
func bookPictures(m *book.Marking, j *job.Whole, t masks.Tiling, full float64) {
	m.Film.Title = "Seen from outside"
	m.Film.SVG, m.Thumb = book.FilmPicture(t, j.Layout.Spec)
	if len(t.Marks) > 0 {
		m.Film.Title += "; circles: registration marks"
	}
	if t.TileCount() > len(t.Films) {
		m.Film.Title += "; dashed: seams of tiles"
	}
	if !strained(t.Laid) {
		return
	}
	svg, says := book.StrainPicture(t.Laid, full)
	m.Strain = &book.Picture{Title: says, SVG: svg}
}

func bookPass(j *job.Whole, r ReportMarking, mask ReportMask) book.Pass {
	return book.Pass{Layer: fmt.Sprintf("film-%s-pass-%d", r.ID, mask.Pass), Name: fmt.Sprintf("pass %d, %s", mask.Pass, mask.Colour), Colour: views.PaintHex(j.Layout.Spec.Paint, mask.Colour)}
}

// bookCheck is a marking held against its rules.
func bookCheck(u geometry.Units, list []checkedInsignia) *book.Check {
	out := &book.Check{}
	var against []string
	for _, c := range list {
		against = append(against, export.RuleSource(c.rule))
		for _, x := range c.checks {
			row := book.Checked{
				What: partAnd(x), Measured: figureOf(u, x, x.Measured), Expected: figureOf(u, x, x.Expected), Off: signedOf(u, x, x.Difference), Within: figureOf(u, x, x.Tolerance),
				Verdict: verdictWords(x), Hint: x.Hint, Source: x.Text, Exact: geometry.FormatNumber(x.Measured.Inches(), 6), Good: x.Verdict == proportions.Conforms,
			}
			if row.Good {
				out.Good++
			}
			out.Rows = append(out.Rows, row)
		}
	}
	out.Against = strings.Join(against, "; ")
	return out
}
