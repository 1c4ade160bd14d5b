package export

import (
	"bytes"
	"fmt"

	g "maskloft/geometry"
)

// spells tells whether any item of the sheets says what it spells.
func spells(sheets []Sheet) bool {
	for _, s := range sheets {
		for _, l := range s.Layers {
			for _, it := range l.Items {
				if it.Says != nil {
					return true
				}
			}
		}
	}
	return false
}

// helveticaCap is the height of a capital of Helvetica in parts of the em (Adobe
// font metrics of Helvetica, CapHeight 718; from memory). It sets the size of text
// that is not drawn, so an error of it shows nowhere but in a selection.
const helveticaCap = 0.718

// pdfSaying writes a text in rendering mode 3, neither filled nor stroked (ISO
// 32000-1 clause 9.3.6): the outlines are what is seen, the text is what is found.
func pdfSaying(b *bytes.Buffer, s Saying) {
	fmt.Fprintf(b, "BT 3 Tr /F1 %s Tf %s Td (", pdfNumber(s.Cap/helveticaCap), pdfPoint(s.At))
	for _, r := range s.Text {
		c := byte('?')
		switch {
		case r >= ' ' && r <= '~', r >= 0xA0 && r <= 0xFF:
			c = byte(r)
		case r == '–':
			c = 0x96 // WinAnsiEncoding, ISO 32000-1 annex D.2
		}
		if c == '(' || c == ')' || c == '\\' || c > '~' {
			fmt.Fprintf(b, "\\%03o", c)
			continue
		}
		b.WriteByte(c)
	}
	b.WriteString(") Tj ET\n")
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
