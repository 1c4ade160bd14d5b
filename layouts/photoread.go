package layouts

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
)

// PhotoView is a photograph whose camera is known, over an aircraft that can be
// looked at.
type PhotoView struct {
	Photo PhotoSpec
	Fit   *camera.Fit
	Skins []Skin
	// Cropped are the cameras that the points ask for if the axis of the lens does not
	// meet the middle of the picture, but a twentieth of its width to the right of it,
	// and below it; none where its place is given.
	Cropped []camera.Camera
}

// Eye returns the centre of the camera.
func (v PhotoView) Eye() g.Vec3 { return v.Fit.Camera.At.Vec() }

// PhotoReading is the place on the skin that a pixel shows.
type PhotoReading struct {
	Pixel      g.Point
	On         Skin
	UV         skin.UV
	At         g.Position
	FS, BL, WL g.Length // standard deviations of At, along the axes
	// In95 is where each coordinate lies in 95 of 100 cases, inches: FS, BL, WL. Where
	// two cameras may have taken the picture, by either.
	In95     [3]camera.Interval
	Crop     g.Length // by which At moves if the picture is cropped; see [PhotoView]
	Slant    float64  // degrees between the line of sight and the normal of the skin
	Distance g.Length // from the camera
}

// slanted is the slant in degrees beyond which a pixel covers more than twice its
// width of skin, and a reading is told to be weak.
const slanted = 60.0

// Weak tells whether the skin is seen at so great a slant that the reading hangs on
// every small error.
func (r PhotoReading) Weak() bool { return r.Slant > slanted }

// ReadAt returns the place on the skin that a pixel shows, with its standard
// deviations: of the camera, and of the pixel, read to within the plus or minus of
// the photo. What the surfaces themselves are off by is not in them.
//
// Errors: the line of sight passes the aircraft by, or meets the inside of a skin.
func (v PhotoView) ReadAt(pixel g.Point) (PhotoReading, error) {
	return v.ReadSpot(PhotoSpot{pixel, v.Photo.PlusMinus})
}

// PhotoSpot is a pixel and its own standard deviation along each axis.
type PhotoSpot struct {
	At    g.Point
	Sigma float64
}

// ReadSpot is [PhotoView.ReadAt] of a pixel that is known better or worse than others,
// such as where two fitted edges cross.
func (v PhotoView) ReadSpot(s PhotoSpot) (PhotoReading, error) {
	return v.readWithin(s.At, camera.Within(1, s.Sigma))
}

// readWithin returns the place that a pixel shows, with the pixel's own errors as moves
// of one standard deviation.
func (v PhotoView) readWithin(pixel g.Point, moves [][]g.Vec) (PhotoReading, error) {
	met, err := v.met(v.Fit.Camera, pixel)
	if err != nil {
		return PhotoReading{}, err
	}
	r := PhotoReading{
		Pixel: pixel, On: met.Skin, UV: met.UV, At: g.PositionOf(met.Point), Distance: g.Length(met.Distance),
		Slant: same.Acos(math.Max(-1, math.Min(1, met.Cosine))) * 180 / math.Pi,
	}
	spread := func(f *camera.Fit, met Met) ([]float64, []float64, error) {
		return f.Spread([]g.Point{pixel}, moves, func(c camera.Camera, p []g.Point) ([]float64, error) {
			_, at, err := OnSkin(met.Skin, c, p[0], met.Point)
			return []float64{at.X, at.Y, at.Z}, err
		})
	}
	values, sigma, err := spread(v.Fit, met)
	if err != nil {
		return r, fmt.Errorf("pixel %s: no plus or minus can be given: %w", pixelWord(pixel), err)
	}
	r.FS, r.BL, r.WL = g.Length(sigma[0]), g.Length(sigma[1]), g.Length(sigma[2])
	var other, otherSigma []float64 // by the second camera; none where it sees no skin there
	if f := v.Fit.Second; f != nil {
		if met, err := v.met(f.Camera, pixel); err == nil {
			if other, otherSigma, err = spread(f, met); err != nil {
				other = nil
			}
		}
	}
	copy(r.In95[:], camera.Cover(values, sigma, other, otherSigma))
	r.Crop = v.cropMoves(func(c camera.Camera) (g.Vec3, bool) {
		_, at, err := OnSkin(met.Skin, c, pixel, met.Point)
		return at.Sub(met.Point), err == nil
	})
	return r, nil
}

// cropMoves returns the root of the sum of squares of what a reading moves by with each
// camera of a cropped picture; where one cannot be read it counts for nothing.
func (v PhotoView) cropMoves(moved func(camera.Camera) (g.Vec3, bool)) g.Length {
	sum := 0.0
	for _, c := range v.Cropped {
		if d, ok := moved(c); ok {
			sum += d.Dot(d)
		}
	}
	return g.Length(math.Sqrt(sum))
}

// PhotoLength is a length between two places that pixels show.
type PhotoLength struct {
	From, To        PhotoReading
	AlongSkin       bool     // both lie on one skin
	Skin, SkinSigma g.Length // along it, pressed; 0 where they do not
	Air, AirSigma   g.Length // straight, and its standard deviation
	// Skin95 and Air95 are where the lengths lie in 95 of 100 cases, inches; where two
	// cameras may have taken the picture, by either.
	Skin95, Air95 camera.Interval
	Crop          g.Length // by which Air moves if the picture is cropped; see [PhotoView]
}

// ReadBetween returns the length between the places that two pixels show, along the
// skin where both lie on one. The camera's errors are shared by both ends, and so
// weigh less in the length than in either place.
//
// Errors: those of [PhotoView.ReadAt] and [skin.Tape].
func (v PhotoView) ReadBetween(a, b g.Point) (PhotoLength, error) {
	return v.ReadBetweenSpots(PhotoSpot{a, v.Photo.PlusMinus}, PhotoSpot{b, v.Photo.PlusMinus})
}

// ReadBetweenSpots is [PhotoView.ReadBetween] of pixels with errors of their own.
func (v PhotoView) ReadBetweenSpots(one, two PhotoSpot) (PhotoLength, error) {
	from, err := v.ReadSpot(one)
	if err != nil {
		return PhotoLength{}, err
	}
	to, err := v.ReadSpot(two)
	if err != nil {
		return PhotoLength{}, err
	}
	a, b := one.At, two.At
	moves := [][]g.Vec{{{X: one.Sigma}, {}}, {{Y: one.Sigma}, {}}, {{}, {X: two.Sigma}}, {{}, {Y: two.Sigma}}}
	out, _, _, err := v.between(from, to, func(f *camera.Fit, p, q Met, along bool) ([]float64, []float64, error) {
		return lengths(f, p, q, a, b, moves, along)
	})
	if err != nil {
		return out, fmt.Errorf("between pixels %s and %s: %w", pixelWord(a), pixelWord(b), err)
	}
	out.Crop = v.cropMoves(func(c camera.Camera) (g.Vec3, bool) {
		_, x, errX := OnSkin(from.On, c, a, from.At.Vec())
		_, y, errY := OnSkin(to.On, c, b, to.At.Vec())
		return g.Vec3{X: y.Sub(x).Norm() - out.Air.Inches()}, errX == nil && errY == nil
	})
	return out, nil
}

// met is the place as what was met there: its skin, and where on it.
func (r PhotoReading) met() Met {
	return Met{Skin: r.On, SightHit: skin.SightHit{Point: r.At.Vec()}}
}

// between returns the length between two places that were read. Lengths measures it by a
// camera that sees them: values and their standard deviations, the straight one first,
// then that along the skin; those of the camera found are returned too.
func (v PhotoView) between(from, to PhotoReading, lengths func(f *camera.Fit, from, to Met, along bool) (values, sigmas []float64, err error)) (out PhotoLength, values, sigmas []float64, err error) {
	out = PhotoLength{From: from, To: to, AlongSkin: from.On.On == to.On.On && from.On.Side == to.On.Side && from.On.Face == to.On.Face}
	values, sigmas, err = lengths(v.Fit, from.met(), to.met(), out.AlongSkin)
	if err != nil {
		return out, nil, nil, err
	}
	out.Air, out.AirSigma, out.Skin, out.SkinSigma = g.Length(values[0]), g.Length(sigmas[0]), g.Length(values[1]), g.Length(sigmas[1])
	var other, otherSigmas []float64 // by the second camera; none where it cannot be read
	if f := v.Fit.Second; f != nil {
		one, errOne := v.met(f.Camera, from.Pixel)
		two, errTwo := v.met(f.Camera, to.Pixel)
		if errOne == nil && errTwo == nil && one.Skin.On == from.On.On && two.Skin.On == to.On.On {
			var unread error
			if other, otherSigmas, unread = lengths(f, one, two, out.AlongSkin); unread != nil {
				other = nil
			}
		}
	}
	in := camera.Cover(values, sigmas, other, otherSigmas)
	out.Air95, out.Skin95 = in[0], in[1]
	return out, values, sigmas, nil
}

// lengths returns the straight length between the places on two skins that two pixels
// show, and that along the skin (0 where they are not on one), with their standard
// deviations; near the given places.
func lengths(f *camera.Fit, from, to Met, a, b g.Point, moves [][]g.Vec, along bool) (values, sigmas []float64, err error) {
	const tolerance = 1e-4
	return f.Spread([]g.Point{a, b}, moves, func(c camera.Camera, p []g.Point) ([]float64, error) {
		uv, x, err := OnSkin(from.Skin, c, p[0], from.Point)
		if err != nil {
			return nil, err
		}
		uw, y, err := OnSkin(to.Skin, c, p[1], to.Point)
		if err != nil {
			return nil, err
		}
		lengths := []float64{y.Sub(x).Norm(), 0}
		if along {
			tape, err := skin.Tape(from.Skin.Surface, uv, uw, tolerance)
			if err != nil {
				return nil, err
			}
			lengths[1] = tape.Length.Inches()
		}
		return lengths, nil
	})
}

func pixelWord(p g.Point) string {
	return g.FormatNumber(p.X, 1) + "," + g.FormatNumber(p.Y, 1)
}

// met returns what a pixel shows.
func (v PhotoView) met(c camera.Camera, pixel g.Point) (Met, error) {
	dir, ok := c.Ray(pixel)
	if !ok {
		return Met{}, fmt.Errorf("pixel %s: the distortion puts no line of sight there", pixelWord(pixel))
	}
	met, ok := FirstMet(v.Skins, c.At.Vec(), dir)
	switch {
	case !ok:
		return Met{}, fmt.Errorf("pixel %s: its line of sight passes every surface of the layout by: give a pixel on the skin", pixelWord(pixel))
	case met.Cosine <= 0:
		return Met{}, fmt.Errorf("pixel %s: its line of sight meets the inside of %s, through an open end of it: give a pixel on the outside", pixelWord(pixel), met.Skin.On)
	}
	return met, nil
}

// OnSkin returns where a pixel meets one skin, nearest to a place.
func OnSkin(on Skin, c camera.Camera, pixel g.Point, near g.Vec3) (skin.UV, g.Vec3, error) {
	dir, ok := c.Ray(pixel)
	if !ok {
		return skin.UV{}, g.Vec3{}, fmt.Errorf("the distortion puts no line of sight there")
	}
	var best skin.SightHit
	found := false
	for _, h := range on.Sighting.Meets(c.At.Vec(), dir) {
		if !found || h.Point.Sub(near).Norm() < best.Point.Sub(near).Norm() {
			best, found = h, true
		}
	}
	if !found {
		return skin.UV{}, g.Vec3{}, fmt.Errorf("a small error of the camera takes it off %s", on.On)
	}
	return best.UV, best.Point, nil
}
