package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"sync"

	"golang.org/x/text/encoding/charmap"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// pdfFonts are the fonts a document carries: at 0 the regular one, at 1 the bold one.
type pdfFonts [2]bool

// objectsPerFont: the font, its descriptor, its file.
const objectsPerFont = 3

// fontsOf returns the fonts that texts of the sheets are set in.
func fontsOf(sheets []Sheet) (fonts pdfFonts) {
	for _, s := range sheets {
		for _, l := range s.Layers {
			for _, it := range l.Items {
				if it.Says != nil {
					fonts[boldIndex(it.Says.Bold)] = true
				}
			}
		}
	}
	return fonts
}

func boldIndex(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// objects returns how many objects the fonts are written as.
func (fonts pdfFonts) objects() int {
	n := 0
	for _, used := range fonts {
		if used {
			n += objectsPerFont
		}
	}
	return n
}

// resources names the fonts for a page, when the first of their objects is number first.
func (fonts pdfFonts) resources(first int) string {
	var names []string
	for i, used := range fonts {
		if used {
			names = append(names, fmt.Sprintf("/F%d %s", i+1, pdfRef(first)))
			first += objectsPerFont
		}
	}
	if names == nil {
		return ""
	}
	return " /Font << " + strings.Join(names, " ") + " >>"
}

// write writes the fonts as TrueType in WinAnsiEncoding (ISO 32000-1 clauses 9.6.3,
// 9.8 and 9.9), the whole file of each. The thickness of stems, which a reader uses
// only when it has lost the file, is from memory.
func (fonts pdfFonts) write(d *pdfDocument, first int) error {
	for i, used := range fonts {
		if !used {
			continue
		}
		f, err := carriedFonts[i]()
		if err != nil {
			return err
		}
		name := f.name
		d.object(first, fmt.Sprintf("<< /Type /Font /Subtype /TrueType /BaseFont /%s /Encoding /WinAnsiEncoding\n/FontDescriptor %s /FirstChar %d /LastChar %d\n/Widths [%s] >>",
			name, pdfRef(first+1), firstCode, lastCode, f.widths))
		d.object(first+1, fmt.Sprintf("<< /Type /FontDescriptor /FontName /%s /Flags 32 /FontBBox [%s 0 1100 %s] /ItalicAngle 0\n/Ascent %s /Descent %s /CapHeight %s /StemV %d /FontFile2 %s >>",
			name, g.FormatNumber(-1000*glyphs.LabelDescent, 0), em(glyphs.LabelAscent), em(glyphs.LabelAscent), em(-glyphs.LabelDescent), em(glyphs.LabelCap), 80+60*i, pdfRef(first+2)))
		d.streamOf(first+2, f.packed, fmt.Sprintf(" /Length1 %d /Filter /FlateDecode", f.length))
		first += objectsPerFont
	}
	return nil
}

// carriedFont is a font as every document carries it.
type carriedFont struct {
	name, widths string
	packed       []byte // the file, as a zlib stream
	length       int    // of the file, in bytes
}

// carriedFonts packs each font once, regular and bold.
var carriedFonts = [2]func() (carriedFont, error){
	sync.OnceValues(func() (carriedFont, error) { return carryFont(false) }),
	sync.OnceValues(func() (carriedFont, error) { return carryFont(true) }),
}

func carryFont(bold bool) (carriedFont, error) {
	file, name := glyphs.LabelFont(bold)
	var widths []string
	for code := firstCode; code <= lastCode; code++ {
		w, _ := glyphs.LabelAdvance(charmap.Windows1252.DecodeByte(byte(code)), bold)
		widths = append(widths, g.FormatNumber(1000*w, 3))
	}
	packed, err := deflatedBytes(file)
	if err != nil {
		return carriedFont{}, fmt.Errorf("font %s: %w", name, err)
	}
	return carriedFont{name, strings.Join(widths, " "), packed, len(file)}, nil
}

// Codes of WinAnsiEncoding that a text may use (ISO 32000-1 annex D.2; code page 1252).
const firstCode, lastCode = 32, 255

// em writes parts of the em in the thousandths of clause 9.2.4.
func em(v float64) string { return g.FormatNumber(1000*v, 3) }

// encoded returns the codes of a text; false where a letter has none, or the font has
// no such letter.
func (s Saying) encoded() ([]byte, bool) {
	var out []byte
	whole := true
	for _, r := range s.Text {
		c, ok := charmap.Windows1252.EncodeRune(r)
		if _, drawn := glyphs.LabelAdvance(r, s.Bold); !ok || !drawn || c < firstCode {
			c, whole = '?', false
		}
		out = append(out, c)
	}
	return out, whole
}

// pdfSaying writes a text (ISO 32000-1 clause 9.4). Where a letter has no code, the
// text is written in rendering mode 3, which is not seen (clause 9.3.6) but found, and
// false is returned: its outlines are still to be drawn.
func pdfSaying(b *bytes.Buffer, s Saying, fill string) bool {
	codes, whole := s.encoded()
	mode, font := 0, boldIndex(s.Bold)+1
	if !whole {
		mode = 3
	}
	fmt.Fprintf(b, "q %s rg BT %d Tr /F%d %s Tf %s Td (", pdfColour(fill), mode, font, pdfNumber(s.Cap/glyphs.LabelCap), pdfPoint(s.At))
	for _, c := range codes {
		if c == '(' || c == ')' || c == '\\' || c > '~' {
			fmt.Fprintf(b, "\\%03o", c)
			continue
		}
		b.WriteByte(c)
	}
	b.WriteString(") Tj ET Q\n")
	return whole
}

// Moved returns the item displaced by v.
func (it Item) Moved(v g.Vec) Item {
	it.Path = it.Path.Moved(v)
	if it.Says != nil {
		says := *it.Says
		says.At = says.At.Add(v)
		it.Says = &says
	}
	return it
}
