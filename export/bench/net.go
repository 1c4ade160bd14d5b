package bench

import (
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/skin"
)

// What a net is refined to.
const (
	netWithin = 0.01 // inches at points midway
	netMost   = 65   // nodes each way
	netCorner = 1e-3 // radians between normals across a break that is a corner
)

// pointer is a surface by its parameters: the point at uv of the panel that holds in,
// and the normal there.
type pointer func(uv, in skin.UV) (p, normal geometry.Vec3)

// netOf fills a skin with a net of nodes: at the ends, at the breaks that are true
// corners, and between them as many as it takes until the points midway between nodes
// lie within [netWithin] of what [lagrange] makes of the nodes, or [netMost] are there.
// us and vs are the breaks of the surface.
func netOf(s *Skin, at pointer, us, vs []float64) {
	pu, pv := corners(at, us, vs, false), corners(at, vs, us, true)
	u, v := slices.Clone(pu), slices.Clone(pv)
	// a panel that is not straight begins with what a cubic needs
	for {
		nu := refine(at, u, v, pu, false)
		nv := refine(at, v, u, pv, true)
		if len(nu) == len(u) && len(nv) == len(v) {
			break
		}
		u, v = nu, nv
	}
	s.U, s.V = u, v
	s.PanelsU, s.PanelsV = indices(u, pu), indices(v, pv)
	last := [3]int{}
	for _, a := range u {
		for _, c := range v {
			p := paneled{at, pu, pv}.point(a, c)
			for k, x := range [3]float64{p.X, p.Y, p.Z} {
				n := int(math.Round(1000 * x))
				s.XYZ = append(s.XYZ, n-last[k])
				last[k] = n
			}
		}
	}
	s.Within = math.Ceil(1e4*(worst(at, u, v, pu, pv)+0.0005))/1e4 + 0
	for i, x := range s.U {
		s.U[i] = round6(x)
	}
	for i, x := range s.V {
		s.V[i] = round6(x)
	}
}

// paneled is a surface with its panels.
type paneled struct {
	at     pointer
	pu, pv []float64
}

// point is the point at a node; on a border of panels both agree.
func (n paneled) point(u, v float64) geometry.Vec3 {
	p, _ := n.at(skin.UV{U: u, V: v}, skin.UV{U: inside(n.pu, u), V: inside(n.pv, v)})
	return p
}

// inside moves an end of the range a little inwards, so that it names a panel.
func inside(panels []float64, x float64) float64 {
	lo, hi := panels[0], panels[len(panels)-1]
	e := float64(1e-7 * (hi - lo))
	return math.Max(lo+e, math.Min(hi-e, x))
}

// beside is x, or where it is an end of the panel between corners that holds mid, a value
// a little within that panel: a surface says by such a one from which side it is meant.
func beside(panels []float64, x, mid float64) float64 {
	for i := 0; i+1 < len(panels); i++ {
		if lo, hi := panels[i], panels[i+1]; mid >= lo && mid <= hi {
			e := float64(1e-7 * (hi - lo))
			return math.Max(lo+e, math.Min(hi-e, x))
		}
	}
	return x
}

// corners are the breaks along one parameter at which the normal jumps, and both ends;
// across are the breaks of the other one. turned: the parameter is V.
func corners(at pointer, along, across []float64, turned bool) []float64 {
	uv := func(a, c float64) skin.UV {
		if turned {
			return skin.UV{U: c, V: a}
		}
		return skin.UV{U: a, V: c}
	}
	out := []float64{along[0]}
	e := float64(1e-6 * (along[len(along)-1] - along[0]))
	for _, x := range along[1 : len(along)-1] {
		jump := 0.0
		for i := 0; i+1 < len(across); i++ {
			for _, t := range []float64{0.2, 0.5, 0.8} {
				c := across[i] + float64(t*(across[i+1]-across[i]))
				_, n0 := at(uv(x, c), uv(x-e, c))
				_, n1 := at(uv(x, c), uv(x+e, c))
				jump = math.Max(jump, n0.Sub(n1).Norm())
			}
		}
		if jump > netCorner {
			out = append(out, x)
		}
	}
	return append(out, along[len(along)-1])
}

// refine halves the spaces of one parameter whose middle the nodes do not give.
func refine(at pointer, along, across, panels []float64, turned bool) []float64 {
	if len(along) >= netMost {
		return along
	}
	out := []float64{along[0]}
	for i := 0; i+1 < len(along); i++ {
		mid := (along[i] + along[i+1]) / 2
		if len(out)+len(along)-i-1 < netMost && missesAt(at, along, across, panels, i, mid, turned) > netWithin/2 {
			out = append(out, mid)
		}
		out = append(out, along[i+1])
	}
	return out
}

// missesAt is the most by which the points midway in a space differ from what the nodes
// along the parameter give, at the nodes and the middles of the other one.
func missesAt(at pointer, along, across, panels []float64, i int, mid float64, turned bool) float64 {
	nodes := stencil(along, panels, i)
	w := lagrange(nodes, mid)
	most := 0.0
	look := func(c, in float64) {
		uv := func(a float64) (skin.UV, skin.UV) {
			if turned {
				return skin.UV{U: c, V: a}, skin.UV{U: in, V: beside(panels, a, mid)}
			}
			return skin.UV{U: a, V: c}, skin.UV{U: beside(panels, a, mid), V: in}
		}
		var sum geometry.Vec3
		for k, a := range nodes {
			p, _ := at(uv(a))
			sum = sum.Add(p.Scale(w[k]))
		}
		p, _ := at(uv(mid))
		most = math.Max(most, p.Sub(sum).Norm())
	}
	for k := 0; k+1 < len(across); k++ {
		c, d := across[k], across[k+1]
		look(c, c+float64(1e-6*(d-c)))
		look((c+d)/2, (c+d)/2)
	}
	c, d := across[len(across)-2], across[len(across)-1]
	look(d, d-float64(1e-6*(d-c)))
	return most
}

// stencil are the nodes that the space i is interpolated by: up to four of its panel,
// the nearest to it.
func stencil(along, panels []float64, i int) []float64 {
	lo, hi := i, i+1
	for lo > 0 && !slices.Contains(panels, along[lo]) {
		lo--
	}
	for hi < len(along)-1 && !slices.Contains(panels, along[hi]) {
		hi++
	}
	n := min(4, hi-lo+1)
	from := max(lo, min(i-1, hi-n+1))
	return along[from : from+n]
}

// lagrange are the weights of the polynomial through nodes at x.
func lagrange(nodes []float64, x float64) []float64 {
	w := make([]float64, len(nodes))
	for i := range nodes {
		w[i] = 1
		for k := range nodes {
			if k != i {
				w[i] *= (x - nodes[k]) / (nodes[i] - nodes[k])
			}
		}
	}
	return w
}

// worst is the largest distance between the surface and the net at the middles of its
// spaces, both ways at once.
func worst(at pointer, u, v, pu, pv []float64) float64 {
	most := 0.0
	for i := 0; i+1 < len(u); i++ {
		for k := 0; k+1 < len(v); k++ {
			mid := skin.UV{U: (u[i] + u[i+1]) / 2, V: (v[k] + v[k+1]) / 2}
			nu, nv := stencil(u, pu, i), stencil(v, pv, k)
			wu, wv := lagrange(nu, mid.U), lagrange(nv, mid.V)
			var sum geometry.Vec3
			for a := range nu {
				for c := range nv {
					p, _ := at(skin.UV{U: nu[a], V: nv[c]}, skin.UV{U: beside(pu, nu[a], mid.U), V: beside(pv, nv[c], mid.V)})
					sum = sum.Add(p.Scale(wu[a] * wv[c]))
				}
			}
			p, _ := at(mid, mid)
			most = math.Max(most, p.Sub(sum).Norm())
		}
	}
	return most
}

// indices are the places of some values in a list that holds them.
func indices(list, values []float64) []int {
	out := []int{}
	for i, x := range list {
		if slices.Contains(values, x) {
			out = append(out, i)
		}
	}
	return out
}
