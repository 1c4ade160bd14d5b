package sheet

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// mitreLimit is the longest corner of a stroke, in widths of it; a sharper one is cut
// off (the default of SVG 1.1, clause 11.4, which the PDF asks for as well).
const mitreLimit = 4.0

// roundStep is the largest turn from chord to chord of a round corner, in radians: a chord
// of a halo three pixels wide then lies within a twentieth of a pixel.
const roundStep = 0.4

// stroked returns a run of chords drawn with a pen of width w as closed polygons, to
// be filled by the non-zero rule, corners round or mitred. Ends are cut square at the last point. All turn the
// same way round, so that pieces which overlap do not cancel.
func stroked(pts []g.Point, closed, round bool, w float64) [][]g.Point {
	if pts = distinct(pts, closed); len(pts) < 2 {
		return nil
	}
	if closed && len(pts) < 3 {
		closed, pts = false, append(pts, pts[0])
	}
	back := make([]g.Point, len(pts))
	for i, p := range pts {
		back[len(pts)-1-i] = p
	}
	one, other := beside(pts, closed, round, w/2), beside(back, closed, round, w/2)
	if closed {
		return [][]g.Point{one, other}
	}
	return [][]g.Point{append(one, other...)}
}

// distinct leaves out points that repeat the one before them.
func distinct(pts []g.Point, closed bool) []g.Point {
	out := make([]g.Point, 0, len(pts))
	for _, p := range pts {
		if len(out) == 0 || p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	for closed && len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}

// beside returns the line to the left of a run of chords, y up, at distance h.
func beside(pts []g.Point, closed, round bool, h float64) []g.Point {
	n := len(pts)
	out := make([]g.Point, 0, n+n/2)
	for i, p := range pts {
		if !closed && (i == 0 || i == n-1) {
			k := max(1, i)
			out = append(out, p.Add(pts[k].Sub(pts[k-1]).Unit().Perp().Scale(h)))
			continue
		}
		in, on := p.Sub(pts[(i+n-1)%n]), pts[(i+1)%n].Sub(p)
		u, v := in.Unit(), on.Unit()
		a, b := u.Perp().Scale(h), v.Perp().Scale(h)
		half := math.Sqrt(max(0, (1+u.Dot(v))/2)) // cosine of half the turn
		inner := u.Cross(v) > 0
		reach := h * math.Sqrt(max(0, 1-float64(half*half)))
		switch {
		case round && !inner:
			out = append(out, p.Add(a))
			turn := same.Atan2(u.Cross(v), u.Dot(v))
			for k, n := 1, int(math.Ceil(math.Abs(turn)/roundStep)); k < n; k++ {
				sin, cos := same.Sincos(turn * float64(k) / float64(n))
				out = append(out, p.Add(g.Vec{X: float64(a.X*cos) - float64(a.Y*sin), Y: float64(a.X*sin) + float64(a.Y*cos)}))
			}
			out = append(out, p.Add(b))
		case half*mitreLimit < 1, inner && reach > half*min(in.Norm(), on.Norm()):
			out = append(out, p.Add(a))
			if inner {
				out = append(out, p)
			}
			out = append(out, p.Add(b))
		default:
			out = append(out, p.Add(a.Add(b).Scale(1/(2*half*half))))
		}
	}
	return out
}

// dashed cuts a run of chords into dashes: lengths of dash and gap in turn, an odd
// number of them taken twice (SVG 1.1, clause 11.4). A run without dashes is itself.
func dashed(pts []g.Point, closed bool, dash []float64) (runs [][]g.Point, open bool) {
	whole := 0.0
	for _, d := range dash {
		whole += d
	}
	if whole <= 0 {
		return [][]g.Point{pts}, !closed
	}
	if closed {
		pts = append(pts[:len(pts):len(pts)], pts[0])
	}
	k, left := 0, dash[0]
	run := []g.Point{pts[0]}
	for i := 1; i < len(pts); i++ {
		from, to := pts[i-1], pts[i]
		for d := from.Dist(to); d > left; d = from.Dist(to) {
			from = from.Lerp(to, left/d)
			if k%2 == 0 {
				runs = append(runs, append(run, from))
			}
			k++
			left, run = dash[k%len(dash)], []g.Point{from}
		}
		left -= from.Dist(to)
		run = append(run, to)
	}
	if k%2 == 0 {
		runs = append(runs, run)
	}
	return runs, true
}

// StrokeArea returns what a pen of width w, inches, covers along a path, with mitred
// corners: to be filled by the even-odd rule where the path is closed, and else by the
// non-zero rule, which an area of one contour does not tell apart.
//
// Errors: those of [g.Filled] and [g.Offset].
func StrokeArea(p g.Path, w float64) (g.Path, error) {
	var closed, out g.Path
	for _, c := range p {
		if c.Closed() {
			closed = append(closed, c)
			continue
		}
		for _, ring := range stroked(c.Flattened(strokeChords*w), false, false, w) {
			out = append(out, g.Polygon(ring...))
		}
	}
	if len(closed) == 0 {
		return out, nil
	}
	filled, err := g.Filled(closed)
	if err != nil {
		return nil, err
	}
	for _, way := range []float64{1, -1} {
		edge, err := g.Offset(filled, g.Length(way*w/2), g.MiterJoin, strokeChords*w)
		if err != nil {
			return nil, err
		}
		out = append(out, edge...)
	}
	return out, nil
}

// strokeChords is the accuracy of the area of a pen, of its width.
const strokeChords = 1e-3
