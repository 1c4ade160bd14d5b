package main

import (
	"bytes"
	"fmt"
	"slices"

	"maskloft/export"
	"maskloft/export/audit"
	"maskloft/export/book"
	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
)

// jobBook makes index.html from what the pack holds: its figures are those of the report.
func jobBook(j *job.Whole, report Report, films []export.TicketFilm, dossier []byte) (packFile, error) {
	spec := j.Layout.Spec
	b := book.Book{
		Title: spec.Name, Aircraft: spec.Aircraft.Name, Frame: spec.Aircraft.Datum, Facts: bookFacts(report, len(films)),
		Causes: audit.Causes, Dossier: book.DossierHTML(dossier), Cautions: sheet.Cautions,
		RunWords: words("Web ", figure("/film.web_in", report.Film.Web, 3), " in, run ", figure("/film.run_in", report.Film.Run, 2), " in with margins, ",
			namedFigure("/film.waste", report.Film.Waste, fmt.Sprintf("%.0f %%", report.Film.Waste*100)), " waste; no way to lay these films is under ", figure("/film.run_lower_bound_in", report.Film.LowerBound, 2), " in."),
	}
	checked, err := checkLaid(j.Layout.Spec, j.Laid, j.Findings)
	if err != nil {
		return packFile{}, err
	}
	b.Findings = bookFindings(j.Layout, checked.findings)
	if b.Views, err = bookViews(j); err != nil {
		return packFile{}, err
	}
	if b.Markings, err = bookMarkings(j, report, checked, b.Views); err != nil {
		return packFile{}, err
	}
	run := export.RunStrip(spec.Name+", films on the web", j.Run)
	if b.Run.SVG, err = book.Inline(run, "run"); err != nil {
		return packFile{}, err
	}
	b.Run.Title = "How the films lie on the web. Numbers are those of the ticket; names and sizes stand in film-run.svg."
	for _, f := range films {
		b.Ticket = append(b.Ticket, book.Film{
			Number: f.Number, ID: f.Piece.ID, Pieces: export.PiecesWords(f.Cut),
			Size: fmt.Sprintf("%s x %s", geometry.FormatNumber(f.Outline.Width(), 3), geometry.FormatNumber(f.Outline.Height(), 3)),
		})
	}
	if b.Scene, err = book.Scene(j.Layout, j.Laid, j.Tapes); err != nil {
		return packFile{}, err
	}
	var page bytes.Buffer
	err = book.Write(&page, b)
	return packFile{"index.html", page.Bytes()}, err
}

// bookFacts are the figures of the title block.
func bookFacts(report Report, films int) []book.Row {
	rows := []book.Row{
		{Name: "markings", Text: words(len(report.Markings))},
		{Name: "films to cut", Text: words(films)},
		{Name: "film on the web", Text: words(namedFigure("/film.run_in", report.Film.Run, fmt.Sprintf("%.1f", report.Film.Run/12)), " ft")},
		{Name: "points to tape", Text: words(len(report.Checkpoints))},
	}
	for i, p := range report.Paint {
		rows = append(rows, book.Row{Name: p.Colour + ", a coat", Text: words(namedFigure(fmt.Sprintf("/paint.%d.area_ft2", i), p.Area, fmt.Sprintf("%.2f", p.Area)), " ft2")})
	}
	return rows
}

// bookFindings parts the findings by how grave they are, the gravest first.
func bookFindings(l *layouts.Layout, findings []layouts.Finding) book.Findings {
	known := map[string]bool{}
	for _, p := range l.Placed {
		known[p.ID()] = true
	}
	var out book.Findings
	for _, level := range []layouts.Level{layouts.Stop, layouts.Warn, layouts.Note} {
		for _, f := range findings {
			if f.Level != level {
				continue
			}
			one := book.Finding{Finding: f, Linked: known[f.Marking]}
			switch level {
			case layouts.Stop:
				out.Stops++
			case layouts.Warn:
				out.Warns++
			default:
				out.Notes = append(out.Notes, one)
				continue
			}
			out.Grave = append(out.Grave, one)
		}
	}
	return out
}

// bookViews draws the sides, and the wings where there are any, with links from each
// marking to its part.
func bookViews(j *job.Whole) ([]book.View, error) {
	var out []book.View
	add := func(s sheet.Sheet, id, title string, shows func(p layouts.Placement) bool) error {
		var ids []string
		for _, l := range j.Laid {
			if shows(l.Placement) {
				ids = append(ids, l.ID())
			}
		}
		bare := book.Bare(s, 0.15, "frame")
		bare.Title = title
		svg, err := book.Inline(bare, id)
		out = append(out, book.View{Picture: book.Picture{ID: "view-" + id, Title: title, SVG: book.Linked(svg, id, ids)}, Shows: ids})
		return err
	}
	for _, v := range aircraftViews(j.Layout, j.Laid) {
		if v.word == "fin" {
			continue // the sides show it
		}
		if err := add(v.draw(views.ViewOptions{Screen: true}), v.id(), bookTitles[v.id()], v.shows); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// bookTitles are the captions of the views by their ids.
var bookTitles = map[string]string{
	"left": "Left side, nose to the left", "right": "Right side, nose to the right",
	"upper": "Wings from above", "lower": "Wings from below",
}

// viewOf returns the id of the view that shows a marking.
func viewOf(views []book.View, id string) string {
	for _, v := range views {
		if slices.Contains(v.Shows, id) {
			return v.ID
		}
	}
	return ""
}
