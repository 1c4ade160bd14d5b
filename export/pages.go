package export

import (
	"fmt"

	g "maskloft/geometry"
)

// pages lays blocks down the pages of a document, from the top; a block that does
// not fit begins the next page. Coordinates are inches of the page, y up.
type pages struct {
	paper  Paper
	title  string // at the foot of every page
	sheets []Sheet
	items  []Item
	y      float64 // upper edge of what is still free
}

// Margins of a page, in inches: within what printers reach.
const (
	pageMargin = 0.6
	pageFoot   = 0.55 // height of the foot above the lower margin
)

func newPages(paper Paper, title string) *pages {
	return &pages{paper: paper, title: title, y: paper.Height - pageMargin}
}

// left, right and width bound what a page holds.
func (p *pages) left() float64  { return pageMargin }
func (p *pages) right() float64 { return p.paper.Width - pageMargin }
func (p *pages) width() float64 { return p.right() - p.left() }

// room is the height still free on the page, in inches.
func (p *pages) room() float64 { return p.y - pageMargin - pageFoot }

// turn ends the page.
func (p *pages) turn() {
	p.sheets = append(p.sheets, Sheet{
		Title: fmt.Sprintf("%s, page %d", p.title, len(p.sheets)+1), Width: p.paper.Width, Height: p.paper.Height,
		Layers: []Layer{{Name: "page", Items: p.items}},
	})
	p.items, p.y = nil, p.paper.Height-pageMargin
}

// need turns the page where less than a height is left of it.
func (p *pages) need(height float64) {
	if p.room() < height && len(p.items) > 0 {
		p.turn()
	}
}

// draw adds items to the page as they stand.
func (p *pages) draw(items ...Item) { p.items = append(p.items, items...) }

// space leaves a height free.
func (p *pages) space(height float64) { p.y -= height }

// block takes a rectangle as wide as the page and of a height, turning the page
// where it must.
func (p *pages) block(height float64) g.Rect {
	p.need(height)
	r := g.Rect{Min: g.Point{X: p.left(), Y: p.y - height}, Max: g.Point{X: p.right(), Y: p.y}}
	p.y -= height
	return r
}

// text sets a wrapped paragraph, line by line over the pages.
func (p *pages) text(s lettering, text string) {
	for _, line := range s.wrap(text, p.width()) {
		box := p.block(s.leading())
		p.draw(s.at(line, box.Min.X, box.Max.Y-1.45*s.cap, 0))
	}
}

// heading sets a heading that stays with what follows it: after is the height of
// the first of that, in inches.
func (p *pages) heading(text string, after float64) {
	p.need(setHeading.leading() + 0.12 + after)
	if len(p.items) > 0 {
		p.space(0.12)
	}
	p.text(setHeading, text)
	p.space(0.03)
}

// bullet sets a paragraph behind a mark.
func (p *pages) bullet(s lettering, mark, text string, indent float64) {
	lines := s.wrap(text, p.width()-indent)
	for i, line := range lines {
		box := p.block(s.leading())
		if i == 0 {
			p.draw(s.at(mark, box.Min.X, box.Max.Y-1.45*s.cap, 0))
		}
		p.draw(s.at(line, box.Min.X+indent, box.Max.Y-1.45*s.cap, 0))
	}
}

// tick sets a paragraph behind an empty box to be ticked by hand.
func (p *pages) tick(s lettering, text string) {
	lines := s.wrap(text, p.width()-0.3)
	for i, line := range lines {
		box := p.block(max(s.leading(), 0.2))
		base := box.Max.Y - 1.45*s.cap
		if i == 0 {
			p.draw(tickBox(box.Min.X+0.02, base-0.03, 0.16))
		}
		p.draw(s.at(line, box.Min.X+0.3, base, 0))
	}
}

// tickBox is an empty square with its lower left corner at x, y.
func tickBox(x, y, side float64) Item {
	return drawRect(g.Rect{Min: g.Point{X: x, Y: y}, Max: g.Point{X: x + side, Y: y + side}}, Ink{Stroke: "#1a1a1a", Width: 0.012})
}

// drawRect draws a rectangle.
func drawRect(r g.Rect, ink Ink) Item { return Item{Path: g.Path{g.Rectangle(r)}, Ink: ink} }

// cautions prints the standing cautions, all on one page.
func (p *pages) cautions() {
	lines := 0
	for _, c := range Cautions {
		lines += len(setSoft.wrap(c, p.width()-cautionIndent))
	}
	p.heading("Cautions", float64(lines)*setSoft.leading())
	for _, c := range Cautions {
		p.bullet(setSoft, "–", c, cautionIndent)
	}
}

const cautionIndent = 0.14 // inches, of the text behind its mark

// Sheets ends the document: every page has its foot, with number, title and the
// first caution.
func (p *pages) Sheets() []Sheet {
	if len(p.items) > 0 || len(p.sheets) == 0 {
		p.turn()
	}
	for i := range p.sheets {
		y := pageMargin
		foot := []Item{
			{Path: g.Path{g.Polyline(g.Point{X: p.left(), Y: y + 0.2}, g.Point{X: p.right(), Y: y + 0.2})}, Ink: Ink{Stroke: "#8a979e", Width: 0.006}},
			setSoft.at(p.title, p.left(), y, 0),
			setSoft.at(fmt.Sprintf("page %d of %d", i+1, len(p.sheets)), p.right(), y, 1),
		}
		p.sheets[i].Layers = append(p.sheets[i].Layers, Layer{Name: "foot", Items: foot})
	}
	return p.sheets
}
