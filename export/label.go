package export

import (
	"strings"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts/masks"
)

// place is where a label stands in a tile: its lower left corner, the height of its
// letters, and how many of its lines stand side by side in a row.
type place struct {
	at       g.Point
	cap      float64
	per, row int // lines to a row; rows there is room for
}

const labelLead = 1.7 // from row to row, of the height of letters

// findLabel takes a place for lines of text: in one row, in rows of two or one above
// the other, in the largest letters there is room for; nil where there is none.
func (r *room) findLabel(lines []string) *place {
	for _, cap := range []float64{0.22, 0.16, 0.12, 0.09} {
		for _, per := range []int{4, 2, 1} {
			rows, width := labelRows(lines, per), 0.0
			for _, row := range rows {
				_, w := glyphs.Label(row, cap, false)
				width = max(width, w)
			}
			if at, ok := r.find(width+0.1, cap*labelLead*float64(len(rows))+0.06); ok {
				return &place{at, cap, per, len(rows)}
			}
		}
	}
	return nil
}

// set draws lines at a place that was found for lines at least as long.
func (p place) set(lines []string) []Item {
	var items []Item
	for i, row := range labelRows(lines, p.per) {
		text, _ := glyphs.Label(row, p.cap, false)
		up := p.cap * (labelLead*float64(p.row-1-i) + 0.3)
		items = append(items, Item{Path: text.Moved(g.Vec{X: p.at.X + 0.05, Y: p.at.Y + 0.06 + up}), Ink: inkNoteText})
	}
	return items
}

// labelRows joins lines to rows of so many.
func labelRows(lines []string, per int) []string {
	var rows []string
	for i := 0; i < len(lines); i += per {
		rows = append(rows, strings.Join(lines[i:min(i+per, len(lines))], "   "))
	}
	return rows
}

// longestLabels returns, line by line, the longest of all passes of a tile, with room
// for the number of a film.
func longestLabels(t masks.Tiling, cell masks.Cell) []string {
	var out []string
	for _, m := range t.Laid.Masks {
		for i, line := range labelLines(t, m, masks.Piece{Cell: cell, Number: 888}) {
			if i == len(out) {
				out = append(out, line)
			}
			_, w := glyphs.Label(line, 1, false)
			if _, longest := glyphs.Label(out[i], 1, false); w > longest {
				out[i] = line
			}
		}
	}
	return out
}

// movedItems returns items moved.
func movedItems(items []Item, by g.Vec) []Item {
	out := make([]Item, len(items))
	for i, it := range items {
		it.Path = it.Path.Moved(by)
		out[i] = it
	}
	return out
}
