package proportions

import (
	"math"
	"slices"

	"maskloft/geometry"
)

// Claims: a line of the drawing may lie where two borders are looked for. Which has it is
// settled after all have been followed.
const (
	claimApart = 2.0  // times the band: a border so far off its place may have another's line
	claimShare = 0.5  // of a border's places that are another's: then they all are
	claimMost  = 0.85 // of them, that lines where the part's other borders say must pass: corners of a part that is turned lie beside
	claimWhole = 0.95 // of a border's places that an unclaimed line passes
)

// crossings are the chords across each place of a border.
type crossings [][]crossed

// settle takes from each border that lies off its place the lines that another border has
// at its own, and follows it anew; and gives lines that nothing has to the longest
// border that runs along all of one.
func (f *followed) settle(s *ruleDrawing, l *lattice, lists []crossings) {
	near := newPlaces(s)
	for n, b := range s.borders {
		if stolen := f.stolen(s, near, b); float64(len(stolen)) > claimShare*float64(len(b.samples)) {
			for i, k := range b.samples {
				at, ok := stolen[k]
				if !ok {
					continue
				}
				lists[n][i] = slices.DeleteFunc(slices.Clone(lists[n][i]), func(c crossed) bool { return math.Abs(c.off-at) <= f.band })
			}
			f.place(s, n, lists[n])
		}
	}
	for part := range s.rule.Parts {
		f.together(s, near, lists, part)
	}
	f.unclaimed(s, l, near, lists)
}

// together finds the borders that a part shares with others where its other borders say
// that they are: moved and turned with these.
func (f *followed) together(s *ruleDrawing, near places, lists []crossings, part int) {
	var rows [][]float64
	var want []float64
	row := func(e sample) []float64 { return []float64{e.out.X, e.out.Y, e.out.Dot(geometry.Vec(e.Point).Perp())} }
	var shared []int
	for n, b := range s.borders {
		if b.part != part || len(b.samples) == 0 {
			continue
		}
		common := 0
		for _, k := range b.samples {
			if f.found[k] && f.shared(s, near, k) {
				common++
			}
		}
		if float64(common) > claimShare*float64(len(b.samples)) {
			shared = append(shared, n)
			continue
		}
		for _, k := range b.samples {
			if f.found[k] && !f.hidden[k] {
				rows, want = append(rows, row(s.samples[k])), append(want, f.off[k])
			}
		}
	}
	if len(shared) == 0 || len(rows) < 3*fewestPlaces {
		return
	}
	by, ok := leastSquares(rows, want, nil)
	if !ok {
		return
	}
	at := func(r []float64) float64 { return float64(by[0]*r[0]) + float64(by[1]*r[1]) + float64(by[2]*r[2]) }
	for i, r := range rows {
		if math.Abs(at(r)-want[i]) > f.band {
			return // it is not moved as a whole
		}
	}
	for _, n := range shared {
		b := s.borders[n]
		offs := make([]float64, len(b.samples))
		there, moved := 0, false
		for i, k := range b.samples {
			offs[i] = at(row(s.samples[k]))
			moved = moved || math.Abs(offs[i]-f.off[k]) > f.band/2
			if _, ok := nearestOff(lists[n][i], offs[i], f.band/2); ok {
				there++
			}
		}
		if moved && float64(there) >= claimMost*float64(len(b.samples)) {
			for i, k := range b.samples {
				f.off[k], f.found[k] = offs[i], true
			}
		}
	}
}

// stolen returns the places at which what was found for a border is where another's is,
// nearer to that one's place, and how far off.
func (f *followed) stolen(s *ruleDrawing, near places, b border) map[int]float64 {
	out := map[int]float64{}
	for _, k := range b.samples {
		if off := f.off[k]; f.found[k] && math.Abs(off) > claimApart*f.band {
			e := s.samples[k]
			if f.claimed(s, near, e, e.Add(e.out.Scale(off)), math.Abs(off)/2) {
				out[k] = off
			}
		}
	}
	return out
}

// claimed tells whether a border of another part that lies less than within off its place
// was found at q, running along e.
func (f *followed) claimed(s *ruleDrawing, near places, e sample, q geometry.Point, within float64) bool {
	for k := range near.about(q) {
		o := s.samples[k]
		if !f.found[k] || o.part == e.part || math.Abs(f.off[k]) >= within || math.Abs(e.out.Cross(o.out)) > sinFar/2 {
			continue
		}
		d := q.Sub(o.Add(o.out.Scale(f.off[k])))
		if math.Abs(d.Dot(o.out)) <= f.band && math.Abs(d.Cross(o.out)) < besidePlace*o.weight {
			return true
		}
	}
	return false
}

// unclaimed looks, for borders that were found where another part's was found too, for a
// line beside that none has: one of them has moved there.
//
// Of several, it is the one whose part has the outline that the line is of, else the longest.
func (f *followed) unclaimed(s *ruleDrawing, l *lattice, near places, lists []crossings) {
	type move struct {
		border int
		lists  crossings
		length float64
	}
	var moves []move
	outline := f.outlines(s, l, near, lists)
	for n, b := range s.borders {
		if len(b.samples) < fewestPlaces || b.radius < 0 {
			continue
		}
		free := make(crossings, len(b.samples))
		shared, passed, own := 0, 0, 0
		for i, k := range b.samples {
			e := s.samples[k]
			if f.found[k] && f.shared(s, near, k) {
				shared++
			}
			for _, c := range lists[n][i] {
				if math.Abs(c.off-f.off[k]) > claimApart*f.band && !f.anyones(s, near, e.out, e.Add(e.out.Scale(c.off))) {
					free[i] = append(free[i], c)
				}
			}
			if len(free[i]) > 0 {
				passed++
				if slices.ContainsFunc(free[i], func(c crossed) bool { return l.of[c.chord] == outline[b.part] }) {
					own++
				}
			}
		}
		if all := float64(len(b.samples)); float64(shared) >= claimShare*all && float64(passed) >= claimWhole*all {
			length := b.length
			if 2*own > passed {
				length += s.box.Width() + s.box.Height()
			}
			moves = append(moves, move{n, free, length})
		}
	}
	slices.SortStableFunc(moves, func(a, b move) int {
		switch {
		case a.length > b.length*(1+1e-6):
			return -1
		case b.length > a.length*(1+1e-6):
			return 1
		}
		return 0
	})
	for _, m := range moves {
		// one that went before may have taken the line
		b := s.borders[m.border]
		left := 0
		for i, k := range b.samples {
			e := s.samples[k]
			m.lists[i] = slices.DeleteFunc(m.lists[i], func(c crossed) bool { return f.anyones(s, near, e.out, e.Add(e.out.Scale(c.off))) })
			if len(m.lists[i]) > 0 {
				left++
			}
		}
		if float64(left) >= claimWhole*float64(len(b.samples)) {
			f.place(s, m.border, m.lists)
		}
	}
}

// outlines returns the outline of the drawing, by its number, that most places of each part
// lie on which are not another part's too; -1 for none.
func (f *followed) outlines(s *ruleDrawing, l *lattice, near places, lists []crossings) map[int]int {
	counts := map[int]map[int]int{}
	out := map[int]int{}
	for n, b := range s.borders {
		if counts[b.part] == nil {
			counts[b.part], out[b.part] = map[int]int{}, -1
		}
		for i, k := range b.samples {
			if !f.found[k] || f.shared(s, near, k) {
				continue
			}
			for _, c := range lists[n][i] {
				if of := l.of[c.chord]; math.Abs(c.off-f.off[k]) <= f.band {
					counts[b.part][of]++
					if most := out[b.part]; most < 0 || counts[b.part][of] > counts[b.part][most] {
						out[b.part] = of
					}
					break
				}
			}
		}
	}
	return out
}

// shared tells whether another part's border was found where a place's was.
func (f *followed) shared(s *ruleDrawing, near places, k int) bool {
	e := s.samples[k]
	return f.claimed(s, near, e, e.Add(e.out.Scale(f.off[k])), math.Inf(1))
}

// anyones tells whether any border was found at q, running across out.
func (f *followed) anyones(s *ruleDrawing, near places, out geometry.Vec, q geometry.Point) bool {
	return f.claimed(s, near, sample{out: out, part: -1}, q, math.Inf(1))
}
