package layouts

import (
	"math"
	"sync"
	"sync/atomic"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// roomSlack is what boxes about a body reach beyond the sections and points that they
// were measured on, in inches: more than a skin bulges between two of them.
const roomSlack = 0.5

// sliceStep is how far apart a body is sliced, in inches.
const sliceStep = 1.0

// bodySlices tells of most points that they lie outside a closed body without asking
// for the section at their own station: by the boxes about the slices before and behind.
// A slice is measured when it is first asked for.
type bodySlices struct {
	rings  sync.Pool // of [sectionRings]
	lo, hi float64
	boxes  []atomic.Pointer[g.Rect] // by slice, x to the right and y up
}

func newSlices(body skin.Surface) *bodySlices {
	lo, hi := skin.Extent(body)
	n := g.Steps(hi-lo, sliceStep)
	return &bodySlices{rings: sync.Pool{New: func() any { return newSectionRings(body) }}, lo: lo, hi: hi, boxes: make([]atomic.Pointer[g.Rect], n+1)}
}

// box returns the box about a slice.
func (s *bodySlices) box(i int) g.Rect {
	if b := s.boxes[i].Load(); b != nil {
		return *b
	}
	rings := s.rings.Get().(*sectionRings)
	defer s.rings.Put(rings)
	b := g.BoundsOf(rings.of(math.Min(s.hi, s.lo+float64(float64(i)*sliceStep)))...)
	s.boxes[i].Store(&b)
	return b
}

// holds tells whether a point may lie in the body; one it denies does not.
func (s *bodySlices) holds(p g.Vec3) bool {
	if !(p.X >= s.lo && p.X <= s.hi) {
		return false
	}
	i := min(int((p.X-s.lo)/sliceStep), len(s.boxes)-2)
	return s.box(i).Union(s.box(i + 1)).Grown(roomSlack).Contains(g.Point{X: p.Y, Y: p.Z})
}

// room is a box in space.
type room struct{ min, max g.Vec3 }

// boxOf returns a box about lifting surfaces.
func boxOf(faces ...*skin.LiftingSkin) room {
	inf := math.Inf(1)
	r := room{g.Vec3{X: inf, Y: inf, Z: inf}, g.Vec3{X: -inf, Y: -inf, Z: -inf}}
	const chords = 64 // places along each chord
	for _, f := range faces {
		_, vs, _ := f.Breaks()
		for _, v := range vs { // straight between
			fore, aft := f.Chord(v)
			for i := 0; i <= chords; i++ {
				p := skin.PointAt(f, skin.UV{U: fore + (aft-fore)*float64(i)/chords, V: v})
				r.min = g.Vec3{X: math.Min(r.min.X, p.X), Y: math.Min(r.min.Y, p.Y), Z: math.Min(r.min.Z, p.Z)}
				r.max = g.Vec3{X: math.Max(r.max.X, p.X), Y: math.Max(r.max.Y, p.Y), Z: math.Max(r.max.Z, p.Z)}
			}
		}
	}
	return r
}

func (r room) holds(p g.Vec3) bool {
	return p.X >= r.min.X-roomSlack && p.X <= r.max.X+roomSlack && p.Y >= r.min.Y-roomSlack && p.Y <= r.max.Y+roomSlack &&
		p.Z >= r.min.Z-roomSlack && p.Z <= r.max.Z+roomSlack
}
