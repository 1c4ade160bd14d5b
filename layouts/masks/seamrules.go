package masks

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// SeamRule is a rule for where a seam may stand, the gravest first. All are common
// practice, no source. A seam breaks one only where none of the places that the web
// and the longest tile leave keeps it, and a graver one never for a lighter.
type SeamRule int

// The rules.
const (
	AlongEdge     SeamRule = iota // no paint edge within 15 degrees of the seam's direction lies within 1/8 in
	ThroughIsland                 // no island of film, closed in by an opening, is cut
	NearCorner                    // no corner of an opening lies within 1/2 in
	NearPoint                     // no corner of less than 60 degrees lies within 1 in
	seamRuleCount
)

// String names the rule as findings and reports do.
func (r SeamRule) String() string {
	return [...]string{"along-edge", "through-island", "near-corner", "near-point"}[r]
}

// Figures of the rules, in inches and degrees (common practice, no source).
const (
	edgeAngle    = 15.0
	edgeClear    = 1.0 / 8
	cornerClear  = 1.0 / 2
	pointClear   = 1.0
	acuteAngle   = 60.0
	smoothTurn   = 15.0 // outlines that turn by no more have no corner there
	squareEnough = 60.0 // an edge is best crossed at this angle or more
)

// What a seam costs beside the rules it breaks, in crossings of a paint edge
// (judgement, no source): what is weighed against what, not how much it matters.
const (
	costFlat   = 2.0    // more for an edge crossed at no angle at all; none from squareEnough on
	costEnds   = 0.5    // more for a straight edge crossed at its end, or for a curved one; none in its middle
	costTape   = 3.0    // for a seam that lies on a finishing tape from end to end
	costOff    = 0.01   // an inch off the equal division
	costUneven = 0.0001 // for a place that is no whole sixteenth from the edge of the field
)

// span is an open interval of places of a seam.
type span struct{ lo, hi float64 }

func (s span) holds(x float64) bool { return x > s.lo+1e-9 && x < s.hi-1e-9 }

// seamField is what lies under the seams of one direction. Its points have the place
// of a seam as X and the way along the seam as Y.
type seamField struct {
	field   g.Rect
	blocked [seamRuleCount][]span
	edges   []paintEdge
	tapes   [][4]g.Point // convex
}

// paintEdge is a piece of an outline: one straight edge, or a chord of a curve.
type paintEdge struct {
	a, b     g.Point
	atA, atB g.Vec // directions there
	curved   bool
}

// turner returns the map that gives seams of one direction their place as X;
// upright seams, x constant, have it already.
func turner(upright bool) func(g.Point) g.Point {
	if upright {
		return func(p g.Point) g.Point { return p }
	}
	return func(p g.Point) g.Point { return g.Point{X: p.Y, Y: p.X} }
}

// seamFieldOf looks at the outlines of every opening: a border of two colours is an
// edge of both, because both films have it.
func seamFieldOf(masks []Mask, field g.Rect, tapes []g.Path, upright bool) *seamField {
	turn := turner(upright)
	s := &seamField{field: g.BoundsOf(turn(field.Min), turn(field.Max))}
	corners := map[g.Point]float64{} // the sharpest of those at one place
	var order []g.Point
	for _, m := range masks {
		for _, outline := range m.Opening {
			c := outline.Map(turn)
			if outline.Area() < 0 { // an opening's hole holds film
				b := c.Bounds()
				s.blocked[ThroughIsland] = append(s.blocked[ThroughIsland], span{b.Min.X, b.Max.X})
			}
			for i, seg := range c.Segments {
				s.blocked[AlongEdge] = append(s.blocked[AlongEdge], alongSpans(c.From(i), seg)...)
				at := g.Point{X: rounded(c.From(i).X), Y: rounded(c.From(i).Y)}
				if a := cornerAngle(c, i); a < 180-smoothTurn {
					if old, known := corners[at]; !known {
						corners[at], order = a, append(order, at)
					} else {
						corners[at] = min(old, a)
					}
				}
			}
			s.addEdges(c)
		}
	}
	for _, p := range order {
		s.blocked[NearCorner] = append(s.blocked[NearCorner], span{p.X - cornerClear, p.X + cornerClear})
		if corners[p] < acuteAngle {
			s.blocked[NearPoint] = append(s.blocked[NearPoint], span{p.X - pointClear, p.X + pointClear})
		}
	}
	for _, t := range tapes {
		for _, c := range t {
			q := c.Map(turn)
			s.tapes = append(s.tapes, [4]g.Point{q.From(0), q.From(1), q.From(2), q.From(3)})
		}
	}
	return s
}

func rounded(v float64) float64 { return math.Round(v/g.SnapTolerance) * g.SnapTolerance }

func (s *seamField) addEdges(c g.Contour) {
	pts := c.Sampled(0.01) // a cost, not an outline: a hundredth of an inch will do
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		e := paintEdge{a: p.Point, b: q.Point, curved: c.Segments[p.Segment].Kind == g.Cubic}
		if end := q.T; e.curved {
			if q.Segment != p.Segment {
				end = 1
			}
			e.atA, e.atB = c.Velocity(p.Segment, p.T).Unit(), c.Velocity(p.Segment, end).Unit()
		} else {
			e.atA = e.b.Sub(e.a).Unit()
			e.atB = e.atA
		}
		s.edges = append(s.edges, e)
	}
}

// alongSpans returns where a seam would run along a segment.
func alongSpans(from g.Point, seg g.Segment) []span {
	slope := same.Tan(edgeAngle * math.Pi / 180)
	if seg.Kind == g.Line {
		if d := seg.End.Sub(from); math.Abs(d.X) > slope*math.Abs(d.Y) {
			return nil
		}
		return []span{{min(from.X, seg.End.X) - edgeClear, max(from.X, seg.End.X) + edgeClear}}
	}
	// the derivative is d0 (1-t)^2 + 2 d1 t (1-t) + d2 t^2, but for a factor
	d0, d1, d2 := seg.C1.Sub(from), seg.C2.Sub(seg.C1), seg.End.Sub(seg.C2)
	along := func(v g.Vec, k float64) float64 { return v.X + float64(k*v.Y) }
	cuts := []float64{0}
	for _, k := range [3]float64{-slope, slope, 0} { // at the limits, and where the seam would touch
		cuts = append(cuts, bernsteinRoots(along(d0, k), along(d1, k), along(d2, k))...)
	}
	cuts = append(sortedFloats(cuts), 1)
	c := g.Contour{Start: from, Segments: []g.Segment{seg}}
	var out []span
	for i := 1; i < len(cuts); i++ {
		t := (cuts[i-1] + cuts[i]) / 2
		u := 1 - t
		v := d0.Scale(u * u).Add(d1.Scale(2 * u * t)).Add(d2.Scale(t * t))
		if math.Abs(v.X) > slope*math.Abs(v.Y) {
			continue
		}
		p, q := c.At(0, cuts[i-1]).X, c.At(0, cuts[i]).X
		out = append(out, span{min(p, q) - edgeClear, max(p, q) + edgeClear})
	}
	return out
}

// bernsteinRoots returns the roots in (0, 1) of a (1-t)^2 + 2 b t (1-t) + c t^2.
func bernsteinRoots(a, b, c float64) []float64 {
	var out []float64
	add := func(t float64) {
		if t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	q, h := a-2*b+c, b-a // q t^2 + 2 h t + a
	d := float64(h*h) - float64(q*a)
	if d < 0 {
		return nil
	}
	r := -(h + math.Copysign(math.Sqrt(d), h))
	if r != 0 {
		add(a / r)
	}
	if q != 0 {
		add(r / q)
	}
	return out
}

// cornerAngle returns the angle in degrees, at most 180, between the two edges that
// meet at the start of segment i of a closed contour.
func cornerAngle(c g.Contour, i int) float64 {
	return 180 - math.Abs(c.Turn((i+len(c.Segments)-1)%len(c.Segments)))*180/math.Pi
}

// seamCost is what a seam, or several, cost: the rules broken, counted by what they
// protect, and the rest.
type seamCost struct {
	broken [seamRuleCount]int
	rest   float64
}

func (c seamCost) plus(d seamCost) seamCost {
	for r := range c.broken {
		c.broken[r] += d.broken[r]
	}
	c.rest += d.rest
	return c
}

// less orders costs: the gravest rule first, the rest last.
func (c seamCost) less(d seamCost) bool {
	for r := range c.broken {
		if c.broken[r] != d.broken[r] {
			return c.broken[r] < d.broken[r]
		}
	}
	return c.rest < d.rest-1e-9 // a tie falls the same way on every machine
}

// at measures a seam at x.
func (s *seamField) at(x float64) Seam {
	out := Seam{At: x}
	for r := range s.blocked {
		for _, b := range s.blocked[r] {
			if b.holds(x) {
				out.Broken[r]++
			}
		}
	}
	for _, e := range s.edges {
		if (e.a.X > x) == (e.b.X > x) {
			continue
		}
		share := (x - e.a.X) / (e.b.X - e.a.X)
		d := e.atA.Add(e.atB.Sub(e.atA).Scale(share))
		angle := same.Atan2(math.Abs(d.X), math.Abs(d.Y)) * 180 / math.Pi
		out.Crossings++
		out.Cost++
		if angle < squareEnough {
			out.Flat++
			out.Cost += costFlat * (1 - angle/squareEnough)
		}
		if e.curved {
			out.Cost += costEnds
		} else {
			out.Cost += costEnds * math.Abs(2*share-1)
		}
	}
	on := 0.0
	for _, q := range s.tapes {
		on += chordOf(q, x)
	}
	out.OnTape = min(1, on/s.field.Height())
	out.Cost += float64(costTape * out.OnTape)
	if sixteenths := (x - s.field.Min.X) * 16; math.Abs(sixteenths-math.Round(sixteenths)) > 1e-6 {
		out.Cost += costUneven
	}
	return out
}

// chordOf returns the length that a convex quadrilateral cuts from the line of x.
func chordOf(q [4]g.Point, x float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, a := range q {
		if b := q[(i+1)%4]; (a.X > x) != (b.X > x) {
			y := a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
			lo, hi = min(lo, y), max(hi, y)
		}
	}
	return max(0, hi-lo)
}
