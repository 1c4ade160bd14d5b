package export

import (
	"fmt"
	"math"
	"strings"

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
	var of []masks.CheckLength
	for _, c := range s.list.Checks {
		if c.Marking == id {
			of = append(of, c)
		}
	}
	if len(of) == 0 {
		return
	}
	s.heading("After laying: lengths tick to tick, along the film", 1)
	s.text(setSoft, "Measured from 0. Film that reads longer was stretched: lift it and lay it again (limits: common practice, no source).")
	s.space(0.04)
	wide := (s.width() - checkGap) / 2
	for len(of) > 0 {
		pair := of[:min(2, len(of))]
		of = of[len(pair):]
		var items []Item
		height := 0.44
		for k, c := range pair {
			var r pointRow
			x := s.left() + float64(k)*(wide+checkGap)
			tile := "film"
			if c.Tile != "" {
				tile = "tile " + c.Tile
			}
			y := r.stack(x, wide*checkName, -0.03, setStrong, fmt.Sprintf("%s: %s to %s", tile, markName(c.From), markName(c.To)))
			y = r.stack(x, wide*checkName, y, setSoft, fmt.Sprintf("%s, within %s", decimals(plain, c.Length), limitText(plain, c.Limit)))
			height = math.Max(height, 0.06-y)
			right := x + wide*(checkName+checkReading)
			r.items = append(r.items, setNumber.at(Reading(plain, c.Length), right-0.08, -0.27, 1),
				drawRect(g.Rect{Min: g.Point{X: right, Y: -0.37}, Max: g.Point{X: x + wide, Y: -0.07}}, Ink{Stroke: "#5c6b73", Width: 0.008}))
			items = append(items, r.items...)
		}
		if s.room() < height {
			s.turn()
			s.text(setHeading, title+", lengths tick to tick")
			s.space(0.04)
		}
		box := s.block(height)
		for _, it := range items {
			s.draw(it.Moved(g.Vec{Y: box.Max.Y}))
		}
		s.draw(Item{Path: g.Path{g.Polyline(box.Min, g.Point{X: box.Max.X, Y: box.Min.Y})}, Ink: inkTableLine})
	}
}

// markName is a mark's id as words that a line can be broken between.
func markName(id string) string {
	if corner, ok := strings.CutPrefix(id, string(masks.Extent)+"-"); ok {
		return "corner " + corner
	}
	return id
}
