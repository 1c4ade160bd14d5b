package layouts

import (
	"fmt"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// cut parts a line at stations, in the order in which it runs. Two pieces share the
// point where the line crosses the station, and its direction there: a straight line
// runs on along the same shortest way; the direction of a smooth one is that of the
// cubic spline through its points as seen from the side.
//
// Errors: a station that the line does not cross between its ends; the spline leaves
// the side that is seen.
func (l lineOnSkin) cut(s skin.Surface, side g.Side, stations []float64) ([]lineOnSkin, error) {
	if len(stations) == 0 {
		return []lineOnSkin{l}, nil
	}
	var seen []g.Point
	for _, uv := range l.points {
		q := skin.PointAt(s, uv)
		seen = append(seen, g.Point{X: q.X, Y: q.Z})
	}
	spline := g.SplineThrough(seen)
	crossed := make([]bool, len(stations))
	var out []lineOnSkin
	next := l
	next.points = nil
	put := func(uv skin.UV, i int, t float64) error {
		next.points = append(next.points, uv)
		if !l.smooth {
			return nil
		}
		ends, err := wayAt(s, side, spline, i, t)
		next.along = append(next.along, ends)
		return err
	}
	parted := func(uv skin.UV, i int, t float64) error { // ends the piece, and begins the next
		if err := put(uv, i, t); err != nil {
			return err
		}
		out = append(out, next)
		next.points, next.along = nil, nil
		return put(uv, i, t)
	}
	last := len(l.points) - 1
	for i, uv := range l.points {
		at := min(i, last-1) // of the stretch that the point begins, or ends
		k := -1
		if 0 < i && i < last {
			k = slices.IndexFunc(stations, func(fs float64) bool { return math.Abs(fs-uv.U) < 1e-6 })
		}
		var err error
		if k >= 0 {
			crossed[k], err = true, parted(uv, at, float64(i-at))
		} else {
			err = put(uv, at, float64(i-at))
		}
		if err != nil {
			return nil, err
		}
		if i == last {
			break
		}
		between := func(fs float64) bool {
			return (fs-uv.U)*(fs-l.points[i+1].U) < 0 && math.Abs(fs-uv.U) >= 1e-6 && math.Abs(fs-l.points[i+1].U) >= 1e-6
		}
		order := slices.Clone(stations)
		slices.Sort(order)
		if l.points[i+1].U < uv.U {
			slices.Reverse(order)
		}
		for _, fs := range order {
			if !between(fs) {
				continue
			}
			crossed[slices.Index(stations, fs)] = true
			at, t, err := l.crossing(s, side, spline, i, fs)
			if err == nil {
				err = parted(at, i, t)
			}
			if err != nil {
				return nil, err
			}
		}
	}
	out = append(out, next)
	if k := slices.Index(crossed, false); k >= 0 {
		return nil, g.Errorf("cuts: the line does not cross FS %v between its ends, or crosses it twice: take it out", g.Station(stations[k]))
	}
	return out, nil
}

// crossing returns where the stretch after point i crosses a station, and of a smooth
// line the parameter of its spline there.
func (l lineOnSkin) crossing(s skin.Surface, side g.Side, spline g.Contour, i int, fs float64) (skin.UV, float64, error) {
	a, b := l.points[i], l.points[i+1]
	if !l.smooth {
		path, err := skin.Tape(s, a, b, g.OutlineTolerance)
		if err != nil {
			return skin.UV{}, 0, g.Errorf("cuts: FS %v: %w", g.Station(fs), err)
		}
		for k := 1; k < len(path.Points); k++ {
			p, q := path.Points[k-1], path.Points[k]
			if (fs-p.U)*(fs-q.U) <= 0 && p.U != q.U {
				return skin.UV{U: fs, V: p.V + (q.V-p.V)*(fs-p.U)/(q.U-p.U)}, 0, nil
			}
		}
		return skin.UV{}, 0, g.Errorf("cuts: the shortest way from point %d to point %d does not cross FS %v", i+1, i+2, g.Station(fs))
	}
	lo, hi := 0.0, 1.0
	for range 60 {
		t := (lo + hi) / 2
		if (spline.At(i, t).X < fs) == (a.U < b.U) {
			lo = t
		} else {
			hi = t
		}
	}
	t := (lo + hi) / 2
	uv, err := skin.LocateSide(s, side, g.SidePosition{FS: g.Station(fs), WL: g.Waterline(spline.At(i, t).Y)})
	return uv, t, err
}

// wayAt returns two places of the skin a quarter of an inch before and after a place of
// a spline as seen from the side.
func wayAt(s skin.Surface, side g.Side, spline g.Contour, i int, t float64) ([2]skin.UV, error) {
	const e = 0.25
	p, d := spline.At(i, t), spline.Velocity(i, t).Unit()
	lo, hi := skin.Extent(s)
	var out [2]skin.UV
	for k, by := range []float64{-e, e} {
		q := p.Add(d.Scale(by))
		if q.X < lo || q.X > hi { // at the skin's end: from the place itself
			q = p
		}
		var err error
		if out[k], err = skin.LocateSide(s, side, g.SidePosition{FS: g.Station(q.X), WL: g.Waterline(q.Y)}); err != nil {
			return out, fmt.Errorf("cuts: %w", err)
		}
	}
	return out, nil
}
