package audit

import (
	"cmp"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// piecePair is an outline that was sent and the one that came back for it.
type piecePair struct {
	i, j         int
	ours, theirs piece
}

// pieceFit is a map from the sent drawing to the one that came back, with the
// outlines that it brings together.
type pieceFit struct {
	m     g.Affine
	pairs []piecePair
	score float64
}

// Two outlines are one where their compactness differs by less than shapeAlike,
// their areas under the map by less than areaAlike, as fractions, and their centres
// by less than centreAlike of their size or centreOff inches of the sent drawing. A
// simplified outline is still itself.
const (
	shapeAlike  = 0.06
	areaAlike   = 0.04
	centreAlike = 0.05
	centreOff   = 0.01
)

// mostHypotheses bounds how many pairs of outlines are tried as the first, and
// mostRefined how many maps are then improved: more than the eight ways in which a square
// film with a figure about its middle matches by areas and centres alone.
const (
	mostHypotheses = 40
	mostRefined    = 16
)

// bestFit looks for the map that brings most of the sent outlines to others of
// their shape. A pair of outlines gives the size and, by their moments and the
// quarter turns, the turn; then all others must fall on others, and what is left
// between them is brought down by least squares.
func bestFit(ours, theirs []piece) (pieceFit, bool) {
	var starts []pieceFit
	tried := 0
	for i := 0; i < len(ours) && i < 6 && (ours[i].cut || i == 0); i++ {
		for j := range theirs {
			var maps []g.Affine
			for _, m := range startMaps(ours[i], theirs[j]) {
				if math.Abs(ours[i].compactUnder(m)/theirs[j].compactness()-1) <= shapeAlike {
					maps = append(maps, m)
				}
			}
			if len(maps) == 0 {
				continue
			}
			if tried++; tried > mostHypotheses {
				break
			}
			for _, m := range maps {
				f := pieceFit{m: m}
				f.match(ours, theirs)
				for _, p := range f.pairs {
					f.score += float64(p.weight() * (1 - p.theirs.centre.Dist(m.Apply(p.ours.centre))/(centreAlike*p.theirs.size())))
				}
				f.score -= fancy(m)
				starts = append(starts, f)
			}
		}
	}
	slices.SortStableFunc(starts, func(a, b pieceFit) int { return cmp.Compare(b.score, a.score) })
	var best pieceFit
	var refined []g.Affine
	for _, s := range starts {
		if len(refined) == mostRefined {
			break
		}
		if slices.ContainsFunc(refined, func(m g.Affine) bool { return alike(m, s.m) }) {
			continue
		}
		refined = append(refined, s.m)
		if f := fitFrom(s.m, ours, theirs); f.score > best.score+1e-6 {
			best = f
		}
	}
	if len(best.pairs) == 0 {
		return best, false
	}
	for range 4 {
		if m, ok := best.squares(fine, true); ok {
			best.m = m
		}
	}
	best.match(ours, theirs)
	return best, true
}

// alike tells whether two maps come to the same once they are improved.
func alike(a, b g.Affine) bool {
	size := math.Sqrt(math.Abs(float64(a[0]*a[3]) - float64(a[1]*a[2])))
	for k := range 4 {
		if math.Abs(a[k]-b[k]) > 1e-3*size {
			return false
		}
	}
	return same.Hypot(a[4]-b[4], a[5]-b[5]) < centreOff*size
}

// Steps along an outline where maps are compared, and where the best one is
// measured.
const (
	coarse = 40
	fine   = 400
)

// weight is what a pair counts: what is only drawn tells a mirror from a turn where
// the cut cannot.
func (p piecePair) weight() float64 {
	if p.ours.cut {
		return 1
	}
	return 0.02
}

// startMaps returns the maps that bring one outline to another: at the size of
// their areas, at quarter turns and at the turn between their principal axes; and box
// to box at quarter turns, for drawings stretched in one direction. Each is there
// straight and mirrored.
func startMaps(a, b piece) []g.Affine {
	size := math.Sqrt(b.area / a.area)
	var out []g.Affine
	for _, mirror := range []float64{1, -1} {
		axis := principal(b) - float64(mirror*principal(a))
		for _, turn := range []float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2, axis, axis + math.Pi} {
			sin, cos := same.Sincos(turn)
			m := g.Affine{size * cos * mirror, size * sin * mirror, -size * sin, size * cos, 0, 0}
			to := m.Apply(a.centre)
			m[4], m[5] = b.centre.X-to.X, b.centre.Y-to.Y
			out = append(out, m)
		}
		sx, sy := b.box.Width()/a.box.Width(), b.box.Height()/a.box.Height()
		tx, ty := b.box.Height()/a.box.Width(), b.box.Width()/a.box.Height() // turned
		for _, turn := range []float64{1, -1} {
			for _, m := range []g.Affine{{sx * turn * mirror, 0, 0, sy * turn, 0, 0}, {0, tx * turn * mirror, -ty * turn, 0, 0, 0}} {
				to := m.Apply(a.centre)
				m[4], m[5] = b.centre.X-to.X, b.centre.Y-to.Y
				out = append(out, m)
			}
		}
	}
	return out
}

// principal returns the direction of the longer principal axis of an outline's
// corners about their centre, in radians.
func principal(p piece) float64 {
	var xx, xy, yy float64
	for _, q := range p.along(p.length / 200) {
		d := q.Sub(p.centre)
		xx, xy, yy = xx+float64(d.X*d.X), xy+float64(d.X*d.Y), yy+float64(d.Y*d.Y)
	}
	return same.Atan2(2*xy, xx-yy) / 2
}

// fitFrom matches under a start map and improves it. An outline that was moved pulls the
// small ones off theirs: then it is improved once more by most of the points alone.
func fitFrom(m g.Affine, ours, theirs []piece) pieceFit {
	f := improved(m, ours, theirs, false)
	if f.score > nearlyAll*float64(len(ours)) {
		return f
	}
	if without := improved(m, ours, theirs, true); without.score > f.score {
		return without
	}
	return f
}

// nearlyAll is the share of the outlines sent from which on a map need not be doubted.
const nearlyAll = 0.9

// improved improves a map: nearest points of matched outlines, least squares for all six
// numbers, matched again.
func improved(m g.Affine, ours, theirs []piece, most bool) pieceFit {
	f := pieceFit{m: m}
	f.match(ours, theirs)
	for range 8 {
		if len(f.pairs) == 0 {
			return pieceFit{}
		}
		next, ok := f.squares(coarse, most)
		if !ok {
			break
		}
		moved := 0.0
		for k := range next {
			moved = math.Max(moved, math.Abs(next[k]-f.m[k]))
		}
		f.m = next
		f.match(ours, theirs)
		if moved < 1e-10 {
			break
		}
	}
	f.measured()
	return f
}

// measured sets the score: how near the outlines lie, each by its own size.
func (f *pieceFit) measured() {
	size := math.Sqrt(math.Abs(float64(f.m[0]*f.m[3]) - float64(f.m[1]*f.m[2])))
	f.score = -fancy(f.m)
	for _, p := range f.pairs {
		off, _ := f.apart(p, coarse)
		f.score += float64(p.weight() * math.Max(0, 1-20*off/(size*p.ours.size())))
	}
}

// fancy is what a map costs that is not plain: where outlines are symmetric, the plainest
// is meant. It is less than what one outline that is only drawn can tell.
func fancy(m g.Affine) float64 {
	cost := 0.0
	size := math.Sqrt(math.Abs(float64(m[0]*m[3]) - float64(m[1]*m[2])))
	if float64(m[0]*m[3])-float64(m[1]*m[2]) < 0 {
		cost += 0.012
	}
	if math.Abs(m[1]) > 1e-3*size {
		cost += 0.003
	}
	if m[0] < 0 && m[3] < 0 {
		cost += 0.003
	}
	return cost
}

// match pairs outlines one to one under the map, larger ones first.
func (f *pieceFit) match(ours, theirs []piece) {
	f.pairs = f.pairs[:0]
	area := math.Abs(float64(f.m[0]*f.m[3]) - float64(f.m[1]*f.m[2]))
	taken := make([]bool, len(theirs))
	for i, o := range ours {
		at, best, found, compact := f.m.Apply(o.centre), math.Inf(1), -1, 0.0
		for j, t := range theirs {
			if taken[j] || math.Abs(t.area/(o.area*area)-1) > areaAlike {
				continue
			}
			d := t.centre.Dist(at)
			if d >= best || d > math.Max(centreAlike*t.size(), centreOff*math.Sqrt(area)) {
				continue
			}
			if compact == 0 {
				compact = o.compactUnder(f.m)
			}
			if math.Abs(compact/t.compactness()-1) <= shapeAlike {
				best, found = d, j
			}
		}
		if found >= 0 {
			taken[found] = true
			f.pairs = append(f.pairs, piecePair{i, found, o, theirs[found]})
		}
	}
}

// compactUnder is the compactness of an outline carried through m.
func (p piece) compactUnder(m g.Affine) float64 {
	length := 0.0
	last := m.Apply(p.points[len(p.points)-1])
	for _, q := range p.points {
		q = m.Apply(q)
		length += last.Dist(q)
		last = q
	}
	return 4 * math.Pi * p.area * math.Abs(float64(m[0]*m[3])-float64(m[1]*m[2])) / (length * length)
}

// squares returns the affine map of least squares from points of the sent outlines
// to the nearest points of theirs; only outlines to cut count. Most: points that lie
// three times further off than half of them are left out: an outline that was changed or
// moved shall not move the others.
func (f *pieceFit) squares(steps float64, most bool) (g.Affine, bool) {
	type link struct {
		from, to g.Point
		off      float64
	}
	var links []link
	var offs []float64
	for _, p := range f.pairs {
		if !p.ours.cut {
			continue
		}
		for _, q := range p.ours.along(p.ours.length / steps) {
			to, off := p.theirs.nearest(f.m.Apply(q))
			links, offs = append(links, link{q, to, off}), append(offs, off)
		}
	}
	if len(offs) == 0 {
		return g.Affine{}, false
	}
	limit := math.Inf(1)
	if most {
		slices.Sort(offs)
		limit = math.Max(3*offs[len(offs)/2], 1e-9)
	}
	var x, y [3][4]float64 // the rows of the map's x and of its y
	for _, l := range links {
		if l.off > limit {
			continue
		}
		row := [3]float64{l.from.X, l.from.Y, 1}
		for r := range 3 {
			for c := range 3 {
				x[r][c] += float64(row[r] * row[c])
				y[r][c] += float64(row[r] * row[c])
			}
			x[r][3] += float64(row[r] * l.to.X)
			y[r][3] += float64(row[r] * l.to.Y)
		}
	}
	a, ok1 := g.Solve3(x)
	b, ok2 := g.Solve3(y)
	return g.Affine{a[0], b[0], a[1], b[1], a[2], b[2]}, ok1 && ok2
}

// apart returns the largest distance between a pair's outlines, either way, in
// inches of the drawing that came back, and the place in the sent one.
func (f pieceFit) apart(p piecePair, steps float64) (float64, g.Point) {
	worst, at := 0.0, p.ours.centre
	for _, q := range p.ours.along(p.ours.length / steps) {
		if _, d := p.theirs.nearest(f.m.Apply(q)); d > worst {
			worst, at = d, q
		}
	}
	mapped := p.ours
	mapped.points = make([]g.Point, len(p.ours.points))
	for i, q := range p.ours.points {
		mapped.points[i] = f.m.Apply(q)
	}
	back := f.m.Inverse()
	for _, q := range p.theirs.along(p.theirs.length / steps) {
		if _, d := mapped.nearest(q); d > worst {
			worst, at = d, back.Apply(q)
		}
	}
	return worst, at
}
