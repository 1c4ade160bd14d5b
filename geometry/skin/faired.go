package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
)

// FairedSection is a cross-section and its station.
type FairedSection struct {
	FS    g.Station
	Curve SectionCurve
}

// FairedSkin is a fuselage through cross-sections, faired along the body.
//
// V is 0 at the crown, k at landmark k down the right side, n at the keel, and
// negative up the left side; between landmarks it is the girth fraction. So V and
// V + 2n are one point.
type FairedSkin struct {
	u              []float64 // stations of the sections
	halves         []halfSection
	n              int // pieces of the right half
	runs           []*fairingRun
	runOf          []int // run of each bay
	uLines, vLines []float64
	vPanelOf       []int // panel of each piece, from the keel up the left side
	fairing        Fairing
}

// NewFairedSkin returns the skin through at least two sections in order of FS.
// Sections of unlike kinds are cut at the same landmarks; see [joined].
//
// Errors name the section: order, size, exponent, corner radius, points that are
// doubled or run backwards, landmarks that have no like in the others; and a break
// frame without a section.
func NewFairedSkin(sections []FairedSection, fairing Fairing) (*FairedSkin, error) {
	if len(sections) < 2 {
		return nil, fmt.Errorf("a skin needs two sections or more, got %d", len(sections))
	}
	if fairing.Law < Ruled || fairing.Law > Clamped {
		return nil, fmt.Errorf("fairing law %d is not known: use ruled, monotone, natural or clamped", fairing.Law)
	}
	s := &FairedSkin{fairing: fairing}
	for i, sec := range sections {
		name := g.Errorf("section FS %v", sec.FS)
		if math.IsNaN(sec.FS.Inches()) || i > 0 && sec.FS <= sections[i-1].FS {
			return nil, g.Errorf("%v does not lie aft of FS %v: give the sections in order", name, sections[max(0, i-1)].FS)
		}
		if sec.Curve == nil {
			return nil, g.Errorf("%v has no outline", name)
		}
		h, err := sec.Curve.half()
		if err != nil {
			return nil, g.Errorf("%v: %w", name, err)
		}
		s.u, s.halves = append(s.u, sec.FS.Inches()), append(s.halves, h)
	}
	if err := s.likeSections(); err != nil {
		return nil, err
	}
	s.n = len(s.halves[0].pieces)
	s.drawVLines()
	if err := s.cutRuns(fairing); err != nil {
		return nil, err
	}
	if err := s.checkBays(); err != nil {
		return nil, err
	}
	return s, nil
}

// likeSections cuts sections that have not the same landmarks at the same ones.
//
// Error: they cannot be; the first section that is unlike the first of all is named.
func (s *FairedSkin) likeSections() error {
	for i, h := range s.halves {
		err := sameLandmarks(s.halves[0], h)
		if err == nil {
			continue
		}
		cut, ok := joined(s.halves)
		if !ok {
			return g.Errorf("section FS %v: %w", g.Station(s.u[i]), err)
		}
		s.halves = cut
		return nil
	}
	return nil
}

// sameLandmarks compares the landmarks of a section with those of the first.
func sameLandmarks(first, h halfSection) error {
	if len(h.pieces) != len(first.pieces) {
		return fmt.Errorf("%d landmarks from crown to keel, the first section has %d: name or tag the same points in every section", len(h.names), len(first.names))
	}
	for k, name := range h.names {
		if a := first.names[k]; a != "" && name != "" && a != name {
			return fmt.Errorf("landmark %d from the crown is %q, in the first section %q: name the same points in every section", k, name, a)
		}
	}
	return nil
}

// drawVLines draws a grid line at every landmark that is not smooth in some
// section, and at the keel.
func (s *FairedSkin) drawVLines() {
	for f := -s.n; f <= s.n; f++ {
		k := f
		if k < 0 {
			k = -f
		}
		line := k == s.n
		for _, h := range s.halves {
			line = line || !h.smooth[k]
		}
		if line {
			s.vLines = append(s.vLines, float64(f))
		}
		s.vPanelOf = append(s.vPanelOf, len(s.vLines)-1)
	}
}

// cutRuns cuts the body at the break frames and draws the lines along it.
func (s *FairedSkin) cutRuns(f Fairing) error {
	breaks := map[int]bool{0: true, len(s.u) - 1: true}
	for _, fs := range f.BreakFrames {
		at := -1
		for i, u := range s.u {
			if math.Abs(u-fs.Inches()) < 1e-9 {
				at = i
			}
		}
		if at < 0 {
			return g.Errorf("break frame FS %v has no section: slopes can jump only at a section", fs)
		}
		breaks[at] = true
	}
	first := 0
	for i, u := range s.u {
		if breaks[i] || f.Law == Ruled || f.Law == Monotone {
			s.uLines = append(s.uLines, u)
		}
		if i > 0 {
			s.runOf = append(s.runOf, len(s.runs))
		}
		if i > 0 && breaks[i] {
			s.runs = append(s.runs, newFairingRun(f.Law, s.u, s.halves, first, i))
			first = i
		}
	}
	return nil
}

// Breaks lists the sections where the law along the body is not smooth (all of
// them for ruled and monotone skins), and the landmarks with a crease, a jump of
// curvature or a jump of girth fraction; and the keel.
func (s *FairedSkin) Breaks() (u, v []float64, period float64) {
	return s.uLines, s.vLines, float64(2 * s.n)
}

// Contains tells whether uv lies between the first and the last section.
func (s *FairedSkin) Contains(uv UV) bool {
	return uv.U >= s.u[0]-1e-9 && uv.U <= s.u[len(s.u)-1]+1e-9
}

// Landmark returns the V of a named landmark of the right side; the left side has
// it at minus that.
func (s *FairedSkin) Landmark(name string) (v float64, ok bool) {
	for _, h := range s.halves {
		for k, n := range h.names {
			if n == name {
				return float64(k), true
			}
		}
	}
	return 0, false
}

// At returns the point and the normal in the panel that holds in, by the
// derivatives of the surface.
func (s *FairedSkin) At(uv, in UV) (g.Vec3, g.Vec3) {
	p, su, sv := s.derivatives(uv, in)
	return p, su.Cross(sv).Unit()
}

// derivatives returns the point in the panel that holds in, and the derivatives of the
// surface by U and V there.
func (s *FairedSkin) derivatives(uv, in UV) (p, su, sv g.Vec3) {
	l := s.line(uv.V, in.V)
	return l.at(uv.U, in.U)
}

// fairedLine is a line of constant V: a place of one piece of every section.
type fairedLine struct {
	s     *FairedSkin
	piece int
	t     float64 // girth fraction of the piece
	side  float64 // -1 on the left
	kept  []onSection
}

// onSection is a point of a section and its derivative by V.
type onSection struct {
	p     g.Point
	d     g.Vec
	known bool
}

// line returns the line of constant v in the panel that holds in.
func (s *FairedSkin) line(v, in float64) fairedLine {
	n := float64(s.n)
	lift := float64(2 * n * math.Floor((in+n)/(2*n)))
	v -= lift
	k := s.vPanelOf[min(int(math.Floor(in-lift))+s.n, 2*s.n-1)]
	f := max(s.vLines[k], min(s.vLines[k+1]-1, math.Floor(v)))
	if f < 0 {
		return fairedLine{s: s, piece: int(-f) - 1, t: 1 - (v - f), side: -1}
	}
	return fairedLine{s: s, piece: int(f), t: v - f, side: 1}
}

// section returns the point of the line on a section.
func (l *fairedLine) section(i int) (g.Point, g.Vec) {
	if l.kept == nil {
		return l.s.halves[i].pieces[l.piece].at(l.t)
	}
	k := &l.kept[i]
	if !k.known {
		k.p, k.d = l.s.halves[i].pieces[l.piece].at(l.t)
		k.known = true
	}
	return k.p, k.d
}

// at returns the point at station u in the panel that holds in, and the derivatives of
// the surface by U and V there.
func (l *fairedLine) at(u, in float64) (p, su, sv g.Vec3) {
	s := l.s
	panel := cellOf(s.uLines, in)
	bay := cellOf(s.u, max(s.uLines[panel], u))
	for s.u[bay] >= s.uLines[panel+1] {
		bay--
	}
	q := s.runs[s.runOf[bay]].at(l, bay, u)
	return g.Vec3{X: u, Y: l.side * q.p.X, Z: q.p.Y}, g.Vec3{X: 1, Y: l.side * q.du.X, Z: q.du.Y}, g.Vec3{Y: q.dv.X, Z: l.side * q.dv.Y}
}

// lineKept returns a line of constant v of which many points are asked for: what it has
// of each section is kept.
func (s *FairedSkin) lineKept(v, in float64) *fairedLine {
	l := s.line(v, in)
	l.kept = make([]onSection, len(s.halves))
	return &l
}
