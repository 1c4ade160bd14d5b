package masks

import (
	"math"

	g "maskloft/geometry"
)

// looker tries the rules on outlines cut into short chords, one by one, with every
// limit moved by a slack: it shares no code with the rules it looks after.
type looker struct {
	chords  [][2]g.Point // place as X
	islands [][2]float64
	corners []g.Point
	points  []g.Point
}

func lookAt(l Laid, upright bool) looker {
	var k looker
	for _, m := range l.Masks {
		for _, c := range m.Opening {
			var pts []g.Point
			first := map[int]bool{} // where segments begin
			for i := range c.Segments {
				first[len(pts)] = true
				n := 1
				if c.Segments[i].Kind == g.Cubic {
					n = 64
				}
				for s := range n {
					p := c.At(i, float64(s)/float64(n))
					if !upright {
						p.X, p.Y = p.Y, p.X
					}
					pts = append(pts, p)
				}
			}
			lo, hi := math.Inf(1), math.Inf(-1)
			for i, p := range pts {
				q, before := pts[(i+1)%len(pts)], pts[(i+len(pts)-1)%len(pts)]
				k.chords = append(k.chords, [2]g.Point{p, q})
				lo, hi = math.Min(lo, p.X), math.Max(hi, p.X)
				if !first[i] {
					continue
				}
				a, b := before.Sub(p).Unit(), q.Sub(p).Unit()
				angle := math.Acos(math.Max(-1, math.Min(1, a.Dot(b)))) * 180 / math.Pi
				if angle < 165 {
					k.corners = append(k.corners, p)
				}
				if angle < 60 {
					k.points = append(k.points, p)
				}
			}
			if c.Area() < 0 {
				k.islands = append(k.islands, [2]float64{lo, hi})
			}
		}
	}
	return k
}

// broken returns which rules a seam at x breaks. With a slack above 0 a seam that only
// just keeps a rule breaks it, below 0 one that only just breaks it keeps it.
func (k looker) broken(x, slack float64) [seamRuleCount]bool {
	var out [seamRuleCount]bool
	for _, c := range k.chords {
		d := c[1].Sub(c[0])
		flat := math.Atan2(math.Abs(d.X), math.Abs(d.Y))*180/math.Pi < 15+math.Copysign(2, slack)
		if flat && x > math.Min(c[0].X, c[1].X)-0.125-slack && x < math.Max(c[0].X, c[1].X)+0.125+slack {
			out[AlongEdge] = true
		}
	}
	for _, i := range k.islands {
		out[ThroughIsland] = out[ThroughIsland] || x > i[0]-slack && x < i[1]+slack
	}
	for _, p := range k.corners {
		out[NearCorner] = out[NearCorner] || math.Abs(p.X-x) < 0.5+slack
	}
	for _, p := range k.points {
		out[NearPoint] = out[NearPoint] || math.Abs(p.X-x) < 1+slack
	}
	return out
}

const slack = 0.002 // inches: chords of a 64th of an arc of 45 degrees lie nearer
