package camera

import (
	"fmt"
	"math"

	g "maskloft/geometry"
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

// Spread returns what read gives for some pixels, and the standard deviation of each
// of its values: from the covariance of the camera and from pixels read to within
// sigma along each axis. It is carried to first order, by differences of a tenth
// of each standard deviation to either side (propagation of errors; any text of
// adjustment).
//
// Errors: those of read; nothing is read a tenth of a standard deviation off.
func (f *Fit) Spread(pixels []g.Point, sigma float64, read func(Camera, []g.Point) ([]float64, error)) (values, sigmas []float64, err error) {
	if values, err = read(f.Camera, pixels); err != nil {
		return nil, nil, err
	}
	n := len(f.Covariance)
	slope := func(step float64, at func(float64) (Camera, []g.Point)) ([]float64, error) {
		out := make([]float64, len(values))
		c, p := at(step)
		ahead, err := read(c, p)
		if err != nil {
			return nil, fmt.Errorf("it stands at an edge: %w", err)
		}
		c, p = at(-step)
		behind, err := read(c, p)
		if err != nil {
			return nil, fmt.Errorf("it stands at an edge: %w", err)
		}
		for i := range out {
			out[i] = (ahead[i] - behind[i]) / (2 * step)
		}
		return out, nil
	}
	var slopes [][]float64
	for k := range n {
		d, err := slope(math.Sqrt(f.Covariance[k][k])/10, func(h float64) (Camera, []g.Point) {
			var by [unknowns]float64
			by[k] = h
			return f.Camera.moved(by, n), pixels
		})
		if err != nil {
			return nil, nil, err
		}
		slopes = append(slopes, d)
	}
	sigmas = make([]float64, len(values))
	for i := range values {
		for a := range n {
			for b := range n {
				sigmas[i] += slopes[a][i] * f.Covariance[a][b] * slopes[b][i]
			}
		}
	}
	for k := range pixels {
		for _, axis := range []g.Vec{{X: 1}, {Y: 1}} {
			d, err := slope(sigma/10, func(h float64) (Camera, []g.Point) {
				p := append([]g.Point(nil), pixels...)
				p[k] = p[k].Add(axis.Scale(h))
				return f.Camera, p
			})
			if err != nil {
				return nil, nil, err
			}
			for i := range values {
				sigmas[i] += d[i] * sigma * sigma * d[i]
			}
		}
	}
	for i := range sigmas {
		sigmas[i] = math.Sqrt(math.Max(0, sigmas[i]))
	}
	return values, sigmas, nil
}
