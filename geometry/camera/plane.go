package camera

import (
	"errors"
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Spotted is a point of a plane found in a picture.
type Spotted struct {
	Name  string
	At    g.Point // inches on the plane: of a side view x is FS and y WL
	Pixel g.Point // x right, y down
	Sigma float64 // standard deviation of the pixel along each axis; above 0
	Off   float64 // standard deviation of At along each axis, inches
}

// LeastSpotted is the least number of points that give the map of a plane; four leave
// nothing over to hold it against.
const LeastSpotted = 4

// planeUnknowns are those of a map from a plane to a picture.
const planeUnknowns = 8

// PlaneFit is the map from a plane to its picture: a drawing of a side view, scanned, or
// a photograph from whatever place; central projection takes a plane to a plane by
//
//	x = (h0 u + h1 v + h2) / (h6 u + h7 v + 1),  y = (h3 u + h4 v + h5) / (h6 u + h7 v + 1)
//
// (R. Hartley and A. Zisserman, Multiple View Geometry, 2nd ed. 2004, section 2.3). It is that of the least sum of squares in
// the picture. What does not lie in the plane of the points is not where it seems.
type PlaneFit struct {
	Spots     []Spotted
	Left      []g.Vec   // seen less computed, pixels, by spot
	Standard  []float64 // the length of Left in its own standard deviations
	ChiSquare float64
	Freedom   int
	Suspect   int // the spot without which the others fit far better; -1: none, or too few to tell
	Without   float64
	Right     bool // the plane is seen with its x to the left: a side view of the right side

	middle     g.Point // u, v are inches from here over size
	size       float64
	h          [planeUnknowns]float64
	covariance [][]float64 // of h; enlarged as in [Fit]
}

// FitPlane finds the map of a plane.
//
// Errors: fewer than four spots; two that are one; points on one line, or three of four;
// points that no camera can see so.
func FitPlane(spots []Spotted) (*PlaneFit, error) {
	for i, a := range spots {
		for _, b := range spots[:i] {
			if a.At.Dist(b.At) < 1e-6 || a.Pixel.Dist(b.Pixel) < 1e-6 {
				return nil, fmt.Errorf("%s and %s are one place: give each point once", b.Name, a.Name)
			}
		}
	}
	if len(spots) < LeastSpotted {
		return nil, fmt.Errorf("%s: a plane takes %d", g.Counted(len(spots), "point"), LeastSpotted)
	}
	f, err := fitPlane(spots)
	if err != nil {
		return nil, err
	}
	if len(spots) > LeastSpotted+1 && f.ChiSquare >= 13.8 { // as [Fit] has it
		for i := range spots {
			rest, err := fitPlane(append(append([]Spotted(nil), spots[:i]...), spots[i+1:]...))
			if err == nil && f.ChiSquare-rest.ChiSquare > 13.8 && (f.Suspect < 0 || rest.ChiSquare < f.Without) {
				f.Suspect, f.Without = i, rest.ChiSquare
			}
		}
	}
	return f, nil
}

var errPlane = errors.New("the points do not tell the plane: three of four lie on one line, or two are exchanged")

func fitPlane(spots []Spotted) (*PlaneFit, error) {
	f := &PlaneFit{Spots: spots, Freedom: 2*len(spots) - planeUnknowns, Suspect: -1}
	for _, s := range spots {
		f.middle = f.middle.Add(g.Vec(s.At).Scale(1 / float64(len(spots))))
	}
	for _, s := range spots {
		f.size = math.Max(f.size, s.At.Dist(f.middle))
	}
	var e planeEquations
	for _, s := range spots { // the map is linear in h once multiplied out: a start
		u, v := f.uv(s.At)
		e.add([planeUnknowns]float64{u, v, 1, 0, 0, 0, -s.Pixel.X * u, -s.Pixel.X * v}, s.Pixel.X, 1)
		e.add([planeUnknowns]float64{0, 0, 0, u, v, 1, -s.Pixel.Y * u, -s.Pixel.Y * v}, s.Pixel.Y, 1)
	}
	h, _, ok := e.solved()
	if !ok {
		return nil, errPlane
	}
	f.h = h
	for round := range 60 {
		var e planeEquations
		for _, s := range spots {
			p, ok := f.Pixel(s.At)
			if !ok {
				return nil, errPlane
			}
			x, y := f.slopes(s.At)
			w := f.weight(s)
			e.add(x, s.Pixel.X-p.X, w)
			e.add(y, s.Pixel.Y-p.Y, w)
		}
		step, inverse, ok := e.solved()
		if !ok {
			return nil, errPlane
		}
		f.covariance = inverse
		moved := 0.0
		for k := range f.h {
			f.h[k] += step[k]
			moved = math.Max(moved, math.Abs(step[k])/(1+math.Abs(f.h[k])))
		}
		if moved < 1e-12 || round > 5 && moved < 1e-9 {
			break
		}
	}
	for i, s := range spots {
		p, ok := f.Pixel(s.At)
		if !ok {
			return nil, errPlane
		}
		left := s.Pixel.Sub(p)
		f.Left = append(f.Left, left)
		f.Standard = append(f.Standard, left.Norm()*f.weight(s))
		f.ChiSquare += float64(f.Standard[i] * f.Standard[i])
	}
	larger := math.Max(1, f.ChiSquare/float64(max(1, f.Freedom)))
	for i := range f.covariance {
		for k := range f.covariance[i] {
			f.covariance[i][k] *= larger
		}
	}
	a, b := f.jacobian(f.middle)
	f.Right = a.Cross(b) > 0 // y of a picture runs down
	return f, nil
}

func (f *PlaneFit) uv(at g.Point) (u, v float64) {
	return (at.X - f.middle.X) / f.size, (at.Y - f.middle.Y) / f.size
}

// Pixel returns where a place of the plane is seen; false beyond its horizon.
func (f *PlaneFit) Pixel(at g.Point) (g.Point, bool) {
	u, v := f.uv(at)
	w := float64(f.h[6]*u) + float64(f.h[7]*v) + 1
	if !(w > 1e-6) {
		return g.Point{}, false
	}
	return g.Point{X: (float64(f.h[0]*u) + float64(f.h[1]*v) + f.h[2]) / w, Y: (float64(f.h[3]*u) + float64(f.h[4]*v) + f.h[5]) / w}, true
}

// slopes returns the derivatives of x and y of a place's pixel by h.
func (f *PlaneFit) slopes(at g.Point) (x, y [planeUnknowns]float64) {
	u, v := f.uv(at)
	w := float64(f.h[6]*u) + float64(f.h[7]*v) + 1
	p, _ := f.Pixel(at)
	x = [planeUnknowns]float64{u / w, v / w, 1 / w, 0, 0, 0, -p.X * u / w, -p.X * v / w}
	y = [planeUnknowns]float64{0, 0, 0, u / w, v / w, 1 / w, -p.Y * u / w, -p.Y * v / w}
	return x, y
}

// jacobian returns how a place's pixel moves with x and with y of the place, pixels an inch.
func (f *PlaneFit) jacobian(at g.Point) (byX, byY g.Vec) {
	u, v := f.uv(at)
	w := (float64(f.h[6]*u) + float64(f.h[7]*v) + 1) * f.size
	p, _ := f.Pixel(at)
	return g.Vec{X: (f.h[0] - float64(p.X*f.h[6])) / w, Y: (f.h[3] - float64(p.Y*f.h[6])) / w}, g.Vec{X: (f.h[1] - float64(p.X*f.h[7])) / w, Y: (f.h[4] - float64(p.Y*f.h[7])) / w}
}

// weight is one over the standard deviation of a spot in the picture.
func (f *PlaneFit) weight(s Spotted) float64 {
	if s.Off == 0 {
		return 1 / s.Sigma
	}
	a, b := f.jacobian(s.At)
	return 1 / same.Hypot(s.Sigma, s.Off*math.Sqrt(math.Abs(a.Cross(b))))
}

// PlaneReading is the place of the plane that a pixel shows.
type PlaneReading struct {
	Pixel g.Point
	At    g.Point
	X, Y  float64 // standard deviations of At, inches

	byH [2][planeUnknowns]float64 // how At moves with the map
	own [2]g.Vec                  // how At moves with one deviation of the pixel along each axis
}

// Read returns the place that a pixel shows, read to within sigma along each axis.
//
// Error: the pixel lies beyond the horizon of the plane.
func (f *PlaneFit) Read(pixel g.Point, sigma float64) (PlaneReading, error) {
	// (h0 - x h6) u + (h1 - x h7) v = x - h2, and likewise of y
	a, b, c := f.h[0]-float64(pixel.X*f.h[6]), f.h[1]-float64(pixel.X*f.h[7]), pixel.X-f.h[2]
	d, e, k := f.h[3]-float64(pixel.Y*f.h[6]), f.h[4]-float64(pixel.Y*f.h[7]), pixel.Y-f.h[5]
	turn := float64(a*e) - float64(b*d)
	out := PlaneReading{Pixel: pixel}
	u, v := (float64(c*e)-float64(b*k))/turn, (float64(a*k)-float64(c*d))/turn
	out.At = f.middle.Add(g.Vec{X: float64(u * f.size), Y: float64(v * f.size)})
	if p, ok := f.Pixel(out.At); !ok || !(p.Dist(pixel) < 1e-3) {
		return out, fmt.Errorf("pixel %.1f, %.1f lies beyond the horizon of the plane", pixel.X, pixel.Y)
	}
	byX, byY := f.jacobian(out.At)
	area := byX.Cross(byY)
	back := func(p g.Vec) g.Vec { return g.Vec{X: p.Cross(byY) / area, Y: byX.Cross(p) / area} }
	x, y := f.slopes(out.At)
	for i := range planeUnknowns {
		m := back(g.Vec{X: -x[i], Y: -y[i]})
		out.byH[0][i], out.byH[1][i] = m.X, m.Y
	}
	out.own = [2]g.Vec{back(g.Vec{X: sigma}), back(g.Vec{Y: sigma})}
	out.X = math.Sqrt(float64(out.own[0].X*out.own[0].X) + float64(out.own[1].X*out.own[1].X) + f.variance(out.byH[0]))
	out.Y = math.Sqrt(float64(out.own[0].Y*out.own[0].Y) + float64(out.own[1].Y*out.own[1].Y) + f.variance(out.byH[1]))
	return out, nil
}

// Between returns the distance between two places that were read, and its standard
// deviation: the errors of the map are shared by both.
func (f *PlaneFit) Between(a, b PlaneReading) (length, sigma float64) {
	line := b.At.Sub(a.At)
	length = line.Norm()
	if length == 0 {
		return 0, 0
	}
	way := line.Scale(1 / length)
	var byH [planeUnknowns]float64
	for i := range byH {
		byH[i] = float64(way.X*(b.byH[0][i]-a.byH[0][i])) + float64(way.Y*(b.byH[1][i]-a.byH[1][i]))
	}
	sum := f.variance(byH)
	for _, own := range [][2]g.Vec{a.own, b.own} {
		for _, m := range own {
			d := m.Dot(way)
			sum += float64(d * d)
		}
	}
	return length, math.Sqrt(sum)
}

// variance returns that of a value that moves with the map so.
func (f *PlaneFit) variance(by [planeUnknowns]float64) float64 {
	sum := 0.0
	for i := range by {
		for k := range by {
			sum += float64(by[i] * f.covariance[i][k] * by[k])
		}
	}
	return math.Max(0, sum)
}

// planeEquations are normal equations of the map.
type planeEquations struct {
	a     [planeUnknowns][planeUnknowns]float64
	right [planeUnknowns]float64
}

func (e *planeEquations) add(row [planeUnknowns]float64, left, weight float64) {
	w := weight * weight
	for i := range row {
		e.right[i] += float64(w * row[i] * left)
		for k := range row {
			e.a[i][k] += float64(w * row[i] * row[k])
		}
	}
}

// solved returns the solution and the inverse; false where the rows do not tell all
// unknowns.
func (e planeEquations) solved() (x [planeUnknowns]float64, inverse [][]float64, ok bool) {
	var scale [planeUnknowns]float64
	for i := range scale {
		if !(e.a[i][i] > 0) {
			return x, nil, false
		}
		scale[i] = 1 / math.Sqrt(e.a[i][i])
	}
	root, ok := factorOf(planeUnknowns, func(i, k int) float64 { return e.a[i][k] * scale[i] * scale[k] })
	if !ok {
		return x, nil, false
	}
	right := make([]float64, planeUnknowns)
	for i := range right {
		right[i] = e.right[i] * scale[i]
	}
	for i, v := range solved(root, right) {
		x[i] = v * scale[i]
	}
	return x, inverseOf(root, scale[:], 1), true
}
