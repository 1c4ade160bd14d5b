package reading

import (
	"io"
	"path"
	"strings"

	"maskloft/export/drawing"
	"maskloft/layouts"
)

// maxDrawingSize bounds a drawing file: one of two thousand paths is below 2 MB.
const maxDrawingSize = 16 << 20

// drawingExamples are the examples of the keys of drawings.
var drawingExamples = map[string]string{
	"drawing":                    "drawing: badge.svg (or .pdf, .dxf), a file beside this one",
	"figure with drawing height": "height: 12 in, of all that the drawing paints; or width:",
	"figure with drawing width":  "width: 12 in",
	"figure with drawing paints": `paints: {"#c8102e": insignia-red}, the colour in quotes, or the name of a group`,
	"figure with drawing anchor": "anchor: the id of an element of the drawing, whose middle stands at where:",
}

// drawing reads a figure from a drawing beside the layout.
func (r *layoutReader) drawing(f fields) *layouts.DrawingSpec {
	at := f.at("drawing")
	d := &layouts.DrawingSpec{Place: at.Place(), File: at.Text()}
	height, width := f.at("height"), f.at("width")
	switch {
	case height.Written() == width.Written():
		f.Fail("write height: 12 in, or width:", "a drawing wants one of height and width: its own size does not count")
	case height.Written():
		d.Height = height.drawn()
	default:
		d.Width = width.drawn()
	}
	if anchor := f.at("anchor"); anchor.Written() {
		d.Anchor = anchor.Text()
	}
	list, _ := f.at("paints").entries()
	for _, e := range list {
		use := layouts.ColourUse{Part: e.key.Text(), Paint: layouts.NoPaint}
		if text, ok := e.value.Scalar("a paint"); !ok || text != layouts.NoPaint {
			use.Paint = r.paints.refer(e.value)
		}
		d.Paints = append(d.Paints, use)
	}
	if d.File == "" {
		return d
	}
	format := drawing.Format(strings.ToLower(strings.TrimPrefix(path.Ext(d.File), ".")))
	if format != drawing.SVG && format != drawing.PDF && format != drawing.DXF {
		at.Fail("save it as .svg, .pdf or .dxf", "the drawing %s is of no kind that is read", d.File)
		return d
	}
	file := r.source.Beside(r.file, d.File)
	in, err := r.source.Open(file)
	if err != nil {
		at.Fail("the drawing is looked for beside the layout; check its name", "cannot read the drawing %s: %s", file, reason(err))
		return d
	}
	defer in.Close()
	data, err := io.ReadAll(io.LimitReader(in, maxDrawingSize+1))
	switch {
	case err != nil:
		at.Fail("check the file", "cannot read the drawing %s: %s", file, reason(err))
		return d
	case len(data) > maxDrawingSize:
		at.Fail("simplify it", "the drawing %s is larger than %d MB", file, maxDrawingSize>>20)
		return d
	}
	if d.Shown, err = drawing.ReadShown(data, format); err != nil {
		at.Fail("change the drawing as it says, and save it again", "the drawing %s: %v", d.File, err)
	}
	return d
}
