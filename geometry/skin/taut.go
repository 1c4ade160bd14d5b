package skin

import (
	"math"

	g "maskloft/geometry"
)

// Taut is a tape pulled taut over the skin: it lies in the skin where that is
// full, and bridges hollows.
type Taut struct {
	Length g.Length
	Spans  []LiftOff
}

// LiftOff is a stretch where a taut tape leaves the skin.
type LiftOff struct {
	From, To g.Position
	Span     g.Length // of the tape between them
	Gap      g.Length // deepest of the hollow under it
}

// tautPieces is how many chords stand between two points of a pressed path.
const tautPieces = 16

// PullTaut returns the tape of a pressed path pulled taut. The path is rolled out
// in the plane of its own tangent and the outward normal, and bridged there: the
// shortest curve over its profile (the stack of Graham's scan, 1972). That is
// exact where the path lies in a plane, as a girth or a straight run over bays
// does, and errs by the square of the twist elsewhere. Taut is never longer than
// pressed nor shorter than the chord.
func PullTaut(s Surface, p Pressed) Taut {
	points, normals := finePath(s, p.Points)
	n := len(points)
	if n < 3 {
		return Taut{Length: p.Length}
	}
	// profile: x along the tape, y outward
	profile := make([]g.Point, n)
	angle := 0.0
	var last g.Vec3
	for i := 1; i < n; i++ {
		d := points[i].Sub(points[i-1])
		t := d.Unit()
		if i > 1 {
			// two unit vectors at an angle differ by twice the sine of its half
			angle += 2 * math.Asin(max(-1, min(1, t.Sub(last).Dot(normals[i-1])/2)))
		}
		last = t
		sin, cos := math.Sincos(angle)
		profile[i] = profile[i-1].Add(g.Vec{X: cos, Y: sin}.Scale(d.Norm()))
	}
	stack := []int{0}
	for i := 1; i < n; i++ {
		for len(stack) > 1 {
			a, b := profile[stack[len(stack)-2]], profile[stack[len(stack)-1]]
			if b.Sub(a).Cross(profile[i].Sub(b)) < 0 {
				break // bends inward there: the tape bears on it
			}
			stack = stack[:len(stack)-1]
		}
		stack = append(stack, i)
	}
	chords, bridged := 0.0, 0.0
	for i := 1; i < n; i++ {
		chords += profile[i].Dist(profile[i-1])
	}
	var out Taut
	for k := 1; k < len(stack); k++ {
		i, j := stack[k-1], stack[k]
		a, b := profile[i], profile[j]
		bridged += a.Dist(b)
		gap := 0.0
		for m := i + 1; m < j; m++ {
			gap = max(gap, b.Sub(a).Unit().Cross(a.Sub(profile[m])))
		}
		if gap > 1e-6 {
			out.Spans = append(out.Spans, LiftOff{From: g.PositionOf(points[i]), To: g.PositionOf(points[j]), Span: g.Length(a.Dist(b)), Gap: g.Length(gap)})
		}
	}
	// no tape is shorter than the chord in air; where the path twists strongly the
	// profile may say so
	chord := g.Length(points[n-1].Sub(points[0]).Norm())
	out.Length = min(p.Length, max(chord, p.Length-g.Length(max(0, chords-bridged))))
	return out
}

// finePath returns points along a path of the skin, tautPieces to each of its
// own, and the outward normals there.
func finePath(s Surface, path []UV) (points, normals []g.Vec3) {
	n := len(path)*tautPieces + 1
	points, normals = make([]g.Vec3, 0, n), make([]g.Vec3, 0, n)
	for i := 0; i+1 < len(path); i++ {
		a, b := path[i], path[i+1]
		in := UV{(a.U + b.U) / 2, (a.V + b.V) / 2}
		for k := 0; k < tautPieces; k++ {
			t := float64(k) / tautPieces
			p, m := s.At(UV{a.U + float64(t*(b.U-a.U)), a.V + float64(t*(b.V-a.V))}, in)
			if k == 0 && i > 0 { // on a hard line the normal lies between both
				c := path[i-1]
				_, before := s.At(a, UV{(a.U + c.U) / 2, (a.V + c.V) / 2})
				m = m.Add(before).Unit()
			}
			points, normals = append(points, p), append(normals, m)
		}
	}
	if len(path) > 0 {
		end := path[len(path)-1]
		in := end
		if len(path) > 1 {
			in = UV{(end.U + path[len(path)-2].U) / 2, (end.V + path[len(path)-2].V) / 2}
		}
		p, m := s.At(end, in)
		points, normals = append(points, p), append(normals, m)
	}
	return points, normals
}
