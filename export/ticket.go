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
// its picture, size and pieces.
func Ticket(paper Paper, l *layouts.Layout, films []TicketFilm, run masks.Run) []Sheet {
	p := newPages(paper, "Shop ticket: "+l.Spec.Name)
	p.text(setTitle, "Shop ticket")
	p.text(setSoft, l.Spec.Name)
	p.space(0.05)
	p.ticketOrders(len(films), run)
	p.ticketChecks()
	p.ticketRun(run)
	p.ticketFilms(films)
	p.cautions()
	return p.Sheets()
}

// ticketOrders prints what holds for every file, in boxes that are read first.
func (p *pages) ticketOrders(films int, run masks.Run) {
	boxes := []struct{ head, text string }{
		{"MIRROR: NO", "the drawing is seen from outside the aircraft, cut side up"},
		{"SCALE: 100 %", "inches; never fit to a page"},
		{fmt.Sprintf("QUANTITY: 1 OF EACH, %s", strings.ToUpper(plural(films, "film"))), "left and right are different files"},
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

// plural is a number with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
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

// ticketRun draws the films on the web, small.
func (p *pages) ticketRun(run masks.Run) {
	picture := RunPicture("", run)
	scale := p.width() / picture.Width
	height := (picture.Height - 1.75) * scale
	most := p.paper.Height - 2*pageMargin - pageFoot - 1
	scale = math.Min(scale, scale*most/height)
	p.heading("Films on the web", math.Min(height, most)+0.2)
	box := p.block((picture.Height - 1.75) * scale)
	for _, l := range picture.Layers {
		for _, it := range l.Items {
			if b := it.Path.Bounds(); b.Max.Y > picture.Height-1.2 || b.Min.Y < 0.6 { // its own title and foot
				continue
			}
			it.Path = it.Path.Map(func(q g.Point) g.Point {
				return g.Point{X: box.Min.X + q.X*scale, Y: box.Min.Y + (q.Y-0.6)*scale}
			})
			if it.Ink.Width *= scale; it.Ink.Width < 0.004 {
				it.Ink.Width = 0.004
			}
			it.Says = nil
			p.draw(it)
		}
	}
}

// ticketFilms lists every film with its picture: what stays on the aircraft is
// shaded, what is weeded is white.
func (p *pages) ticketFilms(films []TicketFilm) {
	p.heading("Films", 1.2)
	p.text(setSoft, "Shaded: film that stays on the aircraft. White inside it: weeded, paint goes there.")
	const high = 0.74
	columns := []float64{0.42, 1.25, 4.1, 1.35}
	for i, f := range films {
		if i == 0 || p.room() < high {
			p.need(high + 0.3)
			head := p.block(0.24)
			p.draw(drawRect(head, inkTableHead))
			x := head.Min.X
			for k, word := range []string{"no.", "picture", "film", "cut, weeded"} {
				p.draw(setStrong.at(word, x+0.05, head.Min.Y+0.08, 0))
				x += columns[k] * p.width() / 7.12
			}
		}
		row := p.block(high)
		x := func(k int) float64 {
			at := row.Min.X
			for _, c := range columns[:k] {
				at += c * p.width() / 7.12
			}
			return at
		}
		p.draw(setNumber.at(fmt.Sprint(f.Number), x(0)+0.05, row.Centre().Y-setNumber.cap/2, 0))
		p.draw(filmPicture(f, g.Rect{Min: g.Point{X: x(1) + 0.03, Y: row.Min.Y + 0.05}, Max: g.Point{X: x(2) - 0.12, Y: row.Max.Y - 0.05}})...)
		pl := f.Tiling.Laid.Placement
		lines := []string{
			f.Piece.ID,
			fmt.Sprintf("%s %s, pass %d, %s, tile %d-%d of %d x %d", pl.Side, wingWord(pl), f.Mask.Pass, f.Mask.Paint, f.Piece.Cell.Row, f.Piece.Cell.Column, f.Tiling.Rows, f.Tiling.Columns),
			fmt.Sprintf("%s x %s in (%.0f x %.0f mm), %s", g.FormatNumber(f.Outline.Width(), 3), g.FormatNumber(f.Outline.Height(), 3), f.Outline.Width()*25.4, f.Outline.Height()*25.4, piecesWords(f.Cut)),
		}
		for k, text := range lines {
			set := setBody
			if k == 0 {
				set = setStrong
			}
			p.draw(set.at(text, x(2), row.Max.Y-0.2-0.19*float64(k), 0))
		}
		p.draw(tickBox(x(3)+0.1, row.Centre().Y-0.13, 0.26), tickBox(x(3)+0.6, row.Centre().Y-0.13, 0.26))
		p.draw(Item{Path: g.Path{g.Polyline(row.Min, g.Point{X: row.Max.X, Y: row.Min.Y})}, Ink: inkTableLine})
	}
}

// filmPicture draws a film small, shaded.
func filmPicture(f TicketFilm, box g.Rect) []Item {
	_, place := fitted(f.Outline, box, math.Inf(1))
	return []Item{
		{Path: f.Cut.Map(place), Ink: Ink{Fill: "#b9c7cc", Stroke: "#1a1a1a", Width: 0.006}},
	}
}

// piecesWords counts the pieces of film: those that hold others are fields, those
// that stand in an opening are islands.
func piecesWords(film g.Path) string {
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
	s := plural(outer, "field")
	if islands > 0 {
		s += " + " + plural(islands, "island")
	}
	return s
}
