package reading

import (
	"strconv"
	"strings"

	"maskloft/geometry"
	"maskloft/geometry/scan"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// scan reads a surface given by a scan: its file beside the one that names it,
// its unit, and the points known on both.
func (r *layoutReader) scan(f fields) *layouts.ScanSpec {
	s := &layouts.ScanSpec{Place: f.Place(), Step: f.at("step").or(0, value.positive)}
	unit := choice(f.at("units"), "", "in", "ft", "mm", "cm", "m")
	s.Unit = map[string]geometry.Length{
		"in": geometry.Inch, "ft": geometry.Foot, "mm": geometry.Millimetre, "cm": geometry.Centimetre, "m": geometry.Metre,
	}[unit]
	points := f.at("points")
	for _, p := range points.items("point") {
		g := p.block("scan point")
		m := scan.ScanMatch{Name: g.at("name").Text(), At: geometry.Position{
			FS: g.at("fs").station(), BL: geometry.ButtLine(g.at("bl").length()), WL: g.at("wl").waterline(),
		}}
		three := g.at("scan").items("number")
		for i, to := range []*float64{&m.Scan.X, &m.Scan.Y, &m.Scan.Z} {
			if i < len(three) {
				*to = three[i].plainNumber()
			}
		}
		if g.at("scan").Written() && len(three) != 3 {
			g.at("scan").Fail("write scan: [x, y, z], in the scan's own axes and unit", "scan holds %d numbers, wanted 3", len(three))
		}
		s.Matches = append(s.Matches, m)
	}
	if points.IsList() && len(s.Matches) < 3 {
		points.Fail("name three points or more, not on one line, that you can find on both", "%s, wanted 3 or more", geometry.Counted(len(s.Matches), "point"))
	}
	name := f.at("file").Text()
	if name == "" {
		return s
	}
	s.File = r.source.Beside(f.Doc.File, name)
	file, err := r.source.Open(s.File)
	if err != nil {
		f.at("file").Fail("the scan is looked for beside this file; check its name", "cannot read the scan %s: %s", s.File, reason(err))
		return s
	}
	defer file.Close()
	if s.Mesh, err = scan.ReadScan(file, s.File, scan.ScanLimits{}); err != nil {
		f.at("file").Fail("OBJ, STL and PLY files are read", "%v", err)
	}
	return s
}

// plainNumber reads a number that is no length.
func (v value) plainNumber() float64 {
	text := v.Text()
	n, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if text != "" && err != nil {
		v.Fail("write a number, 12.5", "%s: %q is not a number", v.Name, document.Shorten(text))
	}
	return n
}
