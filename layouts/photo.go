package layouts

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/geometry/skin"
)

// PhotoSpec is a period photograph, and the points of the aircraft that were found in
// it. Pixels count from 0 at the upper left, x to the right, y down.
type PhotoSpec struct {
	Place      Place
	ID         string
	File       string // PNG or JPEG, as it is opened
	Width      int    // pixels, of the picture the points were read in; 0: not written
	Height     int
	Focal      float64      // principal distance in pixels; 0: not written
	Lens       g.Length     // principal distance as a length, with Film; 0: not written
	Film       g.Length     // width of the negative that the width of the picture shows
	Centre     *g.Point     // principal point; nil: the middle of the picture
	Distortion float64      // K1 of [camera.Camera]
	Mirrored   bool         // printed from the wrong side of the negative, and known to be
	Side       g.Side       // of the aircraft that is seen
	PlusMinus  float64      // standard deviation of a pixel read in it, where a point says nothing
	Points     []PhotoPoint // four or more
	Evidence   []string
}

// UsualPlusMinus is the standard deviation of a pixel read in a photograph where the
// file says nothing: an edge in a grainy print (common practice, no source).
const UsualPlusMinus = 2.0

// PhotoPoint is a point of the aircraft and the pixel it was found at. It is a
// hardpoint, or a position, or a point of a surface: on a named line at a station,
// a corner of its outline, or where a station and waterline are seen from the side.
type PhotoPoint struct {
	Place     Place
	Pixel     g.Point
	PlusMinus float64 // standard deviation along each axis, pixels
	Side      g.Side

	Hardpoint string
	Position  *g.Position
	Surface   string
	Line      string // with FS
	Corner    int    // of the outline of a plate, from 1
	FS        g.Station
	WL        g.Waterline // with FS, where Line is empty
}

// Name says which point it is, for tables, its place in the units of the reader.
func (p PhotoPoint) Name(u g.Units) string {
	fs := u.Number(g.Length(p.FS), 2)
	switch {
	case p.Hardpoint != "":
		return p.Hardpoint
	case p.Position != nil:
		return u.Position(*p.Position)
	case p.Line != "":
		return fmt.Sprintf("%s %s FS %s", p.Surface, p.Line, fs)
	case p.Corner > 0:
		return fmt.Sprintf("%s corner %d", p.Surface, p.Corner)
	}
	return fmt.Sprintf("%s FS %s WL %s", p.Surface, fs, u.Number(g.Length(p.WL), 2))
}

// Photo returns the photograph of that id.
//
// Error: there is none; the known ones are named.
func (s *Spec) Photo(id string) (PhotoSpec, error) {
	var known []string
	for _, p := range s.Photos {
		if p.ID == id {
			return p, nil
		}
		known = append(known, p.ID)
	}
	if len(known) == 0 {
		return PhotoSpec{}, fmt.Errorf("the layout has no photos: give them under photos:; `maskloft photo --help` shows how")
	}
	return PhotoSpec{}, fmt.Errorf("there is no photo %q: the layout has %s", id, strings.Join(known, ", "))
}

// sightOf returns a point of a photograph with its position on the aircraft. A
// hardpoint brings its own standard deviation; other points are taken as exact.
func (a *Airframe) sightOf(p PhotoPoint, u g.Units) (camera.Sight, error) {
	s := camera.Sight{Name: p.Name(u), Pixel: p.Pixel, Sigma: p.PlusMinus}
	switch {
	case p.Hardpoint != "":
		for _, h := range a.Hardpoints(p.Side) {
			if h.ID == p.Hardpoint {
				s.At, s.Off = h.At, h.Sigma
				return s, nil
			}
		}
		return s, fmt.Errorf("the hardpoint %s is not on the %s side", p.Hardpoint, p.Side)
	case p.Position != nil:
		s.At = *p.Position
		return s, nil
	}
	on, err := a.Surface([]string{p.Surface}, p.Side)
	if err != nil {
		return s, err
	}
	uv := skin.UV{U: p.FS.Inches()}
	switch {
	case p.Corner > 0:
		spec, _ := a.SurfaceSpec(p.Surface)
		if p.Corner > len(spec.Outline) {
			return s, fmt.Errorf("%s has %s: corner %d is none of them", p.Surface, g.Counted(len(spec.Outline), "corner"), p.Corner)
		}
		at := spec.Outline[p.Corner-1]
		uv = skin.UV{U: at.FS.Inches(), V: at.WL.Inches()}
	case p.Line != "":
		if uv.V, err = a.lineV(on, []string{p.Surface}, p.Line, p.Side); err != nil {
			return s, err
		}
		if lo, hi := skin.Extent(on); uv.U < lo || uv.U > hi {
			return s, g.Errorf("%s runs from FS %v to FS %v", p.Surface, g.Station(lo), g.Station(hi))
		}
	default:
		if uv, err = skin.LocateSide(on, p.Side, g.SidePosition{FS: p.FS, WL: p.WL}); err != nil {
			return s, err
		}
	}
	s.At = g.PositionOf(skin.PointAt(on, uv))
	return s, nil
}

// size returns the size of the picture in pixels; its file may be smaller or larger
// than the one its points were read in only by mistake.
func (p PhotoSpec) size(width, height int) (w, h float64, err error) {
	if p.Width == 0 {
		return float64(width), float64(height), nil
	}
	if width > 0 && (width != p.Width || height != p.Height) {
		return 0, 0, fmt.Errorf("the points were read in a picture of %d x %d pixels, and %s has %d x %d: give the file they were read in, or read them again", p.Width, p.Height, p.File, width, height)
	}
	return float64(p.Width), float64(p.Height), nil
}

// known returns what the layout says of the camera.
func (p PhotoSpec) known(width, height float64) camera.Known {
	k := camera.Known{Focal: p.Focal, K1: p.Distortion, Mirrored: p.Mirrored, Principal: g.Point{X: (width - 1) / 2, Y: (height - 1) / 2}}
	k.Diagonal = (g.Vec{X: width, Y: height}).Norm()
	if p.Lens > 0 {
		k.Focal = p.Lens.Inches() / p.Film.Inches() * width
	}
	if p.Centre != nil {
		k.Principal = *p.Centre
	}
	return k
}
