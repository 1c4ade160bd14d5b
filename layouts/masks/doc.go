// Package masks turns placed markings into film.
//
//	Lay:     Layout -> []Laid    each marking flat, with one Mask for every pass
//	Survey:  Laid -> Surveyed    what stands round each one and lies under it
//	Tile:    Laid -> Tiling      the film cut to the web, with registration marks
//	Nest:    Tiling -> Run       all films of the job on the web
//	Tapes:   Tiling -> TapeList  how to find every point on the aircraft, and how well
//	AsBuilt: readings -> BuiltMask  where the markings really are
//
// A pass is one spray of one paint. Its mask is the film that lies on the
// aircraft while it is sprayed: the opening is what gets the paint, the film is
// what it keeps clear. The openings of all passes of a marking are disjoint and
// together they are the marking, because each is cut from one set of outlines.
//
// All masks of a marking have one field (their outer rectangle), one set of
// tiles and one set of registration marks, so that a mark is the same physical
// point on every pass, on both neighbours of a seam, and on the skin.
package masks
