package masks

import (
	"fmt"
	"math"

	g "maskloft/geometry"
)

// MatchTick is a short line square across a seam, drawn on both neighbours: laid
// right, the two halves are one line. It stands in the waste of every pass, and is drawn in the proof.
type MatchTick struct {
	ID       string // a number, the same on both tiles and on every pass
	At       g.Point
	From, To g.Point
	Cells    [2]int // indices into TiledFilm.Cells
}

// Match ticks stand at both ends of what two tiles have in common and at most six
// inches apart between them; half an inch long (common practice, no source).
const (
	tickLength  = 1.0 / 2
	tickSpacing = 6.0
	tickInset   = 1.0 / 4 // of the end ticks from the end of the seam
	tickClear   = 1.0 / 8 // from paint, marks and slits
	tickLetter  = 0.4     // from the circle of a mark on the side where its letter stands
)

// setTicks puts the match ticks on every seam of a film, after the registration marks. One whose
// place is not free moves along the seam to the nearest that is, by less than half of
// the way to its neighbour; where there is none it is left out.
func (t *Tiling) setTicks(film int) {
	paint := t.Laid.bareOfFilm()
	cells := t.Films[film].Cells
	for i, a := range cells {
		for j := i + 1; j < len(cells); j++ {
			p, q, ok := commonEdge(a.Rect, cells[j].Rect)
			if !ok {
				continue
			}
			way := q.Sub(p).Unit()
			first, last := tickInset, p.Dist(q)-tickInset
			n := max(1, int(math.Ceil((last-first)/tickSpacing-1e-9)))
			apart := (last - first) / float64(n)
			for k := 0; k <= n; k++ {
				want := first + float64(apart*float64(k))
				for try := 0; ; try++ {
					off := float64(float64((try+1)/2) * 0.125 * float64(1-2*(try%2)))
					if math.Abs(off) >= apart/2 {
						break
					}
					if d := want + off; d < first-1e-9 || d > last+1e-9 {
						continue
					}
					if at := p.Add(way.Scale(want + off)); t.addTick(&t.Films[film], paint, at, way.Perp(), i, j) {
						break
					}
				}
			}
		}
	}
}

// addTick adds a tick at a place, unless something is in its way.
func (t *Tiling) addTick(film *TiledFilm, paint *g.Chords, at g.Point, across g.Vec, i, j int) bool {
	half := across.Scale(tickLength / 2)
	tick := MatchTick{ID: fmt.Sprint(len(film.Ticks) + 1), At: at, From: at.Add(half.Scale(-1)), To: at.Add(half), Cells: [2]int{i, j}}
	line := g.Path{g.Polyline(tick.From, tick.To)}
	for _, k := range []float64{0, 0.25, 0.5, 0.75, 1} {
		// an eighth of the tick's length is as far as a point of it lies from the nearest of these
		q := tick.From.Lerp(tick.To, k)
		if paint.Contains(q) || paint.Distance(q) < tickClear+tickLength/8 {
			return false
		}
		for _, s := range t.Laid.Slits {
			if (g.Path{g.Polyline(s.From, s.To)}).Distance(q, g.OutlineTolerance) < tickClear+tickLength/8 {
				return false
			}
		}
	}
	for _, mark := range append(film.Cells[i].Marks[:len(film.Cells[i].Marks):len(film.Cells[i].Marks)], film.Cells[j].Marks...) {
		m := t.Marks[mark]
		clear := MarkRadius + tickClear
		// letters stand beside their marks, towards the middle of the tile
		if inner := film.Cells[i].Rect.Centre().X - m.Film.X; across.Y != 0 && inner*(at.X-m.Film.X) > 0 {
			clear = MarkRadius + tickLetter
		}
		if line.Distance(m.Film, g.OutlineTolerance) < clear {
			return false
		}
	}
	for _, other := range film.Ticks {
		if other.At.Dist(at) < tickLength {
			return false
		}
	}
	film.Ticks = append(film.Ticks, tick)
	for _, c := range tick.Cells {
		film.Cells[c].Ticks = append(film.Cells[c].Ticks, len(film.Ticks)-1)
	}
	return true
}
