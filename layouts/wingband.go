package layouts

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// chordLine is the line of a face of a wing, or of a fin, at one butt line or
// waterline, from its fore to its aft edge.
func chordLine(s *skin.LiftingSkin, v float64) skinLine {
	return skinLine{on: s, at: func(t float64) (skin.UV, error) {
		fore, aft := s.Chord(v)
		return skin.UV{U: fore + float64(t*(aft-fore)), V: v}, nil
	}}
}

// edgeLine is the fore or the aft edge of the skin between two butt lines or
// waterlines.
func edgeLine(s *skin.LiftingSkin, v0, v1 float64, aft bool) skinLine {
	l := skinLine{on: s, at: func(t float64) (skin.UV, error) {
		v := v0 + float64(t*(v1-v0))
		fore, back := s.Chord(v)
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
func outlineOf(s *skin.LiftingSkin, v0, v1 float64) []skinLine {
	root := chordLine(s, v0)
	tip := chordLine(s, v1)
	return []skinLine{root, edgeLine(s, v0, v1, true), reversedLine(tip), edgeLine(s, v1, v0, false)}
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

// placeWingBand places the film of a band chordwise over one face of a wing. Butt
// lines are counted outwards on both sides.
func placeWingBand(a *Airframe, m *MarkingSpec, fig Figure, side g.Side) (Placement, error) {
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
	var drawn SkinDrawing
	if len(spec.At) == 1 {
		list, err := stripsByWidth(strips, 0)
		if err != nil {
			return Placement{}, err
		}
		end = in + list[len(list)-1].to
		const beside = 3.0 // inches of span that the edges are followed beyond the band, which leans on a wing with dihedral
		b0, b1 := math.Max(root, in-beside), math.Min(tip, end+beside)
		drawn = bandOnSkin{
			figure: figure, line: chordLine(s, out(in)), probe: skin.UV{U: midChord(s, out((in+end)/2)), V: out((in + end) / 2)}, strips: list,
			bounds: outlineOf(s, out(b0), out(b1)),
		}
	} else {
		parts, err := shares(strips)
		if err != nil {
			return Placement{}, err
		}
		b := betweenLines{figure: figure, strips: strips}
		for _, t := range parts {
			b.lines = append(b.lines, chordLine(s, out(in+float64(t*(end-in)))))
		}
		drawn = b
	}
	if in < root-1e-9 || end > tip+1e-9 || end <= in {
		return Placement{}, fmt.Errorf("the band runs from BL %s to BL %s: the skin of %s runs from BL %s to BL %s, and the band outwards",
			g.FormatNumber(in, 3), g.FormatNumber(end, 3), m.Where.Surfaces[0], g.FormatNumber(root, 3), g.FormatNumber(tip, 3))
	}
	fore, aft := s.Chord(out((in + end) / 2))
	one := *m
	one.Where.FS, one.Where.BL, one.Where.Hold = g.Station((fore+aft)/2), g.ButtLine((in+end)/2), HoldCentre
	p, err := placeOnWing(a, &one, roomFor(fig, end-in, aft-fore), side)
	p.Drawn, p.ToEdge = drawn, true
	return p, err
}

func midChord(s *skin.LiftingSkin, v float64) float64 {
	fore, aft := s.Chord(v)
	return (fore + aft) / 2
}
