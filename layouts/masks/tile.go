package masks

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Tiling is the division of all masks of one marking into tiles that fit the
// web, and the registration marks they share.
type Tiling struct {
	Laid    Laid
	Rows    int
	Columns int
	Turned  bool   // the drawing's x runs across the web
	Cells   []Cell // row by row from the top, from the reader's left
	Marks   []RegistrationMark
}

// Cell is the rectangle of one tile, the same for every pass.
type Cell struct {
	Row, Column int // from 1 at the top left, as seen from outside
	Rect        g.Rect
	Marks       []int // indices into Tiling.Marks
}

// Piece is the film of one mask in one cell: what is cut from one file.
type Piece struct {
	ID   string
	Cell Cell
	Film g.Path // closed outlines of the pieces of film
}

// Tile divides every laid marking; see [tileOne].
func Tile(laid []Laid, film layouts.FilmSpec) ([]Tiling, []layouts.Finding, error) {
	var out []Tiling
	var findings []layouts.Finding
	for _, l := range laid {
		t, more, err := tileOne(l, film)
		if err != nil {
			return nil, nil, err
		}
		out, findings = append(out, t), append(findings, more...)
	}
	return out, findings, nil
}

// tileOne divides a laid marking. Seams stand where they cross the fewest paint
// edges, within what the web and the longest tile allow.
//
// Errors: the web has no usable width. Findings: a tile that has no room for
// three registration marks.
func tileOne(l Laid, film layouts.FilmSpec) (Tiling, []layouts.Finding, error) {
	usable, longest := (film.Web - 2*film.Across).Inches(), film.Longest.Inches()
	if usable <= 0 || longest <= 0 {
		return Tiling{}, nil, fmt.Errorf("%v: film: web %v less two margins of %v leaves nothing to cut", film.Place, film.Web, film.Across)
	}
	t := Tiling{Laid: l}
	count := func(length, limit float64) int { return max(1, int(math.Ceil(length/limit-1e-9))) }
	w, h := l.Field.Width(), l.Field.Height()
	straight := count(h, usable) * count(w, longest)
	turned := count(w, usable) * count(h, longest)
	limitX, limitY := longest, usable
	if t.Turned = turned < straight; t.Turned {
		limitX, limitY = usable, longest
	}
	xs := seams(l.Field.Min.X, l.Field.Max.X, limitX, l.Painted, true)
	ys := seams(l.Field.Min.Y, l.Field.Max.Y, limitY, l.Painted, false)
	t.Columns, t.Rows = len(xs)-1, len(ys)-1
	for r := 1; r <= t.Rows; r++ {
		for c := 1; c <= t.Columns; c++ {
			top := t.Rows - r
			t.Cells = append(t.Cells, Cell{Row: r, Column: c, Rect: g.Rect{
				Min: g.Point{X: xs[c-1], Y: ys[top]}, Max: g.Point{X: xs[c], Y: ys[top+1]},
			}})
		}
	}
	return t, t.setMarks(l.Painted), nil
}

// seams returns the edges of the tiles along one axis, ends included: the fewest
// tiles, each seam moved off the equal division, by as much as the limit leaves,
// to cross the fewest paint edges and keep off their nodes.
func seams(lo, hi, limit float64, painted g.Path, vertical bool) []float64 {
	n := max(1, int(math.Ceil((hi-lo)/limit-1e-9)))
	out := []float64{lo}
	slack := (limit - (hi-lo)/float64(n)) / 2
	var chords [][]g.Point
	for _, c := range painted {
		pts := c.Flattened(g.OutlineTolerance)
		chords = append(chords, append(pts, pts[0]))
	}
	for k := 1; k < n; k++ {
		equal := lo + (hi-lo)*float64(k)/float64(n)
		best, cost := equal, math.Inf(1)
		steps := int(slack * 8) // eighths of an inch
		for i := -steps; i <= steps; i++ {
			x := equal + float64(i)/8
			// moving off the equal division costs little, a crossing much
			if c := seamCost(x, chords, painted, vertical) + math.Abs(x-equal)/100; c < cost {
				best, cost = x, c
			}
		}
		out = append(out, best)
	}
	return append(out, hi)
}

// seamCost counts the paint edges a seam crosses, and adds what a node within
// half an inch of it costs.
func seamCost(x float64, chords [][]g.Point, painted g.Path, vertical bool) float64 {
	at := func(p g.Point) float64 {
		if vertical {
			return p.X
		}
		return p.Y
	}
	cost := 0.0
	for _, pts := range chords {
		for i := 1; i < len(pts); i++ {
			if (at(pts[i-1]) > x) != (at(pts[i]) > x) {
				cost++
			}
		}
	}
	for _, c := range painted {
		for _, s := range c.Segments {
			if s.Kind == g.Line {
				if d := math.Abs(at(s.End) - x); d < 0.5 {
					cost += 1 - d
				}
			}
		}
	}
	return cost
}

// Pieces returns the film of one mask, cell by cell. Where one cell holds the
// whole mask, its outlines are the mask's.
func (t Tiling) Pieces(m Mask) ([]Piece, error) {
	var out []Piece
	for _, c := range t.Cells {
		film := m.Film
		if len(t.Cells) > 1 {
			var err error
			if film, err = g.Intersect(m.Film, g.Path{g.Rectangle(c.Rect)}); err != nil {
				return nil, fmt.Errorf("%s tile %d-%d: %w", m.ID, c.Row, c.Column, err)
			}
		}
		out = append(out, Piece{ID: fmt.Sprintf("%s-tile-%d-%d", m.ID, c.Row, c.Column), Cell: c, Film: film})
	}
	return out, nil
}
