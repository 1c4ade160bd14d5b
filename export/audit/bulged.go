package audit

import (
	"fmt"
	"math"

	"maskloft/export/drawing"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// AuditDXF reads a written DXF file back and measures it against its sheet: the layers,
// the contours of each, closed as they are, and how far its lines and arcs lie from the
// outlines, which is an error above tolerance (inches).
func AuditDXF(s sheet.Sheet, written []byte, tolerance float64) (Audited, error) {
	pages, err := ReadDrawings(written, drawing.DXF)
	if err != nil {
		return Audited{}, fmt.Errorf("audit: %w", err)
	}
	d := pages[0]
	a := Audited{Width: d.Width, Height: d.Height}
	a.off(math.Abs(d.Width-s.Width), "width of the page")
	a.off(math.Abs(d.Height-s.Height), "height of the page")
	for i, l := range s.Layers {
		if i >= len(d.Layers) || d.Layers[i].Name != sheet.DXFLayer(l.Name) {
			return a, fmt.Errorf("audit: sheet %q: layer %d of the file is not %q", s.Title, i+1, sheet.DXFLayer(l.Name))
		}
		var want g.Path
		for _, it := range l.Items {
			want = append(want, it.Path...)
		}
		if err := a.compareBulged(l.Name, want, d.Layers[i].Path()); err != nil {
			return a, fmt.Errorf("audit: sheet %q, layer %q: %w", s.Title, l.Name, err)
		}
	}
	if len(d.Layers) > len(s.Layers) {
		return a, fmt.Errorf("audit: sheet %q: the file has %d layers, not %d", s.Title, len(d.Layers), len(s.Layers))
	}
	if !(a.Deviation <= tolerance) {
		return a, fmt.Errorf("audit: sheet %q, %s: off by %.3g in, above the limit of %.3g in", s.Title, a.Where, a.Deviation, tolerance)
	}
	return a, nil
}

// roundedOff is by how much a coordinate of a file may be rounded, in inches.
const roundedOff = 2e-6

// compareBulged holds contours of lines and arcs against those they stand for. The ends
// of segments are kept, so that each stretch of the one is held against its segment of
// the other.
func (a *Audited) compareBulged(layer string, want, got g.Path) error {
	if len(want) != len(got) {
		return fmt.Errorf("%d contours, not %d", len(got), len(want))
	}
	for i, c := range want {
		d := got[i]
		if c.Closed() != d.Closed() {
			return fmt.Errorf("contour %d: closed is %t, not %t", i+1, d.Closed(), c.Closed())
		}
		a.off(c.Start.Dist(d.Start), "layer %q, contour %d, its start", layer, i+1)
		next := 0
		for k, s := range c.Segments {
			first := next
			for next < len(d.Segments) {
				next++
				if d.Segments[next-1].End.Dist(s.End) <= roundedOff && (next == len(d.Segments) || k < len(c.Segments)-1) {
					break
				}
			}
			if first == next || d.Segments[next-1].End.Dist(s.End) > roundedOff {
				return fmt.Errorf("contour %d: it does not come to the end of segment %d", i+1, k+1)
			}
			for n := first; n < next; n++ {
				for _, t := range [4]float64{0.25, 0.5, 0.75, 1} {
					a.off(offSegment(c, k, d.At(n, t)), "layer %q, contour %d, segment %d", layer, i+1, k+1)
				}
			}
		}
		if next != len(d.Segments) {
			return fmt.Errorf("contour %d: it goes on beyond its last segment", i+1)
		}
	}
	return nil
}

// offSegment returns how far q is from a segment of a contour: the nearest of 33 places
// along it, made closer by golden section.
func offSegment(c g.Contour, segment int, q g.Point) float64 {
	if c.Segments[segment].Kind == g.Line {
		return g.SegmentDistance(q, c.From(segment), c.Segments[segment].End)
	}
	const n = 32
	best, at := math.Inf(1), 0
	for i := 0; i <= n; i++ {
		if d := c.At(segment, float64(i)/n).Dist(q); d < best {
			best, at = d, i
		}
	}
	const golden = 0.6180339887498949
	lo, hi := math.Max(0, float64(at-1)/n), math.Min(1, float64(at+1)/n)
	for range 40 {
		x, y := hi-float64(golden*(hi-lo)), lo+float64(golden*(hi-lo))
		if c.At(segment, x).Dist(q) < c.At(segment, y).Dist(q) {
			hi = y
		} else {
			lo = x
		}
	}
	return math.Min(best, c.At(segment, (lo+hi)/2).Dist(q))
}
