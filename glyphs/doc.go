// Package glyphs makes letters: block alphabets given as ratios, and the labels
// of sheets.
//
// An [Alphabet] is a grid and a stroke. A character is a skeleton, the centre
// lines of its strokes on the grid, turned into outlines of constant stroke. A
// stroke that leaves the character's cell is cut flush with it, as diagonals are
// at the cap line and the baseline. No font file is involved: a stock typeface
// is the commonest fault of repainted markings.
//
// Units: inches, y up, baseline at y = 0, left edge at x = 0. Outlines are
// regions: outer contours counter-clockwise, counters clockwise.
package glyphs
