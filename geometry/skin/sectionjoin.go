package skin

import (
	"math"
	"slices"

	g "maskloft/geometry"
)

// ownNames are landmarks that a kind of section names itself: they do not say that two
// lines are one.
var ownNames = []string{"", "crown", "beam", "keel", "top tangent", "upper side tangent", "lower side tangent", "bottom tangent"}

// joined cuts sections of unlike kinds at the same landmarks: those of the section that
// has most which cannot be left out, a corner, a tangent point or a named one. The
// others keep theirs that cannot be left out, each taken for the one of that name, or
// else the nearest by girth fraction in order; between these they are cut in proportion
// to the girth. So a rounded square runs into a circle with its corners ending on the
// quarters. False where a section has landmarks that find no place, names disagree, or
// points without names are fewer than the model's.
func joined(halves []halfSection) ([]halfSection, bool) {
	model := 0
	for i, h := range halves {
		if len(fixed(h)) > len(fixed(halves[model])) {
			model = i
		}
	}
	want := fixed(halves[model]) // with crown and keel
	at := fractions(halves[model])
	var out []halfSection
	for _, h := range halves {
		own, f := fixed(h), fractions(h)
		match := make([]int, len(want)) // landmark of h; -1: to be cut
		for k := range match {
			match[k] = -1
		}
		match[0], match[len(want)-1] = 0, len(h.names)-1
		last := 0
		inner := own[1 : len(own)-1]
		for _, k := range inner {
			if h.names[k] == "" && len(own) != len(want) {
				return nil, false // which of the model's it is, nobody says
			}
		}
		for n, k := range inner {
			best := -1
			for m := last + 1; m < len(want)-1-(len(inner)-1-n); m++ { // one is left for each that follows
				name, other := h.names[k], halves[model].names[want[m]]
				if !slices.Contains(ownNames, name) && !slices.Contains(ownNames, other) {
					if name == other {
						best = m
						break
					}
					continue
				}
				if best < 0 || math.Abs(at[want[m]]-f[k]) < math.Abs(at[want[best]]-f[k]) {
					best = m
				}
			}
			if best < 0 {
				return nil, false
			}
			match[best], last = k, best
		}
		cut := halfSection{}
		var cuts []float64
		for m := range want {
			if k := match[m]; k >= 0 {
				cuts = append(cuts, f[k])
				name := h.names[k]
				if slices.Contains(ownNames, name) {
					name = halves[model].names[want[m]]
				}
				cut.names, cut.smooth = append(cut.names, name), append(cut.smooth, h.smooth[k])
				continue
			}
			a, b := m, m // the matched ones on both sides
			for match[a] < 0 {
				a--
			}
			for match[b] < 0 {
				b++
			}
			part := (at[want[m]] - at[want[a]]) / (at[want[b]] - at[want[a]])
			cuts = append(cuts, f[match[a]]+float64(part*(f[match[b]]-f[match[a]])))
			cut.names, cut.smooth = append(cut.names, halves[model].names[want[m]]), append(cut.smooth, false)
		}
		for m := 1; m < len(cuts); m++ {
			cut.pieces = append(cut.pieces, stretchOf(h, f, cuts[m-1], cuts[m]))
		}
		out = append(out, cut)
	}
	return out, true
}

// fixed returns the landmarks of a section that cannot be left out, crown and keel among
// them.
func fixed(h halfSection) []int {
	var out []int
	last := len(h.names) - 1
	for k, name := range h.names {
		if k == 0 || k == last || !h.smooth[k] || !slices.Contains(ownNames, name) {
			out = append(out, k)
		}
	}
	return out
}

// fractions returns how far down the outline each landmark lies, from 0 to 1.
func fractions(h halfSection) []float64 {
	out := []float64{0}
	for k, p := range h.pieces {
		out = append(out, out[k]+p.length())
	}
	whole := out[len(out)-1]
	for k := range out {
		out[k] /= whole
	}
	return out
}

// stretch is a part of an outline that runs over one or several of its pieces.
type stretch struct {
	pieces   []girthPiece
	from, to []float64 // of each piece, its own girth fractions that are covered
	ends     []float64 // girth fraction of the stretch at which each piece ends
	whole    float64   // inches
}

// stretchOf returns the part of a section between two fractions of its girth; f are
// those of its landmarks.
func stretchOf(h halfSection, f []float64, a, b float64) girthPiece {
	const joint = 1e-12
	s := stretch{}
	for k, p := range h.pieces {
		lo, hi := max(a, f[k]), min(b, f[k+1])
		if hi-lo < joint {
			continue
		}
		width := f[k+1] - f[k]
		s.pieces, s.from, s.to = append(s.pieces, p), append(s.from, (lo-f[k])/width), append(s.to, (hi-f[k])/width)
		s.whole += p.length() * (hi - lo) / width
		s.ends = append(s.ends, (hi-a)/(b-a))
	}
	return s
}

func (s stretch) length() float64 { return s.whole }

func (s stretch) at(t float64) (g.Point, g.Vec) {
	k := 0
	for k+1 < len(s.pieces) && t > s.ends[k] {
		k++
	}
	start := 0.0
	if k > 0 {
		start = s.ends[k-1]
	}
	by := (s.to[k] - s.from[k]) / (s.ends[k] - start)
	p, d := s.pieces[k].at(s.from[k] + float64((t-start)*by))
	return p, d.Scale(by)
}
