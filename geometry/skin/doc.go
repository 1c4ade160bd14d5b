// Package skin computes on the surface of an aircraft: where a side-view point
// lies on the skin, what shape a piece of film must have to lie on it, how far
// the film is strained, and what a tape along the skin reads.
//
// # One net
//
// A [Surface] is a grid of smooth panels between hard lines. Whatever it is made
// of, it is computed on as one [Net]: its nodes lie on the true surface, hard lines
// are grid lines. Its triangles carry intrinsic lengths, distances along the skin
// and not chords (see [edgeLength]), so that those of a skin that can be unrolled
// fit together in the plane however coarse they are.
//
// # One flat map
//
// [Flatten] lays the patch of net under a marking into the plane by least
// elastic strain, cubics running from node to node within a panel. On a
// developable patch the least strain is zero and the map is exact; otherwise the
// [FlatMap] says how much the film is strained and where. The net is halved until
// the answer stands. The flat frame has its origin at the anchor and y along the
// anchor's up-direction, seen from outside.
//
// # One tape
//
// [Tape] starts from the shortest path over a coarse net, unfolded to a straight
// line, both ways round tried, and slides beads along it to the least length.
// [PullTaut] bridges hollows.
//
// # Lines of sight
//
// A [Sighting] is a skin made ready to be looked at: where a line of sight meets it,
// and whether it hides what is behind.
//
// # What does not lie on film
//
// A pole or apex inside the film, a patch that folds or overlaps itself, a place
// off the skin: each is refused with its place and what to do (poles.go,
// overlap.go, folds.go, sectioncheck.go).
//
// Parameters of a surface: U is the station in inches; V runs round the section
// and is periodic where the section is closed. No V is promised to be a
// length.
package skin
