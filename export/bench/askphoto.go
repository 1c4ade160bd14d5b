package bench

import (
	"context"
	"math"

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
	Edges     []PlaceSeen `json:"edges"`            // of the edges asked for: what is known across each
	Width     *WidthSeen  `json:"width,omitempty"`  // between the first two of them
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

// WidthSeen is the distance between two edges, square to both, or the diameter of a disc.
type WidthSeen struct {
	Length LengthSeen `json:"length"`
	Round  bool       `json:"round"`
	Askew  float64    `json:"askew"`         // degrees between both edges on the skin
	Sure   float64    `json:"sure"`          // it is known to so many, in 95 of 100 cases
	Tones  float64    `json:"tones"`         // by how much air moves if the tones of the picture are not those of light
	Why    string     `json:"why,omitempty"` // why there is none
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
	var spots []layouts.PhotoSpot
	for i, p := range q.Pixels {
		s := layouts.PhotoSpot{At: geometry.Point{X: p[0], Y: p[1]}, Sigma: spec.PlusMinus}
		if i < len(q.Within) && q.Within[i] > 0 {
			s.Sigma = q.Within[i]
		}
		spots = append(spots, s)
		r, err := view.ReadSpot(s)
		out.Places = append(out.Places, placeRead(s.At, r, err))
	}
	if len(spots) > 1 && out.Places[0].Why == "" && out.Places[1].Why == "" {
		if m, err := view.ReadBetweenSpots(spots[0], spots[1]); err == nil {
			l := lengthSeen(m)
			out.Length = &l
		}
	}
	var edges []layouts.PhotoEdge
	for _, e := range q.Edges {
		edge, err := e.edge()
		if err != nil {
			return nil, err
		}
		edges = append(edges, edge)
		r, err := view.ReadEdge(edge)
		out.Edges = append(out.Edges, placeRead(edge.At, r, err))
	}
	if len(edges) > 1 && out.Edges[0].Why == "" && out.Edges[1].Why == "" {
		out.Width = widthSeen(view, edges[0], edges[1])
	}
	return out, nil
}

func lengthSeen(m layouts.PhotoLength) LengthSeen {
	l := LengthSeen{Air: round6(m.Air.Inches()), Air95: span95(m.Air95)}
	if m.AlongSkin {
		l.Along, l.Skin95 = round6(m.Skin.Inches()), span95(m.Skin95)
	}
	return l
}

func widthSeen(view layouts.PhotoView, a, b layouts.PhotoEdge) *WidthSeen {
	w, err := view.ReadAcross(a, b)
	if err != nil {
		return &WidthSeen{Why: err.Error()}
	}
	askew := camera.Cover([]float64{0}, []float64{w.AskewSigma}, nil, nil)[0]
	return &WidthSeen{Length: lengthSeen(w.PhotoLength), Round: a.Round, Askew: round6(math.Abs(w.Askew)), Sure: round6(askew.High), Tones: round6(w.Tones.Inches())}
}

// edge returns an edge as it is asked for, of the page's own making.
func (e EdgeAsked) edge() (layouts.PhotoEdge, error) {
	along := geometry.Vec{X: e.Along[0], Y: e.Along[1]}
	if n := along.Norm(); !(math.Abs(n-1) < 1e-3) || !(e.Off >= 0) || !(e.Turn >= 0) {
		return layouts.PhotoEdge{}, askError{"an edge has a direction of length 1, off and turn of 0 or more"}
	}
	return layouts.PhotoEdge{At: geometry.Point{X: e.At[0], Y: e.At[1]}, Along: along.Unit(), Off: e.Off, Turn: e.Turn, Round: e.Round, Tone: e.Tone}, nil
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
		Points: []PointSeen{}, Suspect: f.Suspect, ChiSquare: round6(f.ChiSquare), Without: round6(f.Without), Freedom: f.Freedom, Places: []PlaceSeen{}, Edges: []PlaceSeen{},
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

func placeRead(pixel geometry.Point, r layouts.PhotoReading, err error) PlaceSeen {
	if err != nil {
		return PlaceSeen{Pixel: point2(pixel), In95: []Point2{}, Why: err.Error()}
	}
	out := PlaceSeen{Pixel: point2(pixel), On: r.On.On, Side: r.On.Side.String(), At: point3(r.At.Vec()), Slant: round6(r.Slant)}
	for _, in := range r.In95 {
		out.In95 = append(out.In95, span95(in))
	}
	return out
}
