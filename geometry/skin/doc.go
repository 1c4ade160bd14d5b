// Package skin computes on the surface of an aircraft: where a side-view point
// lies on the skin, what shape a piece of film must have to lie on it, how far
// the film is strained, and what a tape along the skin reads.
//
// # One net
//
// A [Surface] is a grid of smooth panels between hard lines. Whatever it is made
// of, it is computed on as one triangulated [Net]: its vertices lie on the true
// surface, hard lines are grid lines, and its edges carry intrinsic lengths:
// distances along the skin, not chords (see [edgeLength]). Where a surface can
// be unrolled, the triangles of its net fit together in the plane without
// strain, however coarse the net.
//
// # One flat map
//
// [Flatten] lays the patch of net under a marking into the plane by least
// elastic strain. On a developable patch the least strain is zero and the map
// is exact; otherwise the [FlatMap] says how much the film is strained and
// where. The flat frame has its origin at the anchor and y along the anchor's
// up-direction, seen from outside.
//
// # One tape
//
// [Tape] is the shortest path over the net, unfolded to a straight line, both
// ways round tried.
//
// Parameters of a surface: U is the station in inches; V runs round the section
// and is periodic where the section is closed. No V is promised to be a
// length.
package skin
