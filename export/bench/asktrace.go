package bench

import (
	"context"

	"maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/layouts"
)

// TraceSeen is what known points of a side view say of its picture, a drawing or a
// photograph: the plane of the points is the picture's. The picture stays in the page.
type TraceSeen struct {
	Points    []PointSeen   `json:"points"`
	Suspect   int           `json:"suspect"` // of Points, counted from 0; -1: none
	ChiSquare float64       `json:"chiSquare"`
	Without   float64       `json:"without"` // chi-square without the suspect
	Freedom   int           `json:"freedom"`
	Side      string        `json:"side"` // that is seen: left, its nose to the left, or right
	Places    []TracedPlace `json:"places"`
	Length    float64       `json:"length"`   // between the last two of them, in the plane; 0: fewer
	Length95  Point2        `json:"length95"` // where it lies in 95 of 100 cases
}

// TracedPlace is the place of the side view that a pixel shows.
type TracedPlace struct {
	Pixel Point2   `json:"pixel"`
	At    Point2   `json:"at"`            // FS and WL
	In95  []Point2 `json:"in95"`          // where each lies in 95 of 100 cases
	Why   string   `json:"why,omitempty"` // why there is none
}

// askTrace finds the map from the side view to its picture by Spots, and reads Pixels.
func askTrace(_ *Bench, _ context.Context, q Request, _ func(Answer)) (any, error) {
	var spots []camera.Spotted
	for _, s := range q.Spots {
		spots = append(spots, camera.Spotted{Name: s.Name, At: geometry.Point{X: s.At[0], Y: s.At[1]}, Pixel: geometry.Point{X: s.Pixel[0], Y: s.Pixel[1]}, Sigma: usual(s.Within)})
	}
	f, err := camera.FitPlane(spots)
	if err != nil {
		return nil, askError{err.Error()}
	}
	out := TraceSeen{Points: []PointSeen{}, Suspect: f.Suspect, ChiSquare: round6(f.ChiSquare), Without: round6(f.Without), Freedom: f.Freedom, Side: geometry.Left.String(), Places: []TracedPlace{}}
	if f.Right {
		out.Side = geometry.Right.String()
	}
	for i, s := range f.Spots {
		out.Points = append(out.Points, PointSeen{s.Name, point2(s.Pixel), Point2{round6(f.Left[i].X), round6(f.Left[i].Y)}, round6(f.Standard[i])})
	}
	var read []camera.PlaneReading
	for i, p := range q.Pixels {
		within := 0.0
		if i < len(q.Within) {
			within = q.Within[i]
		}
		pixel := geometry.Point{X: p[0], Y: p[1]}
		r, err := f.Read(pixel, usual(within))
		if err != nil {
			out.Places = append(out.Places, TracedPlace{Pixel: point2(pixel), In95: []Point2{}, Why: err.Error()})
			continue
		}
		read = append(read, r)
		in := camera.Cover([]float64{r.At.X, r.At.Y}, []float64{r.X, r.Y}, nil, nil)
		out.Places = append(out.Places, TracedPlace{Pixel: point2(pixel), At: point2(r.At), In95: []Point2{span95(in[0]), span95(in[1])}})
	}
	if n := len(read); n > 1 {
		length, sigma := f.Between(read[n-2], read[n-1])
		out.Length, out.Length95 = round6(length), span95(camera.Cover([]float64{length}, []float64{sigma}, nil, nil)[0])
	}
	return out, nil
}

// usual is the standard deviation of a pixel, of one that is not told that of a point
// picked by hand.
func usual(within float64) float64 {
	if within > 0 {
		return within
	}
	return layouts.UsualPlusMinus
}
