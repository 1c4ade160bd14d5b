package drawing

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
)

// Shown is a region that a drawing paints in one colour, over those before it. Inches,
// y up, origin at the lower left corner of the page.
type Shown struct {
	Name    string // of its element, for messages
	ID      string // of its element
	Group   string // the layer it stands in
	Colour  string // #rrggbb; empty where the file has no colours
	Outline g.Path
	Middle  g.Point // of what was drawn
}

// mostShown bounds what is painted by one drawing: each item costs a few booleans.
const mostShown = 2000

// ReadShown reads what a drawing paints, in the order of painting: fills, and strokes as
// the outlines that they cover, cut to the clip paths they stand in. Elements without
// fill and stroke have an empty outline: they name points. A drawing of DXF has no
// fills: its closed outlines are taken for areas, by their layers.
//
// Errors name the element and what to do: what is no outline (an image, text), a
// gradient, a half transparent or dashed one, an open outline in DXF, several pages,
// more than 2,000 items; those of the readers.
func ReadShown(data []byte, format Format) ([]Shown, error) {
	notes := &passedOver{cut: true}
	pages, err := readPages(data, format, notes)
	if err != nil {
		return nil, err
	}
	for _, n := range notes.texts {
		if !strings.Contains(n, "no true size") { // its size is given beside it
			return nil, fmt.Errorf("%s", n)
		}
	}
	if len(pages) != 1 {
		return nil, fmt.Errorf("it has %d pages: save the one that is wanted", len(pages))
	}
	items := pages[0].Painted()
	if len(items) > mostShown {
		return nil, fmt.Errorf("it draws %d paths, more than %d: join those of one colour", len(items), mostShown)
	}
	groups := map[int]string{}
	for _, l := range pages[0].Layers {
		for _, it := range l.Items {
			groups[it.order] = l.Name
		}
	}
	var out []Shown
	for _, it := range items {
		s := Shown{Name: it.Name, ID: it.ID, Group: groups[it.order]}
		if s.Name == "" {
			b := it.Path.Bounds()
			s.Name = fmt.Sprintf("the path at x %.2f, y %.2f in of the page", b.Centre().X, b.Centre().Y)
		}
		shown, err := it.shown(s, format == DXF)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, err)
		}
		out = append(out, shown...)
	}
	return out, nil
}

// shown returns the fill and then the stroke of an item.
func (it DrawnItem) shown(s Shown, areas bool) ([]Shown, error) {
	p := it.Paint
	if p.Unread != "" && (p.Fill != "" || p.Stroke != "") {
		return nil, fmt.Errorf("it is painted with %s: give it a plain colour", p.Unread)
	}
	s.Middle = it.Path.Bounds().Centre()
	var out []Shown
	add := func(colour string, region g.Path, err error) error {
		if err == nil && it.Clip != nil && !within(region, it.Clip) {
			region, err = g.Intersect(region, it.Clip)
		}
		if len(region) > 0 {
			s.Colour, s.Outline = colour, region
			out = append(out, s)
		}
		return err
	}
	if areas {
		for _, c := range it.Path {
			if !c.Closed() {
				return nil, fmt.Errorf("its outline is open by %.4f in: close it", c.Start.Dist(c.End()))
			}
		}
	}
	if p.Fill != "" || areas {
		region, err := filled(it.Path, p.EvenOdd || areas, g.Identity)
		if err := add(p.Fill, region, err); err != nil {
			return nil, err
		}
	}
	if p.Stroke != "" && p.Line.Width > 0 {
		back := p.Pen.Inverse()
		scale := p.Width / p.Line.Width
		region, err := g.Stroke(it.Path.Map(back.Apply), p.Line, g.OutlineTolerance/4/scale)
		if err == nil {
			region, err = g.Settle(region.Map(p.Pen.Apply))
		}
		if err := add(p.Stroke, region, err); err != nil {
			return nil, err
		}
	}
	if len(out) == 0 {
		out = append(out, s)
	}
	return out, nil
}

// within tells whether a region lies inside a clip that is an upright rectangle.
func within(region, clip g.Path) bool {
	if len(clip) != 1 {
		return false
	}
	box, b := clip.Bounds(), region.Bounds()
	upright := clip.Area() >= box.Width()*box.Height()*(1-1e-12)
	return upright && box.Contains(b.Min) && box.Contains(b.Max)
}
