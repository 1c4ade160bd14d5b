// Package proportions measures the insignia in a drawing and holds it against a
// published rule. It sees outlines only, never the numbers that drew them.
//
// # One way through
//
//	outlines -> nodes -> runs -> pose -> edges of the rule -> dimensions -> checks
//
// Nodes: every contour becomes a row of points that lie on what was drawn:
// nodes of the outline, and points of its cubics. Points inside a chord are not
// taken, for a circle drawn in chords touches it at the nodes only.
//
// Runs: the row is cut where it costs least into straight edges and arcs, by
// dynamic programming over prefix sums of moments. The noise of the contour is
// tried at a few levels and the shortest description wins (residuals, number of
// runs, noise: minimum description length), so a clean file and a traced
// photograph take the same way.
//
// Pose: every circle of a rule is about one centre, so the centre is where most
// length of arc agrees. A scale is one circle found taken for one circle of the
// rule; a turn comes from straight edges. Every pose is measured out and the one
// in which most dimensions conform is kept: with one part wrong, the others
// outvote it. Where the vote is even the governing disc decides. A rule without
// circles takes its pose from one straight edge.
//
// Size: where numbers of a rule hang on the governing size (flashes in inches, a
// surround of 75 mm) and it is not said, the drawing must be at true size: the sizes
// that its circles and long edges give are tried, and the best is kept.
//
// Edges: parallel edges of bars, stripe and border are matched in their order
// across the bar and not by nearness, so that a bar of half the length is not
// taken for its neighbour; edges that adjoining parts share are one. A star's edges
// are matched one by one. Only edges in sight are looked for: where the paints on
// either side differ, and what is left out is no paint. Each edge is then
// fitted anew over the stretch where the rule has it in sight: lines by total least
// squares, circles about the centre.
//
// Dimensions: every number of the rule, from fitted edges alone, in units of the
// fitted governing radius. Each has a standard error from the scatter about the
// fits and the number of nodes that bear it.
//
// # Frame
//
// Drawings have y up, inches; turn is in degrees, counter-clockwise. Within, the
// unit frame has the rule's own axes, its centre at the origin and the governing
// radius 1.
//
// # What it will not do
//
// Tell paints apart. Outlines have none, so of a checker or a flash it cannot say
// which of two sides that look alike is wrong.
//
// Guess. Where the edges scatter by more than 1 % of the governing radius, where a
// part is missing and another rule fits, or too little is found, the error is of type [*NotRecognised] and says what was found and what not.
//
// A new kind of part is one row of kinds.
package proportions
