package scan

import (
	"context"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// scanGrid is the regular grid of rays that a scan is sampled on: n stations
// u0 + i du, and in each section plane m rays from the centre line, at the angles
// -pi + 2 pi j / m from the crown, positive towards the right side.
type scanGrid struct {
	ctx       context.Context // asked every 1,024 triangles
	u0, du    float64
	n, m      int
	cy, cz    []float64 // centre of each section
	out       []g.Vec3  // direction of each ray
	far, near []float64 // farthest and nearest hit of ray j of station i at i*m + j; NaN: none
	normals   []g.Vec3  // of the vertices
}

func (q *scanGrid) station(i int) float64 { return q.u0 + float64(float64(i)*q.du) }

// scanCut is where a section plane crosses an edge of a triangle: the place, and
// the shares of the triangle's corners in it.
type scanCut struct {
	p     g.Vec3
	share [3]float64
}

// cuts calls use for every section plane that crosses a triangle. Corners in a
// plane count as aft of it, and each crossing is computed from the edge alone,
// lower vertex first, so that sections of neighbours meet exactly.
func (q *scanGrid) cuts(s *Scan, use func(tri, station int, a, b scanCut)) {
	for t, c := range s.Triangles {
		if t%1024 == 0 && q.ctx.Err() != nil {
			return // who made the grid returns the error
		}
		x := [3]float64{s.Vertices[c[0]].X, s.Vertices[c[1]].X, s.Vertices[c[2]].X}
		lo, hi := min(x[0], x[1], x[2]), max(x[0], x[1], x[2])
		first := max(0, int(math.Floor((lo-q.u0)/q.du)))
		last := min(q.n-1, int(math.Ceil((hi-q.u0)/q.du)))
		for i := first; i <= last; i++ {
			u := q.station(i)
			var cut [2]scanCut
			n := 0
			for k := range c {
				l := (k + 1) % 3
				if (x[k] < u) == (x[l] < u) {
					continue
				}
				a, b := k, l
				if c[a] > c[b] {
					a, b = b, a
				}
				f := (u - x[a]) / (x[b] - x[a])
				cut[n].p = s.Vertices[c[a]].Lerp(s.Vertices[c[b]], f)
				cut[n].share[a], cut[n].share[b] = 1-f, f
				n++
			}
			if n == 2 {
				use(t, i, cut[0], cut[1])
			}
		}
	}
}

// centreLine finds the centres: of the box round each section, smoothed along the
// body so that waves shorter than reach vanish. It tells whether two sections
// or more met the scan.
func (q *scanGrid) centreLine(s *Scan, reach float64) bool {
	type box struct{ y0, y1, z0, z1, length float64 }
	boxes := make([]box, q.n)
	for i := range boxes {
		boxes[i] = box{y0: math.Inf(1), y1: math.Inf(-1), z0: math.Inf(1), z1: math.Inf(-1)}
	}
	q.cuts(s, func(_, i int, a, b scanCut) {
		x := &boxes[i]
		x.y0, x.y1 = min(x.y0, a.p.Y, b.p.Y), max(x.y1, a.p.Y, b.p.Y)
		x.z0, x.z1 = min(x.z0, a.p.Z, b.p.Z), max(x.z1, a.p.Z, b.p.Z)
		x.length += same.Hypot(a.p.Y-b.p.Y, a.p.Z-b.p.Z)
	})
	y, z, weight := make([]float64, q.n), make([]float64, q.n), make([]float64, q.n)
	met, most := 0, 0.0
	for _, x := range boxes {
		most = math.Max(most, x.length)
	}
	for i, x := range boxes {
		if x.length > 0 {
			// long sections count most: a scrap at a ragged end is no section
			y[i], z[i], weight[i] = (x.y0+x.y1)/2, (x.z0+x.z1)/2, x.length/most
			met++
		}
	}
	if met < 2 {
		return false
	}
	stiffness := same.Pow(reach/(2*math.Pi*q.du), 4)
	q.cy, q.cz = scanSmoothed(y, weight, stiffness), scanSmoothed(z, weight, stiffness)
	return true
}

// shoot finds, for every ray, the farthest and the nearest place where it meets
// the scan.
func (q *scanGrid) shoot(s *Scan) {
	q.far, q.near = make([]float64, q.n*q.m), make([]float64, q.n*q.m)
	for k := range q.far {
		q.far[k], q.near[k] = math.NaN(), math.NaN()
	}
	q.out = make([]g.Vec3, q.m)
	for j := range q.out {
		sin, cos := same.Sincos(-math.Pi + 2*math.Pi*float64(j)/float64(q.m))
		q.out[j] = g.Vec3{Y: sin, Z: cos}
	}
	q.normals = s.vertexNormals()
	step := 2 * math.Pi / float64(q.m)
	q.cuts(s, func(tri, i int, a, b scanCut) {
		centre := g.Vec3{X: q.station(i), Y: q.cy[i], Z: q.cz[i]}
		pa, pb := a.p.Sub(centre), b.p.Sub(centre)
		va, vb := same.Atan2(pa.Y, pa.Z), same.Atan2(pb.Y, pb.Z)
		if va > vb {
			va, vb = vb, va
		}
		if vb-va > math.Pi { // the short way leads over the keel
			va, vb = vb, va+2*math.Pi
		}
		first, last := int(math.Floor((va+math.Pi)/step))-1, int(math.Ceil((vb+math.Pi)/step))+1
		if vb-va > math.Pi-1e-3 { // through the centre or nearly so: try all
			first, last = 0, q.m-1
		}
		for j := first; j <= last; j++ {
			ray := ((j % q.m) + q.m) % q.m
			d := q.out[ray]
			// which side of the ray: points on it count to one side
			sa := float64(d.Y*pa.Z) - float64(d.Z*pa.Y)
			sb := float64(d.Y*pb.Z) - float64(d.Z*pb.Y)
			if (sa < 0) == (sb < 0) {
				continue
			}
			f := sa / (sa - sb)
			r := pa.Lerp(pb, f).Dot(d)
			if !(r > 0) {
				continue
			}
			var share [3]float64
			for k := range share {
				share[k] = a.share[k] + float64(f*(b.share[k]-a.share[k]))
			}
			r = q.raised(s, tri, centre, d, r, share)
			at := &q.far[i*q.m+ray]
			if !(*at >= r) {
				*at = r
			}
			if at = &q.near[i*q.m+ray]; !(*at <= r) {
				*at = r
			}
		}
	})
}

// vertexNormals returns unit normals of the vertices from their triangles, each
// weighing the sine of its angle there over the lengths of its two sides: exact
// for vertices on a sphere (Max, Weights for Computing Vertex Normals from Facet
// Normals, J. Graphics Tools 4, 1999; from memory). Zero where they cancel.
func (s *Scan) vertexNormals() []g.Vec3 {
	out := make([]g.Vec3, len(s.Vertices))
	for _, t := range s.Triangles {
		for k := range t {
			p := s.Vertices[t[k]]
			a, b := s.Vertices[t[(k+1)%3]].Sub(p), s.Vertices[t[(k+2)%3]].Sub(p)
			if w := a.Dot(a) * b.Dot(b); w > 0 {
				out[t[k]] = out[t[k]].Add(a.Cross(b).Scale(1 / w))
			}
		}
	}
	for i := range out {
		out[i] = out[i].Unit()
	}
	return out
}

// Cosines that bound where a hit is raised: vertex normals within 20 degrees of
// the triangle's, and rays within 78 degrees of those.
const (
	scanCreaseCos = 0.94
	scanGrazeCos  = 0.2
)

// raised moves a hit, r along d from the centre, from the flat triangle out to
// the curved skin that its corners and their normals belong to: half way to the
// mean, by the corners' shares, of where the ray meets the corners' tangent
// planes. Exact to second order: for a height of second degree, the chord plane
// lies above it by as much as the mean of the tangent planes lies below
// (derived). Across a crease, where the normals of the corners differ from the
// triangle's by more than 20 degrees, the hit stays on the triangle.
func (q *scanGrid) raised(s *Scan, tri int, centre, d g.Vec3, r float64, share [3]float64) float64 {
	t := s.Triangles[tri]
	flat := s.area2(t).Unit()
	mean := 0.0
	for k, v := range t {
		n := q.normals[v]
		dn := d.Dot(n)
		if n.Dot(flat) < scanCreaseCos || math.Abs(dn) < scanGrazeCos {
			return r
		}
		mean += share[k] * s.Vertices[v].Sub(centre).Dot(n) / dn
	}
	return (r + mean) / 2
}
