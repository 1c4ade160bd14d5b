package layouts

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
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
	Crop       g.Length // by which At moves if the picture is cropped; see [PhotoView]
	Slant      float64  // degrees between the line of sight and the normal of the skin
	Distance   g.Length // from the camera
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
	met, err := v.met(v.Fit.Camera, pixel)
	if err != nil {
		return PhotoReading{}, err
	}
	r := PhotoReading{
		Pixel: pixel, On: met.Skin, UV: met.UV, At: g.PositionOf(met.Point), Distance: g.Length(met.Distance),
		Slant: math.Acos(math.Max(-1, math.Min(1, met.Cosine))) * 180 / math.Pi,
	}
	_, sigma, err := v.Fit.Spread([]g.Point{pixel}, v.Photo.PlusMinus, func(c camera.Camera, p []g.Point) ([]float64, error) {
		_, at, err := OnSkin(met.Skin, c, p[0], met.Distance)
		return []float64{at.X, at.Y, at.Z}, err
	})
	if err != nil {
		return r, fmt.Errorf("pixel %s: no plus or minus can be given: %w", pixelWord(pixel), err)
	}
	r.FS, r.BL, r.WL = g.Length(sigma[0]), g.Length(sigma[1]), g.Length(sigma[2])
	r.Crop = v.cropMoves(func(c camera.Camera) (g.Vec3, bool) {
		_, at, err := OnSkin(met.Skin, c, pixel, met.Distance)
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
	Crop            g.Length // by which Air moves if the picture is cropped; see [PhotoView]
}

// ReadBetween returns the length between the places that two pixels show, along the
// skin where both lie on one. The camera's errors are shared by both ends, and so
// weigh less in the length than in either place.
//
// Errors: those of [PhotoView.ReadAt] and [skin.Tape].
func (v PhotoView) ReadBetween(a, b g.Point) (PhotoLength, error) {
	var out PhotoLength
	var err error
	if out.From, err = v.ReadAt(a); err != nil {
		return out, err
	}
	if out.To, err = v.ReadAt(b); err != nil {
		return out, err
	}
	from, to := out.From, out.To
	out.AlongSkin = from.On.On == to.On.On && from.On.Side == to.On.Side && from.On.Face == to.On.Face
	const tolerance = 1e-4
	values, sigma, err := v.Fit.Spread([]g.Point{a, b}, v.Photo.PlusMinus, func(c camera.Camera, p []g.Point) ([]float64, error) {
		uv, x, err := OnSkin(from.On, c, p[0], from.Distance.Inches())
		if err != nil {
			return nil, err
		}
		uw, y, err := OnSkin(to.On, c, p[1], to.Distance.Inches())
		if err != nil {
			return nil, err
		}
		lengths := []float64{y.Sub(x).Norm(), 0}
		if out.AlongSkin {
			tape, err := skin.Tape(from.On.Surface, uv, uw, tolerance)
			if err != nil {
				return nil, err
			}
			lengths[1] = tape.Length.Inches()
		}
		return lengths, nil
	})
	if err != nil {
		return out, fmt.Errorf("between pixels %s and %s: %w", pixelWord(a), pixelWord(b), err)
	}
	out.Air, out.AirSigma, out.Skin, out.SkinSigma = g.Length(values[0]), g.Length(sigma[0]), g.Length(values[1]), g.Length(sigma[1])
	out.Crop = v.cropMoves(func(c camera.Camera) (g.Vec3, bool) {
		_, x, errX := OnSkin(from.On, c, a, from.Distance.Inches())
		_, y, errY := OnSkin(to.On, c, b, to.Distance.Inches())
		return g.Vec3{X: y.Sub(x).Norm() - out.Air.Inches()}, errX == nil && errY == nil
	})
	return out, nil
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

// OnSkin returns where a pixel meets one skin, at about a distance.
func OnSkin(on Skin, c camera.Camera, pixel g.Point, about float64) (skin.UV, g.Vec3, error) {
	dir, ok := c.Ray(pixel)
	if !ok {
		return skin.UV{}, g.Vec3{}, fmt.Errorf("the distortion puts no line of sight there")
	}
	var best skin.SightHit
	found := false
	for _, h := range on.Sighting.Meets(c.At.Vec(), dir) {
		if !found || math.Abs(h.Distance-about) < math.Abs(best.Distance-about) {
			best, found = h, true
		}
	}
	if !found {
		return skin.UV{}, g.Vec3{}, fmt.Errorf("a small error of the camera takes it off %s", on.On)
	}
	return best.UV, best.Point, nil
}
