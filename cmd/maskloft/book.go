package main

import (
	"bytes"
	"fmt"

	"maskloft/export"
	"maskloft/geometry"
	"maskloft/layouts/masks"
)

// book makes index.html from what the pack holds: its figures are those of the report.
func book(j *Job, report Report, films []export.TicketFilm, dossier []byte, views []aircraftView) (packFile, error) {
	spec := j.Layout.Spec
	b := export.Book{
		Title: spec.Name, Aircraft: spec.Aircraft.Name, Frame: spec.Aircraft.Datum, Findings: j.Findings,
		Causes: export.Causes, Dossier: export.DossierHTML(dossier), Cautions: export.Cautions,
		RunWords: fmt.Sprintf("Web %s in, run %s in (%.1f ft) with margins, %.0f %% waste.", geometry.FormatNumber(report.Film.Web, 3), geometry.FormatNumber(report.Film.Run, 2), report.Film.Run/12, report.Film.Waste*100),
	}
	b.Facts = []export.BookRow{
		{Name: "markings", Value: fmt.Sprint(len(report.Markings))}, {Name: "films to cut", Value: fmt.Sprint(len(films))},
		{Name: "film on the web", Value: fmt.Sprintf("%.1f ft", report.Film.Run/12)}, {Name: "points to tape", Value: fmt.Sprint(len(report.Checkpoints))},
	}
	for _, p := range report.Paint {
		b.Facts = append(b.Facts, export.BookRow{Name: p.Colour + ", a coat", Value: fmt.Sprintf("%.2f ft2", p.Area)})
	}
	var err error
	if b.Views, err = bookViews(j, views); err != nil {
		return packFile{}, err
	}
	for i, t := range j.Tilings {
		m, err := bookMarking(j, t, report.Markings[i])
		if err != nil {
			return packFile{}, err
		}
		b.Markings = append(b.Markings, m)
	}
	run := export.RunStrip(spec.Name+", films on the web", j.Run)
	if b.Run.SVG, err = export.Inline(run, "run"); err != nil {
		return packFile{}, err
	}
	b.Run.Title = "how the films lie on the web; numbers are those of the ticket, names and sizes in film-run.svg"
	checked, err := checkJob(j)
	if err != nil {
		return packFile{}, err
	}
	b.Checks = checked.drawings()
	b.Points = bookPoints(j.Tapes)
	for _, f := range films {
		b.Ticket = append(b.Ticket, export.BookFilm{
			Number: f.Number, ID: f.Piece.ID, Pieces: export.PiecesWords(f.Cut),
			Size: fmt.Sprintf("%s x %s", geometry.FormatNumber(f.Outline.Width(), 3), geometry.FormatNumber(f.Outline.Height(), 3)),
		})
	}
	if b.Scene, err = export.Scene(j.Layout, j.Laid, j.Tapes); err != nil {
		return packFile{}, err
	}
	var page bytes.Buffer
	err = export.WriteBook(&page, b)
	return packFile{"index.html", page.Bytes()}, err
}

// bookViews draws the sides, and the wings where there are any, with links from each
// marking to its part.
func bookViews(j *Job, views []aircraftView) ([]export.BookPicture, error) {
	var out []export.BookPicture
	var ids []string
	for _, l := range j.Laid {
		ids = append(ids, l.ID())
	}
	add := func(s export.Sheet, id string) error {
		svg, err := export.Inline(s, id)
		out = append(out, export.BookPicture{ID: "view-" + id, Title: s.Title, SVG: export.Linked(svg, id, ids)})
		return err
	}
	for _, v := range views {
		if v.word == "fin" {
			continue // the sides show it
		}
		if err := add(v.draw(export.ViewOptions{}), v.id()); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// leastShown is the strain below which its map says nothing to look at: a fiftieth of
// a per cent, 0.005 in over 24 in.
const leastShown = 0.0002

func bookMarking(j *Job, t masks.Tiling, r ReportMarking) (export.BookMarking, error) {
	p := t.Laid.Placement
	n := func(v float64) string { return geometry.FormatNumber(v, 4) }
	m := export.BookMarking{ID: r.ID, Name: r.ID, Of: fmt.Sprintf("%s, FS %s, WL %s", r.Surface, n(r.Anchor.FS), n(r.Anchor.WL))}
	row := func(name, format string, args ...any) {
		m.Rows = append(m.Rows, export.BookRow{Name: name, Value: fmt.Sprintf(format, args...)})
	}
	if rule := p.Figure.Rule; rule != nil {
		row("rule", "%s: %s; %s", ruleID(rule), rule.Name, export.RuleSource(rule))
	} else if p.Marking.Figure.Text != "" {
		row("text", "%s, alphabet %s, %s in high", p.Figure.ID, p.Marking.Figure.Alphabet, n(p.Marking.Figure.Height.Inches()))
	}
	for _, id := range p.Marking.Evidence {
		for _, e := range j.Layout.Spec.Evidence {
			if e.ID == id {
				row("evidence "+e.ID, "class %s: %s", e.Class, e.What)
			}
		}
	}
	row("anchor", "FS %s, BL %s, WL %s", n(r.Anchor.FS), n(r.Anchor.BL), n(r.Anchor.WL))
	row("lengths true", "%s", r.True)
	row("height", "%s in along the skin, %s in from the side", n(r.SkinHeight), n(r.SideHeight))
	if r.Exact {
		row("strain", "none: the skin unrolls")
	} else {
		row("strain", "squeezed %s, stretched %s; %s", percent(r.Strain.Compression), percent(r.Strain.Tension), r.Advice)
	}
	if r.Strain.Compression > leastShown || r.Strain.Tension > leastShown {
		strain := export.StrainMap(t.Laid)
		svg, err := export.Inline(strain, "strain-"+r.ID)
		if err != nil {
			return m, err
		}
		m.Strain = &export.BookPicture{Title: strain.Title, SVG: svg}
	}
	row("painted", "%s in2", n(r.Area))
	film := export.FilmView(t, j.Layout.Spec.Paint)
	svg, err := export.Inline(film, "film-"+r.ID)
	if err != nil {
		return m, err
	}
	m.Film = export.BookPicture{Title: film.Title + "; dashed: seams of tiles", SVG: svg}
	for _, k := range r.Masks {
		pass := export.BookPass{Layer: fmt.Sprintf("film-%s-pass-%d", r.ID, k.Pass), Name: fmt.Sprintf("pass %d %s", k.Pass, k.Colour)}
		for _, tile := range k.Tiles {
			pass.Tiles = append(pass.Tiles, export.BookTile{ID: tile.ID, SVG: tile.SVG, PDF: tile.PDF, Size: n(tile.Width) + " x " + n(tile.Height) + " in", Pieces: k.Polarity})
		}
		m.Passes = append(m.Passes, pass)
	}
	return m, nil
}

func bookPoints(list masks.TapeList) []export.BookPoints {
	var out []export.BookPoints
	for _, c := range list.Points {
		if len(out) == 0 || out[len(out)-1].Marking != c.Marking {
			one := export.BookPoints{Marking: c.Marking}
			for _, b := range list.Budgets {
				if b.Marking == c.Marking {
					major, minor := b.Position.Within95()
					one.Budget = fmt.Sprintf("95 of 100 within %.3f x %.3f in", major.Inches(), minor.Inches())
				}
			}
			out = append(out, one)
		}
		p := export.BookPoint{Step: c.Step, Label: string(c.Role) + ": " + c.Label, Crossing: fmt.Sprintf("%.1f deg %s", c.Crossing, c.Grade), Error: fmt.Sprintf("%.3f", c.Error.Ellipse.RMS().Inches())}
		tape := func(t masks.Taping) string {
			return fmt.Sprintf("%s %s %s", t.From.ID, export.Reading(list.Tape, t.Length), t.Kind)
		}
		if len(c.Tapes) == 2 {
			p.First, p.Second = tape(c.Tapes[0]), tape(c.Tapes[1])
		} else {
			p.Other = "no two tapes: by string or girth, see the printed list"
		}
		if c.Closure != nil {
			p.Check = tape(*c.Closure)
		}
		last := &out[len(out)-1]
		last.Rows = append(last.Rows, p)
	}
	return out
}
