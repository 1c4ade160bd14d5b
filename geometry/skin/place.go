package skin

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// minimumUp is the least sine of the angle between the normal and a direction
// that can still lead a drawing.
const minimumUp = 0.05

// FrameUp returns the frame at uv whose y is the part in the skin of a direction,
// leaning by angle radians towards the drawing's left.
//
// Error: the direction stands square to the skin there.
func FrameUp(s Surface, uv UV, up g.Vec3, angle float64) (Frame, error) {
	_, n := s.At(uv, uv)
	up = up.Unit()
	in := up.Sub(n.Scale(up.Dot(n)))
	if in.Norm() < minimumUp {
		return Frame{}, fmt.Errorf("the direction asked for stands square to the skin there")
	}
	in = in.Unit()
	sin, cos := same.Sincos(angle)
	return Frame{At: uv, Up: in.Scale(cos).Sub(in.Cross(n).Scale(sin))}, nil
}

// FrameRight is FrameUp with the direction of x.
func FrameRight(s Surface, uv UV, right g.Vec3, angle float64) (Frame, error) {
	_, n := s.At(uv, uv)
	return FrameUp(s, uv, n.Cross(right.Unit()), angle)
}

// UpAt returns the frame at uv whose y is the steepest way up the skin, so that x
// runs level, leaning by angle radians towards the drawing's left.
//
// Error: the skin lies level there (crown or keel), so that up is undefined.
func UpAt(s Surface, uv UV, angle float64) (Frame, error) {
	f, err := FrameUp(s, uv, g.Vec3{Z: 1}, angle)
	if err != nil {
		return f, fmt.Errorf("the skin lies level there, so up has no direction along it: place the marking on the side")
	}
	return f, nil
}

// AtGirth returns the point a girth from uv along its section, in the direction
// of V, to 1e-10 in.
//
// Error: the section ends before, or closes on itself.
func AtGirth(s Surface, uv UV, girth g.Length) (UV, error) {
	_, vb, period := s.Breaks()
	lo, hi := vb[0], vb[len(vb)-1]
	if period > 0 {
		lo, hi = uv.V-period, uv.V+period
	}
	end := hi
	if girth < 0 {
		end = lo
	}
	want := math.Abs(girth.Inches())
	if all := girthBetween(s, uv.U, uv.V, end); want > all {
		return UV{}, g.Errorf("%v along the section runs past its end: there are %s", girth, g.Length(all))
	}
	v := bisect(func(v float64) float64 { return girthBetween(s, uv.U, uv.V, v) - want }, uv.V, end)
	return UV{uv.U, v}, nil
}

// Waterline returns the point of the skin a length along the waterline of uv, to
// about 1e-6 in, positive towards greater U. The side is that of uv.
//
// Error: the waterline runs off the surface.
func Waterline(s Surface, uv UV, length g.Length) (UV, error) {
	p, n := s.At(uv, uv)
	side := g.Left
	if n.Y > 0 {
		side = g.Right
	}
	us, _, _ := s.Breaks()
	at := func(u float64) (UV, error) {
		return LocateSide(s, side, g.SidePosition{FS: g.Station(u), WL: g.Waterline(p.Z)})
	}
	sign, left := math.Copysign(1, length.Inches()), math.Abs(length.Inches())
	const step = 1.0
	for left > 0 {
		next := uv.U + sign*step
		next = max(us[0], min(us[len(us)-1], next))
		for _, b := range us { // do not step over a section
			if (b-uv.U)*sign > 1e-9 && (b-next)*sign < 0 {
				next = b
			}
		}
		if next == uv.U {
			return UV{}, g.Errorf("the waterline runs off the surface at FS %v, %v short", g.Station(uv.U), g.Length(left).Rounded(3))
		}
		q, err := at(next)
		if err != nil {
			return UV{}, err
		}
		l := edgeLength(s, uv, q, UV{(uv.U + q.U) / 2, (uv.V + q.V) / 2})
		if l >= left {
			return at(uv.U + (next-uv.U)*left/l)
		}
		left -= l
		uv = q
	}
	return uv, nil
}
