package audit

import (
	"bytes"
	"fmt"
	"math"

	"maskloft/export/drawing"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// Audited is what was measured in a written page, and how far it is from its
// sheet. All lengths are in inches.
type Audited struct {
	Width, Height float64 // of the page
	Layers        []AuditedLayer
	// Deviation is the largest distance found between what the sheet says and
	// what the file says: of a side of the page, an edge of a layer's bounds, a
	// node or control point, or of an outline on the average, as area over
	// length. Where says which.
	Deviation float64
	Where     string
	// Outside is how far the outlines reach over the edge of the page; zero
	// when they do not.
	Outside float64
}

// AuditedLayer is what was measured in one layer.
type AuditedLayer struct {
	Name     string
	Contours int
	Open     int // of them not closed
	Nodes    int
	Bounds   g.Rect
	Area     float64 // signed sum over the closed contours, in square inches
}

// ReadDrawings reads a file of the format: one drawing a page.
func ReadDrawings(data []byte, format drawing.Format) ([]drawing.Drawing, error) {
	switch format {
	case drawing.SVG:
		d, err := drawing.ReadSVG(bytes.NewReader(data))
		return []drawing.Drawing{d}, err
	case drawing.PDF:
		return drawing.ReadPDF(bytes.NewReader(data))
	case drawing.DXF:
		d, err := drawing.ReadDXF(bytes.NewReader(data))
		return []drawing.Drawing{d}, err
	}
	return nil, fmt.Errorf("format %q is unknown: write svg, pdf or dxf", format)
}

// Audit reads the written bytes back, as anyone would, and measures them against
// the sheet: see [AuditPages]. The file must hold that one page.
func Audit(s sheet.Sheet, written []byte, format drawing.Format, tolerance float64) (Audited, error) {
	a, err := AuditPages([]sheet.Sheet{s}, written, format, tolerance)
	if len(a) == 0 {
		return Audited{}, err
	}
	return a[0], err
}

// AuditPages reads the written bytes back and measures every page against its
// sheet. Another number of pages, other layers, contours or nodes, a contour
// open that was closed or the reverse, a kind of segment exchanged, or a
// deviation above tolerance (inches) is an error; what was measured is returned
// beside it as far as it goes.
func AuditPages(sheets []sheet.Sheet, written []byte, format drawing.Format, tolerance float64) ([]Audited, error) {
	drawn, err := ReadDrawings(written, format)
	if err != nil {
		return nil, fmt.Errorf("audit: %w", err)
	}
	if len(drawn) != len(sheets) {
		return nil, fmt.Errorf("audit: the file has %d pages, not %d", len(drawn), len(sheets))
	}
	var out []Audited
	for i, s := range sheets {
		a := Audited{Width: drawn[i].Width, Height: drawn[i].Height}
		err := a.measure(s, drawn[i])
		out = append(out, a)
		switch {
		case err != nil:
			return out, fmt.Errorf("audit: sheet %q: %w", s.Title, err)
		case !(a.Deviation <= tolerance):
			return out, fmt.Errorf("audit: sheet %q, %s: off by %.3g in, above the limit of %.3g in", s.Title, a.Where, a.Deviation, tolerance)
		}
	}
	return out, nil
}

func (a *Audited) off(d float64, format string, args ...any) {
	if !(d <= a.Deviation) { // not a number counts as off
		a.Deviation, a.Where = d, fmt.Sprintf(format, args...)
	}
}

func (a *Audited) measure(s sheet.Sheet, d drawing.Drawing) error {
	a.off(math.Abs(d.Width-s.Width), "width of the page")
	a.off(math.Abs(d.Height-s.Height), "height of the page")
	for _, l := range d.Layers {
		a.Layers = append(a.Layers, measured(l.Name, l.Path()))
	}
	page := g.Rect{Max: g.Point{X: d.Width, Y: d.Height}}
	for _, l := range a.Layers {
		if l.Contours > 0 {
			a.Outside = math.Max(a.Outside, math.Max(
				math.Max(page.Min.X-l.Bounds.Min.X, l.Bounds.Max.X-page.Max.X),
				math.Max(page.Min.Y-l.Bounds.Min.Y, l.Bounds.Max.Y-page.Max.Y)))
		}
	}
	for i, l := range s.Layers {
		if i >= len(d.Layers) || d.Layers[i].Name != l.Name {
			return fmt.Errorf("layer %d of the file is not %q", i+1, l.Name)
		}
		var want g.Path
		for _, it := range l.Items {
			for _, one := range it.Drawings() {
				want = append(want, one.Path...)
			}
		}
		if err := a.compare(l.Name, want, d.Layers[i].Path()); err != nil {
			return fmt.Errorf("layer %q: %w", l.Name, err)
		}
	}
	if len(d.Layers) > len(s.Layers) {
		return fmt.Errorf("the file has %d layers, not %d: %q is not one of the sheet", len(d.Layers), len(s.Layers), d.Layers[len(s.Layers)].Name)
	}
	return nil
}

func measured(name string, p g.Path) AuditedLayer {
	l := AuditedLayer{Name: name, Contours: len(p), Nodes: p.Nodes(), Bounds: p.Bounds()}
	for _, c := range p {
		if c.Closed() {
			l.Area += c.Area()
		} else {
			l.Open++
		}
	}
	return l
}

// compare holds the contours of a layer against those that were to be written.
func (a *Audited) compare(layer string, want, got g.Path) error {
	if len(want) != len(got) {
		return fmt.Errorf("%d contours, not %d", len(got), len(want))
	}
	if len(want) == 0 {
		return nil
	}
	length := 0.0
	for i, c := range want {
		d := got[i]
		switch {
		case c.Closed() != d.Closed():
			return fmt.Errorf("contour %d: closed is %t, not %t", i+1, d.Closed(), c.Closed())
		case len(c.Segments) != len(d.Segments):
			return fmt.Errorf("contour %d: %d segments, not %d", i+1, len(d.Segments), len(c.Segments))
		}
		a.off(c.Start.Dist(d.Start), "layer %q, contour %d, its start", layer, i+1)
		for k, s := range c.Segments {
			t := d.Segments[k]
			if s.Kind != t.Kind {
				return fmt.Errorf("contour %d, segment %d: a line for a curve, or a curve for a line", i+1, k+1)
			}
			far := s.End.Dist(t.End)
			if s.Kind == g.Cubic {
				far = math.Max(far, math.Max(s.C1.Dist(t.C1), s.C2.Dist(t.C2)))
			}
			a.off(far, "layer %q, contour %d, segment %d", layer, i+1, k+1)
		}
		if c.Closed() {
			length += c.Length()
		}
	}
	w, m := measured(layer, want), measured(layer, got)
	b, q := w.Bounds, m.Bounds
	a.off(math.Max(b.Min.Dist(q.Min), b.Max.Dist(q.Max)), "layer %q, its bounds", layer)
	if length > 0 {
		a.off(math.Abs(w.Area-m.Area)/length, "layer %q, its area over its outline", layer)
	}
	return nil
}
