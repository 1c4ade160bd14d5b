package drawing

import (
	"bytes"
	"fmt"
	"slices"
)

// Foreign is a file that somebody else wrote: its outlines, and what stood in it
// that is no outline or could not be followed.
type Foreign struct {
	Pages []Drawing
	Notes []string // each once, in the order met
}

// ReadForeign reads a file made elsewhere: as [ReadDrawings], but what those
// refuse because it is no outline or because it hides part of one (text, images,
// clips, masks, style sheets, hidden elements) is passed over with a note.
// References are followed, pages that are turned are turned back, and packed
// cross-references of PDF 1.5 are read. A file without a true size is taken at 96
// units to the inch.
//
// Errors: a damaged or encrypted file, a packing that is not read.
func ReadForeign(data []byte, format Format) (Foreign, error) {
	notes := &passedOver{}
	var out Foreign
	var err error
	out.Pages, err = readPages(data, format, notes)
	out.Notes = notes.texts
	return out, err
}

func readPages(data []byte, format Format, notes *passedOver) ([]Drawing, error) {
	switch format {
	case SVG:
		d, err := readSVG(bytes.NewReader(data), notes)
		return []Drawing{d}, err
	case PDF:
		return readPDF(bytes.NewReader(data), notes)
	case DXF:
		d, err := readDXF(bytes.NewReader(data), notes)
		return []Drawing{d}, err
	}
	return nil, fmt.Errorf("format %q is unknown: write svg, pdf or dxf", format)
}

// passedOver gathers what is passed over. Nil is a strict reader, which passes over
// nothing.
type passedOver struct {
	texts []string
	cut   bool // clip paths are read: outlines are cut to them
}

// mostNotes bounds the notes kept of one file.
const mostNotes = 50

// pass returns err where the reader is strict; else it notes it and returns nil.
func (e *passedOver) pass(err error) error {
	if e == nil || err == nil {
		return err
	}
	if t := err.Error(); len(e.texts) < mostNotes && !slices.Contains(e.texts, t) {
		e.texts = append(e.texts, t)
	}
	return nil
}

// lenient tells whether anything is passed over.
func (e *passedOver) lenient() bool { return e != nil }
