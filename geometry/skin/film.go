package skin

import (
	"math"

	g "maskloft/geometry"
)

// surplus is the weight, against film, of what lies beyond the film: it follows and
// does not pull.
const surplus = 1e-6

// filmSamples returns the samples of a film on the net, and which nodes lie on it, for
// a flat and how it lies, in the memory of old ones. All are those of the whole net. A cell within the film keeps its
// own; one beyond has them with the weight of [surplus]; one that the edge of the film
// cuts has those besides, and full ones over the part within.
func (n *Net) filmSamples(old, all []sample, flat []g.Point, lies pose, film g.Rect) (out []sample, counts []bool) {
	counts = make([]bool, n.nodes())
	on := make([]g.Point, n.nodes())
	for k, q := range flat {
		on[k] = lies.of(q)
		counts[k] = film.Contains(on[k])
	}
	if out = old[:0]; cap(out) == 0 {
		out = make([]sample, 0, len(all)+len(all)/2)
	}
	for i := 0; i+1 < n.nu(); i++ {
		for j := 0; j+1 < n.nv(); j++ {
			first := 4 * (i*(n.nv()-1) + j)
			box := g.BoundsOf(on[n.node(i, j)], on[n.node(i+1, j)], on[n.node(i+1, j+1)], on[n.node(i, j+1)])
			bulge := max(box.Width(), box.Height()) / 8 // more than an edge of a cell leaves its chord by
			weight := 1.0
			switch grown := box.Grown(bulge); {
			case film.Union(grown) == film:
			case !film.Touches(grown, 0):
				weight = surplus
			default:
				weight = surplus
				out = n.cutCell(out, flat, lies, film, i, j)
			}
			for _, s := range all[first : first+4] {
				s.area *= weight
				out = append(out, s)
			}
		}
	}
	return out, counts
}

// filmCorner is a point of a piece of a cell: its parameters and where it lies on the
// film.
type filmCorner struct {
	uv UV
	on g.Point
}

// cutCell appends the samples of the part of a cell that lies within the film. The cell
// is halved each way; in each half the film's edge is taken as straight.
func (n *Net) cutCell(out []sample, flat []g.Point, lies pose, film g.Rect, i, j int) []sample {
	const parts = 2
	var c [parts + 1][parts + 1]filmCorner
	for a := range c {
		for b := range c[a] {
			uv := UV{
				n.us[i] + (n.us[i+1]-n.us[i])*float64(a)/parts,
				n.vs[j] + (n.vs[j+1]-n.vs[j])*float64(b)/parts,
			}
			q, _, _ := n.interpolate(flat, uv)
			c[a][b] = filmCorner{uv, lies.of(q)}
		}
	}
	for a := 0; a < parts; a++ {
		for b := 0; b < parts; b++ {
			p, q, r, s := c[a][b], c[a+1][b], c[a+1][b+1], c[a][b+1]
			if film.Contains(p.on) && film.Contains(q.on) && film.Contains(r.on) && film.Contains(s.on) {
				out = n.gaussIn(out, p.uv, r.uv)
				continue
			}
			middle := filmCorner{UV{(p.uv.U + r.uv.U) / 2, (p.uv.V + r.uv.V) / 2}, g.Point{X: (p.on.X + q.on.X + r.on.X + s.on.X) / 4, Y: (p.on.Y + q.on.Y + r.on.Y + s.on.Y) / 4}}
			for _, side := range [4][2]filmCorner{{p, q}, {q, r}, {r, s}, {s, p}} {
				out = n.triangulated(out, clipped([]filmCorner{middle, side[0], side[1]}, film))
			}
		}
	}
	return out
}

// clipped returns the part of a convex polygon that lies within the film (Sutherland and
// Hodgman 1974).
func clipped(poly []filmCorner, film g.Rect) []filmCorner {
	for _, depth := range [4]func(g.Point) float64{
		func(q g.Point) float64 { return q.X - film.Min.X },
		func(q g.Point) float64 { return film.Max.X - q.X },
		func(q g.Point) float64 { return q.Y - film.Min.Y },
		func(q g.Point) float64 { return film.Max.Y - q.Y },
	} {
		kept := make([]filmCorner, 0, len(poly)+1) // a convex polygon gains one corner at most
		for k, a := range poly {
			b := poly[(k+1)%len(poly)]
			da, db := depth(a.on), depth(b.on)
			if da >= 0 {
				kept = append(kept, a)
			}
			if (da >= 0) != (db >= 0) {
				t := da / (da - db)
				kept = append(kept, filmCorner{UV{a.uv.U + t*(b.uv.U-a.uv.U), a.uv.V + t*(b.uv.V-a.uv.V)}, a.on.Lerp(b.on, t)})
			}
		}
		poly = kept
	}
	return poly
}

// triangulated appends three samples for each triangle between a side of a convex polygon
// of parameters and the middle of its corners: exact for polynomials of the second degree
// (Strang and Fix 1973), and the same on the left as on the right.
func (n *Net) triangulated(out []sample, poly []filmCorner) []sample {
	var middle UV
	for _, c := range poly {
		middle.U += c.uv.U / float64(len(poly))
		middle.V += c.uv.V / float64(len(poly))
	}
	for k, c := range poly {
		t := [3]UV{middle, c.uv, poly[(k+1)%len(poly)].uv}
		area := math.Abs((t[1].U-t[0].U)*(t[2].V-t[0].V)-(t[1].V-t[0].V)*(t[2].U-t[0].U)) / 2
		if area < 1e-12 {
			continue
		}
		for m := range t {
			a, b, c := t[m], t[(m+1)%3], t[(m+2)%3]
			s := n.sampleAt(UV{(4*a.U + b.U + c.U) / 6, (4*a.V + b.V + c.V) / 6})
			s.area *= area / 3
			out = append(out, s)
		}
	}
	return out
}

// outlinePlaces is how many places of each side of a film its outline is looked at.
const outlinePlaces = 24

// onOutline is a place of the film's outline: in the flat, and on the net.
type onOutline struct {
	flat g.Point
	at   UV // in the parameters of the net
}

// OutlinePlace is a place of a film's outline: in the flat, and on the aircraft.
type OutlinePlace struct {
	Flat g.Point
	Skin g.Position
}

// FilmOutline returns places round the film's outline, 24 a side, counter-clockwise from
// its lower left corner; those without skin under them are left out.
func (m *FlatMap) FilmOutline() []OutlinePlace {
	var out []OutlinePlace
	for _, o := range m.outline(outlinePlaces) {
		out = append(out, OutlinePlace{o.flat, g.PositionOf(PointAt(m.net.s, o.at))})
	}
	return out
}

// outline returns places round the film's outline, n a side, counter-clockwise from its
// lower left corner; those without skin under them are left out.
func (m *FlatMap) outline(n int) []onOutline {
	r := m.film
	corners := [5]g.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}, r.Min}
	var out []onOutline
	for k := range 4 {
		for i := range n {
			q := corners[k].Lerp(corners[k+1], float64(i)/float64(n))
			if at, ok := m.onNet(q); ok {
				out = append(out, onOutline{q, at})
			}
		}
	}
	return out
}
