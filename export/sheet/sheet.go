package sheet

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"maskloft/geometry"
	"maskloft/glyphs"
)

// Ink says how an item is drawn. Colours are "#rrggbb"; an empty colour draws
// nothing. Width is the width of the stroke in inches of the sheet.
type Ink struct {
	Stroke string
	Width  float64
	Fill   string
	Dash   []float64 // lengths of dash and gap in inches; nil is solid
	Round  bool      // corners of the stroke are round, as those of a halo must be; else mitred
}

// Item is one drawn figure: closed contours are a region filled by the even-odd
// rule, open contours are lines. Coordinates are inches of the sheet, y up,
// origin at its lower left corner.
type Item struct {
	ID   string // optional, unique in the sheet
	Path geometry.Path
	Ink  Ink
	Says *Saying // a line of text instead of a path; nil: the item is its path
}

// Saying is a line of text in a font of [glyphs.Label]. A writer that carries the
// font writes text, which can be searched; another draws its outlines. At is the left
// end of the baseline, Cap the height of a capital and Width that of the line, in
// inches of the sheet. The text runs to the right.
type Saying struct {
	Text       string
	At         geometry.Point
	Cap, Width float64
	Bold       bool
}

// Outline returns the letters as regions.
func (s Saying) Outline() geometry.Path {
	outline, _ := glyphs.Label(s.Text, s.Cap, s.Bold)
	return outline.Moved(geometry.Vec(s.At)).Map(ofPrint)
}

// Outline returns what the item draws: its path, or the letters of its text.
func (it Item) Outline() geometry.Path {
	if it.Says != nil {
		return it.Says.Outline()
	}
	return it.Path
}

// Layer is a named group of items, drawn in order.
type Layer struct {
	Name  string // a plain-language name, unique in the sheet
	Items []Item
}

// Sheet is one page to write, at true size. No word of aircraft or film crosses
// into the writers: they know only sheets.
type Sheet struct {
	Title         string
	Width, Height float64 // inches
	Layers        []Layer
	Trim          *geometry.Rect // what is left when the sheet is cut out; nil: all of it
	Art           *geometry.Rect // extents of what is shown; nil: not said
}

var inkColour = regexp.MustCompile(`^#[0-9a-f]{6}$`)

// thinnest is the least stroke, dash or gap of a sheet, in inches: one that would
// survive the rounding of every writer. It is far too thin to print.
const thinnest = 1e-4

// HairOpen is the distance in inches below which the ends of an open contour may
// be written as one point: twice the diagonal of what each is rounded by.
const HairOpen = 3e-6

// Check refuses a sheet that could not be drawn as it stands. The place comes
// first: layer, item, contour.
func (s Sheet) Check() error {
	if !(s.Width > 0 && s.Width < geometry.Farthest && s.Height > 0 && s.Height < geometry.Farthest) {
		return fmt.Errorf("sheet %q: a size of %g x %g in cannot be drawn: give both in inches, above 0 and below %g", s.Title, s.Width, s.Height, geometry.Farthest)
	}
	layers, ids := map[string]bool{}, map[string]bool{}
	for _, l := range s.Layers {
		switch {
		case strings.TrimSpace(l.Name) != l.Name || l.Name == "":
			return fmt.Errorf("sheet %q: layer name %q is empty or has blanks at its ends: name the layer", s.Title, l.Name)
		case layers[l.Name]:
			return fmt.Errorf("sheet %q: two layers are named %q: give each its own name", s.Title, l.Name)
		}
		layers[l.Name] = true
		for i, it := range l.Items {
			place := fmt.Sprintf("sheet %q, layer %q, item %d", s.Title, l.Name, i+1)
			if it.ID != "" && ids[it.ID] {
				return fmt.Errorf("%s: the id %q stands twice in the sheet: give each item its own", place, it.ID)
			}
			ids[it.ID] = true
			if err := it.Check(); err != nil {
				return fmt.Errorf("%s: %w", place, err)
			}
		}
	}
	return nil
}

func (it Item) Check() error {
	k := it.Ink
	for _, c := range []string{k.Stroke, k.Fill} {
		if c != "" && !inkColour.MatchString(c) {
			return fmt.Errorf("colour %q is not of the form #rrggbb", c)
		}
	}
	if k.Stroke != "" && !(k.Width >= thinnest && k.Width < geometry.Farthest) {
		return fmt.Errorf("a stroke of %g in is below %g in and not drawn by every program: give it 0.01", k.Width, thinnest)
	}
	for _, d := range k.Dash {
		if !(d >= thinnest && d < geometry.Farthest) {
			return fmt.Errorf("a dash or gap of %g in is below %g in: give it 0.01 or more", d, thinnest)
		}
	}
	if it.Says != nil && (len(it.Path) > 0 || k.Fill == "" || k.Stroke != "") {
		return fmt.Errorf("the text %q has a path or a stroke, or no fill: a text is filled, and nothing else", it.Says.Text)
	}
	for i, c := range it.Path {
		switch {
		case len(c.Segments) == 0:
			return fmt.Errorf("contour %d has no segment", i+1)
		case !c.Closed() && c.Start.Dist(c.End()) < HairOpen:
			return fmt.Errorf("contour %d is open by %.2g in, less than a file tells apart: close it", i+1, c.Start.Dist(c.End()))
		case k.Stroke == "" && (k.Fill == "" || !c.Closed()):
			return fmt.Errorf("contour %d would not be seen: a closed one needs a stroke or a fill, an open one a stroke", i+1)
		}
		near := func(p geometry.Point) bool {
			return math.Abs(p.X) < geometry.Farthest && math.Abs(p.Y) < geometry.Farthest
		}
		sound := near(c.Start)
		for _, s := range c.Segments {
			sound = sound && near(s.End) && (s.Kind != geometry.Cubic || near(s.C1) && near(s.C2))
		}
		if !sound {
			return fmt.Errorf("contour %d: a coordinate is not a number below %g in", i+1, geometry.Farthest)
		}
	}
	return nil
}

// Drawings returns the item as one or two: where it is filled, its open contours
// come after the others as an item of their own without a fill, because a
// filled line would be closed by whoever draws it.
func (it Item) Drawings() []Item {
	if it.Says != nil {
		return []Item{{ID: it.ID, Path: it.Outline(), Ink: it.Ink}}
	}
	if it.Ink.Fill == "" || len(it.Path) == 0 {
		return []Item{it}
	}
	var closed, open geometry.Path
	for _, c := range it.Path {
		if c.Closed() {
			closed = append(closed, c)
		} else {
			open = append(open, c)
		}
	}
	var out []Item
	if len(closed) > 0 {
		out = append(out, Item{ID: it.ID, Path: closed, Ink: it.Ink})
	}
	if len(open) > 0 {
		line := Item{Path: open, Ink: it.Ink}
		line.Ink.Fill = ""
		if it.ID != "" {
			line.ID = it.ID + "-lines"
		}
		out = append(out, line)
	}
	return out
}
