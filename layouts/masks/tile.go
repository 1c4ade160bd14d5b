package masks

import (
	"context"
	"fmt"
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Tiling is the film of every pass of one marking, cut to the web, and the registration
// marks by which one pass is laid after another.
type Tiling struct {
	Laid  Laid
	Films []TiledFilm // one a mask, in the order of Laid.Masks
	Marks []RegistrationMark
}

// TiledFilm is how the film of one mask is divided into tiles that fit the web.
type TiledFilm struct {
	Field   g.Rect // of its mask: what the cells divide
	Rows    int
	Columns int
	Turned  bool     // the drawing's y runs along the web
	Seams   []Seam   // upright ones from the reader's left, then level ones from the top
	Cells   []Cell   // that are cut: row by row from the top, from the reader's left
	Paper   []g.Rect // cells that hold no paint edge: no film is cut, paper covers them
	Open    []g.Rect // cells that are painted all over: neither film nor paper
	Ticks   []MatchTick
}

// Cell is one tile of one pass.
type Cell struct {
	Row, Column int      // from 1 at the top left, as seen from outside
	Rect        g.Rect   // from seam to seam, as far as its paint edges and their field reach
	Arms        []g.Rect // narrow film from Rect to registration marks outside it
	Reach       g.Path   // what the film of the tile covers: the rectangle, its overlaps and arms
	Marks       []int    // indices into Tiling.Marks
	Ticks       []int    // indices into TiledFilm.Ticks
	open        [4]bool  // by side: no tile is cut beyond it
}

// Bounds returns the rectangle that the film of the tile takes up.
func (c Cell) Bounds() g.Rect { return c.Reach.Bounds() }

// Tile is the film of one mask in one cell: what is cut from one file.
type Tile struct {
	ID     string
	Cell   Cell
	Film   g.Path    // closed outlines of the pieces of film that stay
	Frame  g.Path    // closed outline of the sheet of film, cut last
	Number int       // along the run of all films; 0 where they are not nested
	Size   []g.Point // of the windows by which the size of the first film is checked: a corner, one along from it, one up
}

// TileOne divides one laid marking of a layout.
func TileOne(l *layouts.Layout, one Laid) (Tiling, []layouts.Finding, error) {
	t, findings, err := tileOne(one, l.Spec.Film, finishingTapes(l.Spec.Aircraft, one))
	if err == nil {
		findings = append(narrowedFields(one, l.Spec), findings...)
	}
	return t, findings, err
}

// TileEach divides every laid marking, in their order, by what divides one: as a rule
// [TileOne]. One that cannot be divided is left out, and is a finding under
// [layouts.MissingRule].
//
// Errors: ctx is done.
func TileEach(ctx context.Context, laid []Laid, tile func(Laid) (Tiling, []layouts.Finding, error)) ([]Tiling, []layouts.Finding, error) {
	var out []Tiling
	var findings []layouts.Finding
	for _, one := range laid {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		t, more, err := tile(one)
		if err != nil {
			findings = append(findings, layouts.Missing(one.ID(), one.Placement.Marking.Place, one.Placement.Anchor, err))
			continue
		}
		out, findings = append(out, t), append(findings, more...)
	}
	return out, findings, nil
}

// tileOne divides the films of a laid marking: the fewest tiles that the web and the
// longest tile allow, with seams where [SeamRule] and the costs beside it have them.
// Tiles without a paint edge are left out. Tapes are those under the film; see
// [finishingTapes].
//
// Errors: the web has no usable width. Findings: seams that had to break a rule, a
// tile that has no room for three registration marks, a film that shares fewer than
// three with the one before it.
func tileOne(l Laid, film layouts.FilmSpec, tapes []g.Path) (Tiling, []layouts.Finding, error) {
	t := Tiling{Laid: l}
	var findings []layouts.Finding
	for _, m := range l.Masks {
		f, d, err := divideMask(m, film, tapes)
		if err != nil {
			return Tiling{}, nil, err
		}
		t.Films = append(t.Films, f)
		findings = append(findings, t.inspectSeams(m, f, d)...)
	}
	findings = append(findings, t.setMarks(film)...)
	for k := range t.Films {
		if err := t.setReach(k, film.Seam); err != nil {
			return Tiling{}, nil, err
		}
		t.setTicks(k)
	}
	return t, findings, nil
}

// divideMask divides the film of one mask, and leaves out the tiles without a paint
// edge.
func divideMask(m Mask, film layouts.FilmSpec, tapes []g.Path) (TiledFilm, division, error) {
	reach := film.Seam.Reach().Inches()
	usable, longest := (film.Web - 2*film.Across).Inches(), film.Longest.Inches()
	if usable <= 0 || longest <= 0 {
		return TiledFilm{}, division{}, fmt.Errorf("%v: film: web %v less two margins of %v leaves nothing to cut", film.Place, film.Web, film.Across)
	}
	parted := m
	parted.Opening = m.EdgeOfPaint()
	upright, level := seamFieldOf([]Mask{parted}, m.Field, tapes, true), seamFieldOf([]Mask{parted}, m.Field, tapes, false)
	d, ok := divide(upright, level, usable, longest, reach, film.Seam.Grain != layouts.KeepGrain)
	if !ok {
		return TiledFilm{}, d, fmt.Errorf("%v: film: tiles of %s in across the web and %s in along it are too small for an overlap of %s in",
			film.Place, g.FormatNumber(usable, 3), g.FormatNumber(longest, 3), g.FormatNumber(reach, 3))
	}
	f := TiledFilm{Field: m.Field, Columns: len(d.xs) + 1, Rows: len(d.ys) + 1, Turned: d.turned}
	xs, ys := []float64{m.Field.Min.X}, []float64{m.Field.Min.Y}
	for _, s := range d.xs {
		s.Upright = true
		xs, f.Seams = append(xs, s.At), append(f.Seams, s)
	}
	for _, s := range d.ys {
		ys = append(ys, s.At)
	}
	for _, s := range slices.Backward(d.ys) {
		f.Seams = append(f.Seams, s)
	}
	xs, ys = append(xs, m.Field.Max.X), append(ys, m.Field.Max.Y)
	f.setCells(m, xs, ys)
	return f, d, nil
}

// FilmOf returns the film of a mask of the marking.
func (t Tiling) FilmOf(m Mask) TiledFilm { return t.Films[m.Pass-1] }

// TileCount returns how many tiles are cut for all passes.
func (t Tiling) TileCount() int {
	n := 0
	for _, f := range t.Films {
		n += len(f.Cells)
	}
	return n
}

// Tiles returns the film of one mask, cell by cell.
func (t Tiling) Tiles(m Mask) ([]Tile, error) {
	f := t.FilmOf(m)
	film := m.Film
	var out []Tile
	for _, c := range f.Cells {
		tile := Tile{ID: tileID(m, c), Cell: c, Film: film, Frame: c.Reach}
		if len(f.Cells)+len(f.Paper) > 1 || len(c.Arms) > 0 {
			var err error
			if tile.Film, err = tileFilm(m, c); err != nil {
				return nil, fmt.Errorf("%s: %w", tile.ID, err)
			}
		}
		out = append(out, tile)
	}
	return out, nil
}

// TileIDs returns the ids of [Tiling.Tiles].
func (t Tiling) TileIDs(m Mask) []string {
	var out []string
	for _, c := range t.FilmOf(m).Cells {
		out = append(out, tileID(m, c))
	}
	return out
}

// tileFilm returns what a cell has of a mask's film: of an open film with the cell's
// arms, which lie beyond the field.
func tileFilm(m Mask, c Cell) (g.Path, error) {
	var arms g.Path
	if m.Polarity == OpenFilm && len(c.Arms) > 0 {
		var err error
		if arms, err = filledRects(c.Arms...); err != nil {
			return nil, err
		}
	}
	over, err := g.Overlaid(m.Film, arms, c.Reach)
	if err != nil {
		return nil, err
	}
	piece, err := over.Region(func(in []bool) bool { return (in[0] || in[1]) && in[2] })
	return piece.Joined(), err
}

// filledRects returns what some rectangles cover together.
func filledRects(rs ...g.Rect) (g.Path, error) {
	var all g.Path
	for _, r := range rs {
		all = append(all, g.Rectangle(r))
	}
	return g.Filled(all)
}

func tileID(m Mask, c Cell) string { return fmt.Sprintf("%s-tile-%d-%d", m.ID, c.Row, c.Column) }
