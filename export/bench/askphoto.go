package bench

import (
	"context"

	"maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// PhotoSeen is what the points of a photograph say. The picture stays in the page: points,
// pixels and its size are all that is sent.
type PhotoSeen struct {
	Camera    CameraSeen  `json:"camera"`
	Points    []PointSeen `json:"points"`
	Suspect   int         `json:"suspect"` // of Points, counted from 0; -1: none
	ChiSquare float64     `json:"chiSquare"`
	Without   float64     `json:"without"` // chi-square without the suspect
	Freedom   int         `json:"freedom"`
	Findings  []Finding   `json:"findings"`
	Places    []PlaceSeen `json:"places"`           // of the pixels asked for, in their order
	Length    *LengthSeen `json:"length,omitempty"` // between the first two of them
}

// CameraSeen projects a position p: with q its distances from At along Right, Down and
// Ahead, r2 = (q.x/q.z)^2 + (q.y/q.z)^2, it is seen at Principal + Focal (1 + K1 r2) times
// (q.x, q.y)/q.z; x is turned over where Mirrored.
type CameraSeen struct {
	At        Point3  `json:"at"`
	Right     Point3  `json:"right"`
	Down      Point3  `json:"down"`
	Ahead     Point3  `json:"ahead"`
	Focal     float64 `json:"focal"` // pixels
	Found     bool    `json:"found"` // it was found, not given
	Principal Point2  `json:"principal"`
	K1        float64 `json:"k1"`
	Mirrored  bool    `json:"mirrored"`
}

// PointSeen is a point of the aircraft with its residual.
type PointSeen struct {
	Name     string  `json:"name"`
	Pixel    Point2  `json:"pixel"`
	Left     Point2  `json:"left"`     // seen less computed, pixels, y down
	Standard float64 `json:"standard"` // its length in standard deviations
}

// PlaceSeen is the place on the skin that a pixel shows.
type PlaceSeen struct {
	Pixel Point2   `json:"pixel"`
	On    string   `json:"on,omitempty"` // surface
	Side  string   `json:"side,omitempty"`
	At    Point3   `json:"at"`
	In95  []Point2 `json:"in95"`          // where each coordinate lies in 95 of 100 cases
	Slant float64  `json:"slant"`         // degrees between the line of sight and the normal
	Why   string   `json:"why,omitempty"` // why there is none
}

// LengthSeen is the length between two places.
type LengthSeen struct {
	Along  float64 `json:"along"` // along the skin; 0 where they lie on two
	Skin95 Point2  `json:"skin95"`
	Air    float64 `json:"air"` // straight
	Air95  Point2  `json:"air95"`
}

// askPhoto finds the camera of a photograph: Name is its id and YAML one item of photos:,
// which is held against the layout without being written into it. Pixels are read as
// places on the skin.
func askPhoto(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	if q.Name == "" || q.YAML == nil {
		return nil, askError{"a photo is asked for by name, its id, and yaml, an item of photos:"}
	}
	b.mu.Lock()
	file := b.file.Copy()
	b.mu.Unlock()
	if _, _, err := file.Edit(func(d *document.Document) (document.Splice, error) { return putPhoto(d, q.Name, *q.YAML) }); err != nil {
		return nil, err
	}
	j, err := file.Job()
	if err != nil {
		return nil, err
	}
	spec, err := j.Spec.Photo(q.Name)
	if err != nil {
		return nil, missingError{err.Error()}
	}
	l, err := j.Layout(ctx)
	if err != nil {
		return nil, err
	}
	spec.File = "" // its pixels are the page's own; its size is given
	view, findings, err := l.ViewPhoto(spec, spec.Width, spec.Height)
	if err != nil {
		return nil, err
	}
	out := photoSeen(view.Fit)
	out.Findings = keyed(findings)
	for _, p := range q.Pixels {
		out.Places = append(out.Places, placeSeen(view, geometry.Point{X: p[0], Y: p[1]}))
	}
	if len(q.Pixels) > 1 && out.Places[0].Why == "" && out.Places[1].Why == "" {
		if m, err := view.ReadBetween(geometry.Point{X: q.Pixels[0][0], Y: q.Pixels[0][1]}, geometry.Point{X: q.Pixels[1][0], Y: q.Pixels[1][1]}); err == nil {
			out.Length = &LengthSeen{round6(m.Skin.Inches()), span95(m.Skin95), round6(m.Air.Inches()), span95(m.Air95)}
			if !m.AlongSkin {
				out.Length.Along, out.Length.Skin95 = 0, Point2{}
			}
		}
	}
	return out, nil
}

// putPhoto puts an item of photos: in the place of the one with its id, or behind the last.
func putPhoto(d *document.Document, id, item string) (document.Splice, error) {
	photos := document.Path{}.Key("photos")
	if _, ok := d.Value(photos.ID(id)); ok {
		return d.Put(photos.ID(id), item)
	}
	if _, ok := d.Value(photos); ok {
		return d.Add(photos, item)
	}
	return d.Put(photos, "["+item+"]")
}

func photoSeen(f *camera.Fit) PhotoSeen {
	c := f.Camera
	out := PhotoSeen{
		Camera: CameraSeen{
			At: point3(c.At.Vec()), Right: exact3(c.Right), Down: exact3(c.Down), Ahead: exact3(c.Ahead),
			Focal: round6(c.Focal), Found: f.Found, Principal: point2(c.Principal), K1: c.K1, Mirrored: c.Mirrored,
		},
		Points: []PointSeen{}, Suspect: f.Suspect, ChiSquare: round6(f.ChiSquare), Without: round6(f.Without), Freedom: f.Freedom, Places: []PlaceSeen{},
	}
	for i, s := range f.Sights {
		out.Points = append(out.Points, PointSeen{s.Name, point2(s.Pixel), Point2{round6(f.Left[i].X), round6(f.Left[i].Y)}, round6(f.Standard[i])})
	}
	return out
}

// exact3 keeps all figures of a direction: at a distance of 1000 in the sixth one is a
// thousandth of an inch.
func exact3(v geometry.Vec3) Point3 { return Point3{v.X, v.Y, v.Z} }

func span95(i camera.Interval) Point2 { return Point2{round6(i.Low), round6(i.High)} }

func placeSeen(view layouts.PhotoView, pixel geometry.Point) PlaceSeen {
	r, err := view.ReadAt(pixel)
	if err != nil {
		return PlaceSeen{Pixel: point2(pixel), In95: []Point2{}, Why: err.Error()}
	}
	out := PlaceSeen{Pixel: point2(pixel), On: r.On.On, Side: r.On.Side.String(), At: point3(r.At.Vec()), Slant: round6(r.Slant)}
	for _, in := range r.In95 {
		out.In95 = append(out.In95, span95(in))
	}
	return out
}
