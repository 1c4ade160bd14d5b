package skin

import (
	"math"

	g "maskloft/geometry"
)

// Law returns the law that the lines along the body follow.
func (s *FairedSkin) Law() FairingLaw { return s.fairing.Law }

// Sections returns the stations of the sections.
func (s *FairedSkin) Sections() []g.Station {
	out := make([]g.Station, len(s.u))
	for i, u := range s.u {
		out[i] = g.Station(u)
	}
	return out
}

// Without returns the skin through all sections but one; lines keep their V. False for
// the first and the last section, for a break frame, and where the skin would fold.
func (s *FairedSkin) Without(k int) (*FairedSkin, bool) {
	if k <= 0 || k+1 >= len(s.u) || s.breaksAt(k) {
		return nil, false
	}
	out := &FairedSkin{n: s.n, fairing: s.fairing}
	out.u = append(append(out.u, s.u[:k]...), s.u[k+1:]...)
	out.halves = append(append(out.halves, s.halves[:k]...), s.halves[k+1:]...)
	return out.finished()
}

// Under returns the skin through the same sections under another law.
func (s *FairedSkin) Under(law FairingLaw) (*FairedSkin, bool) {
	out := &FairedSkin{n: s.n, fairing: s.fairing, u: s.u, halves: s.halves}
	out.fairing.Law = law
	return out.finished()
}

func (s *FairedSkin) breaksAt(k int) bool {
	for _, fs := range s.fairing.BreakFrames {
		if math.Abs(fs.Inches()-s.u[k]) < 1e-9 {
			return true
		}
	}
	return false
}

func (s *FairedSkin) finished() (*FairedSkin, bool) {
	s.drawVLines()
	if s.cutRuns(s.fairing) != nil || s.checkBays() != nil {
		return nil, false
	}
	return s, true
}

// SectionMiss is by how much a tape would change were one section not given.
type SectionMiss struct {
	Section int // by index of [FairedSkin.Sections]
	By      g.Length
}

// TapeDoubt is by how much a tape may be out because a skin is known at its sections
// only.
type TapeDoubt struct {
	// Limit is about what 95 to 99 of 100 tapes stay within; NaN where no section can be
	// left out: then nothing is known of it.
	Limit  g.Length
	Misses []SectionMiss
	Second g.Length // longest difference to the tape under the other laws
	End    bool     // it runs in a first or a last bay
}

// Shares of a miss that are taken as the limit: leaving a section out doubles the
// spacing, and the miss of a curve grows by the square of it or more. Inside a run they
// are those that cover 95 to 100 % of the true misses of profiles (spheroids, tail booms,
// wing sections and cones; worked outside this project). In end bays, where a law makes
// its slope up, tapes miss by more: picked on spheroids of 25 by 120 in, and held against
// another body in the tests.
const (
	insideShare, endShare           = 0.5, 2
	ruledInsideShare, ruledEndShare = 0.42, 1
)

// TapeDoubt estimates by how much the tape between two points may be out: the sections
// whose bays it touches are left out in turn, and their misses added: by squares, but for
// ruled skins, whose bays err alike.
//
// Errors are those of [Tape].
func (s *FairedSkin) TapeDoubt(a, b UV, tolerance float64) (TapeDoubt, error) {
	d := TapeDoubt{Limit: g.Length(math.NaN())}
	here, err := Tape(s, a, b, tolerance)
	if err != nil {
		return d, err
	}
	lo, hi := min(a.U, b.U), max(a.U, b.U)
	last := len(s.u) - 1
	for k := 1; k < last; k++ {
		if s.u[k-1] >= hi || s.u[k+1] <= lo {
			continue
		}
		rest, ok := s.Without(k)
		if !ok {
			continue
		}
		tape, err := Tape(rest, a, b, tolerance)
		if err != nil {
			return d, err
		}
		d.Misses = append(d.Misses, SectionMiss{k, tape.Length - here.Length})
	}
	for _, law := range []FairingLaw{Ruled, Monotone, Natural, Clamped} {
		if law == s.fairing.Law || law == Ruled { // a ruled skin is no opinion of a faired one
			continue
		}
		other, ok := s.Under(law)
		if !ok {
			continue
		}
		tape, err := Tape(other, a, b, tolerance)
		if err != nil {
			return d, err
		}
		if m := g.Length(math.Abs(float64(tape.Length - here.Length))); m > d.Second {
			d.Second = m
		}
	}
	d.End = lo < s.u[1] || hi > s.u[last-1]
	if len(d.Misses) > 0 {
		d.Limit = s.limitOf(d, -1, 1)
	}
	return d, nil
}

// limitOf returns the limit of misses, those of the sections on both sides of a bay
// taken times a factor; bay -1: none.
func (s *FairedSkin) limitOf(d TapeDoubt, bay int, factor float64) g.Length {
	share := insideShare
	switch {
	case s.fairing.Law == Ruled && d.End:
		share = ruledEndShare
	case s.fairing.Law == Ruled:
		share = ruledInsideShare
	case d.End:
		share = endShare
	}
	sum, squares := 0.0, 0.0
	for _, m := range d.Misses {
		v := math.Abs(share * m.By.Inches())
		if bay >= 0 && (m.Section == bay || m.Section == bay+1) {
			v *= factor
		}
		sum, squares = sum+v, squares+float64(v*v)
	}
	if s.fairing.Law == Ruled { // chords lie all on one side of a curve
		return g.Length(sum)
	}
	return g.Length(math.Sqrt(squares))
}

// halved is by what a miss falls when a frame is set half way in a bay: what 95 of 100
// simulated profiles of spheroids did better than (worked outside this project).
var halved = map[FairingLaw]float64{Ruled: 0.4, Monotone: 0.2, Natural: 0.3, Clamped: 0.1}

// OneMore returns where one more section would help a tape most, half way in the bay
// beside the sections that miss most, and the limit to expect then. False where nothing
// is known to help.
func (s *FairedSkin) OneMore(d TapeDoubt, lo, hi float64) (g.Station, g.Length, bool) {
	best, at, found := math.Inf(1), 0.0, false
	for bay := 0; bay+1 < len(s.u); bay++ {
		if len(d.Misses) == 0 || s.u[bay] >= hi || s.u[bay+1] <= lo {
			continue
		}
		if l := s.limitOf(d, bay, halved[s.fairing.Law]).Inches(); l < best-1e-9 {
			best, at, found = l, (s.u[bay]+s.u[bay+1])/2, true
		}
	}
	return g.Station(at), g.Length(best), found
}
