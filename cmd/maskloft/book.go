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
	u := spec.Sheets.Units
	b := book.Book{
		Unit: u.Word(), Title: spec.Name, Aircraft: spec.Aircraft.Name, Frame: spec.Aircraft.Datum, Facts: bookFacts(u, report, len(films)),
		Causes: audit.Causes, Dossier: book.DossierHTML(dossier), Cautions: sheet.Cautions,
		RunWords: words("Web ", lengthFigure(u, "/film.web_in", report.Film.Web, 3), " "+u.Word()+" wide, run ", lengthFigure(u, "/film.run_in", report.Film.Run, 2), " "+u.Word()+" with margins, ",
			namedFigure("/film.waste", report.Film.Waste, fmt.Sprintf("%.0f %%", report.Film.Waste*100)), " waste; the least run possible is ", lengthFigure(u, "/film.run_lower_bound_in", report.Film.LowerBound, 2), " "+u.Word()+"."),
	}
	checked, err := checkLaid(spec, j.Laid, nil)
	if err != nil {
		return packFile{}, err
	}
	offers := job.Offers(slices.Concat(checked.findings, j.Checked)) // as check numbers them
	checked.findings = slices.Concat(checked.findings, j.Findings)
	b.Findings = book.Decided(checked.findings, offers, func(id string) bool {
		return slices.ContainsFunc(report.Markings, func(m ReportMarking) bool { return m.ID == id })
	})
	b.Open = openings(j)
	var seen map[string]book.Seen
	if b.Views, seen, err = bookViews(j); err != nil {
		return packFile{}, err
	}
	hashes := filmHashes(films)
	place := placeData(j, hashes, seen, b.Views)
	if b.Place, err = place.JSON(); err != nil {
		return packFile{}, err
	}
	if b.Markings, err = bookMarkings(j, report, checked, b.Views, place); err != nil {
		return packFile{}, err
	}
	if b.Run.SVG, err = book.RunPicture(j.Run); err != nil {
		return packFile{}, err
	}
	b.Run.Title = "How the films lie on the web, from the left. Each number is that of the list below."
	b.Ticket = bookFilms(u, report, films)
	b.Sprays = bookSprays(j, report, hashes)
	var all []string
	for _, m := range report.Markings {
		all = append(all, hashes[m.ID]...)
	}
	b.Job = book.JobKey(spec.Job, spec.Name, all)
	if b.Scene, err = book.Scene(j.Layout, j.Laid, shownTapes(j.Tapes)); err != nil {
		return packFile{}, err
	}
	var page bytes.Buffer
	err = book.Write(&page, b)
	return packFile{"index.html", page.Bytes()}, err
}

// filmHashes are the hashes of the films of each marking, in their order.
func filmHashes(films []export.TicketFilm) map[string][]string {
	out := map[string][]string{}
	for _, f := range films {
		id := f.Tiling.Laid.ID()
		out[id] = append(out[id], export.FilmHash(f.Mask, f.Tile))
	}
	for _, list := range out {
		slices.Sort(list) // whatever the order along the run
	}
	return out
}

// bookFilms are the films to cut along the run.
func bookFilms(u geometry.Units, report Report, films []export.TicketFilm) []book.Film {
	type place struct {
		path string
		tile ReportTile
	}
	at := map[string]place{}
	for i, m := range report.Markings {
		for k, mask := range m.Masks {
			for n, tile := range mask.Tiles {
				at[tile.ID] = place{fmt.Sprintf("/markings.%d.masks.%d.tiles.%d.", i, k, n), tile}
			}
		}
	}
	var out []book.Film
	for _, f := range films {
		p := at[f.Tile.ID]
		out = append(out, book.Film{
			Number: f.Number, ID: f.Tile.ID, Marking: f.Tiling.Laid.ID(), Pieces: export.PiecesWords(f.Cut), Pass: fmt.Sprintf("pass %d, %s", f.Mask.Pass, f.Mask.Paint),
			SVG: p.tile.SVG, PDF: p.tile.PDF, Key: "cut " + export.FilmHash(f.Mask, f.Tile),
			Size: words(sizeFigure(u, p.path+"width_in", p.tile.Width), " x ", sizeFigure(u, p.path+"height_in", p.tile.Height)),
		})
	}
	return out
}

// bookSprays are the passes to spray: the first of every marking, then the second.
func bookSprays(j *job.Whole, report Report, hashes map[string][]string) []book.Spray {
	var out []book.Spray
	for pass := 1; ; pass++ {
		n := len(out)
		for _, m := range report.Markings {
			for _, mask := range m.Masks {
				if mask.Pass == pass {
					out = append(out, book.Spray{
						Marking: m.ID, Pass: fmt.Sprintf("pass %d", pass), Name: mask.Colour, Colour: views.PaintHex(j.Layout.Spec.Paint, mask.Colour),
						Key: book.TickKey("spray", append([]string{m.ID, fmt.Sprint(pass)}, hashes[m.ID]...)...),
					})
				}
			}
		}
		if len(out) == n {
			return out
		}
	}
}

// bookFacts are the figures of the title block.
func bookFacts(u geometry.Units, report Report, films int) []book.Row {
	points := 0
	for _, p := range report.Place {
		points += len(p.Points)
	}
	rows := []book.Row{
		{Name: "markings", Text: words(len(report.Markings))},
		{Name: "films to cut", Text: words(films)},
		{Name: "film on the web", Text: words(namedFigure("/film.run_in", report.Film.Run, u.Long(geometry.Length(report.Film.Run))))},
		{Name: "points to place", Text: words(points)},
	}
	for i, p := range report.Paint {
		rows = append(rows, book.Row{Name: p.Colour + ", a coat", Text: words(namedFigure(fmt.Sprintf("/paint.%d.area_ft2", i), p.Area, u.Area(p.Area)))})
	}
	return rows
}

// bookViews draws the sides, and the wings where there are any, with links from each
// marking to its part; and where positions fall in each.
func bookViews(j *job.Whole) ([]book.View, map[string]book.Seen, error) {
	var out []book.View
	seen := map[string]book.Seen{}
	o := views.ViewOptions{Screen: true}
	for _, v := range aircraftViews(j.Layout, j.Laid) {
		if v.word == "fin" {
			continue // the sides show it
		}
		var ids []string
		for _, l := range j.Laid {
			if v.shows(l.Placement) {
				ids = append(ids, l.ID())
			}
		}
		bare, moved := book.Bare(v.draw(o), 0.15, "frame")
		bare.Title = bookTitles[v.id()]
		svg, err := book.Inline(bare, v.id())
		if err != nil {
			return nil, nil, err
		}
		id := "view-" + v.id()
		out = append(out, book.View{Picture: book.Picture{ID: id, Title: bare.Title, SVG: book.Linked(svg, v.id(), ids)}, Shows: ids})
		at := viewAt(j, v.id(), o)
		seen[id] = func(p geometry.Position) geometry.Point { return book.Pixels(bare, at(p).Add(moved)) }
	}
	return out, seen, nil
}

// viewAt is where positions fall on the sheet of a view.
func viewAt(j *job.Whole, id string, o views.ViewOptions) func(geometry.Position) geometry.Point {
	switch id {
	case string(layouts.UpperFace), string(layouts.LowerFace):
		at := views.PlanAt(j.Layout, j.Laid, layouts.Face(id), o)
		return func(p geometry.Position) geometry.Point { return at(p.FS.Inches(), p.BL.Inches()) }
	}
	side := geometry.Left
	if id == geometry.Right.String() {
		side = geometry.Right
	}
	at := views.SideAt(j.Layout, j.Laid, side, o)
	return func(p geometry.Position) geometry.Point { return at(p.FS.Inches(), p.WL.Inches()) }
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
