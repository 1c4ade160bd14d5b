package tapelist

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// Widths of one check length of two in a row, as shares of half a page: what it is,
// the reading, the box to write into.
const (
	checkName    = 0.4
	checkReading = 0.38
	checkGap     = 0.16 // inches between the two
)

// checkLengths prints the lengths to measure on the film once it is laid, two in a row.
func (s *tapeSheets) checkLengths(title, id string) {
	plain := s.list.Tape
	plain.Burn = false
	var of []taping.CheckLength
	for _, c := range s.list.Checks {
		if c.Marking == id {
			of = append(of, c)
		}
	}
	if len(of) == 0 {
		return
	}
	s.Heading("After laying: lengths tick to tick, along the film", 1)
	s.Text(sheet.SetSoft, "Measured from 0. Film that reads longer was stretched: lift it and lay it again (limits: common practice, no source).")
	s.Space(0.04)
	wide := (s.Width() - checkGap) / 2
	for len(of) > 0 {
		pair := of[:min(2, len(of))]
		of = of[len(pair):]
		var items []sheet.Item
		height := 0.44
		for k, c := range pair {
			var r pointRow
			x := s.Left() + float64(float64(k)*(wide+checkGap))
			tile := "film"
			if c.Tile != "" {
				tile = "tile " + c.Tile
			}
			y := r.stack(x, wide*checkName, -0.03, sheet.SetStrong, fmt.Sprintf("%s: %s to %s", tile, markName(c.From), markName(c.To)))
			y = r.stack(x, wide*checkName, y, sheet.SetSoft, fmt.Sprintf("%s, within %s", decimals(plain, c.Length), limitText(plain, c.Limit)))
			height = math.Max(height, 0.06-y)
			right := x + float64(wide*(checkName+checkReading))
			r.items = append(r.items, sheet.SetNumber.At(Reading(plain, c.Length), right-0.08, -0.27, 1),
				sheet.DrawRect(g.Rect{Min: g.Point{X: right, Y: -0.37}, Max: g.Point{X: x + wide, Y: -0.07}}, sheet.Ink{Stroke: "#5c6b73", Width: 0.008}))
			items = append(items, r.items...)
		}
		if s.Room() < height {
			s.Turn()
			s.Text(sheet.SetHeading, title+", lengths tick to tick")
			s.Space(0.04)
		}
		box := s.Block(height)
		for _, it := range items {
			s.Draw(it.Moved(g.Vec{Y: box.Max.Y}))
		}
		s.Draw(sheet.Item{Path: g.Path{g.Polyline(box.Min, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: sheet.InkTableLine})
	}
}

// markName is a mark's id as words that a line can be broken between.
func markName(id string) string {
	if corner, ok := strings.CutPrefix(id, string(masks.Extent)+"-"); ok {
		return "corner " + corner
	}
	return id
}
