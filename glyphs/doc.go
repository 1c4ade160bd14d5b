// Package glyphs makes letters: block alphabets given as ratios, fonts, and the
// labels of sheets.
//
// An [Alphabet] is a file of ratios: strokes, widths, gaps, corners, the heights
// of middle bars, and the form of each character that has more than one.
// alphabets/block-6x4.yaml shows every key. A character is a skeleton, the centre
// lines of its strokes (forms.go, figures.go), turned into outlines of constant
// stroke (block.go). A stroke that leaves the character's cell is cut flush with
// it, as diagonals are at the cap line and the baseline. A stock typeface is the
// commonest fault of repainted markings; where one is the evidence, a [Font] is read
// from its file. Both are a [Typeface].
//
// [Set] turns a text into a [Lettering]: every character with its place and angle, in
// lines, fitted to a width, or along an arc. [HoldIslands] ties or bridges the
// film inside closed letters.
//
// [Measure] goes the other way: it takes the ratios off any outline by scan lines
// and opposite edges. Measures of old paint ([ReadMeasured]) are held against the
// outlines of candidates ([Nearest]), or an alphabet is fitted to them ([Fit]),
// which says what it had no measure for. [Alphabet.Specimen] is what a specimen
// sheet shows.
//
// Units: inches, y up, baseline at y = 0, left edge at x = 0. Outlines are
// regions: outer contours counter-clockwise, counters clockwise.
package glyphs
