// Package masks turns placed markings into film.
//
//	Lay:     Layout -> []Laid    each marking flat, with one Mask for every pass
//	Survey:  Laid -> Surveyed    what stands round each one and lies under it
//	Tile:    Laid -> Tiling      the film cut to the web, with registration marks
//	Nest:    Tiling -> Run       all films of the job on the web
//	Tapes:   Tiling -> TapeList  how to find every point on the aircraft, and how well
//	AsBuilt: readings -> BuiltMask  where the markings really are
//
// A pass is one spray of one paint. Its mask is the film laid before it: open film
// with an opening for the paint, or pieces that keep an earlier paint down. What is
// sprayed may run under later paints, by the trap; what shows of the passes at the
// end is disjoint and together is the marking, because all is cut from one set of
// outlines.
//
// All masks of a marking have one field (their outer rectangle), one set of
// tiles and one set of registration marks, so that a mark is the same physical
// point on every pass, on both neighbours of a seam, and on the skin.
package masks
