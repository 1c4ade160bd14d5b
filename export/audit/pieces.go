package audit

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"maskloft/export/drawing"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// piece is a closed outline by its measures, all in inches of its own drawing.
type piece struct {
	points []g.Point // closed polygon along the outline, first point not repeated
	area   float64   // above 0
	length float64
	centre g.Point // of the area
	box    g.Rect
	nodes  int
	cut    bool    // of the layer that is cut
	gap    float64 // between its ends, where it is closed but for that
}

// size is a length to compare with.
func (p piece) size() float64 { return math.Sqrt(p.area) }

// compactness is 4 pi area over the square of the length: the same at any size,
// turn and mirror; 1 for a circle.
func (p piece) compactness() float64 { return 4 * math.Pi * p.area / (p.length * p.length) }

// pieceOf measures a contour; false where it encloses nothing. Ends that meet but
// for a thousandth of the outline count as closed: some programs write them so.
func pieceOf(c g.Contour) (piece, bool) {
	box := c.Bounds()
	span := math.Max(box.Width(), box.Height())
	if !(span > 0) || c.Start.Dist(c.End()) > 1e-3*span {
		return piece{}, false
	}
	pts := c.Flattened(2e-5 * span)
	if n := len(pts); n > 1 && pts[0].Dist(pts[n-1]) <= 1e-3*span {
		pts = pts[:n-1]
	}
	p := piece{points: pts, box: box, nodes: len(c.Segments), gap: c.Start.Dist(c.End())}
	p.centre, p.area = g.Centroid(pts)
	for i, a := range pts {
		p.length += a.Dist(pts[(i+1)%len(pts)])
	}
	if math.Abs(p.area) < 1e-6*span*span {
		return piece{}, false
	}
	p.area = math.Abs(p.area)
	return p, true
}

// closedOutlines counts the outlines that may be pieces, before any is measured.
func closedOutlines(d drawing.Drawing) int {
	n := 0
	for _, l := range d.Layers {
		for _, it := range l.Items {
			for _, c := range it.Path {
				if c.Closed() {
					n++
				}
			}
		}
	}
	return n
}

// piecesOf returns the closed outlines of a drawing, largest first.
func piecesOf(d drawing.Drawing) []piece {
	var out []piece
	for _, l := range d.Layers {
		for _, c := range l.Path() {
			if p, ok := pieceOf(c); ok {
				p.cut = cutLayer(l.Name)
				out = append(out, p)
			}
		}
	}
	sortPieces(out)
	return out
}

// sortPieces puts the largest first.
func sortPieces(list []piece) {
	slices.SortStableFunc(list, func(a, b piece) int { return cmp.Compare(b.area, a.area) })
}

// cutLayer tells whether what stands in a layer is cut: in a DXF file, which knows
// capitals alone, as in the others.
func cutLayer(name string) bool {
	name = strings.ToLower(name)
	return name == sheet.LayerCut || name == sheet.LayerRegistration
}

// sentPieces returns the outlines of a file that was sent, those that are cut
// before the others.
func sentPieces(d drawing.Drawing) []piece {
	out := piecesOf(d)
	slices.SortStableFunc(out, func(a, b piece) int {
		switch {
		case a.cut && !b.cut:
			return -1
		case b.cut && !a.cut:
			return 1
		}
		return 0
	})
	return out
}

// nearest returns the point of the outline nearest to q, and its distance.
func (p piece) nearest(q g.Point) (g.Point, float64) {
	best, at := math.Inf(1), g.Point{}
	for i, a := range p.points {
		c := g.NearestOnSegment(q, a, p.points[(i+1)%len(p.points)])
		if e := c.Dist(q); e < best {
			best, at = e, c
		}
	}
	return at, best
}

// along returns points about a step apart along the outline; corners further apart
// than that are among them.
func (p piece) along(step float64) []g.Point {
	var out []g.Point
	since := step
	for i, a := range p.points {
		b := p.points[(i+1)%len(p.points)]
		length := a.Dist(b)
		if since+length < step {
			since += length
			continue
		}
		n := max(1, int(length/step))
		for k := range n {
			out = append(out, a.Lerp(b, float64(k)/float64(n)))
		}
		since = length / float64(n)
	}
	return out
}
