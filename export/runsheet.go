package export

import (
	"fmt"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// RunFilm is one film of a run: a tile with its mask and its marking.
type RunFilm struct {
	Tiling masks.Tiling
	Mask   masks.Mask
	Tile   masks.Tile
}

// RunSheets returns the nests of a run at true size, one for each stretch, ready to
// cut: x along the web, y across it, the page as wide as the web. The first begins at
// the beginning of the web and the last holds its tail; each other begins and ends half
// a gap from its films. Windows of all films come first, then film by film its outlines
// and its frame. Films are in any order; those of the run are found by their numbers.
func RunSheets(title string, run masks.Run, films []RunFilm, marks layouts.MarkStyle) []sheet.Sheet {
	byNumber := map[int]RunFilm{}
	for _, f := range films {
		byNumber[f.Tile.Number] = f
	}
	var out []sheet.Sheet
	for i, stretch := range run.Stretches {
		from, to := stretch.From-masks.WebGap/2, stretch.To+masks.WebGap/2
		if i == 0 {
			from = 0
		}
		if i == len(run.Stretches)-1 {
			to = run.Length
		}
		s := sheet.Sheet{
			Title: fmt.Sprintf("%s, run %d of %d, %s of web", title, i+1, len(run.Stretches), g.Counted(filmsIn(run, stretch), "film")),
			Width: (to - from).Inches(), Height: run.Web.Inches(),
		}
		windows, cut := sheet.Layer{Name: sheet.LayerRegistration}, sheet.Layer{Name: sheet.LayerCut}
		for _, placed := range run.Films {
			f, ok := byNumber[placed.Number]
			if !ok || !stretch.Holds(placed) {
				continue
			}
			move := ontoWeb(f.Tile.Cell.Bounds(), placed, from.Inches())
			name := fmt.Sprintf("-%d", placed.Number)
			windows.Items = append(windows.Items, windowItems(f.Tiling, f.Tile, marks, name, move)...)
			cut.Items = append(cut.Items, filmItems(f.Mask, f.Tile, name, move)...)
		}
		if len(windows.Items) > 0 {
			s.Layers = append(s.Layers, windows)
		}
		s.Layers = append(s.Layers, cut)
		out = append(out, s)
	}
	return out
}

func filmsIn(run masks.Run, s masks.Stretch) int {
	n := 0
	for _, f := range run.Films {
		if s.Holds(f) {
			n++
		}
	}
	return n
}

// ontoWeb carries a tile's flat onto the page of a stretch that begins at from: a film
// that lies across the web is turned by 90 degrees to the left.
func ontoWeb(tile g.Rect, placed masks.PlacedFilm, from float64) func(g.Path) g.Path {
	corner := placed.Rect.Min.Add(g.Vec{X: -from})
	return func(p g.Path) g.Path {
		return p.Map(func(q g.Point) g.Point {
			if placed.Across {
				return corner.Add(g.Vec{X: tile.Max.Y - q.Y, Y: q.X - tile.Min.X})
			}
			return corner.Add(q.Sub(tile.Min))
		})
	}
}
