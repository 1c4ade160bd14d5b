package camera

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/adjust"
)

// Sigma returns the standard deviation of the camera's position along each axis of
// the aircraft.
func (f *Fit) Sigma() (fs, bl, wl g.Length) {
	return g.Length(math.Sqrt(f.Covariance[3][3])), g.Length(math.Sqrt(f.Covariance[4][4])), g.Length(math.Sqrt(f.Covariance[5][5]))
}

// FocalSigma returns the standard deviation of the principal distance, pixels; 0
// where it was given.
func (f *Fit) FocalSigma() float64 {
	if !f.Found {
		return 0
	}
	return f.Camera.Focal * math.Sqrt(f.Covariance[6][6])
}

// Distance returns how far the camera stands from the middle of the sights, and what
// it is at least in 95 of 100 cases.
func (f *Fit) Distance() (is, least g.Length) {
	middle := f.middle()
	d := f.Camera.At.Vec().Sub(middle)
	if f.way == nil || !f.Found {
		u := d.Unit()
		v, variance := [3]float64{u.X, u.Y, u.Z}, 0.0
		for i := range v {
			for k := range v {
				variance += float64(v[i] * f.Covariance[3+i][3+k] * v[k])
			}
		}
		return g.Length(d.Norm()), g.Length(math.Max(0, d.Norm()-float64(one95*math.Sqrt(variance))))
	}
	return g.Length(d.Norm()), g.Length(1 / (1/d.Norm() + float64(one95*math.Sqrt(f.own[6][6]))))
}

// Deviations that a normal number stays within, or below, in 95 of 100 cases.
const (
	both95 = 1.959964
	one95  = 1.644854
)

// Within returns the moves of one standard deviation of n pixels, each read to within
// sigma along each axis by itself: for [Fit.Spread].
func Within(n int, sigma float64) [][]g.Vec {
	var out [][]g.Vec
	for k := range n {
		for _, axis := range []g.Vec{{X: sigma}, {Y: sigma}} {
			move := make([]g.Vec, n)
			move[k] = axis
			out = append(out, move)
		}
	}
	return out
}

// Spread returns what read gives for some pixels, and the standard deviation of each
// of its values: from the covariance of the camera and from the pixels' own errors.
// These are given as moves of all pixels together by one standard deviation, each
// independent of the others. It is carried to first order (propagation of errors; any text
// of adjustment), by differences of a tenth of a standard deviation to either side
// along the covariance's own axes: along one unknown at a time the others would not
// follow, and the picture of a long lens would be left. Where one side cannot be read,
// or the camera cannot be there, the other side tells.
//
// Errors: those of read; nothing is read to either side.
func (f *Fit) Spread(pixels []g.Point, moves [][]g.Vec, read func(Camera, []g.Point) ([]float64, error)) (values, sigmas []float64, err error) {
	if values, err = read(f.Camera, pixels); err != nil {
		return nil, nil, err
	}
	sigmas = make([]float64, len(values))
	const part = 0.1 // of a standard deviation
	add := func(at func(float64) (Camera, []g.Point, bool)) error {
		side := func(step float64) ([]float64, error) {
			c, p, ok := at(step)
			if !ok {
				return nil, fmt.Errorf("the camera cannot be there")
			}
			return read(c, p)
		}
		ahead, errAhead := side(part)
		behind, errBehind := side(-part)
		span := 2 * part
		switch {
		case errAhead != nil && errBehind != nil:
			return fmt.Errorf("it stands at an edge: %w", errAhead)
		case errAhead != nil:
			ahead, span = values, part
		case errBehind != nil:
			behind, span = values, part
		}
		for i := range sigmas {
			d := (ahead[i] - behind[i]) / span
			sigmas[i] += float64(d * d)
		}
		return nil
	}
	way, covariance := f.way, f.own
	if way == nil {
		way, covariance = still{}, f.Covariance
	}
	for _, step := range ownAxes(covariance) {
		err := add(func(h float64) (Camera, []g.Point, bool) {
			by := step
			for k := range by {
				by[k] *= h
			}
			return way.moved(f.Camera, by), pixels, way.reaches(f.Camera, by)
		})
		if err != nil {
			return nil, nil, err
		}
	}
	for _, move := range moves {
		err := add(func(h float64) (Camera, []g.Point, bool) {
			p := append([]g.Point(nil), pixels...)
			for k := range p {
				p[k] = p[k].Add(move[k].Scale(h))
			}
			return f.Camera, p, true
		})
		if err != nil {
			return nil, nil, err
		}
	}
	for i := range sigmas {
		sigmas[i] = math.Sqrt(sigmas[i])
	}
	return values, sigmas, nil
}

// ownAxes returns the steps of one standard deviation along the axes of a covariance,
// scaled first to a diagonal of ones, so that angles, inches and pixels weigh alike:
// the sum of their outer products is the covariance.
func ownAxes(c [][]float64) [][unknowns]float64 {
	n := len(c)
	scaled := make([][]float64, n)
	for i := range scaled {
		scaled[i] = make([]float64, n)
		for k := range scaled[i] {
			if d := math.Sqrt(c[i][i] * c[k][k]); d > 0 {
				scaled[i][k] = c[i][k] / d
			}
		}
	}
	values, vectors := adjust.Axes(scaled)
	var out [][unknowns]float64
	for k, v := range values {
		if v <= 0 {
			continue
		}
		var step [unknowns]float64
		for i := range n {
			step[i] = math.Sqrt(v) * vectors[k][i] * math.Sqrt(c[i][i])
		}
		out = append(out, step)
	}
	return out
}

// Interval is where a value lies in 95 of 100 cases.
type Interval struct{ Low, High float64 }

// Holds tells whether a value lies in the interval.
func (i Interval) Holds(v float64) bool { return i.Low <= v && v <= i.High }

// interval returns that of a value and its standard deviation.
func interval(v, sigma float64) Interval {
	return Interval{v - float64(both95*sigma), v + float64(both95*sigma)}
}

// Cover returns the interval of values and their standard deviations; of two cameras,
// both of which may have taken the picture, the hull of both.
func Cover(values, sigmas, second, secondSigmas []float64) []Interval {
	out := make([]Interval, len(values))
	for i := range out {
		out[i] = interval(values[i], sigmas[i])
		if second != nil {
			o := interval(second[i], secondSigmas[i])
			out[i] = Interval{math.Min(out[i].Low, o.Low), math.Max(out[i].High, o.High)}
		}
	}
	return out
}
