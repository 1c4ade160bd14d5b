package export

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/export/audit"
	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// TicketFilm is one film of the job as the shop sees it: a file to cut.
type TicketFilm struct {
	Number  int // its place along the run, from 1
	Tiling  masks.Tiling
	Mask    masks.Mask
	Tile    masks.Tile
	Cut     g.Path // what the blade follows, in the marking's flat
	Outline g.Rect // of the film
}

// Ticket draws the shop ticket: how to cut without a phone call. What holds for every
// file stands first, with boxes to be initialled; then the checks of size with the
// mistakes that each wrong length tells of; the films on the web; and every film with
// its picture, size and pieces. Where a finding says stop, that is read before all.
func Ticket(paper sheet.Paper, l *layouts.Layout, films []TicketFilm, run masks.Run, findings []layouts.Finding) []sheet.Sheet {
	p := sheet.NewPages(paper, "Shop ticket: "+l.Spec.Name)
	p.Text(sheet.SetTitle, "Shop ticket")
	p.Text(sheet.SetSoft, l.Spec.Name)
	p.Space(0.05)
	ticketStops(p, findings)
	u := l.Spec.Sheets.Units
	ticketOrders(p, u, len(films), run)
	ticketTrap(p, u, films)
	p.Text(sheet.SetBody, "From ____________________  phone ____________________  needed by ______________")
	ticketMaterials(p, u)
	ticketChecks(p, u, films)
	ticketRun(p, run)
	ticketFilms(p, films)
	p.Cautions()
	glossary(p, paper)
	return p.Sheets()
}

// ticketStops prints, in a box that cannot be overlooked, what stops the job.
func ticketStops(p *sheet.Pages, findings []layouts.Finding) {
	var lines []string
	for _, f := range findings {
		if f.Level == layouts.Stop {
			lines = append(lines, sheet.SetBody.Wrap(f.Message, p.Width()-0.24)...)
		}
	}
	if len(lines) == 0 {
		return
	}
	const most = 8
	if n := len(lines) - most; n > 0 {
		lines = append(lines[:most], fmt.Sprintf("and %s more: see dossier.md", g.Counted(n, "line")))
	}
	box := p.Block(0.34 + float64(sheet.SetBody.Leading()*float64(len(lines))) + 0.08)
	p.Draw(sheet.DrawRect(box, sheet.Ink{Fill: views.LevelFill[layouts.Stop], Stroke: "#1a1a1a", Width: 0.02}))
	p.Draw(sheet.SetHeading.At("DO NOT CUT: the layout is wrong, ask for a new pack", box.Min.X+0.12, box.Max.Y-0.24, 0))
	for i, line := range lines {
		p.Draw(sheet.SetBody.At(line, box.Min.X+0.12, box.Max.Y-0.34-float64(sheet.SetBody.Leading()*float64(i))-float64(1.45*sheet.SetBody.Cap), 0))
	}
	p.Space(0.1)
}

// ticketTrap says that steps in the outlines are meant, where paints run under one
// another.
func ticketTrap(p *sheet.Pages, u g.Units, films []TicketFilm) {
	trap := g.Length(0)
	for _, f := range films {
		if len(f.Tiling.Laid.Masks) > 1 {
			trap = max(trap, f.Tiling.Laid.Plan.Trap)
		}
	}
	if trap > 0 {
		p.Text(sheet.SetBody, fmt.Sprintf("Steps of %s in an outline, and corners rounded by as much, are right: there one paint runs under the next.", u.Length(trap, 4)))
	}
}

// ticketOrders prints what holds for every file, in boxes that are read first.
func ticketOrders(p *sheet.Pages, u g.Units, films int, run masks.Run) {
	boxes := []struct{ head, text string }{
		{"MIRROR: NO", "the drawing is seen from outside the aircraft, cut side up"},
		{"SCALE: 100 %", "true size; never fit to a page"},
		{fmt.Sprintf("ONE OF EACH: %s", strings.ToUpper(g.Counted(films, "film"))), "left and right are different files"},
		{"CUT ALL THAT A FILE HOLDS", "registration first, then cut, the frame last; nothing else is in it"},
		{"KEEP LOOSE PIECES", "they stay on the transfer tape, in place; the count stands by each film"},
		{"DO NOT CHANGE THE OUTLINES", "no simplifying, smoothing, tracing or welding; corners stay sharp"},
	}
	const rows, high = 2, 0.66
	wide := p.Width() / 3
	block := p.Block(rows*high + 0.08)
	for i, b := range boxes {
		r := g.Rect{Min: g.Point{X: block.Min.X + float64(float64(i%3)*wide), Y: block.Max.Y - float64(float64(i/3+1)*high)}}
		r.Max = g.Point{X: r.Min.X + wide, Y: r.Min.Y + high}
		r = r.Grown(-0.04)
		p.Draw(sheet.DrawRect(r, sheet.Ink{Stroke: "#1a1a1a", Width: 0.014, Fill: "#f4f1ea"}))
		p.Draw(sheet.SetStrong.At(b.head, r.Min.X+0.08, r.Max.Y-0.17, 0))
		items, _ := sheet.SetSoft.In(g.Rect{Min: g.Point{X: r.Min.X + 0.08, Y: r.Min.Y}, Max: g.Point{X: r.Max.X - 0.08, Y: r.Max.Y - 0.19}}, b.text, 0)
		p.Draw(items...)
	}
	p.Text(sheet.SetBody, fmt.Sprintf("Film: web %s wide, run %s (%s) with margins, %.0f %% waste. Files: run/ holds the web ready to cut, %s; cut/ the same films one by one; each as SVG, PDF and DXF, all alike. proof.pdf names everything: read it, cut nothing from it.",
		u.Length(run.Web, 3), u.Length(run.Length, 2), u.Long(run.Length), run.Waste()*100, g.Counted(len(run.Stretches), "nest")))
}

// ticketChecks prints what is measured on the first film, and what a wrong length
// tells.
func ticketChecks(p *sheet.Pages, u g.Units, films []TicketFilm) {
	p.Heading("Measure the first film before the rest is cut", 1.2)
	for _, c := range []string{
		sizeWords(u, films) + "  ALONG: ____________  UP: ____________",
		"it looks like its page of proof.pdf: not mirrored, not turned end for end",
		"a long film: both diagonals, corner to corner, are equal",
		"cut by ____________________  date ____________",
	} {
		p.Tick(sheet.SetBody, c)
	}
	p.Space(0.05)
	t := sheet.Table{Columns: []sheet.Column{{Head: u.Length(10, 0) + " measures", Share: 1.4, Align: 1}, {Head: "factor", Share: 0.8, Align: 1}, {Head: "what happened", Share: 3.2, Align: 0}, {Head: "what to do", Share: 2.6, Align: 0}}}
	causes := slices.Clone(audit.Causes)
	slices.SortStableFunc(causes, func(a, b audit.Cause) int { return cmp.Compare(a.Factor, b.Factor) })
	for _, c := range causes {
		t.Rows = append(t.Rows, []sheet.Cell{{Text: u.Length(g.Length(10*c.Factor), 3), Set: sheet.SetStrong}, {Text: g.FormatNumber(c.Factor, 4)}, {Text: c.Text}, {Text: c.Fix}})
	}
	t.Rows = append(t.Rows, []sheet.Cell{{Text: "along and up differ", Set: sheet.SetStrong}, {Text: "below 2 %"}, {Text: "feed calibration, or film that stretched"}, {Text: "calibrate the feed again, cut shorter films"}})
	p.Table(t)
}

// sizeWords says what is measured on which film.
func sizeWords(u g.Units, films []TicketFilm) string {
	for _, f := range films {
		if span := masks.SizeSpan(f.Tile.Size); span > 0 {
			return fmt.Sprintf("film %d: the middles of its windows are %s apart, measure:", f.Number, u.Length(span, 3))
		}
	}
	return "no film has room for windows that check the size: measure the first frame against its size below"
}

// ticketMaterials asks for what the films are to be made of and how they are to be
// packed (common practice, no source).
func ticketMaterials(p *sheet.Pages, u g.Units) {
	thickness := "2 to 4 mil"
	if u.Metric() {
		thickness = "0.05 to 0.1 mm"
	}
	for _, c := range []string{
		"film: paint mask, low tack, " + thickness + ", not long-life sign film: make and grade ____________________",
		"see-through, so that marks and crosses under it are seen: yes / no ______",
		"resists the thinner of: dope / enamel / lacquer / polyurethane ____________________ (tried by the painter for 24 h)",
		"transfer tape: see-through, holds better than the liner and less than the film on paint ____________________",
		"packing: flat between boards, else rolled, film outside, on a core of " + u.About(3) + " or more; each film with its number",
		"all films of a marking from one roll, the arrow of the roll the same way",
	} {
		p.Tick(sheet.SetBody, c)
	}
}

// ticketRun draws the films on the web, small. The picture with names and sizes is a
// file of its own.
func ticketRun(p *sheet.Pages, run masks.Run) {
	items, high := runStrip(run, p.Width())
	p.Heading("Films on the web (named and measured in film-run.svg)", high+0.1)
	box := p.Block(high)
	for _, it := range items {
		p.Draw(it.Moved(g.Vec{X: box.Min.X, Y: box.Min.Y}))
	}
}

// runStrip draws the films with their numbers: rows of the run, read from the left and
// from the top, width inches wide, and says how high it is.
func runStrip(run masks.Run, width float64) (items []sheet.Item, height float64) {
	web, length := run.Web.Inches(), run.Length.Inches()
	rows := math.Max(1, math.Ceil(length/320-1e-9))
	part := length / rows
	scale := math.Min(width/part, 0.14*width/web)
	high := float64(web*scale) + 0.1
	box := g.Rect{Max: g.Point{X: width, Y: high * rows}}
	draw := func(it sheet.Item) { items = append(items, it) }
	for r := range int(rows) {
		from, to := float64(part*float64(r)), float64(part*float64(r+1))
		at := func(x, y float64) g.Point {
			return g.Point{X: box.Min.X + float64((x-from)*scale), Y: box.Max.Y - float64(high*float64(r)) - float64(web*scale) + float64(y*scale)}
		}
		draw(sheet.DrawRect(g.Rect{Min: at(from, 0), Max: at(to, web)}, inkWeb))
		for _, f := range run.Films {
			x0, x1 := math.Max(f.Rect.Min.X, from), math.Min(f.Rect.Max.X, to)
			if x1 <= x0 {
				continue
			}
			film := g.Rect{Min: at(x0, f.Rect.Min.Y), Max: at(x1, f.Rect.Max.Y)}
			draw(sheet.DrawRect(film, sheet.Ink{Stroke: inkFilm.Stroke, Width: 0.006, Fill: inkFilm.Fill}))
			if film.Height() > 0.09 && film.Width() > 0.15 {
				set := sheet.SetSoft
				set.Ink = sheet.InkText
				draw(set.At(fmt.Sprint(f.Number), film.Centre().X, film.Centre().Y-set.Cap/2, 0.5))
			}
		}
	}
	return items, box.Max.Y
}

// ticketFilms lists every film with its picture, in two columns: what stays on the
// aircraft is shaded, what is weeded is white.
func ticketFilms(p *sheet.Pages, films []TicketFilm) {
	p.Heading("Films", 1.2)
	p.Text(sheet.SetSoft, "Shaded: film that stays on the aircraft; its pieces are counted, loose ones stand free in an opening. White: weeded, paint goes there. Boxes to tick: cut, weeded.")
	p.Space(0.04)
	const high = 0.82
	wide := p.Width()/2 - 0.08
	for i := 0; i < len(films); i += 2 {
		row := p.Block(high)
		for k, f := range films[i:min(i+2, len(films))] {
			left := row.Min.X + float64(float64(k)*(wide+0.16))
			ticketFilm(p, f, g.Rect{Min: g.Point{X: left, Y: row.Min.Y}, Max: g.Point{X: left + wide, Y: row.Max.Y}})
		}
	}
}

func ticketFilm(p *sheet.Pages, f TicketFilm, box g.Rect) {
	p.Draw(sheet.Item{Path: g.Path{g.Polyline(box.Min, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: sheet.InkTableLine})
	p.Draw(sheet.SetNumber.At(fmt.Sprint(f.Number), box.Min.X+0.02, box.Max.Y-0.3, 0))
	p.Draw(sheet.TickBox(box.Min.X+0.02, box.Min.Y+0.1, 0.2), sheet.TickBox(box.Min.X+0.27, box.Min.Y+0.1, 0.2))
	picture := g.Rect{Min: g.Point{X: box.Min.X + 0.55, Y: box.Min.Y + 0.06}, Max: g.Point{X: box.Min.X + 1.35, Y: box.Max.Y - 0.06}}
	p.Draw(filmPicture(f, picture)...)
	pl := f.Tiling.Laid.Placement
	x := picture.Max.X + 0.1
	y := box.Max.Y - 0.17
	side := fmt.Sprintf("%s %s", pl.Side, views.WingWord(pl))
	pass := fmt.Sprintf("pass %d %s", f.Mask.Pass, f.Mask.Paint)
	tile := fmt.Sprintf("tile %d-%d of %d x %d", f.Tile.Cell.Row, f.Tile.Cell.Column, f.Tiling.FilmOf(f.Mask).Rows, f.Tiling.FilmOf(f.Mask).Columns)
	size := pl.Read.Size(g.Length(f.Outline.Width()), g.Length(f.Outline.Height()), 3)
	room := func(text string) bool { return sheet.SetSoft.Width(text) <= box.Max.X-x }
	what := []string{pass, tile + ", " + size}
	switch { // no size is cut off
	case room(what[1]):
	case room(pass + ", " + tile):
		what = []string{pass + ", " + tile, size}
	default:
		what = []string{pass, tile, size}
	}
	lines := append(append([]string{pl.Marking.ID + ", " + side}, what...), PiecesWords(f.Cut))
	if sheet.SetStrong.Width(lines[0]) > box.Max.X-x {
		lines = append([]string{pl.Marking.ID, side}, lines[1:]...)
	}
	step := map[int]float64{4: 0.175, 5: 0.147, 6: 0.125}[len(lines)]
	if len(lines) > 4 {
		y += 0.03
	}
	for k, text := range lines {
		set := sheet.SetSoft
		if set.Ink = sheet.InkText; k == 0 {
			set = sheet.SetStrong
		}
		p.Draw(set.At(sheet.Shortened(set, text, box.Max.X-x), x, y, 0))
		y -= step
	}
}

// filmPicture draws a film small, shaded.
func filmPicture(f TicketFilm, box g.Rect) []sheet.Item {
	_, place := sheet.Fitted(f.Outline, box, math.Inf(1))
	return []sheet.Item{
		{Path: f.Cut.Map(place), Ink: sheet.Ink{Fill: "#b9c7cc", Stroke: "#1a1a1a", Width: 0.006}},
	}
}

// PiecesWords counts the pieces of film as a weeder does, and those of them that stand
// loose in an opening.
func PiecesWords(film g.Path) string {
	outer, islands := 0, 0
	for i, c := range film {
		if c.Area() <= 0 {
			continue // an opening
		}
		depth := 0
		for k, d := range film {
			if k != i && d.Area() < 0 && (g.Path{d}).Contains(c.Start, g.FlattenTolerance) {
				depth++
			}
		}
		if depth > 0 {
			islands++
		} else {
			outer++
		}
	}
	s := g.Counted(outer+islands, "piece")
	if islands > 0 {
		s += fmt.Sprintf(" (%d loose)", islands)
	}
	return s
}
