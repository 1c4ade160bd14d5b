package layouts

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
)

// PhotoEdge is an edge that was fitted in a photograph, pixels: a point of it, its
// direction there, and its errors. Along the edge At is where someone drew.
type PhotoEdge struct {
	At    g.Point
	Along g.Vec   // unit vector
	Off   float64 // standard deviation of At across the edge
	Turn  float64 // standard deviation of Along, radians
	Round bool    // of a disc: Along is its tangent
	Tone  float64 // by how much across, to Along turned from x to y, it lies elsewhere if the tones of the picture are not those of light
}

func (e PhotoEdge) across() g.Vec { return g.Vec{X: -e.Along.Y, Y: e.Along.X} }

// ReadEdge returns the place on the skin of the point of an edge. Its standard
// deviations are those across the edge: along it the place is as drawn.
//
// Errors: those of [PhotoView.ReadAt].
func (v PhotoView) ReadEdge(e PhotoEdge) (PhotoReading, error) {
	return v.readWithin(e.At, [][]g.Vec{{e.across().Scale(e.Off)}})
}

// PhotoWidth is the distance between two edges of a photograph, on the skin: square to
// both, or the diameter of a disc.
type PhotoWidth struct {
	PhotoLength
	// Askew is the angle between both edges on the skin, degrees, and its standard
	// deviation: of parallel edges and of opposite ends of a disc it is 0.
	Askew, AskewSigma float64
	Tones             g.Length // by which Air moves if the tones of the picture are not those of light
}

// Angles in degrees beyond which two edges are no pair, and below which a line from one
// to the other runs along them rather than across.
const (
	mostAskew   = 20.0
	leastAcross = 45.0
)

// ReadAcross returns the distance between two edges on the skin. A line from one to the
// other need not be square to them: with L its length and p and q its angles with the
// edges at either end, straight edges lie L sin((p+q)/2) apart, and a circle with these
// tangents has the diameter L / cos((p-q)/2) (a chord meets both tangents at one angle,
// Euclid III 32).
//
// Errors: those of [PhotoView.ReadEdge] and [skin.Tape]; the edges are no pair.
func (v PhotoView) ReadAcross(a, b PhotoEdge) (PhotoWidth, error) {
	var out PhotoWidth
	if a.Round != b.Round {
		return out, fmt.Errorf("one edge is straight and the other round: take both as one kind")
	}
	from, err := v.ReadEdge(a)
	if err != nil {
		return out, err
	}
	to, err := v.ReadEdge(b)
	if err != nil {
		return out, err
	}
	var values, sigmas []float64
	out.PhotoLength, values, sigmas, err = v.between(from, to, func(f *camera.Fit, one, two Met, along bool) ([]float64, []float64, error) {
		p := edgePair{a, b, one, two, along}
		return f.Spread(p.pixels(), p.moves(), p.read)
	})
	if err != nil {
		return out, fmt.Errorf("between the edges at %s and %s: %w", pixelWord(a.At), pixelWord(b.At), err)
	}
	out.Askew, out.AskewSigma = values[2], sigmas[2]
	p := edgePair{a, b, from.met(), to.met(), out.AlongSkin}
	out.Crop = v.cropMoves(func(c camera.Camera) (g.Vec3, bool) {
		w, err := p.read(c, p.pixels())
		if err != nil {
			return g.Vec3{}, false
		}
		return g.Vec3{X: w[0] - values[0]}, true
	})
	pixels := p.pixels()
	for k, e := range []PhotoEdge{a, a, b, b} {
		pixels[k] = pixels[k].Add(e.across().Scale(e.Tone))
	}
	if w, err := p.read(v.Fit.Camera, pixels); err == nil {
		out.Tones = g.Length(math.Abs(w[0] - values[0]))
	}
	return out, nil
}

// edgePair is two edges, the skins that they lie on and near where.
type edgePair struct {
	a, b     PhotoEdge
	one, two Met
	along    bool
}

// arm is how far from the point of an edge its direction is looked at, pixels.
const arm = 10.0

// pixels are the point of each edge and one farther along its direction.
func (p edgePair) pixels() []g.Point {
	return []g.Point{p.a.At, p.a.At.Add(p.a.Along.Scale(arm)), p.b.At, p.b.At.Add(p.b.Along.Scale(arm))}
}

// moves are the standard deviations of both edges as moves of the pixels.
func (p edgePair) moves() [][]g.Vec {
	a, b := p.a.across(), p.b.across()
	offA, offB := a.Scale(p.a.Off), b.Scale(p.b.Off)
	return [][]g.Vec{{offA, offA, {}, {}}, {{}, a.Scale(arm * p.a.Turn), {}, {}}, {{}, {}, offB, offB}, {{}, {}, {}, b.Scale(arm * p.b.Turn)}}
}

// read returns the straight distance between both edges, that along the skin (0 where
// they are not on one) and the angle between them in degrees.
func (p edgePair) read(c camera.Camera, pixels []g.Point) ([]float64, error) {
	uv, x, err := OnSkin(p.one.Skin, c, pixels[0], p.one.Point)
	if err != nil {
		return nil, err
	}
	uw, y, err := OnSkin(p.two.Skin, c, pixels[2], p.two.Point)
	if err != nil {
		return nil, err
	}
	a, normalA, okA := tangent(p.one.Skin, uv, x, c, pixels[1])
	b, normalB, okB := tangent(p.two.Skin, uw, y, c, pixels[3])
	line := y.Sub(x)
	if !okA || !okB || line.Norm() < 1e-6 {
		return nil, fmt.Errorf("the skin is seen along itself there")
	}
	if a.Dot(b) < 0 {
		b = b.Scale(-1)
	}
	angle := func(t, normal g.Vec3) float64 { // from the edge to the line, about the normal
		return same.Atan2(normal.Dot(t.Cross(line)), t.Dot(line))
	}
	first, second := angle(a, normalA), angle(b, normalB)
	askew, lean := math.Remainder(first-second, 2*math.Pi), first-float64(math.Remainder(first-second, 2*math.Pi)/2)
	factor := math.Abs(same.Sin(lean))
	switch {
	case math.Abs(askew) > mostAskew*math.Pi/180:
		return nil, fmt.Errorf("the edges are %.0f deg out of parallel: they are no pair", math.Abs(askew)*180/math.Pi)
	case factor < same.Sin(leastAcross*math.Pi/180):
		return nil, fmt.Errorf("the lines were drawn too far along from each other: draw each across from the other")
	case p.a.Round:
		factor = 1 / same.Cos(askew/2)
	}
	lengths := []float64{line.Norm() * factor, 0, askew * 180 / math.Pi}
	if p.along {
		tape, err := skin.Tape(p.one.Skin.Surface, uv, uw, 1e-4)
		if err != nil {
			return nil, err
		}
		lengths[1] = tape.Length.Inches() * factor
	}
	return lengths, nil
}

// tangent returns the direction in the tangent plane at a place that runs to where a
// pixel shows that plane, and the normal; false where the plane is seen along itself.
func tangent(on Skin, uv skin.UV, at g.Vec3, c camera.Camera, pixel g.Point) (along, normal g.Vec3, ok bool) {
	_, normal = on.Surface.At(uv, uv)
	dir, seen := c.Ray(pixel)
	slope := dir.Dot(normal)
	if !seen || math.Abs(slope) < 1e-6 {
		return along, normal, false
	}
	eye := c.At.Vec()
	along = eye.Add(dir.Scale(at.Sub(eye).Dot(normal) / slope)).Sub(at)
	return along.Unit(), normal, along.Norm() > 1e-9
}
