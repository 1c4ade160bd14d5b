package layouts

import (
	"fmt"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// chordLine is the line of a face of a wing, or of a fin, at one butt line or
// waterline, from its fore to its aft edge.
func (c chords) chordLine(s *skin.LiftingSkin, v float64) skinLine {
	return skinLine{on: s, at: func(t float64) (skin.UV, error) {
		fore, aft := c.of(s, v)
		return skin.UV{U: fore + float64(t*(aft-fore)), V: v}, nil
	}}
}

// edgeLine is the fore or the aft edge of the skin between two butt lines or
// waterlines.
func (c chords) edgeLine(s *skin.LiftingSkin, v0, v1 float64, aft bool) skinLine {
	l := skinLine{on: s, at: func(t float64) (skin.UV, error) {
		v := v0 + float64(t*(v1-v0))
		fore, back := c.of(s, v)
		if aft {
			fore = back
		}
		return skin.UV{U: fore, V: v}, nil
	}}
	_, vb, _ := s.Breaks()
	for _, b := range vb {
		if t := (b - v0) / (v1 - v0); t > 0 && t < 1 {
			l.breaks = append(l.breaks, t)
		}
	}
	if len(l.breaks) > 1 && l.breaks[0] > l.breaks[1] {
		for i, j := 0, len(l.breaks)-1; i < j; i, j = i+1, j-1 {
			l.breaks[i], l.breaks[j] = l.breaks[j], l.breaks[i]
		}
	}
	return l
}

// outlineOf returns the edges of a face between two butt lines or waterlines, one
// after another round it.
func (c chords) outlineOf(s *skin.LiftingSkin, v0, v1 float64) []skinLine {
	root := c.chordLine(s, v0)
	tip := c.chordLine(s, v1)
	return []skinLine{root, c.edgeLine(s, v0, v1, true), reversedLine(tip), c.edgeLine(s, v1, v0, false)}
}

func reversedLine(l skinLine) skinLine {
	at := l.at
	l.at = func(t float64) (skin.UV, error) { return at(1 - t) }
	back := make([]float64, len(l.breaks))
	for i, b := range l.breaks {
		back[len(back)-1-i] = 1 - b
	}
	l.breaks = back
	return l
}

// placeWingBands places the films of a band chordwise over one face of a wing: one, or
// those between the stations at which it is cut.
func placeWingBands(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) ([]Placement, error) {
	cuts := slices.Clone(m.Figure.Band.Cuts)
	slices.Sort(cuts)
	ends := append(append([]float64{math.Inf(-1)}, cuts...), math.Inf(1))
	var out []Placement
	for i := 1; i < len(ends); i++ {
		one := *m
		if len(cuts) > 0 {
			one.ID = fmt.Sprintf("%s-%d", m.ID, i)
		}
		p, err := placeWingBand(a, &one, fig, side, chords{ends[i-1], ends[i]})
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// chords are what of each chord lies between two stations.
type chords struct{ fore, aft float64 }

var wholeChords = chords{math.Inf(-1), math.Inf(1)}

// of returns the stations of the chord at a butt line.
func (c chords) of(s *skin.LiftingSkin, v float64) (fore, aft float64) {
	fore, aft = s.Chord(v)
	return math.Max(fore, c.fore), math.Min(aft, c.aft)
}

// placeWingBand places one film of a band over a wing. Butt lines are counted outwards
// on both sides.
func placeWingBand(a *Airframe, m *MarkingSpec, fig Figure, side g.Side, within chords) (Placement, error) {
	spec := m.Figure.Band
	if m.True == TrueSide {
		return Placement{}, fmt.Errorf("a wing is not seen from the side: write true: skin")
	}
	s, err := a.WingSurface(m.Where.Surfaces[0], side, m.Where.Face)
	if err != nil {
		return Placement{}, err
	}
	_, vb, _ := s.Breaks()
	root, tip := math.Min(math.Abs(vb[0]), math.Abs(vb[len(vb)-1])), math.Max(math.Abs(vb[0]), math.Abs(vb[len(vb)-1]))
	strips := inPaintsOf(spec.Strips, fig.Layers)
	figure := Figure{ID: fig.ID, Handed: fig.Handed}
	out := func(bl float64) float64 { return bl * side.Sign() }
	in, end := spec.At[0], spec.At[len(spec.At)-1]
	if len(spec.At) == 1 {
		list, err := stripsByWidth(strips, 0)
		if err != nil {
			return Placement{}, err
		}
		end = in + list[len(list)-1].to
	}
	if in < root-1e-9 || end > tip+1e-9 || end <= in {
		return Placement{}, g.Errorf("the band runs from BL %v to BL %v: the skin of %s runs from BL %v to BL %v, and the band outwards",
			g.ButtLine(in), g.ButtLine(end), m.Where.Surfaces[0], g.ButtLine(root), g.ButtLine(tip))
	}
	fore, aft := within.of(s, out((in+end)/2))
	for _, bl := range []float64{in, end} {
		if f, b := within.of(s, out(bl)); !(b > f) {
			return Placement{}, g.Errorf("cuts: no skin of the band lies between FS %v and FS %v at BL %v: take one out", g.Station(f), g.Station(b), g.ButtLine(bl))
		}
	}
	middle := (fore + aft) / 2
	var drawn SkinDrawing
	if len(spec.At) == 1 {
		list, err := stripsByWidth(strips, 0)
		if err != nil {
			return Placement{}, err
		}
		const beside = 3.0 // inches of span that the edges are followed beyond the band, which leans on a wing with dihedral
		b0, b1 := math.Max(root, in-beside), math.Min(tip, end+beside)
		drawn = bandOnSkin{
			figure: figure, line: within.chordLine(s, out(in)), probe: skin.UV{U: middle, V: out((in + end) / 2)}, strips: list,
			bounds: within.outlineOf(s, out(b0), out(b1)),
		}
	} else {
		parts, err := shares(strips)
		if err != nil {
			return Placement{}, err
		}
		b := betweenLines{figure: figure, strips: strips}
		for _, t := range parts {
			b.lines = append(b.lines, within.chordLine(s, out(in+float64(t*(end-in)))))
		}
		drawn = b
	}
	one := *m
	one.Where.FS, one.Where.BL, one.Where.Hold = g.Station(middle), g.ButtLine((in+end)/2), HoldCentre
	p, err := placeOnWing(a, &one, roomFor(fig, end-in, aft-fore), side)
	p.Drawn, p.ToEdge = drawn, true
	return p, err
}

func midChord(s *skin.LiftingSkin, v float64) float64 {
	fore, aft := s.Chord(v)
	return (fore + aft) / 2
}
