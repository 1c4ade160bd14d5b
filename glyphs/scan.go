package glyphs

import (
	"math"
	"sort"

	g "maskloft/geometry"
)

// scanned is an outline as chords, for measuring: nothing of how it was drawn.
type scanned struct {
	rings [][]g.Point // the first is the largest
	box   g.Rect
	tol   float64 // chords from curves, and what counts as one place
}

func scan(path g.Path) scanned {
	s := scanned{box: path.Bounds()}
	s.tol = 1e-5 * math.Max(s.box.Height(), 1e-9)
	for _, c := range g.Nest(path) { // outer ones first, larger first
		s.rings = append(s.rings, c.Flattened(s.tol))
	}
	return s
}

// each calls f with every chord, ink on its left.
func (s scanned) each(f func(a, b g.Point)) {
	for _, ring := range s.rings {
		for i, a := range ring {
			f(a, ring[(i+1)%len(ring)])
		}
	}
}

// interval is a run of ink.
type interval struct{ low, high float64 }

func (i interval) mid() float64 { return (i.low + i.high) / 2 }

// upright returns the runs of ink along x = const, from below.
func (s scanned) upright(x float64) []interval {
	return s.along(func(p g.Point) (float64, float64) { return p.X - x, p.Y })
}

// level returns the runs of ink along y = const, from the left.
func (s scanned) level(y float64) []interval {
	return s.along(func(p g.Point) (float64, float64) { return p.Y - y, p.X })
}

func (s scanned) along(of func(g.Point) (across, along float64)) []interval {
	var at []float64
	s.each(func(a, b g.Point) {
		ca, la := of(a)
		cb, lb := of(b)
		if (ca > 0) != (cb > 0) {
			at = append(at, la+(lb-la)*ca/(ca-cb))
		}
	})
	sort.Float64s(at)
	var out []interval
	for i := 0; i+1 < len(at); i += 2 {
		out = append(out, interval{at[i], at[i+1]})
	}
	return out
}

// Of a width measured by rays from straight edges, the widths of one stroke lie
// this near each other, as a part of it.
const oneStroke = 0.02

// strokes returns the width of the uprights, or of the bars, by rays from their
// straight edges to edges that run the other way; 0 where there is none. Of
// several widths it is the one with most edge.
func (s scanned) strokes(uprights bool) float64 {
	type ray struct{ width, weight float64 }
	var rays []ray
	turn := func(p g.Point) g.Point { return p }
	if !uprights {
		turn = func(p g.Point) g.Point { return g.Point{X: p.Y, Y: -p.X} } // bars stand, ink right of what ran right
	}
	type edge struct{ a, b g.Point }
	var down, up []edge
	s.each(func(a, b g.Point) {
		a, b = turn(a), turn(b)
		if d := b.Sub(a); math.Abs(d.X) > 0.01*math.Abs(d.Y) {
			return
		}
		if b.Y < a.Y {
			down = append(down, edge{a, b})
		} else {
			up = append(up, edge{a, b})
		}
	})
	const samples = 19
	for _, e := range down {
		long := e.a.Y - e.b.Y
		for i := 1; i <= samples; i++ {
			p, best := e.a.Lerp(e.b, float64(i)/(samples+1)), math.Inf(1)
			s.each(func(a, b g.Point) { // the nearest edge of any direction
				a, b = turn(a), turn(b)
				if (a.Y > p.Y) != (b.Y > p.Y) {
					if x := a.X + (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) - p.X; x > s.tol {
						best = math.Min(best, x)
					}
				}
			})
			for _, o := range up {
				x := (o.a.X+o.b.X)/2 - p.X
				if o.a.Y <= p.Y && p.Y <= o.b.Y && math.Abs(x-best) <= math.Max(s.tol, 0.01*best) && math.Max(long, o.b.Y-o.a.Y) > 0.9*best {
					rays = append(rays, ray{best, long / samples})
				}
			}
		}
	}
	sort.Slice(rays, func(i, j int) bool { return rays[i].width < rays[j].width })
	best, width := 0.0, 0.0
	for i := range rays {
		sum, mean := 0.0, 0.0
		for j := i; j < len(rays) && rays[j].width <= rays[i].width*(1+oneStroke); j++ {
			sum, mean = sum+rays[j].weight, mean+float64(rays[j].weight*rays[j].width)
		}
		if sum > best*(1+1e-9) {
			best, width = sum, mean/sum
		}
	}
	return width
}

// cornerOf returns the largest cut of the corners of a ring's box. A corner
// counts where the ring leaves both sides of the box at one distance from it.
func (s scanned) cornerOf(ring []g.Point) Cut {
	box := g.BoundsOf(ring...)
	best := Cut{Kind: SquareCut}
	near := float64(10 * s.tol)
	for _, q := range []g.Point{box.Min, box.Max, {X: box.Min.X, Y: box.Max.Y}, {X: box.Max.X, Y: box.Min.Y}} {
		dx, dy, deep := math.Inf(1), math.Inf(1), math.Inf(1)
		inX, inY := math.Copysign(1, box.Min.X+box.Max.X-2*q.X), math.Copysign(1, box.Min.Y+box.Max.Y-2*q.Y)
		off := func(p g.Point) (float64, float64) { return float64((p.X - q.X) * inX), float64((p.Y - q.Y) * inY) }
		for i, p := range ring {
			x, y := off(p)
			if y < near {
				dx = math.Min(dx, x)
			}
			if x < near {
				dy = math.Min(dy, y)
			}
			x1, y1 := off(ring[(i+1)%len(ring)])
			if c, c1 := x-y, x1-y1; (c > 0) != (c1 > 0) { // the bisector
				deep = math.Min(deep, math.Sqrt2*(x+(x1-x)*c/(c-c1)))
			}
		}
		size := (dx + dy) / 2
		if math.Abs(dx-dy) > float64(0.03*size)+near || size < 10*near || size <= best.Size {
			continue
		}
		best = Cut{Kind: ChamferCut, Size: size}
		if math.Abs(deep/size-(math.Sqrt2-1)) < math.Abs(deep/size-1/math.Sqrt2) {
			// an arc leaves the sides of the box too gently to say where
			best = Cut{Kind: RoundCut, Size: deep / (math.Sqrt2 - 1)}
		}
	}
	return best
}
