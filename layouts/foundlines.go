package layouts

import (
	"math"
	"slices"
	"sort"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// Found is a part of the structure that one finds on the aircraft: a frame, a rib, a
// stringer, an edge. Plane and At are empty where its name is enough.
type Found struct {
	Name  string // "frame", "rib", "stringer S2", "crown", "leading edge"
	Plane string // FS, BL or WL of a frame or rib
	At    float64
}

// In names it with its place in a unit: "frame FS 144", "stringer S2".
func (f Found) In(u g.Units) string {
	if f.Plane == "" {
		return f.Name
	}
	return f.Name + " " + f.Plane + " " + u.At(f.At)
}

// FoundLine is one that runs along a surface: fore and aft on a body, along the chord of
// a wing, fin or plate.
type FoundLine struct {
	Found
	ID string  // as [Airframe.GirthFrom] takes it; of ribs empty
	V  float64 // its parameter on the surface
}

// FoundStart is where a length along such a line begins.
type FoundStart struct {
	Found
	FS g.Station
	// Seen: measured straight, square to the side or from above, and not along the skin,
	// because no tape lies well round the nose of a profile.
	Seen bool
}

// mostLines is how many lines, the nearest first, a place is measured from.
const mostLines = 3

// FoundLines returns the lines nearest to a point of a marking's skin, the nearest
// first.
func (a *Airframe) FoundLines(p Placement, uv skin.UV) []FoundLine {
	var out []FoundLine
	known := func(v float64) bool { // the drawing's own name for the crown, a rib of two plates
		return slices.ContainsFunc(out, func(l FoundLine) bool { return math.Abs(l.V-v) < 1e-9 })
	}
	_, _, period := p.Surface.Breaks()
	if period > 0 {
		spec, _ := a.SurfaceSpec(p.On)
		for _, name := range append(slices.Clone(spec.Lines), CrownLine, KeelLine) {
			v, err := a.lineV(p.Surface, []string{p.On}, name, p.Side)
			if err != nil {
				continue
			}
			said := "stringer " + name
			switch {
			case name == CrownLine || name == KeelLine:
				said = name
			case slices.Contains(spec.Hard, name):
				said = "longeron " + name
			}
			v = uv.V + math.Remainder(v-uv.V, period)
			if !known(v) {
				out = append(out, FoundLine{Found{Name: said}, name, v})
			}
		}
	} else {
		for _, name := range p.Marking.Where.Surfaces {
			spec, ok := a.SurfaceSpec(name)
			if !ok {
				continue
			}
			for _, z := range spec.Ribs {
				if !known(z.Inches()) {
					out = append(out, FoundLine{Found{"rib", "WL", z.Inches()}, "", z.Inches()})
				}
			}
			for _, y := range spec.Span.Ribs {
				bl := y.Inches() * p.Side.Sign()
				out = append(out, FoundLine{Found{"rib", "BL", bl}, "", bl})
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return math.Abs(out[i].V-uv.V) < math.Abs(out[j].V-uv.V)-1e-9 })
	return out[:min(len(out), mostLines)]
}

// FoundStarts returns where a length along a line to the station of a point begins: the
// frames or the edges next ahead of it and next behind.
func (a *Airframe) FoundStarts(p Placement, line FoundLine, u float64) []FoundStart {
	if _, _, period := p.Surface.Breaks(); period > 0 {
		return a.framesBeside(p, u)
	}
	if !p.Surface.Contains(skin.UV{U: u, V: line.V}) {
		return nil
	}
	if s, ok := p.Surface.(*skin.LiftingSkin); ok {
		_, aft := s.Chord(line.V)
		return []FoundStart{
			{Found{Name: "leading edge"}, s.LeadingEdge(line.V), true},
			{Found{Name: "trailing edge"}, g.Station(aft), false},
		}
	}
	var out []FoundStart
	for _, way := range []float64{-1, 1} {
		edge, ok := edgeFrom(p.Surface, skin.UV{U: u, V: line.V}, skin.UV{U: way})
		if !ok {
			continue
		}
		name := "fore edge"
		if way > 0 {
			name = "aft edge"
		}
		if len(p.Marking.Where.Surfaces) > 1 {
			name += " of the " + a.partAt(p, u, line.V)
		}
		out = append(out, FoundStart{Found{Name: name}, g.Station(edge.U), false})
	}
	return out
}

// Edges returns the upper and the lower edge of a plate at a point's station.
func (a *Airframe) Edges(p Placement, uv skin.UV) []FoundLine {
	if _, ok := p.Surface.(*skin.PlateSkin); !ok || !p.Surface.Contains(uv) {
		return nil
	}
	var out []FoundLine
	for _, way := range []float64{-1, 1} {
		edge, ok := edgeFrom(p.Surface, uv, skin.UV{V: way})
		if !ok {
			continue
		}
		name := "lower edge"
		if way > 0 {
			name = "upper edge"
		}
		if len(p.Marking.Where.Surfaces) > 1 {
			name += " of the " + a.partAt(p, uv.U, uv.V)
		}
		out = append(out, FoundLine{Found{Name: name}, "", edge.V})
	}
	return out
}

// partAt names the plate, of those that carry a marking together, that holds a place.
func (a *Airframe) partAt(p Placement, u, v float64) string {
	for _, name := range p.Marking.Where.Surfaces {
		if s, err := a.Surface([]string{name}, p.Side); err == nil && s.Contains(skin.UV{U: u, V: v}) {
			return name
		}
	}
	return p.On
}

// edgeFrom returns where the skin ends, going from a place on it in a direction of one
// inch of the parameters; false where it does not within 400 in.
func edgeFrom(s skin.Surface, from, way skin.UV) (skin.UV, bool) {
	at := func(d float64) skin.UV { return skin.UV{U: from.U + float64(d*way.U), V: from.V + float64(d*way.V)} }
	const step, far = 0.25, 400.0
	for d := step; d < far; d += step {
		if s.Contains(at(d)) {
			continue
		}
		in, out := d-step, d
		for range 40 {
			if m := (in + out) / 2; s.Contains(at(m)) {
				in = m
			} else {
				out = m
			}
		}
		return at(in), true
	}
	return skin.UV{}, false
}

// framesBeside returns the frames of a body next ahead of a station and next behind:
// its sections, and what is taped round a section.
func (a *Airframe) framesBeside(p Placement, u float64) []FoundStart {
	spec, ok := a.SurfaceSpec(p.On)
	if !ok || spec.Kind == Scanned {
		return nil
	}
	var all []float64
	for _, s := range spec.Sections {
		all = append(all, s.FS.Inches())
	}
	for _, o := range a.Spec.Obstacles {
		if o.Kind == Around && o.Surface == p.On && !o.OnWing {
			all = append(all, o.At.FS.Inches())
		}
	}
	fore, aft := math.Inf(-1), math.Inf(1)
	for _, fs := range all {
		if fs <= u {
			fore = math.Max(fore, fs)
		}
		if fs >= u {
			aft = math.Min(aft, fs)
		}
	}
	var out []FoundStart
	for _, fs := range []float64{fore, aft} {
		if !math.IsInf(fs, 0) && (len(out) == 0 || out[0].At != fs) {
			out = append(out, FoundStart{Found{"frame", "FS", fs}, g.Station(fs), false})
		}
	}
	return out
}

// Along returns the length along a line of a marking's skin from where it starts to a
// station, in inches, aft positive.
func (s FoundStart) Along(p Placement, line FoundLine, u float64) float64 {
	from := s.FS.Inches()
	if s.Seen {
		return u - from
	}
	us, _, _ := p.Surface.Breaks()
	cuts := []float64{math.Min(from, u)}
	for _, b := range us {
		if b > cuts[0]+1e-9 && b < math.Max(from, u)-1e-9 {
			cuts = append(cuts, b)
		}
	}
	cuts = append(cuts, math.Max(from, u))
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		mid := skin.UV{U: (cuts[i-1] + cuts[i]) / 2, V: line.V}
		n := g.Steps(cuts[i]-cuts[i-1], 2)
		last, _ := p.Surface.At(skin.UV{U: cuts[i-1], V: line.V}, mid)
		for k := 1; k <= n; k++ {
			next, _ := p.Surface.At(skin.UV{U: cuts[i-1] + float64((cuts[i]-cuts[i-1])*float64(k)/float64(n)), V: line.V}, mid)
			sum += next.Sub(last).Norm()
			last = next
		}
	}
	return math.Copysign(sum, u-from)
}

// Across returns the length along the skin from a line to a point, at the point's
// station, in inches: on a body down positive, else towards greater V.
func (l FoundLine) Across(p Placement, uv skin.UV) float64 {
	if _, _, period := p.Surface.Breaks(); period > 0 {
		return girthDown(p, l.V, uv)
	}
	return math.Copysign(skin.Girth(p.Surface, g.Station(uv.U), math.Min(l.V, uv.V), math.Max(l.V, uv.V)).Inches(), uv.V-l.V)
}
