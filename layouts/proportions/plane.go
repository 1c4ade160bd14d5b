package proportions

import (
	"iter"
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// cell is a point of the plane of a rule's drawing: the layer that shows there, and how
// far it is from the nearest place of a border; beyond round it is round.
type cell struct {
	geometry.Point
	layer int // -1: nothing of the rule
	clear float64
}

// plane returns the cells of a grid over a rule's drawing and what lies about it.
func (s *ruleDrawing) plane() []cell {
	s.planeOnce.Do(func() {
		box := s.box.Grown(round)
		near := newPlaces(s)
		for y := box.Min.Y + gridStep/2; y < box.Max.Y; y += gridStep {
			for x := box.Min.X + gridStep/2; x < box.Max.X; x += gridStep {
				q := geometry.Point{X: x, Y: y}
				s.cells = append(s.cells, cell{q, s.top(q), near.nearest(q)})
			}
		}
	})
	return s.cells
}

// beside is a point beside a place of a border, and the layer that shows there.
type beside struct {
	geometry.Point
	layer, sample int
}

// besideBorders returns the points so deep on either side of every border, but where
// another border lies between.
func (s *ruleDrawing) besideBorders(deep float64) []beside {
	const usual = besideDepth + onBorder // of a clean drawing
	if deep != usual {
		return s.makeBeside(deep)
	}
	s.besideOnce.Do(func() { s.besides = s.makeBeside(usual) })
	return s.besides
}

func (s *ruleDrawing) makeBeside(deep float64) (out []beside) {
	for k, e := range s.samples {
		for _, side := range []float64{-1, 1} {
			q := e.Add(e.out.Scale(side * deep))
			if layer := s.top(q); layer == s.top(e.Add(e.out.Scale(side*sightStep))) {
				out = append(out, beside{q, layer, k})
			}
		}
	}
	return out
}

// places finds the places of a rule's drawing near a point.
type places struct {
	s     *ruleDrawing
	cells map[[2]int][]int
}

func newPlaces(s *ruleDrawing) places {
	p := places{s, map[[2]int][]int{}}
	for k, e := range s.samples {
		key := [2]int{int(math.Floor(e.X / round)), int(math.Floor(e.Y / round))}
		p.cells[key] = append(p.cells[key], k)
	}
	return p
}

// about goes through the places within round of a point, and some beyond.
func (p places) about(q geometry.Point) iter.Seq[int] {
	x, y := int(math.Floor(q.X/round)), int(math.Floor(q.Y/round))
	return func(yield func(int) bool) {
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, k := range p.cells[[2]int{x + dx, y + dy}] {
					if !yield(k) {
						return
					}
				}
			}
		}
	}
}

// nearest returns the distance of the point to the nearest place; at most round.
func (p places) nearest(q geometry.Point) float64 {
	best := round
	for k := range p.about(q) {
		best = math.Min(best, p.s.samples[k].Dist(q))
	}
	return best
}

// any tells whether the point is nearer than within to a border. Places stand
// borderStep apart, which is allowed for.
func (p places) any(q geometry.Point, within float64) bool {
	return p.nearest(q) < same.Hypot(within, borderStep/2)
}
