package sheet

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"strings"
	"sync"

	"golang.org/x/text/encoding/charmap"

	g "maskloft/geometry"
	"maskloft/glyphs"
)

// pdfFonts are the fonts a document carries, by the codes that its texts use: at 0 the
// regular one, at 1 the bold one.
type pdfFonts [2]usedCodes

// usedCodes are the codes of one font that texts use.
type usedCodes struct {
	any  bool
	code [lastCode + 1]bool
}

// objectsPerFont: the font, its descriptor, its file.
const objectsPerFont = 3

// use adds what texts of a sheet are set in.
func (fonts *pdfFonts) use(s Sheet) {
	for _, l := range s.Layers {
		for _, it := range l.Items {
			if it.Says == nil {
				continue
			}
			f := &fonts[boldIndex(it.Says.Bold)]
			f.any = true
			codes, _ := it.Says.encoded()
			for _, c := range codes {
				f.code[c] = true
			}
		}
	}
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
	for i := range fonts {
		if fonts[i].any {
			n += objectsPerFont
		}
	}
	return n
}

// resources names the fonts for a page, when the first of their objects is number first.
func (fonts pdfFonts) resources(first int) string {
	var names []string
	for i := range fonts {
		if fonts[i].any {
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
// 9.8 and 9.9), of the file of each the characters that are used. The thickness of stems, which a reader uses
// only when it has lost the file, is from memory.
func (fonts pdfFonts) write(d *pdfDocument, first int) error {
	for i := range fonts {
		if !fonts[i].any {
			continue
		}
		f, err := carryFont(i == 1, fonts[i])
		if err != nil {
			return err
		}
		name := f.name
		d.object(first, fmt.Sprintf("<< /Type /Font /Subtype /TrueType /BaseFont /%s /Encoding /WinAnsiEncoding\n/FontDescriptor %s /FirstChar %d /LastChar %d\n/Widths [%s] >>",
			name, pdfRef(first+1), firstCode, lastCode, f.widths))
		d.object(first+1, fmt.Sprintf("<< /Type /FontDescriptor /FontName /%s /Flags 32 /FontBBox [%s 0 1100 %s] /ItalicAngle 0\n/Ascent %s /Descent %s /CapHeight %s /StemV %d /FontFile2 %s >>",
			name, g.FormatNumber(-1000*glyphs.LabelDescent, 0), em(glyphs.LabelAscent), em(glyphs.LabelAscent), em(-glyphs.LabelDescent), em(glyphs.LabelCap), 80+60*i, pdfRef(first+2)))
		d.stream(first+2, f.packed, fmt.Sprintf(" /Length1 %d /Filter /FlateDecode", f.length))
		first += objectsPerFont
	}
	return nil
}

// carriedFont is a font as a document carries it.
type carriedFont struct {
	name, widths string
	packed       []byte // the file, as a zlib stream
	length       int    // of the file, in bytes
}

// labelWidths are the widths of all codes, regular and bold.
var labelWidths = [2]func() string{
	sync.OnceValue(func() string { return widthsOf(false) }),
	sync.OnceValue(func() string { return widthsOf(true) }),
}

func widthsOf(bold bool) string {
	var widths []string
	for code := firstCode; code <= lastCode; code++ {
		w, _ := glyphs.LabelAdvance(charmap.Windows1252.DecodeByte(byte(code)), bold)
		widths = append(widths, g.FormatNumber(1000*w, 3))
	}
	return strings.Join(widths, " ")
}

// carryFont packs the characters that are used. The name says that it is a part of the
// font, and which: six letters (ISO 32000-1 clause 9.6.4), of a checksum of the codes.
func carryFont(bold bool, used usedCodes) (carriedFont, error) {
	var runes []rune
	for code, is := range used.code {
		if is {
			runes = append(runes, charmap.Windows1252.DecodeByte(byte(code)))
		}
	}
	_, name := glyphs.LabelFont(bold)
	sum := sha256.Sum256([]byte(string(runes)))
	tag := make([]byte, 6)
	for i := range tag {
		tag[i] = 'A' + sum[i]%26
	}
	file := glyphs.LabelSubset(bold, runes)
	packed, err := deflatedBytes(file)
	if err != nil {
		return carriedFont{}, fmt.Errorf("font %s: %w", name, err)
	}
	return carriedFont{string(tag) + "+" + name, labelWidths[boldIndex(bold)](), packed, len(file)}, nil
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
