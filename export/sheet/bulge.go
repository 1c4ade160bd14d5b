package sheet

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// BulgeVertex is a vertex of a polyline of lines and arcs. Bulge is the tangent of a
// quarter of the angle that the arc to the next vertex turns through, counter-clockwise
// positive; 0 for a line.
type BulgeVertex struct {
	At    g.Point
	Bulge float64
}

// deepestBulge bounds how often a curve is halved: 2^12 arcs hold any curve of film.
const deepestBulge = 12

// Bulged returns a contour as lines and arcs that lie within tolerance of it. Lines
// stay lines and the ends of segments are kept. A cubic becomes two arcs that meet
// smoothly and keep its directions at both ends, in halves of it where that is too far
// off. The last vertex of an open contour is its end; that of a closed one is left out.
func Bulged(c g.Contour, tolerance float64) []BulgeVertex {
	var out []BulgeVertex
	for i, s := range c.Segments {
		if s.Kind == g.Cubic {
			out = bulgedCubic(out, [4]g.Point{c.From(i), s.C1, s.C2, s.End}, tolerance, 0)
		} else {
			out = append(out, BulgeVertex{At: c.From(i)})
		}
	}
	if !c.Closed() {
		out = append(out, BulgeVertex{At: c.End()})
	}
	return out
}

// bulgedCubic adds the vertices of a cubic, its end left out.
func bulgedCubic(out []BulgeVertex, p [4]g.Point, tolerance float64, depth int) []BulgeVertex {
	if straight(p, tolerance/4) {
		return append(out, BulgeVertex{At: p[0]})
	}
	if arcs, ok := biarc(p); ok && (depth == deepestBulge || arcsOff(arcs, p) <= tolerance*0.7) {
		return append(out, arcs[0], arcs[1])
	}
	if depth == deepestBulge {
		return append(out, BulgeVertex{At: p[0]})
	}
	mid := func(a, b g.Point) g.Point { return a.Lerp(b, 0.5) } // de Casteljau
	a, b, c := mid(p[0], p[1]), mid(p[1], p[2]), mid(p[2], p[3])
	d, e := mid(a, b), mid(b, c)
	m := mid(d, e)
	out = bulgedCubic(out, [4]g.Point{p[0], a, d, m}, tolerance, depth+1)
	return bulgedCubic(out, [4]g.Point{m, e, c, p[3]}, tolerance, depth+1)
}

// straight tells whether a cubic is within d of its chord: its control points are, and
// lie between the ends.
func straight(p [4]g.Point, d float64) bool {
	for _, q := range p[1:3] {
		if g.SegmentDistance(q, p[0], p[3]) > d {
			return false
		}
	}
	return true
}

// biarc returns two arcs from the start of a cubic to its end that share a direction
// where they meet and have the cubic's at the ends; their tangents from the ends to
// where these cross are all of one length d, with |p3 - d v - p0 - d u| = 2 d (Bolton
// 1975; derived). False where an arc would turn too far.
func biarc(p [4]g.Point) ([2]BulgeVertex, bool) {
	u, v := tangentOf(p[0], p[1], p[2], p[3]), tangentOf(p[3], p[2], p[1], p[0]).Scale(-1)
	chord := p[3].Sub(p[0])
	// 2 (1 - u.v) d^2 + 2 chord.(u + v) d = chord^2
	a, b, c := 2*(1-u.Dot(v)), 2*chord.Dot(u.Add(v)), chord.Dot(chord)
	below := b + math.Sqrt(max(0, float64(b*b)+float64(4*a*c)))
	if below <= 0 {
		return [2]BulgeVertex{}, false
	}
	d := 2 * c / below
	joint := p[0].Add(u.Scale(d)).Lerp(p[3].Add(v.Scale(-d)), 0.5)
	first, ok1 := bulgeOf(p[0], joint, u)
	last, ok2 := bulgeOf(p[3], joint, v.Scale(-1))
	return [2]BulgeVertex{{At: p[0], Bulge: first}, {At: joint, Bulge: -last}}, ok1 && ok2
}

// tangentOf returns the direction at a towards b, or where these are one point towards
// the next.
func tangentOf(a, b, c, d g.Point) g.Vec {
	for _, q := range []g.Point{b, c, d} {
		if v := q.Sub(a); v.Norm() > 1e-9 {
			return v.Unit()
		}
	}
	return g.Vec{}
}

// bulgeOf returns the bulge of the arc from a to b that leaves a in the direction u:
// the angle between chord and tangent is half of what the arc turns through.
func bulgeOf(a, b g.Point, u g.Vec) (float64, bool) {
	w := b.Sub(a)
	half := same.Atan2(u.Cross(w), u.Dot(w))
	if math.Abs(half) > 0.45*math.Pi {
		return 0, false
	}
	if bulge := same.Tan(half / 2); math.Abs(bulge)*w.Norm()/2 > flattest {
		return bulge, true
	}
	return 0, true
}

// flattest is how far the middle of an arc lies off its chord, in, for it to be an arc. A
// flatter one is a line: its centre would be too far away for the digits that it has.
const flattest = 1e-7

// arcsOff returns how far two arcs lie from a cubic at most, found at places of both: arcs
// that run past the cubic's end and back leave none of its places far away.
func arcsOff(arcs [2]BulgeVertex, p [4]g.Point) float64 {
	joint := arcs[1].At
	c := g.Contour{Start: p[0], Segments: []g.Segment{{Kind: g.Cubic, C1: p[1], C2: p[2], End: p[3]}}}
	worst := 0.0
	const n = 16
	for i := 1; i < n; i++ {
		q := c.At(0, float64(i)/n)
		worst = max(worst, min(arcDistance(p[0], joint, arcs[0].Bulge, q), arcDistance(joint, p[3], arcs[1].Bulge, q)))
	}
	for i := range n / 4 {
		part := (float64(i) + 0.5) * 4 / n
		worst = max(worst, cubicDistance(c, alongArc(p[0], joint, arcs[0].Bulge, part)))
		worst = max(worst, cubicDistance(c, alongArc(joint, p[3], arcs[1].Bulge, part)))
	}
	return worst
}

// alongArc returns the place at a part of the arc with a bulge from a to b.
func alongArc(a, b g.Point, bulge, part float64) g.Point {
	if math.Abs(bulge) < 1e-9 {
		return a.Lerp(b, part)
	}
	centre, _ := ArcCentre(a, b, bulge)
	sin, cos := same.Sincos(4 * same.Atan(bulge) * part)
	w := a.Sub(centre)
	return centre.Add(g.Vec{X: float64(w.X*cos) - float64(w.Y*sin), Y: float64(w.X*sin) + float64(w.Y*cos)})
}

// cubicDistance returns how far q is from a contour of one cubic: from the nearest of its
// sixteenths the place is narrowed down by thirds.
func cubicDistance(c g.Contour, q g.Point) float64 {
	const n = 16
	best, near := math.Inf(1), 0
	for i := range n + 1 {
		if d := c.At(0, float64(i)/n).Dist(q); d < best {
			best, near = d, i
		}
	}
	from, to := max(0, float64(near-1)/n), min(1, float64(near+1)/n)
	for range 24 {
		third := (to - from) / 3
		if c.At(0, from+third).Dist(q) < c.At(0, to-third).Dist(q) {
			to -= third
		} else {
			from += third
		}
	}
	return min(best, c.At(0, (from+to)/2).Dist(q))
}

// arcDistance returns how far q is from the arc with a bulge from a to b.
func arcDistance(a, b g.Point, bulge float64, q g.Point) float64 {
	chord := a.Dist(b)
	if math.Abs(bulge) < 1e-9 || chord == 0 {
		return g.SegmentDistance(q, a, b)
	}
	centre, radius := ArcCentre(a, b, bulge)
	// within the wedge of the arc the nearest point lies on the circle
	from, to := a.Sub(centre), b.Sub(centre)
	if bulge < 0 {
		from, to = to, from
	}
	if w := q.Sub(centre); from.Cross(w) >= 0 && w.Cross(to) >= 0 {
		return math.Abs(w.Norm() - radius)
	}
	return min(q.Dist(a), q.Dist(b))
}

// ArcCentre returns the middle and the radius of the arc with a bulge from a to b.
func ArcCentre(a, b g.Point, bulge float64) (g.Point, float64) {
	chord := b.Sub(a)
	// from the middle of the chord by (1 - bulge^2) / (4 bulge) of it, to the left
	off := chord.Perp().Scale((1 - float64(bulge*bulge)) / (4 * bulge))
	centre := a.Lerp(b, 0.5).Add(off)
	return centre, chord.Norm() * (1 + float64(bulge*bulge)) / (4 * math.Abs(bulge))
}
