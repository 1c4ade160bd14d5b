package proportions

import (
	"cmp"
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/geometry/same"
)

// lattice finds the chords of a drawing near a place, in the unit frame.
type lattice struct {
	cells map[[2]int][]int
	a, b  []geometry.Point
	of    []int // contour of each chord
	low   geometry.Point
	seen  []int32 // of each chord, the look at which it was met last
	looks int32
}

const (
	latticeCell   = 0.1  // governing radii
	chordAccuracy = 2e-4 // of curves, governing radii
	mostChords    = 200_000
	mostAcross    = 24 // chords across one place, the nearest: more in one reach are no figure's
)

// newLattice indexes contours in the unit frame; what lies outside box is left out.
func newLattice(path geometry.Path, box geometry.Rect) *lattice {
	l := &lattice{cells: map[[2]int][]int{}, low: box.Min}
	for k, c := range path {
		if !c.Bounds().Touches(box, 0) {
			continue
		}
		pts := c.Flattened(chordAccuracy)
		for i := 1; i < len(pts); i++ {
			l.add(k, pts[i-1], pts[i], box)
		}
		if n := len(pts); n > 2 && pts[0] != pts[n-1] && (c.Closed() || pts[0].Dist(pts[n-1]) < closeEnough) {
			l.add(k, pts[n-1], pts[0], box)
		}
	}
	return l
}

func (l *lattice) add(contour int, a, b geometry.Point, box geometry.Rect) {
	if len(l.a) >= mostChords || a == b || !geometry.BoundsOf(a, b).Touches(box, 0) {
		return
	}
	i := len(l.a)
	l.a, l.b, l.of = append(l.a, a), append(l.b, b), append(l.of, contour)
	n := int(a.Dist(b)/latticeCell*2) + 1
	for k := 0; k <= n; k++ {
		for _, key := range l.around(a.Lerp(b, float64(k)/float64(n))) {
			if list := l.cells[key]; len(list) == 0 || list[len(list)-1] != i {
				l.cells[key] = append(list, i)
			}
		}
	}
}

// around returns the cells of the four points a quarter of a cell off q: of points
// half a cell apart along a line one is in the cell of any point of the line.
func (l *lattice) around(q geometry.Point) (keys [4][2]int) {
	const off = latticeCell / 4
	for k := range keys {
		keys[k] = l.cell(geometry.Point{X: q.X + float64(off*float64(k%2*2-1)), Y: q.Y + float64(off*float64(k/2*2-1))})
	}
	return keys
}

func (l *lattice) cell(q geometry.Point) [2]int {
	return [2]int{int(math.Floor((q.X - l.low.X) / latticeCell)), int(math.Floor((q.Y - l.low.Y) / latticeCell))}
}

// crossed is a chord of the drawing across a place of the rule.
type crossed struct {
	off   float64 // out of the part, governing radii
	chord int
}

// across returns the chords that cross the line through q along out within reach
// either way and run more or less along the border, the nearest first.
func (l *lattice) across(q geometry.Point, out geometry.Vec, reach float64) []crossed {
	var list []crossed
	if len(l.seen) < len(l.a) {
		l.seen = make([]int32, len(l.a))
	}
	l.looks++
	n := int(2*reach/latticeCell*2) + 1
	for k := 0; k <= n; k++ {
		for _, key := range l.around(q.Add(out.Scale(reach * (2*float64(k)/float64(n) - 1)))) {
			for _, i := range l.cells[key] {
				if l.seen[i] == l.looks {
					continue
				}
				l.seen[i] = l.looks
				e := l.b[i].Sub(l.a[i])
				det := out.Cross(e)
				if math.Abs(det) < leastAlong*e.Norm() {
					continue
				}
				d := l.a[i].Sub(q)
				off, t := d.Cross(e)/det, d.Cross(out)/det
				if t >= -1e-9 && t <= 1+1e-9 && math.Abs(off) <= reach {
					list = append(list, crossed{off, i})
				}
			}
		}
	}
	slices.SortFunc(list, func(a, b crossed) int {
		return cmp.Or(cmp.Compare(math.Abs(a.off), math.Abs(b.off)), cmp.Compare(a.chord, b.chord))
	})
	return list[:min(len(list), mostAcross)]
}

// Following a border, governing radii.
const (
	followReach = 0.13  // what is farther off is another's
	leastAlong  = 0.5   // sine of the angle between a chord and the line across
	onBorder    = 0.003 // about a border as drawn, in a clean drawing
	inNoise     = 3.5   // times the scatter
	followAgain = 5     // rounds of fitting, each nearer
	fullSweep   = 1.6   // radians: an arc that shows whether it is oval
	someSweep   = 1.0   // radians: an arc that shows whether it is moved
)

// followed is where each place of a rule's drawing was found in a drawing: off is out of
// the part, governing radii.
type followed struct {
	off    []float64
	found  []bool
	hidden []bool  // it may lie under a later part: nothing is told of its place
	band   float64 // about a border as drawn: what lies within is on it
}

// follow looks for every border of the rule's drawing in the drawing. What counts as seen
// is asked of sees, by the chord and the place on it. Where one of several crossings has
// the part's own paint on its inner side, which owns tells, it is that one: two parts that
// no longer meet have an edge each. Covers: what is painted later hides what is under it.
func (s *ruleDrawing) follow(l *lattice, scatter float64, sees func(q geometry.Point, chord int) bool, owns func(q geometry.Point, part int) bool, covers bool) followed {
	f := followed{off: make([]float64, len(s.samples)), found: make([]bool, len(s.samples)), hidden: make([]bool, len(s.samples)), band: math.Max(onBorder, inNoise*scatter)}
	all := make([]crossings, len(s.borders))
	for n := len(s.borders) - 1; n >= 0; n-- { // later layers, which cover others, first
		b := s.borders[n]
		if len(b.samples) == 0 {
			continue
		}
		lists := make([][]crossed, len(b.samples))
		for i, k := range b.samples {
			e := s.samples[k]
			for _, c := range l.across(e.Point, e.out, followReach) {
				if n := len(lists[i]); n > 0 && math.Abs(lists[i][n-1].off-c.off) < f.band/2 {
					continue // drawn twice
				}
				if sees(e.Add(e.out.Scale(c.off)), c.chord) {
					lists[i] = append(lists[i], c)
				}
			}
			if len(lists[i]) > 1 {
				own := slices.DeleteFunc(slices.Clone(lists[i]), func(c crossed) bool {
					return !owns(e.Add(e.out.Scale(c.off-sightStep)), b.part)
				})
				if len(own) > 0 {
					lists[i] = own
				}
			}
		}
		if covers {
			lists = f.clear(s, b, lists)
		}
		all[n] = lists
		f.place(s, n, lists)
	}
	f.settle(s, l, all)
	return f
}

// place finds a border among the chords across its places.
func (f *followed) place(s *ruleDrawing, border int, lists crossings) {
	b := s.borders[border]
	for _, k := range b.samples {
		f.off[k], f.found[k] = 0, false
	}
	model, ok := s.modelOf(border, lists, f.band)
	if !ok {
		return
	}
	for i, k := range b.samples {
		if off, ok := nearestOff(lists[i], model.at(s.samples[k]), f.band); ok {
			f.off[k], f.found[k] = off, true
			if b.radius >= 0 { // of a line or arc as fitted: less of the drawing's noise
				f.off[k] = model.at(s.samples[k])
			}
		}
	}
}

// leastClear is the share of a border's places, found clear of later parts, from which on
// the others tell nothing.
const leastClear = 0.25

// besidePlace is how near, of the length that it stands for, a place is beside another.
const besidePlace = 0.55

// clear takes off, of a border that lies on one of a later part, the crossings that are
// the later part's: the border may lie under it there. Where hardly any other is left, and
// the later part's is where it should be, the two are one edge and nothing is taken off.
func (f *followed) clear(s *ruleDrawing, b border, lists [][]crossed) [][]crossed {
	on := s.lyingUnder()
	out := make([][]crossed, len(lists))
	var hidden []int
	clear := 0
	for i, k := range b.samples {
		over := on[k]
		out[i] = lists[i]
		if over < 0 || !f.found[over] {
			if len(lists[i]) > 0 {
				clear++
			}
			continue
		}
		at := f.off[over] * s.samples[over].out.Dot(s.samples[k].out)
		out[i] = slices.DeleteFunc(slices.Clone(lists[i]), func(c crossed) bool { return math.Abs(c.off-at) <= f.band })
		if len(out[i]) > 0 {
			clear++
		}
		if len(out[i]) < len(lists[i]) {
			hidden = append(hidden, k)
		}
	}
	moved := slices.ContainsFunc(hidden, func(k int) bool { return math.Abs(f.off[on[k]]) > 2*f.band })
	if len(hidden) == 0 || !moved && float64(clear) < leastClear*float64(len(lists)) {
		return lists
	}
	for _, k := range hidden {
		f.hidden[k] = true
	}
	return out
}

// lyingUnder returns, of each place, one beside it on a later layer's border that runs
// along its own; -1 where there is none.
func (s *ruleDrawing) lyingUnder() []int {
	s.underOnce.Do(func() {
		s.under = make([]int, len(s.samples))
		for k, e := range s.samples {
			s.under[k] = -1
			best := math.Inf(1)
			for i, o := range s.samples {
				d := o.Sub(e.Point)
				if s.layerOf(o.part) > s.layerOf(e.part) && math.Abs(e.out.Cross(o.out)) < sameBorder && math.Abs(d.Dot(e.out)) < sameBorder/3 && d.Norm() < math.Min(best, besidePlace*o.weight) {
					s.under[k], best = i, d.Norm()
				}
			}
		}
	})
	return s.under
}

// layerOf returns the layer of a part.
func (s *ruleDrawing) layerOf(part int) int { return slices.Index(s.parts, part) }

// nearestOff returns the crossing nearest to where one is looked for, within a band.
func nearestOff(list []crossed, want, band float64) (float64, bool) {
	best, found := 0.0, false
	for _, c := range list {
		if e := math.Abs(c.off - want); e <= band && (!found || e < math.Abs(best-want)) {
			best, found = c.off, true
		}
	}
	return best, found
}

// drift says how a border as drawn lies beside the rule's, by terms of the place
// along it.
type drift struct {
	arc   bool
	terms []float64
}

func termsOf(arc bool, along float64, n int) []float64 {
	if !arc {
		return []float64{1, along}[:n]
	}
	s, c := same.Sincos(along)
	s2, c2 := same.Sincos(2 * along)
	return []float64{1, c, s, c2, s2}[:n]
}

func (d drift) at(e sample) float64 {
	sum := 0.0
	for i, t := range termsOf(d.arc, e.along, len(d.terms)) {
		sum += float64(d.terms[i] * t)
	}
	return sum
}

// driftsOf returns, of each start of a border, what it is at its places.
func (s *ruleDrawing) driftsOf(border int) [][]float64 {
	s.driftsOnce.Do(func() {
		for _, b := range s.borders {
			var of [][]float64
			for _, d := range b.starts() {
				at := make([]float64, len(b.samples))
				for i, k := range b.samples {
					at[i] = d.at(s.samples[k])
				}
				of = append(of, at)
			}
			s.drifts = append(s.drifts, of)
		}
	})
	return s.drifts[border]
}

// starts are the drifts that a border is first looked for at.
func (b border) starts() []drift {
	var out []drift
	put := func(t ...float64) { out = append(out, drift{b.arc, t}) }
	if !b.arc {
		for _, slope := range []float64{0, 0.006, -0.006, 0.012, -0.012, 0.02, -0.02, 0.03, -0.03, 0.045, -0.045} {
			put(0, slope)
		}
		return out
	}
	put(0, 0, 0)
	if b.sweep > someSweep {
		for _, r := range []float64{0.003, 0.006, 0.012, 0.02, 0.03, 0.05} {
			for k := range 8 {
				s, c := same.Sincos(float64(k) * math.Pi / 4)
				put(0, r*c, r*s)
			}
		}
	}
	if b.sweep > fullSweep {
		for _, r := range []float64{0.0025, 0.005, 0.01, 0.016, 0.024} {
			for k := range 8 {
				s, c := same.Sincos(float64(k) * math.Pi / 4)
				put(0, 0, 0, r*c, r*s)
			}
		}
	}
	return out
}

// modelOf returns the drift that most places of a border agree on; of those alike
// the one nearest to the rule.
func (s *ruleDrawing) modelOf(border int, lists [][]crossed, band float64) (drift, bool) {
	b := s.borders[border]
	best, most := drift{}, 0.0
	var offs []float64
	for n, start := range b.starts() {
		offs = offs[:0]
		for i, at := range s.driftsOf(border)[n] {
			for _, c := range lists[i] {
				offs = append(offs, c.off-at)
			}
		}
		slices.Sort(offs)
		for from, to := 0, 0; from < len(offs); from++ {
			for to < len(offs) && offs[to]-offs[from] <= band {
				to++
			}
			middle := (offs[from] + offs[to-1]) / 2
			lean := math.Abs(middle)
			for _, t := range start.terms {
				lean = math.Max(lean, math.Abs(t))
			}
			if score := float64(to-from) * (1 - 0.3*lean/followReach); score > most+1e-9 {
				most, best = score, drift{b.arc, slices.Clone(start.terms)}
				best.terms[0] = middle
			}
		}
	}
	if most == 0 {
		return best, false
	}
	n := 2
	if b.arc {
		switch {
		case b.sweep > fullSweep:
			n = 5
		case b.sweep > someSweep:
			n = 3
		default:
			n = 1
		}
	}
	for round := range followAgain {
		var rows [][]float64
		var off []float64
		within := band * float64(followAgain-round) * 0.75
		for i, k := range b.samples {
			if o, ok := nearestOff(lists[i], best.at(s.samples[k]), within); ok {
				rows, off = append(rows, termsOf(b.arc, s.samples[k].along, n)), append(off, o)
			}
		}
		if len(rows) < n+2 {
			break
		}
		terms, ok := leastSquares(rows, off, nil)
		if !ok {
			break
		}
		best = drift{b.arc, terms}
	}
	return best, true
}

// leastSquares returns the weights of the columns that bring rows nearest to want;
// row weights may be nil. False where the columns do not stand apart.
func leastSquares(rows [][]float64, want, weights []float64) ([]float64, bool) {
	if len(rows) == 0 {
		return nil, false
	}
	n := len(rows[0])
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, n+1)
	}
	for r, row := range rows {
		w := 1.0
		if weights != nil {
			w = weights[r]
		}
		for i, v := range row {
			if v == 0 {
				continue
			}
			for j := i; j < n; j++ {
				a[i][j] += float64(w * v * row[j])
			}
			a[i][n] += float64(w * v * want[r])
		}
	}
	for i := range n {
		for j := range i {
			a[i][j] = a[j][i]
		}
	}
	return eliminate(a)
}

// eliminate solves a system of equations, the right side in the last column, by
// Gauss's elimination with the largest pivot.
func eliminate(a [][]float64) ([]float64, bool) {
	n := len(a)
	scale := 0.0
	for i := range n {
		scale = math.Max(scale, math.Abs(a[i][i]))
	}
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		a[k], a[p] = a[p], a[k]
		if !(math.Abs(a[k][k]) > 1e-9*scale) {
			return nil, false
		}
		for i := k + 1; i < n; i++ {
			f := a[i][k] / a[k][k]
			for j := k; j <= n; j++ {
				a[i][j] -= float64(f * a[k][j])
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = a[i][n]
		for j := i + 1; j < n; j++ {
			x[i] -= float64(a[i][j] * x[j])
		}
		x[i] /= a[i][i]
	}
	return x, true
}
