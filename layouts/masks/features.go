package masks

import (
	"cmp"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// Limits of what is cut and weeded without tearing: an isolated piece 2 mm square,
// a stroke 2 mm wide (film cutters' submission guidelines).
const (
	leastPiece    = 2 * g.Millimetre
	leastStroke   = 2 * g.Millimetre
	featureSource = "film cutters' guidelines: isolated pieces 2 mm square, strokes 2 mm"
)

const (
	// acuteBelow is the angle below which a corner is listed: corners of letters
	// and bars have 45 degrees and more, the points of a star 36 (derived).
	acuteBelow = 44 * math.Pi / 180

	// featureChords bounds the chords that stand for curves, in inches: a twentieth
	// of the least stroke.
	featureChords = 0.004

	// facing is the cosine of the largest angle between a chord across a neck and
	// the normals of its sides: sides that meet at 50 degrees or more make a corner,
	// not a neck.
	facing = 0.905

	// sameWay is the same for a side that ends: it may converge with the other by
	// 10 degrees and still be one of a stroke.
	sameWay = 0.996

	// shrinking is the cosine that tells a neck from a place where the sides still
	// draw nearer: above what the corners of chords turn by.
	shrinking = 0.1

	// sharpTurn is the sine of the turn at which a side of a stroke is over.
	sharpTurn = 0.7
)

// Feature is a narrow place or a small piece, in the coordinates of the flat.
type Feature struct {
	Width    g.Length // across
	At       g.Point  // the middle of it
	Skin     g.Position
	From, To g.Point // the ends of the shortest line across
}

// AcutePoint is a sharp corner. It is cut to its full depth.
type AcutePoint struct {
	At      g.Point
	Skin    g.Position
	Degrees float64 // the angle of what is sharp
	Film    bool    // the film ends in the point; otherwise the opening does
}

// Features are the smallest parts of a mask. A nil feature means there is none: a
// triangle has no neck.
type Features struct {
	FilmPiece, FilmNeck       *Feature // the narrowest piece, and the narrowest place, of the film
	OpeningPiece, OpeningNeck *Feature // the same of what is weeded
	Acute                     []AcutePoint
}

// featuresOf measures the film of a mask and what is weeded from it. The width of
// a piece is the least distance between parallels that hold it. A neck is where
// the distance between two sides that face one another is least; towards a sharp
// corner it falls to nothing and that is no neck.
//
// Curves are taken as chords within 0.004 in. The cost grows with the square of
// the chords.
func featuresOf(m Mask) Features {
	weeded := m.Opening
	if m.Polarity == KeepDown {
		weeded = outside(m.Field, m.Film)
	}
	return Features{
		FilmPiece: narrowestPiece(m.Film), FilmNeck: narrowestNeck(m.Film),
		OpeningPiece: narrowestPiece(weeded), OpeningNeck: narrowestNeck(weeded),
		Acute: acutePoints(m.Film),
	}
}

// on returns the features with their places on the skin.
func (f Features) on(m *skin.FlatMap) Features {
	for _, p := range []**Feature{&f.FilmPiece, &f.FilmNeck, &f.OpeningPiece, &f.OpeningNeck} {
		if *p != nil {
			placed := **p
			placed.Skin, _ = m.PositionOf(placed.At)
			*p = &placed
		}
	}
	f.Acute = slices.Clone(f.Acute)
	for i := range f.Acute {
		f.Acute[i].Skin, _ = m.PositionOf(f.Acute[i].At)
	}
	return f
}

// outside returns what a rectangle has round pieces that lie in it, the pieces'
// own holes included: their contours reversed, and the rectangle.
func outside(r g.Rect, pieces g.Path) g.Path {
	out := g.Path{g.Rectangle(r)}
	for _, c := range pieces {
		out = append(out, c.Reversed())
	}
	return g.Nest(out)
}

// narrowestPiece returns the connected part with the least width; nil of an empty
// path.
func narrowestPiece(p g.Path) *Feature {
	var out *Feature
	for _, part := range components(p) {
		width, at := leastWidth(part[0].Flattened(featureChords))
		if out == nil || width < out.Width.Inches()-alikeWidths {
			out = &Feature{Width: g.Length(width), At: at, From: at, To: at}
		}
	}
	return out
}

// leastWidth returns the least distance between two parallels that hold the
// points, and the middle of their bounds. One of the parallels lies on a side of
// the convex hull (Freeman and Shapira 1975).
func leastWidth(points []g.Point) (float64, g.Point) {
	hull := hullOf(points)
	best := math.Inf(1)
	for i, a := range hull {
		side := hull[(i+1)%len(hull)].Sub(a).Unit()
		far := 0.0
		for _, q := range hull {
			far = max(far, side.Cross(q.Sub(a)))
		}
		best = min(best, far)
	}
	return best, g.BoundsOf(points...).Centre()
}

// hullOf returns the convex hull, counter-clockwise (Andrew 1979).
func hullOf(points []g.Point) []g.Point {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b g.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	sorted = slices.Compact(sorted)
	half := func(ps []g.Point) []g.Point {
		var h []g.Point
		for _, p := range ps {
			for len(h) > 1 && h[len(h)-1].Sub(h[len(h)-2]).Cross(p.Sub(h[len(h)-1])) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(sorted)
	slices.Reverse(sorted)
	return append(lower, half(sorted)...)
}

// acutePoints returns the sharp corners of the film and of what it is cut from.
func acutePoints(film g.Path) []AcutePoint {
	var out []AcutePoint
	for _, c := range film {
		for i := range c.Segments {
			turn := c.Turn(i) // left is positive: the film's own corner
			if angle := math.Pi - math.Abs(turn); angle < acuteBelow {
				out = append(out, AcutePoint{At: c.Segments[i].End, Degrees: angle * 180 / math.Pi, Film: turn > 0})
			}
		}
	}
	return out
}
