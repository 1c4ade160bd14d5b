package masks

import (
	"context"
	"fmt"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Tiling is the division of all masks of one marking into tiles that fit the
// web, and the registration marks and match ticks they share.
type Tiling struct {
	Laid    Laid
	Rows    int
	Columns int
	Turned  bool   // the drawing's y runs along the web
	Seams   []Seam // upright ones from the reader's left, then level ones from the top
	Cells   []Cell // row by row from the top, from the reader's left
	Marks   []RegistrationMark
	Ticks   []MatchTick
}

// Cell is one tile, the same for every pass.
type Cell struct {
	Row, Column int    // from 1 at the top left, as seen from outside
	Rect        g.Rect // from seam to seam: the cells divide the field
	Reach       g.Path // what the film of the tile covers: the rectangle and its overlaps
	Marks       []int  // indices into Tiling.Marks
	Ticks       []int  // indices into Tiling.Ticks
}

// Bounds returns the rectangle that the film of the tile takes up.
func (c Cell) Bounds() g.Rect { return c.Reach.Bounds() }

// Piece is the film of one mask in one cell: what is cut from one file.
type Piece struct {
	ID     string
	Cell   Cell
	Film   g.Path // closed outlines of the pieces of film
	Number int    // along the run of all films; 0 where they are not nested
}

// Tile divides every laid marking of a layout, in their order; see [tileOne]. One that
// cannot be divided is left out, and is a finding under [layouts.MissingRule].
//
// Errors: ctx is done.
func Tile(ctx context.Context, l *layouts.Layout, laid []Laid) ([]Tiling, []layouts.Finding, error) {
	var out []Tiling
	var findings []layouts.Finding
	for _, one := range laid {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		t, more, err := tileOne(one, l.Spec.Film, tapesUnder(l.Spec.Aircraft, one))
		if err != nil {
			findings = append(findings, layouts.Missing(one.ID(), one.Placement.Marking.Place, one.Placement.Anchor, err))
			continue
		}
		if f, ok := t.seamSpared(l.Spec); ok {
			more = append(more, f)
		}
		out, findings = append(out, t), append(findings, more...)
	}
	return out, findings, nil
}

// tileOne divides a laid marking: the fewest tiles that the web and the longest tile
// allow, with seams where [SeamRule] and the costs beside it have them. Tapes are
// those under the film; see [tapesUnder].
//
// Errors: the web has no usable width. Findings: seams that had to break a rule, a
// tile that has no room for three registration marks, a seam that a narrower field
// would spare.
func tileOne(l Laid, film layouts.FilmSpec, tapes []g.Path) (Tiling, []layouts.Finding, error) {
	reach := film.Seam.Reach().Inches()
	usable, longest := (film.Web - 2*film.Across).Inches(), film.Longest.Inches()
	if usable <= 0 || longest <= 0 {
		return Tiling{}, nil, fmt.Errorf("%v: film: web %v less two margins of %v leaves nothing to cut", film.Place, film.Web, film.Across)
	}
	upright, level := seamGroundOf(l.Masks, l.Field, tapes, true), seamGroundOf(l.Masks, l.Field, tapes, false)
	d, ok := divide(upright, level, usable, longest, reach, film.Seam.Grain != layouts.KeepGrain)
	if !ok {
		return Tiling{}, nil, fmt.Errorf("%v: film: tiles of %s in across the web and %s in along it are too small for an overlap of %s in",
			film.Place, g.FormatNumber(usable, 3), g.FormatNumber(longest, 3), g.FormatNumber(reach, 3))
	}
	t := Tiling{Laid: l, Columns: len(d.xs) + 1, Rows: len(d.ys) + 1, Turned: d.turned}
	xs, ys := []float64{l.Field.Min.X}, []float64{l.Field.Min.Y}
	for _, s := range d.xs {
		s.Upright = true
		xs, t.Seams = append(xs, s.At), append(t.Seams, s)
	}
	for _, s := range d.ys {
		ys = append(ys, s.At)
	}
	for _, s := range slices.Backward(d.ys) {
		t.Seams = append(t.Seams, s)
	}
	xs, ys = append(xs, l.Field.Max.X), append(ys, l.Field.Max.Y)
	for r := 1; r <= t.Rows; r++ {
		for c := 1; c <= t.Columns; c++ {
			top := t.Rows - r
			t.Cells = append(t.Cells, Cell{Row: r, Column: c, Rect: g.Rect{
				Min: g.Point{X: xs[c-1], Y: ys[top]}, Max: g.Point{X: xs[c], Y: ys[top+1]},
			}})
		}
	}
	if err := t.setReach(film.Seam); err != nil {
		return Tiling{}, nil, err
	}
	findings := append(t.inspectSeams(d, film), t.setMarks(l.Painted)...)
	t.setTicks()
	return t, findings, nil
}

// Pieces returns the film of one mask, cell by cell. Where one cell holds the
// whole mask, its outlines are the mask's.
func (t Tiling) Pieces(m Mask) ([]Piece, error) {
	var out []Piece
	for _, c := range t.Cells {
		film := m.Film
		if len(t.Cells) > 1 {
			var err error
			if film, err = g.Intersect(m.Film, c.Reach); err != nil {
				return nil, fmt.Errorf("%s: %w", pieceID(m, c), err)
			}
		}
		out = append(out, Piece{ID: pieceID(m, c), Cell: c, Film: film})
	}
	return out, nil
}

func pieceID(m Mask, c Cell) string { return fmt.Sprintf("%s-tile-%d-%d", m.ID, c.Row, c.Column) }
