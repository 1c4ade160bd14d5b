package export

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// TicketFilm is one film of the job as the shop sees it: a file to cut.
type TicketFilm struct {
	Number  int // its place along the run, from 1
	Tiling  masks.Tiling
	Mask    masks.Mask
	Piece   masks.Piece
	Cut     g.Path // what the blade follows, in the marking's flat
	Outline g.Rect // of the film
}

// Ticket draws the shop ticket: how to cut without a phone call. What holds for every
// file stands first, with boxes to be initialled; then the checks of size with the
// mistakes that each wrong length tells of; the films on the web; and every film with
// its picture, size and pieces. Where a finding says stop, that is read before all.
func Ticket(paper Paper, l *layouts.Layout, films []TicketFilm, run masks.Run, findings []layouts.Finding) []Sheet {
	p := newPages(paper, "Shop ticket: "+l.Spec.Name)
	p.text(setTitle, "Shop ticket")
	p.text(setSoft, l.Spec.Name)
	p.space(0.05)
	p.ticketStops(findings)
	p.ticketOrders(len(films), run)
	p.ticketTrap(films)
	p.text(setBody, "From ____________________  phone ____________________  needed by ______________")
	p.text(setBody, "Paint mask film, low tack; make and grade ____________________  transfer tape ______________")
	p.ticketChecks()
	p.ticketRun(run)
	p.ticketFilms(films)
	p.cautions()
	return p.Sheets()
}

// ticketStops prints, in a box that cannot be overlooked, what stops the job.
func (p *pages) ticketStops(findings []layouts.Finding) {
	var lines []string
	for _, f := range findings {
		if f.Level == layouts.Stop {
			lines = append(lines, setBody.wrap(f.Message, p.width()-0.24)...)
		}
	}
	if len(lines) == 0 {
		return
	}
	const most = 8
	if n := len(lines) - most; n > 0 {
		lines = append(lines[:most], fmt.Sprintf("and %s more: see dossier.md", g.Counted(n, "line")))
	}
	box := p.block(0.34 + setBody.leading()*float64(len(lines)) + 0.08)
	p.draw(drawRect(box, Ink{Fill: levelFill[layouts.Stop], Stroke: "#1a1a1a", Width: 0.02}))
	p.draw(setHeading.at("DO NOT CUT: the layout is wrong, ask for a new pack", box.Min.X+0.12, box.Max.Y-0.24, 0))
	for i, line := range lines {
		p.draw(setBody.at(line, box.Min.X+0.12, box.Max.Y-0.34-setBody.leading()*float64(i)-1.45*setBody.cap, 0))
	}
	p.space(0.1)
}

// ticketTrap says that steps in the outlines are meant, where paints run under one
// another.
func (p *pages) ticketTrap(films []TicketFilm) {
	trap := g.Length(0)
	for _, f := range films {
		if len(f.Tiling.Laid.Masks) > 1 {
			trap = max(trap, f.Tiling.Laid.Plan.Trap)
		}
	}
	if trap > 0 {
		p.text(setBody, fmt.Sprintf("Steps of %s in an outline, and corners rounded by as much, are meant: there a paint runs under the next one.", trap))
	}
}

// ticketOrders prints what holds for every file, in boxes that are read first.
func (p *pages) ticketOrders(films int, run masks.Run) {
	boxes := []struct{ head, text string }{
		{"MIRROR: NO", "the drawing is seen from outside the aircraft, cut side up"},
		{"SCALE: 100 %", "inches; never fit to a page"},
		{fmt.Sprintf("QUANTITY: 1 OF EACH, %s", strings.ToUpper(g.Counted(films, "film"))), "left and right are different files"},
		{"CUT THE LAYER \"CUT\" ONLY", "all other layers are drawn, not cut"},
		{"KEEP ALL ISLANDS", "they stay on the transfer tape, in place; the count stands by each film"},
		{"DO NOT CHANGE THE OUTLINES", "no simplifying, smoothing, tracing or welding; corners stay sharp"},
	}
	const rows, high = 2, 0.62
	wide := p.width() / 3
	block := p.block(rows*high + 0.08)
	for i, b := range boxes {
		r := g.Rect{Min: g.Point{X: block.Min.X + float64(i%3)*wide, Y: block.Max.Y - float64(i/3+1)*high}}
		r.Max = g.Point{X: r.Min.X + wide, Y: r.Min.Y + high}
		r = r.Grown(-0.04)
		p.draw(drawRect(r, Ink{Stroke: "#1a1a1a", Width: 0.014, Fill: "#f4f1ea"}))
		p.draw(setStrong.at(b.head, r.Min.X+0.08, r.Max.Y-0.17, 0))
		items, _ := setSoft.in(g.Rect{Min: g.Point{X: r.Min.X + 0.08, Y: r.Min.Y}, Max: g.Point{X: r.Max.X - 0.08, Y: r.Max.Y - 0.19}}, b.text, 0)
		p.draw(items...)
	}
	p.text(setBody, fmt.Sprintf("Film: web %s in, run %s in (%.1f ft) with margins, %.0f %% waste. Files: cut/, each as SVG and as PDF; the two are the same.",
		g.FormatNumber(run.Web.Inches(), 3), g.FormatNumber(run.Length.Inches(), 2), run.Length.Inches()/12, run.Waste()*100))
}

// ticketChecks prints what is measured on the first film, and what a wrong length
// tells.
func (p *pages) ticketChecks() {
	p.heading("Measure the first film before the rest is cut", 1.2)
	for _, c := range []string{
		"the bar marked 10 in (or as it says) measures so ALONG the film: ____________  and UP: ____________",
		"the R reads normally, and UP and NOSE point as drawn",
		"a long film: both diagonals of its corners are alike",
		"cut by ____________________  date ____________",
	} {
		p.tick(setBody, c)
	}
	p.space(0.05)
	t := table{columns: []column{{"10 in bar measures", 1.4, 1}, {"factor", 0.8, 1}, {"what happened", 3.2, 0}, {"what to do", 2.6, 0}}}
	for _, c := range Causes {
		t.rows = append(t.rows, []cell{{text: g.FormatNumber(10*c.Factor, 3) + " in", set: setStrong}, {text: g.FormatNumber(c.Factor, 4)}, {text: c.Text}, {text: c.Fix}})
	}
	t.rows = append(t.rows, []cell{{text: "along and up differ", set: setStrong}, {text: "below 2 %"}, {text: "feed calibration, or film that stretched"}, {text: "calibrate the feed again, cut shorter panels"}})
	p.table(t)
}

// ticketRun draws the films on the web, small. The picture with names and sizes is a
// file of its own.
func (p *pages) ticketRun(run masks.Run) {
	items, high := runStrip(run, p.width())
	p.heading("Films on the web (named and measured in film-run.svg)", high+0.1)
	box := p.block(high)
	for _, it := range items {
		p.draw(it.Moved(g.Vec{X: box.Min.X, Y: box.Min.Y}))
	}
}

// RunStrip draws the films on the web, small, on a sheet of its own.
func RunStrip(title string, run masks.Run) Sheet {
	const wide = 12.0
	items, high := runStrip(run, wide)
	return Sheet{Title: title, Width: wide, Height: high, Layers: []Layer{{Name: "films", Items: items}}}
}

// runStrip draws the films with their numbers: rows of the run, read from the left and
// from the top, width inches wide, and says how high it is.
func runStrip(run masks.Run, width float64) (items []Item, height float64) {
	web, length := run.Web.Inches(), run.Length.Inches()
	rows := math.Max(1, math.Ceil(length/320-1e-9))
	part := length / rows
	scale := math.Min(width/part, 0.14*width/web)
	high := web*scale + 0.1
	box := g.Rect{Max: g.Point{X: width, Y: high * rows}}
	draw := func(it Item) { items = append(items, it) }
	for r := range int(rows) {
		from, to := part*float64(r), part*float64(r+1)
		at := func(x, y float64) g.Point {
			return g.Point{X: box.Min.X + (x-from)*scale, Y: box.Max.Y - high*float64(r) - web*scale + y*scale}
		}
		draw(drawRect(g.Rect{Min: at(from, 0), Max: at(to, web)}, inkWeb))
		for _, f := range run.Films {
			x0, x1 := math.Max(f.Rect.Min.X, from), math.Min(f.Rect.Max.X, to)
			if x1 <= x0 {
				continue
			}
			film := g.Rect{Min: at(x0, f.Rect.Min.Y), Max: at(x1, f.Rect.Max.Y)}
			draw(drawRect(film, Ink{Stroke: inkFilm.Stroke, Width: 0.006, Fill: inkFilm.Fill}))
			if film.Height() > 0.09 && film.Width() > 0.15 {
				set := setSoft
				set.ink = inkText
				draw(set.at(fmt.Sprint(f.Number), film.Centre().X, film.Centre().Y-set.cap/2, 0.5))
			}
		}
	}
	return items, box.Max.Y
}

// ticketFilms lists every film with its picture, in two columns: what stays on the
// aircraft is shaded, what is weeded is white.
func (p *pages) ticketFilms(films []TicketFilm) {
	p.heading("Films", 1.2)
	p.text(setSoft, "Shaded: film that stays on the aircraft, in as many pieces as are counted; islands stand free in an opening. White inside it: weeded, paint goes there. Boxes: cut, weeded.")
	p.space(0.04)
	const high = 0.82
	wide := p.width()/2 - 0.08
	for i := 0; i < len(films); i += 2 {
		row := p.block(high)
		for k, f := range films[i:min(i+2, len(films))] {
			left := row.Min.X + float64(k)*(wide+0.16)
			p.ticketFilm(f, g.Rect{Min: g.Point{X: left, Y: row.Min.Y}, Max: g.Point{X: left + wide, Y: row.Max.Y}})
		}
	}
}

func (p *pages) ticketFilm(f TicketFilm, box g.Rect) {
	p.draw(Item{Path: g.Path{g.Polyline(box.Min, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: inkTableLine})
	p.draw(setNumber.at(fmt.Sprint(f.Number), box.Min.X+0.02, box.Max.Y-0.3, 0))
	p.draw(tickBox(box.Min.X+0.02, box.Min.Y+0.1, 0.2), tickBox(box.Min.X+0.27, box.Min.Y+0.1, 0.2))
	picture := g.Rect{Min: g.Point{X: box.Min.X + 0.55, Y: box.Min.Y + 0.06}, Max: g.Point{X: box.Min.X + 1.35, Y: box.Max.Y - 0.06}}
	p.draw(filmPicture(f, picture)...)
	pl := f.Tiling.Laid.Placement
	x := picture.Max.X + 0.1
	y := box.Max.Y - 0.17
	side := fmt.Sprintf("%s %s", pl.Side, wingWord(pl))
	pass := fmt.Sprintf("pass %d %s", f.Mask.Pass, f.Mask.Paint)
	tile := fmt.Sprintf("tile %d-%d of %d x %d", f.Piece.Cell.Row, f.Piece.Cell.Column, f.Tiling.FilmOf(f.Mask).Rows, f.Tiling.FilmOf(f.Mask).Columns)
	size := fmt.Sprintf("%s x %s in", g.FormatNumber(f.Outline.Width(), 3), g.FormatNumber(f.Outline.Height(), 3))
	lines, step := []string{pl.Marking.ID + ", " + side, pass, tile + ", " + size, PiecesWords(f.Cut)}, 0.175
	if setStrong.width(lines[0]) > box.Max.X-x {
		lines, step = append([]string{pl.Marking.ID, side}, lines[1:]...), 0.147
		y += 0.03
	}
	for k, text := range lines {
		set := setSoft
		if set.ink = inkText; k == 0 {
			set = setStrong
		}
		p.draw(set.at(shortened(set, text, box.Max.X-x), x, y, 0))
		y -= step
	}
}

// shortened cuts a text that is wider than it may be, and shows that it did.
func shortened(s lettering, text string, width float64) string {
	if s.width(text) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && s.width(string(r)+"...") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "..."
}

// filmPicture draws a film small, shaded.
func filmPicture(f TicketFilm, box g.Rect) []Item {
	_, place := fitted(f.Outline, box, math.Inf(1))
	return []Item{
		{Path: f.Cut.Map(place), Ink: Ink{Fill: "#b9c7cc", Stroke: "#1a1a1a", Width: 0.006}},
	}
}

// PiecesWords counts the pieces of film, and those of them that stand in an opening,
// which are islands.
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
	switch {
	case len(film) == 1 && math.Abs(film.Area()-film.Bounds().Width()*film.Bounds().Height()) < 1e-6:
		s += ", plain: no paint edge on it"
	case islands > 0:
		s += ", " + g.Counted(islands, "island") + " of them"
	}
	return s
}
