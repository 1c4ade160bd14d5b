package sheet

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"

	g "maskloft/geometry"
)

// PDFOptions are what a document has beside its sheets.
type PDFOptions struct {
	Title    string
	Compress bool // deflate the drawings: smaller, but no longer plain to read
}

// Limits of a page, in units of 1/72 in (ISO 32000-1:2008, annex C.2: a page is
// at least 3 by 3 and at most 14 400 by 14 400 units; from memory). A larger
// UserUnit is no way out: some programs ignore it and show the page too small.
const (
	pdfDecimals = 4 // half a last place is 7e-7 in
	pdfLongest  = 14400.0
	pdfShortest = 3.0
)

func pdfNumber(inches float64) string { return g.FormatNumber(inches*g.PointsPerInch, pdfDecimals) }

func pdfPoint(p g.Point) string { return string(appendPoint(nil, p)) }

func appendPoint(to []byte, p g.Point) []byte {
	to = append(g.AppendNumber(to, p.X*g.PointsPerInch, pdfDecimals), ' ')
	return g.AppendNumber(to, p.Y*g.PointsPerInch, pdfDecimals)
}

// WritePDF writes the sheets as one document at true size, PDF 1.7, one page a
// sheet. Layers of the same name are one optional content group, shown on every
// page. Coordinates are rounded by less than 1e-6 in. The document asks not to
// be scaled when it is printed. A sheet that cannot be drawn as it stands, or a
// page beyond the limits of the format, is an error, and nothing is written.
func WritePDF(w io.Writer, sheets []Sheet, opts PDFOptions) error {
	return WriteDrawnPDF(w, slices.Values(sheets), opts)
}

// pdfPage is what is kept of a sheet once its drawing is written.
type pdfPage struct {
	sheet   Sheet // without its layers
	groups  []int // of its layers
	content []byte
	entries string // of the content's dictionary
}

// WriteDrawnPDF is [WritePDF] for sheets that are drawn one after another, so that of a
// thousand pages one at a time is held as a drawing.
func WriteDrawnPDF(w io.Writer, sheets iter.Seq[Sheet], opts PDFOptions) error {
	var names []string
	group := map[string]int{}
	var written []pdfPage
	var fonts pdfFonts
	for s := range sheets {
		if err := s.Check(); err != nil {
			return err
		}
		if err := pdfPageFits(s); err != nil {
			return err
		}
		p := pdfPage{sheet: s}
		p.sheet.Layers = nil
		for _, l := range s.Layers {
			if _, ok := group[l.Name]; !ok {
				group[l.Name] = len(names)
				names = append(names, l.Name)
			}
			p.groups = append(p.groups, group[l.Name])
		}
		fonts.use(s)
		p.content = pdfContent(s, group)
		if opts.Compress {
			packed, err := deflatedBytes(p.content)
			if err != nil {
				return fmt.Errorf("sheet %q: %w", s.Title, err)
			}
			p.content, p.entries = packed, " /Filter /FlateDecode"
		}
		written = append(written, p)
	}
	if len(written) == 0 {
		return fmt.Errorf("document %q: no sheets: a document has at least one page", opts.Title)
	}
	const catalog, pages, info = 1, 2, 3
	const firstFont = 4
	firstGroup, font := firstFont+fonts.objects(), fonts.resources(firstFont)
	firstPage := firstGroup + len(names)
	var kids, groups []string
	for i := range written {
		kids = append(kids, pdfRef(firstPage+2*i))
	}
	for i := range names {
		groups = append(groups, pdfRef(firstGroup+i))
	}
	d := &pdfDocument{}
	long := 0
	for _, p := range written {
		long += len(p.content) + pdfPageRest
	}
	d.b.Grow(long)
	d.b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n") // four high bytes: ISO 32000-1 clause 7.5.2
	all := strings.Join(groups, " ")
	layers := ""
	if len(names) > 0 {
		layers = "\n/OCProperties << /OCGs [" + all + "] /D << /Name (Layers) /BaseState /ON /Order [" + all + "] >> >>"
	}
	d.object(catalog, "<< /Type /Catalog /Pages "+pdfRef(pages)+
		"\n/ViewerPreferences << /PrintScaling /None /DisplayDocTitle true >>"+layers+" >>")
	d.object(pages, fmt.Sprintf("<< /Type /Pages /Count %d /Kids [%s] >>", len(kids), strings.Join(kids, " ")))
	d.object(info, "<< /Title "+pdfText(opts.Title)+" >>")
	if err := fonts.write(d, firstFont); err != nil {
		return err
	}
	for i, name := range names {
		d.object(firstGroup+i, "<< /Type /OCG /Name "+pdfText(name)+" >>")
	}
	for i, p := range written {
		s := p.sheet
		var properties []string
		for _, n := range p.groups {
			properties = append(properties, fmt.Sprintf("/L%d %s", n+1, pdfRef(firstGroup+n)))
		}
		box := fmt.Sprintf("[0 0 %s %s]", pdfNumber(s.Width), pdfNumber(s.Height))
		trim, art := box, ""
		if s.Trim != nil {
			trim = pdfBox(*s.Trim)
		}
		if s.Art != nil {
			art = " /ArtBox " + pdfBox(*s.Art)
		}
		d.object(firstPage+2*i, "<< /Type /Page /Parent "+pdfRef(pages)+
			"\n/MediaBox "+box+" /CropBox "+box+" /TrimBox "+trim+art+
			"\n/Resources << /Properties << "+strings.Join(properties, " ")+" >>"+font+" >>"+
			"\n/Contents "+pdfRef(firstPage+2*i+1)+" >>")
		d.stream(firstPage+2*i+1, p.content, p.entries)
	}
	_, err := w.Write(d.finish(catalog, info))
	return err
}

// pdfPageRest is about how many bytes a page takes besides its content.
const pdfPageRest = 1 << 10

// pdfBox writes a rectangle (ISO 32000-1 clause 7.9.5).
func pdfBox(r g.Rect) string { return "[" + pdfPoint(r.Min) + " " + pdfPoint(r.Max) + "]" }

// pdfPageFits holds the size of a page against the limits of the format.
func pdfPageFits(s Sheet) error {
	for _, side := range []float64{s.Width, s.Height} {
		units, err := strconv.ParseFloat(pdfNumber(side), 64)
		switch {
		case err != nil:
			return fmt.Errorf("sheet %q: %w", s.Title, err)
		case units > pdfLongest:
			return fmt.Errorf("sheet %q: a page side of %s in is above the limit of %g in (%g units) that PDF sets: cut it into shorter tiles, or write SVG",
				s.Title, g.FormatNumber(side, 3), pdfLongest/g.PointsPerInch, pdfLongest)
		case units < pdfShortest:
			return fmt.Errorf("sheet %q: a page side of %s in is below the limit of %s in (%g units) that PDF sets: give the sheet a margin",
				s.Title, g.FormatNumber(side, 5), g.FormatNumber(pdfShortest/g.PointsPerInch, 4), pdfShortest)
		}
	}
	return nil
}

// pdfContent returns the drawing of a page. Operators: ISO 32000-1 table 51.
func pdfContent(s Sheet, group map[string]int) []byte {
	var b bytes.Buffer
	b.WriteString("4 M\n") // the miter limit of SVG, so that both files look alike
	for _, l := range s.Layers {
		fmt.Fprintf(&b, "/OC /L%d BDC\n", group[l.Name]+1)
		for _, it := range l.Items {
			if it.Says != nil && pdfSaying(&b, *it.Says, it.Ink.Fill) {
				continue
			}
			for _, d := range it.Drawings() {
				pdfItem(&b, d)
			}
		}
		b.WriteString("EMC\n")
	}
	return b.Bytes()
}

// pdfItem draws one item; an item without contours draws nothing.
func pdfItem(b *bytes.Buffer, it Item) {
	if len(it.Path) == 0 {
		return
	}
	// Even-odd fill, stroke, or both. No operator closes of itself: s* and S*
	// do not exist, and the contours below say themselves whether they close.
	paint := "S"
	b.WriteString("q\n")
	if it.Ink.Fill != "" {
		paint = "f*"
		b.WriteString(pdfColour(it.Ink.Fill) + " rg\n")
	}
	if it.Ink.Stroke != "" {
		if it.Ink.Fill != "" {
			paint = "B*"
		}
		b.WriteString(pdfColour(it.Ink.Stroke) + " RG\n" + pdfNumber(it.Ink.Width) + " w\n")
		if len(it.Ink.Dash) > 0 {
			var parts []string
			for _, d := range it.Ink.Dash {
				parts = append(parts, pdfNumber(d))
			}
			b.WriteString("[" + strings.Join(parts, " ") + "] 0 d\n")
		}
		if it.Ink.Round {
			b.WriteString("1 j\n")
		}
	}
	for _, c := range it.Path {
		pdfContour(b, c)
	}
	b.WriteString(paint + "\nQ\n")
}

// pdfContour writes one contour; the line that h draws is left out before it.
func pdfContour(b *bytes.Buffer, c g.Contour) {
	put := func(operator string, points ...g.Point) {
		to := b.AvailableBuffer()
		for _, p := range points {
			to = append(appendPoint(to, p), ' ')
		}
		b.Write(append(to, operator...))
	}
	put("m\n", c.Start)
	for i, s := range c.Segments {
		switch {
		case s.Kind == g.Cubic:
			put("c\n", s.C1, s.C2, s.End)
		case c.Closed() && i == len(c.Segments)-1 && pdfPoint(c.From(i)) != pdfPoint(s.End):
		default:
			put("l\n", s.End)
		}
	}
	if c.Closed() {
		b.WriteString("h\n")
	}
}

// pdfColour writes "#rrggbb" as three parts of one.
func pdfColour(hex string) string {
	var parts []string
	for i := 1; i < 7; i += 2 {
		v, _ := strconv.ParseUint(hex[i:i+2], 16, 8) // the sheet was checked
		parts = append(parts, g.FormatNumber(float64(v)/255, 4))
	}
	return strings.Join(parts, " ")
}

func pdfRef(n int) string { return fmt.Sprintf("%d 0 R", n) }

// pdfText writes a text string in hexadecimal: as it stands when it is ASCII,
// else UTF-16BE with its mark (ISO 32000-1 clause 7.9.2.2).
func pdfText(text string) string {
	plain := true
	for _, r := range text {
		plain = plain && r >= ' ' && r <= '~'
	}
	if plain {
		return "(" + strings.NewReplacer(`\`, `\\`, `(`, `\(`, `)`, `\)`).Replace(text) + ")"
	}
	hex := "FEFF"
	for _, u := range utf16.Encode([]rune(text)) {
		hex += fmt.Sprintf("%04X", u)
	}
	return "<" + hex + ">"
}

// pdfDocument gathers objects and remembers where each begins.
type pdfDocument struct {
	b       bytes.Buffer
	offsets []int // by object number less one
}

// Object writes object n; objects come in the order of their numbers.
func (d *pdfDocument) object(n int, body string) {
	d.offsets = append(d.offsets, d.b.Len())
	fmt.Fprintf(&d.b, "%d 0 obj\n%s\nendobj\n", n, body)
}

// stream writes object n with data as they stand; entries are added to its dictionary.
func (d *pdfDocument) stream(n int, data []byte, entries string) {
	d.offsets = append(d.offsets, d.b.Len())
	fmt.Fprintf(&d.b, "%d 0 obj\n<< /Length %d%s >>\nstream\n", n, len(data), entries)
	d.b.Write(data)
	d.b.WriteString("\nendstream\nendobj\n")
}

// Finish adds the cross-reference table and the trailer. The identifier of the
// document is made from what it holds, not from the time of day.
func (d *pdfDocument) finish(catalog, info int) []byte {
	sum := sha256.Sum256(d.b.Bytes())
	start := d.b.Len()
	fmt.Fprintf(&d.b, "xref\n0 %d\n0000000000 65535 f \n", len(d.offsets)+1)
	for _, at := range d.offsets {
		fmt.Fprintf(&d.b, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&d.b, "trailer\n<< /Size %d /Root %s /Info %s /ID [<%x> <%x>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(d.offsets)+1, pdfRef(catalog), pdfRef(info), sum[:16], sum[:16], start)
	return d.b.Bytes()
}
