package masks

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Slit is a straight cut in the waste of the film that lets it close over a
// bulge. Coordinates are those of the flat.
type Slit struct {
	From, To g.Point // from the edge of the field inwards
	Length   g.Length
	Closes   g.Length // by how much its edges come to lie over each other at From
}

const (
	// SlitShare is the most that one slit is to close, in inches: half a
	// sixteenth, a fold that tape bridges (common practice, no source).
	SlitShare = 1.0 / 32

	// slitClearance is the least distance of a slit from paint, in inches
	// (common practice, no source).
	slitClearance = 1.0 / 8

	shortestSlit = 1.0 / 4 // inches; shorter ones give nothing (common practice, no source)
	slitSpacing  = 1.0 / 2 // inches between slits where they stand closest; closer ones leave strips that tear (common practice, no source)

	// slitDepth is how far towards the middle a slit goes at most, as a fraction
	// of the way: over a bulge the excess grows with the cube of the radius, so
	// that an eighth of it lies within half the radius (derived), and the film
	// hangs together there.
	slitDepth = 0.5

	edgeStep = 1.0 / 8 // inches between the places of the edge that are looked at
)

// edgePlace is a short piece of the edge of the field.
type edgePlace struct {
	at      g.Point
	length  float64
	squeeze float64 // of the film along the edge, as a fraction, positive
}

// setSlits proposes relief slits where compression asks for them, and no other
// band asks for more. Slits run from the edge of the field towards its middle,
// through film that no pass paints.
//
// Round the edge the film is too long by the integral of its squeeze along the
// edge (derived). Over a disc of radius r on a bulge of Gaussian curvature K that
// is 2 pi K r^3 / 8 for film of least strain, as here, and 2 pi K r^3 / 6 for film
// that keeps its radii (derived). What the film takes when laid cold is left to it;
// as many slits share the rest as keep the share of each below [SlitShare], or
// stand as close as they may, each where an equal share has gathered: they stand
// closest where the film is squeezed most.
func (l *Laid) setSlits() {
	if l.Bands.Squeezed.Band(l.Strain.Compression) != layouts.SplitBand || l.Bands.Stretched.Band(l.Strain.Tension) == layouts.PiecesBand {
		return
	}
	paint := l.bareOfFilm()
	places, share := slitPlaces(edgeOf(l.Field, l.Map.StrainAt), l.Bands.Squeezed.Easy)
	for _, from := range places {
		if s, ok := slitFrom(from, l.Field.Centre(), paint); ok {
			s.Closes = share
			l.Slits = append(l.Slits, s)
		}
	}
}

// edgeOf walks the edge of a rectangle once round from its lower left corner,
// counter-clockwise.
func edgeOf(r g.Rect, strain func(g.Point) (skin.LocalStrain, bool)) []edgePlace {
	corners := [5]g.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}, r.Min}
	var out []edgePlace
	for k := range 4 {
		a, b := corners[k], corners[k+1]
		along := b.Sub(a).Unit()
		n := g.Steps(a.Dist(b), edgeStep)
		for i := range n {
			p := edgePlace{at: a.Lerp(b, (float64(i)+0.5)/float64(n)), length: a.Dist(b) / float64(n)}
			if s, ok := strain(p.at); ok {
				// strain in a direction from the principal strains (small strain)
				cos, sin := along.Dot(s.Squeeze), along.Cross(s.Squeeze)
				p.squeeze = max(0, -(float64(s.Least*cos*cos) + float64(s.Most*sin*sin)))
			}
			out = append(out, p)
		}
	}
	return out
}

// slitPlaces returns where on the edge slits begin, in the order of the places, and
// how much each closes: none where the film is nowhere squeezed by more than free,
// a fraction.
func slitPlaces(edge []edgePlace, free float64) ([]g.Point, g.Length) {
	total, peak := 0.0, 0.0
	for _, p := range edge {
		over := max(0, p.squeeze-free)
		total, peak = total+float64(over*p.length), max(peak, over)
	}
	if total <= 0 {
		return nil, 0
	}
	n := max(1, int(math.Ceil(total/max(SlitShare, peak*slitSpacing)-1e-6)))
	share := total / float64(n)
	var out []g.Point
	sum := 0.0
	for _, p := range edge {
		sum += float64(max(0, p.squeeze-free) * p.length)
		if sum > share*(float64(len(out))+0.5+1e-6) { // a tie falls the same way on every machine
			out = append(out, p.at)
		}
	}
	return out, g.Length(share)
}

// slitFrom returns the slit from a place on the edge of the field towards its
// middle, as long as it keeps clear of the paint; false where that is too short.
func slitFrom(from, centre g.Point, paint *g.Chords) (Slit, bool) {
	way := centre.Sub(from)
	most := way.Norm() * slitDepth
	unit := way.Unit()
	at := 0.0
	// every step is as long as the paint is far, so that none is stepped over
	for i := 0; at < most && i < 1000; i++ {
		q := from.Add(unit.Scale(at))
		free := paint.Distance(q) - slitClearance
		if paint.Contains(q) || free < g.OutlineTolerance {
			break
		}
		at = min(most, at+free)
	}
	if at < shortestSlit {
		return Slit{}, false
	}
	return Slit{From: from, To: from.Add(unit.Scale(at)), Length: g.Length(at)}, true
}

// chordsOf returns the outlines of a region made ready for many distances.
func chordsOf(p g.Path) *g.Chords { return g.ChordsOf(p, g.FlattenTolerance) }

// PolygonsOf returns a path with its curves cut into chords, for many distances.
func PolygonsOf(p g.Path) g.Path {
	var out g.Path
	for _, c := range p {
		out = append(out, g.Polygon(c.Flattened(g.FlattenTolerance)...))
	}
	return out
}
