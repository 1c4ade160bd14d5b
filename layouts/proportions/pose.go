package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// pose says where the rule's unit frame lies in the drawing: mirrored about its
// y axis first where it is, then turned (radians, counter-clockwise), grown by
// scale (inches) and moved to centre.
type pose struct {
	centre   geometry.Point
	scale    float64
	turn     float64
	mirrored bool
}

// unit takes a point of the drawing to the unit frame.
func (p pose) unit(q geometry.Point) geometry.Point {
	sin, cos := same.Sincos(-p.turn)
	v := q.Sub(p.centre).Scale(1 / p.scale)
	u := geometry.Point{X: float64(v.X*cos) - float64(v.Y*sin), Y: float64(v.X*sin) + float64(v.Y*cos)}
	if p.mirrored {
		u.X = -u.X
	}
	return u
}

// units takes points of the drawing to the unit frame.
func (p pose) units(points []geometry.Point) []geometry.Point {
	out := make([]geometry.Point, len(points))
	for i, q := range points {
		out[i] = p.unit(q)
	}
	return out
}

// line takes a line of the drawing to the unit frame.
func (p pose) line(f lineFit) lineFit {
	from := p.unit(f.at)
	f.dir = p.unit(f.at.Add(f.dir.Scale(p.scale))).Sub(from).Unit()
	f.at, f.rms, f.spread, f.from, f.to = from, f.rms/p.scale, f.spread/p.scale, f.from/p.scale, f.to/p.scale
	return f
}

// drawn takes a point of the unit frame to the drawing.
func (p pose) drawn(u geometry.Point) geometry.Point {
	if p.mirrored {
		u.X = -u.X
	}
	sin, cos := same.Sincos(p.turn)
	return p.centre.Add(geometry.Vec{X: float64(u.X*cos) - float64(u.Y*sin), Y: float64(u.X*sin) + float64(u.Y*cos)}.Scale(p.scale))
}

// Search of the turn, unit frame and degrees.
const (
	turnBins    = 360
	offsetNear  = 0.06 // an edge this much off may still vote for a turn
	turnsTried  = 4
	longestEdge = 1.7  // of a feature's length: a longer run is another edge
	leastEdge   = 0.25 // of a feature's length in sight
	mostEdges   = 600  // straight runs looked at: a title block has thousands
	fewEdges    = 48   // straight runs, the longest, that vote for a pose without circles
)

// edges returns the straight runs, the longest first and no more than mostEdges. In noise a straight run may
// have been taken for an arc of a very large circle.
func edges(runs []run) []run {
	var out []run
	for _, r := range runs {
		if !r.arc || r.turn < 1.25*arcTurn {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b run) int { return cmp.Compare(b.length, a.length) })
	return out[:min(len(out), mostEdges)]
}

// turns returns the turns that bring most length of straight edge onto edges of
// the rule, given centre and scale.
func (t *template) turns(at pose, straight []run) []float64 {
	bins := make([]float64, turnBins)
	sums := make([]float64, turnBins)
	put := func(turn, weight float64) {
		turn = math.Mod(turn+6*math.Pi, 2*math.Pi)
		b := int(math.Round(turn/(2*math.Pi)*turnBins)) % turnBins
		d := math.Remainder(turn-float64(b)*2*math.Pi/turnBins, 2*math.Pi)
		bins[b], sums[b] = bins[b]+weight, sums[b]+float64(weight*d)
	}
	for _, r := range straight {
		length := r.length / at.scale
		f := r.line
		if !r.straight {
			continue
		}
		off := f.offset(at.centre) / at.scale // of the centre, left of dir
		// The foot of the centre on the edge lies to the right of dir.
		dir := same.Atan2(f.dir.Y, f.dir.X)
		if off < 0 {
			dir, off = dir+math.Pi, -off
		}
		for _, g := range t.features {
			if g.circle || g.sight == 0 || length > longestEdge*g.reach || length < leastEdge*g.length {
				continue
			}
			if g.radial() { // which way it runs from the centre tells its two ways apart
				if out := f.middle().Sub(at.centre); math.Abs(off) < offsetNear && out.Norm() > 0.1*at.scale {
					way, to := g.a.Lerp(g.b, 0.5).Sub(geometry.Point{}), same.Atan2(out.Y, out.X)
					if at.mirrored {
						way.X = -way.X
					}
					put(to-same.Atan2(way.Y, way.X), math.Min(length, g.length)*(1-math.Abs(off)/offsetNear))
				}
				continue
			}
			goff, gdir := g.dir.Cross(geometry.Point{}.Sub(g.a)), same.Atan2(g.dir.Y, g.dir.X)
			if at.mirrored { // seen in a glass the edge runs the other way about the centre
				goff, gdir = -goff, math.Pi-gdir
			}
			if goff < 0 {
				gdir, goff = gdir+math.Pi, -goff
			}
			if math.Abs(goff-off) > offsetNear || goff < offsetNear/2 {
				continue // an edge through the centre does not tell its two ways apart
			}
			w := math.Min(length, g.length) * (1 - math.Abs(goff-off)/offsetNear)
			put(dir-gdir, w)
		}
	}
	var out []float64
	for range turnsTried {
		best, most := -1, 0.0
		for i := range bins {
			if w := bins[i] + (bins[(i+1)%turnBins]+bins[(i+turnBins-1)%turnBins])/2; bins[i] > 0 && w > most*(1+1e-9) {
				best, most = i, w
			}
		}
		if best < 0 {
			break
		}
		out = append(out, float64(best)*2*math.Pi/turnBins+sums[best]/bins[best])
		for k := -2; k <= 2; k++ {
			bins[(best+k+turnBins)%turnBins] = 0
		}
	}
	return out
}
