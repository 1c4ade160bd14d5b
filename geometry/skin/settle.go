package skin

import (
	"context"
	"math"
	"sync"

	g "maskloft/geometry"
	"maskloft/geometry/parallel"
	"maskloft/geometry/same"
)

// flattening is one film to be laid flat.
type flattening struct {
	s         Surface
	chart     chart
	at        Frame // of the film, in the parameters of the chart
	film      g.Rect
	need      g.Rect  // what is to be covered, as far as there is skin
	cell      float64 // widest cell of the first net, inches
	tolerance float64
	ctx       context.Context // calls the work off; nil: nothing does

	operations float64 // of its matrices so far: see [mostOperations]
	strain     float64 // root mean square, of the last net but the first, which may only be coarse

	band    []float64         // memory for [Net.relax]
	factor  factor            // of the last matrix, in that memory
	samples map[*Net][]sample // of the nets of one window
	of      *Net              // of the film that was relaxed last
	onFilm  []sample          // of that film
	counts  []bool            // which nodes lie on it
}

// filmMemory is what a film takes most of, for the next one.
type filmMemory struct {
	band   []float64
	onFilm []sample
}

var filmMemories = sync.Pool{New: func() any { return &filmMemory{} }}

// samplesOf returns the samples of a net, which are the same in every relaxation of it.
func (f *flattening) samplesOf(n *Net) []sample {
	if _, known := f.samples[n]; !known {
		if f.samples == nil {
			f.samples = map[*Net][]sample{}
		}
		f.samples[n] = n.samples()
	}
	return f.samples[n]
}

// ended is the error of work that was called off.
func (f *flattening) ended() error {
	if f.ctx == nil {
		return nil
	}
	parallel.Turn()
	return f.ctx.Err()
}

// strained is the root mean square strain of a first net above which it is taken for
// the skin's own: the film is then relaxed from there on. A net that is only coarse is
// found out when it is halved.
const strained = 3e-4

// A net counts as relaxed when a step moves no node by more than settledPart of the
// tolerance, and a film's part of it as found when it moves none by turnedPart: left and
// right then agree to 1e-9 in, whatever the start.
const (
	settledPart = 1e-4
	turnedPart  = 1e-3
)

// mostWork is the largest net, in nodes times those across, that is halved only because
// its strain falls away: 2,000 nodes in a square.
const mostWork = 90000

func (n *Net) work() int { return n.nodes() * min(n.nu(), n.nv()) }

// settle relaxes nets of one window, each of half the spacing of the one before,
// until no node of the film moves by more than tolerance, and the strain left is the
// skin's own. Where that is none, any window has the same flat; otherwise the energy is
// that of the film. A window that does not cover what is needed is returned as it is.
func (f *flattening) settle(w window) (*FlatMap, error) {
	f.samples = nil
	var last *FlatMap
	filmed := false
	for level := 0; ; level++ {
		n := newNet(f.chart.Surface, w, f.cell, fineness{level, level})
		if filmed && level > 1 && n.work() > longWork {
			return f.settleLong(w, last, level-1)
		}
		if n.nodes() > 20000 {
			return nil, f.unsettled()
		}
		var start []g.Point
		if last == nil {
			// no answer is given without a second net
			if n.work() > mostWork && f.tooLong(newNet(f.chart.Surface, w, f.cell, fineness{1, 1})) {
				return nil, f.unsettled()
			}
			start = n.unfold()
		} else {
			start = n.interpolateFrom(last.net, last.flat)
		}
		m := &FlatMap{s: f.s, chart: f.chart, net: n, film: f.film, settled: Settled{Nodes: n.nodes(), Spacing: f.cell / float64(int(1)<<level)}}
		compare := filmed
		if !filmed {
			if err := m.relaxWindow(start, f); err != nil {
				return nil, err
			}
			if last == nil {
				if wider := w; m.widen(&wider, f.need) {
					return m, nil
				}
			}
			// strain that falls away with the spacing is not the skin's: it is taken
			// out, so that what can be unrolled is exact
			exact, falling := m.left <= g.ExactStrain/10, last != nil && m.left < last.left/4
			if last != nil && (exact || falling && n.work() > mostWork || !falling && m.weak(f)) {
				m.settled.Moved = m.movedFrom(last)
				if m.settled.Moved <= f.tolerance && exact {
					return m, nil
				}
				if m.settled.Moved <= f.tolerance {
					return m, m.relaxFilm(m.flat, f)
				}
			}
			if filmed = !exact && !falling && (last != nil || m.left > strained); filmed && last != nil {
				if err := last.relaxFilm(last.flat, f); err != nil {
					return nil, err
				}
				compare = true
			}
			start = m.flat
		}
		if filmed {
			if err := m.relaxFilm(start, f); err != nil {
				return nil, err
			}
			if last != nil {
				f.strain = m.left
			}
			if compare {
				m.settled.Moved = m.movedFrom(last)
				falling := m.left > g.ExactStrain/10 && m.left < last.left/4 && n.work() < mostWork
				if m.settled.Moved <= f.tolerance && !falling {
					return m, m.setLaws(f)
				}
			}
		}
		last = m
	}
}

// longWork is the largest net, in nodes times those across, that is halved both ways: a
// line of 15 ft on a faired body wants fine cells across, where the skin turns, and its
// far ends move by what its cells along err. Halved both ways its net takes minutes.
const longWork = 150000

// settleLong goes on from the flat of a film on a net of level halvings each way, which
// has moved too far. What each direction moves is asked by itself: first of nets that are
// coarser in it alone, then of finer ones, until both together move by no more than
// tolerance. The flat is that of the direction that moved more, where what the other
// would move besides is within tolerance too.
func (f *flattening) settleLong(w window, base *FlatMap, level int) (*FlatMap, error) {
	next := func(to fineness, from *FlatMap) (*FlatMap, error) {
		n := newNet(f.chart.Surface, w, f.cell, to)
		if n.nodes() > 20000 {
			return nil, f.unsettled()
		}
		out := &FlatMap{s: f.s, chart: f.chart, net: n, film: f.film, settled: Settled{Nodes: n.nodes(), Spacing: f.cell / float64(int(1)<<min(to.u, to.v))}}
		return out, out.relaxFilm(n.interpolateFrom(from.net, from.flat), f)
	}
	var moved, whole [2]float64 // along U and along V: by the last halving, and since base
	for k, to := range [2]fineness{{level - 1, level}, {level, level - 1}} {
		coarse, err := next(to, base)
		if err != nil {
			return nil, err
		}
		moved[k] = base.movedFrom(coarse)
	}
	at := fineness{level, level}
	finest := [2]*FlatMap{base, base}
	for moved[0]+moved[1] > f.tolerance {
		k, to := 0, fineness{at.u + 1, level}
		if moved[1] > moved[0] {
			k, to = 1, fineness{level, at.v + 1}
		}
		finer, err := next(to, finest[k])
		if err != nil {
			return nil, err
		}
		moved[k] = finer.movedFrom(finest[k])
		whole[k] += moved[k]
		finest[k], at = finer, fineness{max(at.u, to.u), max(at.v, to.v)}
	}
	k := 0
	if whole[1] > whole[0] {
		k = 1
	}
	m := finest[k]
	if m.settled.Moved = moved[k] + whole[1-k]; m.settled.Moved > f.tolerance {
		var err error
		if m, err = next(at, m); err != nil {
			return nil, err
		}
		m.settled.Moved = moved[0] + moved[1]
	}
	return m, m.setLaws(f)
}

// weak tells that the strain is so small that the flat of the window and that of the
// film differ by less than a tenth of the tolerance: only the last net is then relaxed
// over the film, and the film's law is left alone.
func (m *FlatMap) weak(f *flattening) bool {
	return m.left*same.Hypot(f.film.Width(), f.film.Height()) < f.tolerance/10
}

// mostSpare bounds what [FlatMap.Spare] returns, in inches.
const mostSpare = 0.25

// Spare is how far the edges of a film may lie from those it was relaxed for, in inches,
// before its flat moves by a tenth of tolerance: a flat changes by the strain times what
// its outline moves.
func (m *FlatMap) Spare(tolerance float64) float64 {
	return max(tolerance, min(mostSpare, tolerance/10/max(m.left, 1e-12)))
}

// relaxWindow relaxes the whole net.
func (m *FlatMap) relaxWindow(start []g.Point, f *flattening) error {
	samples := f.samplesOf(m.net)
	flat, least, rested, err := m.net.relax(start, samples, poisson, f, nil)
	if err != nil {
		return err
	}
	m.flat = flat
	m.take(samples, least)
	if err := m.pinned(f); err != nil || rested {
		return err
	}
	return m.folded(f.need)
}

// take keeps the energy of the film and the root mean square of its strain.
func (m *FlatMap) take(samples []sample, least float64) {
	area := 0.0
	for i := range samples {
		area += samples[i].area
	}
	m.energy, m.left = least, math.Sqrt(least/area)
}

// pinned pins the flat and makes it ready to be looked up.
func (m *FlatMap) pinned(f *flattening) error {
	if err := m.pin(f); err != nil {
		return err
	}
	m.bins = newBins(m)
	return nil
}

// relaxFilm relaxes the film: which part of the net it is follows from the flat, and the
// flat from that; the second turn moves hardly anything, since the flat changes by the
// strain times what its outline moves.
func (m *FlatMap) relaxFilm(start []g.Point, f *flattening) error {
	at, ok := m.wrap(f.at.At)
	if !ok {
		return f.refused("the anchor lies outside its own patch")
	}
	anchor := Frame{at, f.at.Up}
	all := f.samplesOf(m.net)
	m.flat = start
	f.of, f.onFilm = m.net, f.onFilm[:0]
	for turn := 0; turn < 8; turn++ {
		f.onFilm, f.counts = m.net.filmSamples(f.onFilm, all, m.flat, m.net.pose(m.flat, anchor), f.film)
		flat, least, rested, err := m.net.relax(m.flat, f.onFilm, poisson, f, f.counts)
		if err != nil {
			return err
		}
		before, after := m.net.pose(m.flat, anchor), m.net.pose(flat, anchor)
		moved := 0.0
		for k, q := range flat {
			if f.counts[k] {
				moved = max(moved, after.of(q).Dist(before.of(m.flat[k])))
			}
		}
		m.flat = flat
		m.take(f.onFilm, least)
		if !rested { // a fold is found before the further turns and nets
			if err := m.pin(f); err != nil {
				return err
			}
			if err := m.folded(f.need); err != nil {
				return err
			}
		}
		if moved <= f.tolerance*turnedPart {
			break
		}
	}
	return m.pinned(f)
}

// movedFrom returns how far the nodes and the outline of the film lie from where a
// coarser net of the same window has them.
func (m *FlatMap) movedFrom(last *FlatMap) float64 {
	moved := 0.0
	for k, p := range m.net.interpolateFrom(last.net, last.flat) {
		if m.film.Contains(m.flat[k]) {
			moved = max(moved, m.flat[k].Dist(p))
		}
	}
	for _, o := range m.outline(outlinePlaces) {
		p, _, _ := last.net.interpolate(last.flat, o.at)
		moved = max(moved, o.flat.Dist(p))
	}
	return moved
}
