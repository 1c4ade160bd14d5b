package skin

import (
	"math"

	g "maskloft/geometry"
)

// wrap returns a place of the net's parameters with V brought into the patch by whole
// periods; false outside the patch.
func (m *FlatMap) wrap(uv UV) (UV, bool) {
	_, _, period := m.s.Breaks()
	v0, v1 := m.net.vs[0], m.net.vs[m.net.nv()-1]
	const slack = 1e-9
	if period > 0 {
		uv.V += float64(period * math.Ceil((v0-slack-uv.V)/period))
	}
	ok := uv.V >= v0-slack && uv.V <= v1+slack && uv.U >= m.net.us[0]-slack && uv.U <= m.net.us[m.net.nu()-1]+slack
	return uv, ok
}

// ToFlat returns where a point of the skin lies in the flat; false outside the
// patch.
func (m *FlatMap) ToFlat(uv UV) (g.Point, bool) {
	uv, ok := m.chart.to(uv)
	if !ok {
		return g.Point{}, false
	}
	uv, ok = m.wrap(uv)
	if !ok {
		return g.Point{}, false
	}
	p, _, _ := m.net.interpolate(m.flat, uv)
	return p, true
}

// ToSkin returns the point of the skin that a point of the flat lies on, to
// 1e-10 in; false where the patch does not reach.
func (m *FlatMap) ToSkin(p g.Point) (UV, bool) {
	at, ok := m.onNet(p)
	if !ok {
		return UV{}, false
	}
	return m.chart.from(at), true
}

// onNet is ToSkin in the net's parameters.
func (m *FlatMap) onNet(p g.Point) (UV, bool) {
	uv, ok := m.bins.start(m, p)
	if !ok {
		return UV{}, false
	}
	u0, u1 := m.net.us[0], m.net.us[m.net.nu()-1]
	v0, v1 := m.net.vs[0], m.net.vs[m.net.nv()-1]
	off := math.Inf(1) // inches from p to what uv maps to
	for i := 0; i < 30; i++ {
		q, du, dv := m.net.interpolate(m.flat, uv)
		d := p.Sub(q)
		if off = d.Norm(); off < 1e-11 {
			break
		}
		det := du.Cross(dv)
		if det == 0 {
			return UV{}, false
		}
		uv.U = max(u0, min(u1, uv.U+d.Cross(dv)/det))
		uv.V = max(v0, min(v1, uv.V+du.Cross(d)/det))
	}
	return uv, off < 1e-8
}

// PositionOf returns the position on the aircraft of a point of the flat; false
// where the patch does not reach.
func (m *FlatMap) PositionOf(p g.Point) (g.Position, bool) {
	uv, ok := m.ToSkin(p)
	if !ok {
		return g.Position{}, false
	}
	return g.PositionOf(PointAt(m.s, uv)), true
}

// Surface returns the surface of the map.
func (m *FlatMap) Surface() Surface { return m.s }

// bins lists, for each square of the flat, the cells of the net that touch it.
type bins struct {
	min   g.Point
	size  float64
	w, h  int
	cells [][][2]int
}

func newBins(m *FlatMap) bins {
	r := g.BoundsOf(m.flat...)
	cells := (m.net.nu() - 1) * (m.net.nv() - 1)
	size := math.Sqrt(r.Width()*r.Height()/float64(cells)) + 1e-9
	b := bins{min: r.Min, size: size, w: int(r.Width()/size) + 1, h: int(r.Height()/size) + 1}
	b.cells = make([][][2]int, b.w*b.h)
	for i := 0; i+1 < m.net.nu(); i++ {
		for j := 0; j+1 < m.net.nv(); j++ {
			q := m.corners(i, j)
			r := g.BoundsOf(q[:]...).Grown(size / 8)
			x0, y0 := b.index(r.Min)
			x1, y1 := b.index(r.Max)
			for x := x0; x <= x1; x++ {
				for y := y0; y <= y1; y++ {
					b.cells[y*b.w+x] = append(b.cells[y*b.w+x], [2]int{i, j})
				}
			}
		}
	}
	return b
}

func (b bins) index(p g.Point) (x, y int) {
	x = max(0, min(b.w-1, int((p.X-b.min.X)/b.size)))
	y = max(0, min(b.h-1, int((p.Y-b.min.Y)/b.size)))
	return
}

func (m *FlatMap) corners(i, j int) [4]g.Point {
	n := m.net
	return [4]g.Point{m.flat[n.node(i, j)], m.flat[n.node(i+1, j)], m.flat[n.node(i+1, j+1)], m.flat[n.node(i, j+1)]}
}

// start returns a parameter near the one that p belongs to: the cell that holds
// p, or nearly holds it, and the place within by the triangle's barycentric
// coordinates.
func (b bins) start(m *FlatMap, p g.Point) (UV, bool) {
	x, y := b.index(p)
	best, slack, found := UV{}, -0.2, false
	for _, c := range b.cells[y*b.w+x] {
		if slack >= 0 {
			break // p lies within the triangle found
		}
		q := m.corners(c[0], c[1])
		u0, u1 := m.net.us[c[0]], m.net.us[c[0]+1]
		v0, v1 := m.net.vs[c[1]], m.net.vs[c[1]+1]
		for _, half := range [2][3]int{{0, 1, 2}, {0, 2, 3}} {
			w, ok := barycentric(q[half[0]], q[half[1]], q[half[2]], p)
			if worst := min(w[0], min(w[1], w[2])); ok && worst > slack {
				uv := [4]UV{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}}
				best, slack, found = UV{}, worst, true
				for k, i := range half {
					best.U += float64(w[k] * uv[i].U)
					best.V += float64(w[k] * uv[i].V)
				}
			}
		}
	}
	return best, found
}

func barycentric(a, b, c, p g.Point) (w [3]float64, ok bool) {
	det := b.Sub(a).Cross(c.Sub(a))
	if det == 0 {
		return w, false
	}
	w[1] = p.Sub(a).Cross(c.Sub(a)) / det
	w[2] = b.Sub(a).Cross(p.Sub(a)) / det
	w[0] = 1 - w[1] - w[2]
	return w, true
}
