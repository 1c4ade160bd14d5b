package sheet

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	g "maskloft/geometry"
)

// DXFTolerance is how far arcs of a DXF file may lie from the outlines of a sheet, in
// inches: the tolerance of outlines, for the cutter that reads no curves.
const DXFTolerance = 0.001

// dxfDecimals of an inch are written: half a last place is less than 1e-6 in. A bulge
// has three more.
const dxfDecimals = 6

// WriteDXF writes the sheet at true size as DXF of release 12 in text (AutoCAD Release
// 12 Customization Manual, chapter 11; from memory): y up, origin at the lower left
// corner of the page, units inches, one POLYLINE for each contour with bulges for arcs,
// closed where the contour is. A layer has the sheet's name in capitals. Text and
// fillings are left out: the file is to be cut.
func WriteDXF(w io.Writer, s Sheet) error {
	if err := s.Check(); err != nil {
		return err
	}
	var b bytes.Buffer
	d := dxf{&b}
	d.pair(999, s.Title)
	d.section("HEADER")
	d.variable("$ACADVER", 1, "AC1009")
	d.variable("$INSUNITS", 70, "1")    // inches
	d.variable("$MEASUREMENT", 70, "0") // inches
	d.variable("$LUNITS", 70, "2")      // decimal
	d.variable("$EXTMIN", 10, "0", 20, "0")
	d.variable("$EXTMAX", 10, d.length(s.Width), 20, d.length(s.Height))
	d.variable("$LIMMIN", 10, "0", 20, "0")
	d.variable("$LIMMAX", 10, d.length(s.Width), 20, d.length(s.Height))
	d.pair(0, "ENDSEC")
	d.section("TABLES")
	d.table("LTYPE", 1)
	d.pairs(0, "LTYPE", 2, "CONTINUOUS", 70, "0", 3, "Solid line", 72, "65", 73, "0", 40, "0")
	d.pair(0, "ENDTAB")
	d.table("LAYER", len(s.Layers))
	for i, l := range s.Layers {
		d.pairs(0, "LAYER", 2, DXFLayer(l.Name), 70, "0", 62, fmt.Sprint(7-i%7), 6, "CONTINUOUS")
	}
	d.pair(0, "ENDTAB")
	d.pair(0, "ENDSEC")
	d.section("ENTITIES")
	for _, l := range s.Layers {
		for _, it := range l.Items {
			for _, c := range it.Path {
				d.polyline(DXFLayer(l.Name), c)
			}
		}
	}
	d.pair(0, "ENDSEC")
	d.pair(0, "EOF")
	_, err := w.Write(b.Bytes())
	return err
}

// DXFLayer is the name of a layer in a DXF file: release 12 knows capitals, digits, $,
// - and _.
func DXFLayer(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '$', r == '-', r == '_':
			return r
		}
		return '_'
	}, name)
}

// dxf writes groups: a code and a value, each on a line.
type dxf struct{ b *bytes.Buffer }

func (d dxf) pair(code int, value string) { fmt.Fprintf(d.b, "%3d\n%s\n", code, value) }

// pairs writes groups given as code, value, code, value.
func (d dxf) pairs(groups ...any) {
	for i := 0; i < len(groups); i += 2 {
		d.pair(groups[i].(int), groups[i+1].(string))
	}
}

func (d dxf) section(name string) { d.pairs(0, "SECTION", 2, name) }

func (d dxf) table(name string, entries int) {
	d.pairs(0, "TABLE", 2, name, 70, fmt.Sprint(entries))
}

func (d dxf) variable(name string, groups ...any) {
	d.pair(9, name)
	d.pairs(groups...)
}

func (d dxf) length(inches float64) string { return g.FormatNumber(inches, dxfDecimals) }

func (d dxf) polyline(layer string, c g.Contour) {
	if len(c.Segments) == 0 {
		return
	}
	closed := "0"
	if c.Closed() {
		closed = "1"
	}
	d.pairs(0, "POLYLINE", 8, layer, 66, "1", 70, closed, 10, "0", 20, "0", 30, "0")
	for _, v := range Bulged(c, DXFTolerance) {
		d.pairs(0, "VERTEX", 8, layer, 10, d.length(v.At.X), 20, d.length(v.At.Y), 30, "0")
		if math.Abs(v.Bulge) > 1e-9 {
			d.pair(42, g.FormatNumber(v.Bulge, dxfDecimals+3))
		}
	}
	d.pairs(0, "SEQEND", 8, layer)
}
