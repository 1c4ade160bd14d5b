package geometry

import (
	"math"
	"sort"
)

// cross marks the crossings of every pair of curves on both, and the places
// where they come closest without crossing. It returns the pairs that run beside
// one another somewhere, in order.
func (a *arrangement) cross(tolerance float64, marks [][]stop) [][2]int {
	var beside, pairs [][2]int
	boxes := make([]Rect, len(a.curves))
	for i, k := range a.curves {
		boxes[i] = k.boxes[1]
	}
	reach := 2 * tolerance
	sweepPairs(boxes, boxes, reach, func(i, j int) {
		if i < j {
			pairs = append(pairs, [2]int{i, j})
		}
	})
	sort.Slice(pairs, func(i, j int) bool {
		p, q := pairs[i], pairs[j]
		return p[0] < q[0] || (p[0] == q[0] && p[1] < q[1])
	})
	for _, ij := range pairs {
		k, o := a.curves[ij[0]], a.curves[ij[1]]
		// mark puts k at s and o at t, which are at most limit apart, on the
		// arrangement: one vertex where they are one point.
		mark := func(s, t, limit float64) {
			p, q := k.at(s), o.at(t)
			s, t = math.Max(0, math.Min(1, s)), math.Max(0, math.Min(1, t))
			if k.at(s).Dist(p) > weldDistance || o.at(t).Dist(q) > weldDistance || p.Dist(q) > limit {
				return
			}
			x := a.vertices.add(p)
			y := x
			if p.Dist(q) > weldDistance {
				y = a.vertices.add(q)
			}
			marks[ij[0]] = append(marks[ij[0]], stop{s, x})
			marks[ij[1]] = append(marks[ij[1]], stop{t, y})
		}
		parallel := false
		nearChords(k, o, reach, func(m, n int) {
			v, w := k.pts[m+1].Sub(k.pts[m]), o.pts[n+1].Sub(o.pts[n])
			d, f := v.Cross(w), o.pts[n].Sub(k.pts[m])
			ds, dt := k.ts[m+1]-k.ts[m], o.ts[n+1]-o.ts[n]
			if math.Abs(d) <= 0.05*v.Norm()*w.Norm() {
				parallel = true
				s, t, ok := graze(k, o, k.ts[m]+ds/2, o.ts[n]+dt/2)
				if ok && math.Abs(s-k.ts[m]-ds/2) < 2*ds && math.Abs(t-o.ts[n]-dt/2) < 2*dt {
					mark(s, t, reach)
				}
			}
			if d == 0 {
				return
			}
			// Where the chords cross, produced by half their length each way:
			// the curves may cross just past a node.
			s, t := f.Cross(w)/d, f.Cross(v)/d
			if s < -0.5 || s > 1.5 || t < -0.5 || t > 1.5 {
				return
			}
			if s, t, ok := meet(k, o, k.ts[m]+float64(s*ds), o.ts[n]+float64(t*dt)); ok {
				mark(s, t, weldDistance)
			}
		})
		if parallel {
			beside = append(beside, ij)
		}
	}
	return beside
}

// graze returns the parameters at which k and o run parallel and face each
// other, by Newton from the start (s, t): where they touch, if they do. Curves
// that lie on one another have no such single place.
func graze(k, o *sourceCurve, s, t float64) (float64, float64, bool) {
	for n := 0; n < 12; n++ {
		r, v, w := k.at(s).Sub(o.at(t)), k.velocity(s), o.velocity(t)
		kv, kw := k.acceleration(s), o.acceleration(t)
		// v × w = 0 and r · v = 0, with their derivatives by s and t.
		f, g := v.Cross(w), r.Dot(v)
		fs, ft := kv.Cross(w), v.Cross(kw)
		gs, gt := v.Dot(v)+r.Dot(kv), -w.Dot(v)
		det := float64(fs*gt) - float64(ft*gs)
		if math.Abs(det) <= 1e-6*v.Dot(v)*w.Dot(w) {
			return 0, 0, false
		}
		ds, dt := (float64(f*gt)-float64(ft*g))/det, (float64(fs*g)-float64(f*gs))/det
		s, t = s-ds, t-dt
		if s < -0.5 || s > 1.5 || t < -0.5 || t > 1.5 {
			return 0, 0, false
		}
		if math.Abs(ds) < 1e-13 && math.Abs(dt) < 1e-13 {
			return s, t, true
		}
	}
	return 0, 0, false
}

// meet returns the parameters at which k and o cross, by Newton on the two true
// curves from the start (s, t). A crossing flatter than flattestCrossing is not
// answered: there the place is not determined by the curves.
func meet(k, o *sourceCurve, s, t float64) (float64, float64, bool) {
	for n := 0; n < 24; n++ {
		f, v, w := o.at(t).Sub(k.at(s)), k.velocity(s), o.velocity(t)
		d := v.Cross(w)
		if math.Abs(d) <= flattestCrossing*v.Norm()*w.Norm() {
			return 0, 0, false
		}
		ds, dt := f.Cross(w)/d, f.Cross(v)/d
		s, t = s+ds, t+dt
		if s < -0.5 || s > 1.5 || t < -0.5 || t > 1.5 {
			return 0, 0, false
		}
		if math.Abs(ds) < 1e-14 && math.Abs(dt) < 1e-14 {
			break
		}
	}
	return s, t, k.at(s).Dist(o.at(t)) < 1e-9
}

// flattestCrossing is the sine of the least angle at which two curves are said
// to cross at a point: at 1e-5 an error of 1e-12 in a curve moves the crossing
// by 1e-7, which is weldDistance.
const flattestCrossing = 1e-5
