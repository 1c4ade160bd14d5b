package masks

import (
	g "maskloft/geometry"
)

// Polarity says whether the film of a mask has an opening or is pieces.
type Polarity string

// Polarities.
const (
	OpenFilm Polarity = "open"      // film all over the field, cut open where paint goes
	KeepDown Polarity = "keep-down" // pieces of film over paint that must stay; what is round them is weeded
)

// Mask is the film laid before one pass of one marking on one side.
//
// A keep-down film is carried with its surround as one sheet of its field's size:
// it is cut along the outlines of its pieces and round the sheet, laid by the
// registration marks that stand in the surround, and only then is the surround
// weeded. So a piece needs no mark of its own.
type Mask struct {
	ID       string
	Pass     int    // counted from 1 within the marking
	Paint    string // what is sprayed in this pass
	Polarity Polarity
	Keeps    string // the paint that a keep-down film keeps; empty for an open one
	Role     string // what the film does, in words
	Coats    int    // of the paint
	Under    int    // coats of under-coat before them
	Sprays   int    // coats that are sprayed while this film is on
	Pieces   int    // of film, before it is cut into tiles; of an open film the field is one

	Field      g.Rect   // what the film covers, arms left out: its paint (of a keep-down film, its pieces) and the field round it
	FieldWidth g.Length // of the field, before each side is moved out to a whole eighth of an inch

	Opening g.Path // what is sprayed in this pass
	Shows   g.Path // what remains to be seen of it; over all passes they tile the marking
	Film    g.Path // the film as cut: of an open film the field less the opening, of a keep-down film its pieces
	Stays   g.Path // all film that lies on the aircraft during this pass

	Features Features
}

// Area returns the area of film of a mask, in square inches.
func (m Mask) Area() float64 { return m.Film.Area() }

// Islands returns the number of pieces of film that hang on no other: those of an
// open film besides its field, which fall out when it is weeded, or all pieces of
// a keep-down film.
func (m Mask) Islands() int {
	if m.Polarity == OpenFilm {
		return m.Pieces - 1
	}
	return m.Pieces
}

// countPieces returns the number of connected parts of film. Contours that meet in
// a point hold nothing together there: film that hangs on the rest by such points
// alone, as a star whose points reach the edge of its disc, counts by itself. With
// contours as nodes and meetings as edges of a graph, every cycle of it encloses
// one such piece (Euler's formula).
func countPieces(p g.Path) int {
	seen := map[g.Point][]int{}
	group := make([]int, len(p))
	var find func(i int) int
	find = func(i int) int {
		if group[i] != i {
			group[i] = find(group[i])
		}
		return group[i]
	}
	n := len(components(p))
	for i, c := range p {
		group[i] = i
		for _, s := range c.Segments {
			seen[s.End] = append(seen[s.End], i)
			if all := seen[s.End]; len(all) > 1 {
				if a, b := find(all[0]), find(i); a != b {
					group[b] = a
				} else {
					n++
				}
			}
		}
	}
	return n
}

// components cuts a path into its connected parts: every outer contour with the
// holes that follow it.
func components(p g.Path) []g.Path {
	var out []g.Path
	for _, c := range p {
		if c.Area() > 0 || len(out) == 0 {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], c)
	}
	return out
}
