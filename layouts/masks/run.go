package masks

import (
	"slices"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// WebFilm is one film to lay on the web: the rectangle that a tile of one pass takes
// up in its marking's flat.
type WebFilm struct {
	ID            string
	Width, Height g.Length // along the drawing's x and y
	Turned        bool     // its tiling has the drawing's y along the web
}

// Run is how all films of a job lie on the web.
type Run struct {
	Web        g.Length
	Usable     g.Length // of the web, between the margins that the cutter cannot reach
	Lead, Tail g.Length
	Grain      layouts.Grain
	Films      []PlacedFilm // numbered along the run
	Stretches  []Stretch    // that are cut in one go; see [Split]
	Length     g.Length     // lead and tail included
	Shelves    g.Length     // the length of the same films on shelves; see [shelves]
	LowerBound g.Length     // no run of these films is shorter; see [lowerBound]
}

// PlacedFilm is a film on the web.
type PlacedFilm struct {
	WebFilm
	Number int    // from 1 in the order of the run
	Rect   g.Rect // x along the web from its beginning, y across from its edge
	Across bool   // the drawing's x lies across the web
}

// WebGap is the space between two films on the web (common practice, no source).
const WebGap = g.Inch / 2

// Films returns the films of all masks, in the reading order of the job: markings,
// passes, tiles.
func Films(tilings []Tiling) []WebFilm {
	var out []WebFilm
	for _, t := range tilings {
		for k, m := range t.Laid.Masks {
			f := t.Films[k]
			for _, c := range f.Cells {
				b := c.Bounds()
				out = append(out, WebFilm{ID: tileID(m, c), Width: g.Length(b.Width()), Height: g.Length(b.Height()), Turned: f.Turned})
			}
		}
	}
	return out
}

// Number returns the number along the run of the film of that id; 0 for none.
func (r Run) Number(id string) int {
	return slices.IndexFunc(r.Films, func(f PlacedFilm) bool { return f.ID == id }) + 1
}

// Waste returns the fraction of the run's film that is not film of a tile.
func (r Run) Waste() float64 {
	used := 0.0
	for _, f := range r.Films {
		used += float64(f.Width.Inches() * f.Height.Inches())
	}
	if r.Length <= 0 {
		return 0
	}
	return 1 - used/(r.Web.Inches()*r.Length.Inches())
}

// Nest lays films on the web, for the shortest run it finds: by skylines under several
// orders and a search from the best of them, and never longer than shelves. It is the
// same on every machine. Lengths are those of film: on the web no two films come
// nearer than [WebGap].
//
// Order: films of one size stand along the run in the order given, and parts of the run
// that a straight cut parts stand in the order of their first films.
func Nest(films []WebFilm, film layouts.FilmSpec) Run {
	run := Run{Web: film.Web, Usable: film.Web - 2*film.Across, Lead: film.Lead, Tail: film.Tail, Grain: film.Seam.Grain}
	if len(films) == 0 {
		return run
	}
	p := newPacking(films, run)
	onShelves := p.shelves()
	best := p.search(onShelves)
	p.inOrder(best)
	run.Shelves, run.LowerBound = run.ends(onShelves.length), run.ends(p.lowerBound())
	run.Length = run.ends(best.length)
	run.Films = p.placed(best, films, g.Point{X: run.Lead.Inches(), Y: film.Across.Inches()})
	for i := range run.Films {
		run.Films[i].Number = i + 1
	}
	return run
}

// ends adds lead and tail to a packed length, and takes off its last gap.
func (r Run) ends(units int64) g.Length { return fromUnits(units) - WebGap + r.Lead + r.Tail }
