package audit

import (
	"math"

	g "maskloft/geometry"
)

// deformation is how a sent drawing became the one that came back: an affine map, and
// then an offset of the region to cut, in inches of the drawing that came back: above
// 0 where the region has grown, its holes shrunk.
type deformation struct {
	m      g.Affine
	offset float64
}

// outward is a place on an outline that was sent, and the direction out of the region
// to cut.
type outward struct {
	g.Point
	out g.Vec
}

// outwards returns places along an outline, a step apart. Hole tells that the region
// lies outside of it.
func (p piece) outwards(step float64, hole bool) []outward {
	turn := 1.0 // to the right of an outline that runs counter-clockwise
	if p.signed() < 0 {
		turn = -1
	}
	if hole {
		turn = -turn
	}
	var out []outward
	since := step
	for i, a := range p.points {
		b := p.points[(i+1)%len(p.points)]
		length := a.Dist(b)
		if since += length; length == 0 || since < step {
			continue
		}
		n := max(1, int(length/step))
		side := b.Sub(a).Unit().Perp().Scale(-turn)
		for k := range n {
			out = append(out, outward{a.Lerp(b, (float64(k)+0.5)/float64(n)), side})
		}
		since = 0
	}
	return out
}

// signed returns the area, above 0 where the outline runs counter-clockwise.
func (p piece) signed() float64 {
	sum := 0.0
	for i, a := range p.points {
		b := p.points[(i+1)%len(p.points)]
		sum += g.Vec(a).Cross(g.Vec(b))
	}
	return sum / 2
}

// Fitting a deformation.
const (
	deformRounds = 14
	deformFrom   = 0.05   // inches of the drawing sent that count as no deviation, in the first round
	deformCloser = 0.6    // and less in each
	deformLeast  = 0.0003 // but no less
	deformReach  = 0.6    // inches: what lies farther off is another outline's
	offsetGain   = 0.6    // of what is left without an offset: with one so much less must be
	offsetLeast  = 0.002  // inches: a smaller offset is none
)

// deform fits size, turn and mirror together with an offset, over the outlines that a
// first map brought together: least absolute deviations across the outlines, so that a
// piece out of place does not pull. Holes tells which of the sent outlines are holes of
// the region. Where outlines alone cannot tell an offset from a size, as of one circle,
// it is a size.
func (f pieceFit) deform(holes []bool) deformation {
	plain := f.deformOnce(holes, deformation{m: f.m}, false)
	grown := f.deformOnce(holes, plain, true)
	scale := math.Sqrt(math.Abs(float64(grown.m[0]*grown.m[3]) - float64(grown.m[1]*grown.m[2])))
	if math.Abs(grown.offset) < offsetLeast*scale || f.left(holes, grown) > offsetGain*f.left(holes, plain) {
		return plain
	}
	return grown
}

// left returns the mean distance across between the outlines under a deformation.
func (f pieceFit) left(holes []bool, d deformation) float64 {
	sum, n := 0.0, 0.0
	for _, l := range f.links(holes, d) {
		sum, n = sum+math.Min(math.Abs(l.off), deformReach), n+1
	}
	return sum / math.Max(1, n)
}

// deformLink is a place that was sent, the direction out of the region there in the
// drawing that came back, and how far out of where it should be the outline lies.
type deformLink struct {
	from g.Point
	out  g.Vec
	to   g.Point
	off  float64
}

func (f pieceFit) links(holes []bool, d deformation) []deformLink {
	var out []deformLink
	for _, p := range f.pairs {
		if !p.ours.cut {
			continue
		}
		for _, q := range p.ours.outwards(p.ours.length/fine*2, holes[p.i]) {
			n := mapNormal(d.m, q.out)
			at := d.m.Apply(q.Point).Add(n.Scale(d.offset))
			to, _ := p.theirs.nearest(at)
			out = append(out, deformLink{q.Point, n, to, to.Sub(at).Dot(n)})
		}
	}
	return out
}

// mapNormal carries a direction across an outline through a map.
func mapNormal(m g.Affine, n g.Vec) g.Vec {
	det := float64(m[0]*m[3]) - float64(m[1]*m[2])
	v := g.Vec{X: float64(m[3]*n.X) - float64(m[1]*n.Y), Y: float64(m[0]*n.Y) - float64(m[2]*n.X)}
	if det < 0 {
		v = v.Scale(-1)
	}
	return v.Unit()
}

func (f pieceFit) deformOnce(holes []bool, d deformation, withOffset bool) deformation {
	scale := math.Sqrt(math.Abs(float64(d.m[0]*d.m[3]) - float64(d.m[1]*d.m[2])))
	close := deformFrom * scale
	for range deformRounds {
		var a [7][8]float64
		for _, l := range f.links(holes, d) {
			if math.Abs(l.off) > deformReach*scale {
				continue
			}
			w := 1 / (math.Abs(l.off) + close)
			row := [7]float64{l.out.X * l.from.X, l.out.Y * l.from.X, l.out.X * l.from.Y, l.out.Y * l.from.Y, l.out.X, l.out.Y, 0}
			if withOffset {
				row[6] = 1
			}
			at := d.m.Apply(l.from)
			want := l.off + d.offset + l.out.Dot(g.Vec(at))
			for i := range 7 {
				for j := range 7 {
					a[i][j] += float64(w * row[i] * row[j])
				}
				a[i][7] += float64(w * row[i] * want)
			}
		}
		a[6][6] += 1e-6 // no offset where nothing tells one
		if !withOffset {
			a[6][6], a[6][7] = 1, 0
		}
		x, ok := solve7(a)
		if !ok {
			return d
		}
		d = deformation{g.Affine{x[0], x[1], x[2], x[3], x[4], x[5]}, x[6]}
		close = math.Max(deformLeast*scale, close*deformCloser)
	}
	return d
}

// solve7 solves seven equations, the right side in the last column, by elimination
// with the largest pivot.
func solve7(a [7][8]float64) (x [7]float64, ok bool) {
	largest := 0.0
	for i := range a {
		largest = math.Max(largest, math.Abs(a[i][i]))
	}
	for k := range 7 {
		p := k
		for i := k + 1; i < 7; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		a[k], a[p] = a[p], a[k]
		if !(math.Abs(a[k][k]) > 1e-13*largest) {
			return x, false
		}
		for i := k + 1; i < 7; i++ {
			f := a[i][k] / a[k][k]
			for j := k; j < 8; j++ {
				a[i][j] -= float64(f * a[k][j])
			}
		}
	}
	for i := 6; i >= 0; i-- {
		x[i] = a[i][7]
		for j := i + 1; j < 7; j++ {
			x[i] -= float64(a[i][j] * x[j])
		}
		x[i] /= a[i][i]
	}
	return x, true
}

// holesOf tells which of the sent outlines lie within an odd number of others of the
// region to cut.
func holesOf(list []piece) []bool {
	out := make([]bool, len(list))
	for i, p := range list {
		n := 0
		for j, q := range list {
			if i != j && q.cut && q.area > p.area && g.Inside(p.points[0], q.points) {
				n++
			}
		}
		out[i] = n%2 == 1
	}
	return out
}
