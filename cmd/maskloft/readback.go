package main

import (
	"bytes"
	"fmt"

	"maskloft/export/audit"
	"maskloft/export/drawing"
	"maskloft/export/sheet"
	"maskloft/geometry"
)

// auditTolerance is how far a written file may differ from its sheet when it is
// read back, in inches: the files keep six decimals of an inch, so a hundredth
// of the outline tolerance is generous. A DXF file, which has arcs for curves, may
// differ by that of outlines.
const auditTolerance = geometry.OutlineTolerance / 100

// cutPage is one page to cut, written as SVG, PDF and DXF.
type cutPage struct {
	name    string      // in the pack, without the ending
	sheet   sheet.Sheet // its layers are let go once they are written
	flavour sheet.Flavour
	audited float64 // inches: largest deviation of SVG and PDF read back
	arcs    float64 // inches: largest deviation of the DXF read back
}

// cutFormats are the endings of a page to cut.
var cutFormats = [3]drawing.Format{drawing.SVG, drawing.PDF, drawing.DXF}

// write writes the files, reads each back, measures it against the sheet and hands
// all on to keep.
func (f *cutPage) write(keep func(packFile) error) error {
	var out [3]bytes.Buffer
	writers := [3]func() error{
		func() error { return sheet.WriteSVG(&out[0], f.sheet, f.flavour) },
		func() error {
			return sheet.WritePDF(&out[1], []sheet.Sheet{f.sheet}, sheet.PDFOptions{Title: f.sheet.Title})
		},
		func() error { return sheet.WriteDXF(&out[2], f.sheet) },
	}
	var files []packFile
	for k, format := range cutFormats {
		name := f.file(format)
		if err := writers[k](); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		data := out[k].Bytes()
		files = append(files, packFile{name, data})
		if format == drawing.DXF {
			got, err := audit.AuditDXF(f.sheet, data, sheet.DXFTolerance)
			if err != nil {
				return fmt.Errorf("%s does not hold what was drawn: %w", name, err)
			}
			f.arcs = got.Deviation
			continue
		}
		got, err := audit.Audit(f.sheet, data, format, auditTolerance)
		if err != nil {
			return fmt.Errorf("%s does not hold what was drawn: %w", name, err)
		}
		f.audited = max(f.audited, got.Deviation)
	}
	f.sheet.Layers = nil
	return keepAll(files, keep)
}

// file is the name of one of the files.
func (f *cutPage) file(format drawing.Format) string { return f.name + "." + string(format) }
