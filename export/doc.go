// Package export turns what was computed into files, and reads files back.
//
// # One direction
//
// The domain is turned into a [Sheet]: a page at true size, in inches, y up,
// origin at the lower left corner. The writers [WriteSVG], [WritePDF] and
// [WritePNG] know only sheets. [ReadSVG] and [ReadPDF] know only files, and return a [Drawing]
// in the same frame. [Audit] holds one against the other; [Hygiene] tells
// whether an outline is fit to be cut. A [Pack] puts all files of a job in
// place together, or none.
//
// # What is written
//
// SVG and PDF hold the same geometry at the same size: absolute lines and
// cubics, rounded by less than 1e-6 in; closed contours filled by the even-odd
// rule; no transform, clip or style sheet. Letters are outlines, but in a PDF a
// [Saying] is text in an embedded font, which can be searched. Same sheet, same
// bytes: no clock, no random order.
//
// # What is read
//
// The readers read more than the writers write, since files come back from
// elsewhere. They measure outlines and nothing else: paint is not judged, and a
// contour is closed when the file closes it or brings it back exactly to its
// start; that a fill would close it does not count. What a reader cannot measure
// it refuses: an error, never a wrong answer.
package export
