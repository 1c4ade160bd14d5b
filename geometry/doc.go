// Package geometry holds the vocabulary that every other package speaks:
// lengths, positions on an aircraft, and plane outlines.
//
// # Units
//
// Every number inside is in inches, every angle in radians. [Length] is a
// distance; [Station], [ButtLine] and [Waterline] are positions. A position
// minus a position is a Length. Write 12 * geometry.Inch, read l.Inches().
//
// # Axes
//
// x runs aft (fuselage station, FS), y to the pilot's right (butt line, BL),
// z up (waterline, WL): right-handed. Left and Right are the pilot's.
// A drawing plane has x to the reader's right and y up, and is seen from
// outside the skin: on the left side x runs aft, on the right side forward.
//
// # Three figures, never mixed
//
// A Figure is a drawing in a plane. A Patch is that drawing lying on the skin.
// A Mask is the flat film. This package has only outlines ([Path]); the
// packages above wrap them in one of the three.
//
// # Outlines
//
// A [Path] is a set of closed contours of straight lines and cubic curves,
// outer contours counter-clockwise and holes clockwise, y up. Arcs enter as
// cubics, eight to a full circle (see [Circle]), which is round to 4.2e-6 of
// the radius. Every approximation takes its tolerance as an argument; the
// named tolerances stand with their reasons in tolerance.go.
package geometry
