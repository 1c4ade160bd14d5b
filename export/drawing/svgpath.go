package drawing

import (
	"fmt"
	"math"
	"strconv"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// scanner reads the numbers and letters of path data, points and transforms.
type scanner struct {
	text string
	at   int
}

func svgBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' }

func (s *scanner) blanks() {
	for s.at < len(s.text) && svgBlank(s.text[s.at]) {
		s.at++
	}
}

// comma passes blanks with at most one comma among them.
func (s *scanner) comma() {
	s.blanks()
	if s.at < len(s.text) && s.text[s.at] == ',' {
		s.at++
		s.blanks()
	}
}

func (s *scanner) done() bool { return s.at >= len(s.text) }

// digits passes digits and returns how many.
func (s *scanner) digits() int {
	from := s.at
	for s.at < len(s.text) && s.text[s.at] >= '0' && s.text[s.at] <= '9' {
		s.at++
	}
	return s.at - from
}

func (s *scanner) sign() {
	if s.at < len(s.text) && (s.text[s.at] == '+' || s.text[s.at] == '-') {
		s.at++
	}
}

// number reads one number: the longest text that is one, so that "1.5.5" is two
// and "10-2" is two (SVG 1.1 clause 8.3.9).
func (s *scanner) number() (float64, error) {
	from := s.at
	s.sign()
	n := s.digits()
	if s.at < len(s.text) && s.text[s.at] == '.' {
		s.at++
		n += s.digits()
	}
	if n == 0 {
		return 0, fmt.Errorf("a number is missing at %q", excerptAt(s.text, from))
	}
	if s.at < len(s.text) && (s.text[s.at] == 'e' || s.text[s.at] == 'E') {
		mark := s.at
		s.at++
		s.sign()
		if s.digits() == 0 {
			s.at = mark // the letter belongs to what follows
		}
	}
	v, err := strconv.ParseFloat(s.text[from:s.at], 64)
	if err != nil {
		return 0, fmt.Errorf("number %q: %w", s.text[from:s.at], err)
	}
	return v, nil
}

// flag reads the 0 or 1 of an arc, which need not be set apart from what follows.
func (s *scanner) flag() (bool, error) {
	if s.done() || (s.text[s.at] != '0' && s.text[s.at] != '1') {
		return false, fmt.Errorf("a flag of an arc is neither 0 nor 1 at %q", excerptAt(s.text, s.at))
	}
	s.at++
	return s.text[s.at-1] == '1', nil
}

func excerptAt(text string, at int) string {
	if end := at + 20; end < len(text) {
		return text[at:end]
	}
	return text[at:]
}

// pathReader walks path data; y is down, as it stands in the file.
type pathReader struct {
	scanner
	out     g.Path
	b       *g.Builder
	start   g.Point // of the subpath
	pen     g.Point // where the path stands
	control g.Point // last control point of the command before, for S and T
	last    byte    // the command before, upper case
	arcs    int     // points that arcs have within them
}

// svgPathData reads the d attribute of a path (SVG 1.1 clause 8.3). Quadratic
// curves become the cubics that they are; arcs become cubics of at most an
// eighth of an ellipse.
func svgPathData(text string) (g.Path, error) {
	r := &pathReader{scanner: scanner{text: text}}
	r.blanks()
	cmd := byte(0)
	for n := 0; !r.done(); n++ {
		if n+r.arcs > mostPoints {
			return nil, errTooLarge
		}
		switch c := r.text[r.at]; {
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			cmd = c
			r.at++
			r.blanks()
		case cmd == 0 || cmd == 'Z' || cmd == 'z':
			return nil, fmt.Errorf("path data: a command is missing at %q", excerptAt(r.text, r.at))
		case cmd == 'M':
			cmd = 'L' // further pairs of a moveto are lines (clause 8.3.2)
		case cmd == 'm':
			cmd = 'l'
		}
		if r.last == 0 && cmd != 'M' && cmd != 'm' {
			return nil, fmt.Errorf("path data begins with %q, not with M", string(cmd))
		}
		if err := r.command(cmd); err != nil {
			return nil, fmt.Errorf("path data, command %q: %w", string(cmd), err)
		}
		r.comma()
	}
	r.flush()
	return r.out, nil
}

// flush ends a contour that the file leaves open.
func (r *pathReader) flush() {
	if r.b != nil {
		r.out = append(r.out, r.b.Open())
		r.b = nil
	}
}

// from returns the builder, begun where the path stands: after Z a contour goes
// on from the start of the one before.
func (r *pathReader) from() *g.Builder {
	if r.b == nil {
		r.b = g.MoveTo(r.pen)
		r.start = r.pen
	}
	return r.b
}

// svgNumbersOf is how many numbers come after a command; after A up to its flags.
var svgNumbersOf = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 3, 'Z': 0}

func (r *pathReader) command(cmd byte) error {
	upper := cmd &^ 0x20
	origin := g.Point{}
	if cmd != upper {
		origin = r.pen
	}
	var v [7]float64
	read := func(n int) error {
		for i := 0; i < n; i++ {
			if i > 0 {
				r.comma()
			}
			var err error
			if v[i], err = r.number(); err != nil {
				return err
			}
		}
		return nil
	}
	point := func(i int) g.Point { return origin.Add(g.Vec{X: v[i], Y: v[i+1]}) }
	reflected := func(a, b byte) g.Point {
		if r.last == a || r.last == b {
			return r.pen.Add(r.pen.Sub(r.control))
		}
		return r.pen
	}
	n, ok := svgNumbersOf[upper]
	if !ok {
		return fmt.Errorf("it is unknown")
	}
	if err := read(n); err != nil {
		return err
	}
	end := r.pen
	switch upper {
	case 'M':
		r.flush()
		end = point(0)
		r.b, r.start = g.MoveTo(end), end
	case 'Z':
		// A contour without a segment closes to a point, as when it is drawn.
		r.out = append(r.out, r.from().Close())
		r.b, end = nil, r.start
	case 'L':
		end = point(0)
		r.from().LineTo(end)
	case 'H':
		end = g.Point{X: origin.X + v[0], Y: r.pen.Y}
		r.from().LineTo(end)
	case 'V':
		end = g.Point{X: r.pen.X, Y: origin.Y + v[0]}
		r.from().LineTo(end)
	case 'C':
		r.control, end = point(2), point(4)
		r.from().CubicTo(point(0), r.control, end)
	case 'S':
		c1 := reflected('C', 'S')
		r.control, end = point(0), point(2)
		r.from().CubicTo(c1, r.control, end)
	case 'Q', 'T':
		if upper == 'Q' {
			r.control, end = point(0), point(2)
		} else {
			r.control = reflected('Q', 'T')
			end = point(0)
		}
		// Degree elevation: a cubic's control points lie two thirds of the way.
		r.from().CubicTo(r.pen.Lerp(r.control, 2.0/3), end.Lerp(r.control, 2.0/3), end)
	case 'A':
		r.comma()
		large, err := r.flag()
		if err != nil {
			return err
		}
		r.comma()
		sweep, err := r.flag()
		if err != nil {
			return err
		}
		r.comma()
		rx, ry, turn := v[0], v[1], v[2]
		if err := read(2); err != nil {
			return err
		}
		end = point(0)
		before := len(r.from().Open().Segments)
		svgArc(r.b, r.pen, end, rx, ry, turn*math.Pi/180, large, sweep)
		r.arcs += max(0, len(r.b.Open().Segments)-before-1)
	}
	r.pen, r.last = end, upper
	return nil
}

// slenderest is the part of an ellipse's larger radius below which the smaller one, or
// the distance of the arc's ends, makes it a line: 1e-9 in to a radius of 1 in.
const slenderest = 1e-9

// svgArc adds an elliptical arc given by its ends: SVG 1.1 appendix F.6.5 (the
// centre), F.6.2 and F.6.6 (radii that are zero, negative or too small).
func svgArc(b *g.Builder, from, to g.Point, rx, ry, turn float64, large, sweep bool) {
	if from == to {
		return
	}
	rx, ry = math.Abs(rx), math.Abs(ry)
	size := max(rx, ry)
	rx, ry = rx/size, ry/size // the shape of the ellipse: the larger radius is 1
	if !(min(rx, ry) > slenderest) {
		b.LineTo(to)
		return
	}
	sin, cos := same.Sincos(turn)
	half := from.Sub(to).Scale(0.5)
	x, y := float64(cos*half.X)+float64(sin*half.Y), float64(cos*half.Y)-float64(sin*half.X)
	x, y = x/rx, y/ry // in the circle that the ellipse is made of
	reach := same.Hypot(x, y)
	if !(reach > size*slenderest) {
		b.LineTo(to) // as good as straight between the ends
		return
	}
	size = max(size, reach) // F.6.6: the ellipse grows until it reaches
	rx, ry, x, y = rx*size, ry*size, x/size, y/size
	d2 := min(1, float64(x*x)+float64(y*y))
	h := math.Sqrt((1 - d2) / d2)
	if large == sweep {
		h = -h
	}
	cx, cy := float64(h*y), float64(-h*x)
	mid := from.Lerp(to, 0.5)
	m := g.Affine{cos * rx, sin * rx, -sin * ry, cos * ry, 0, 0}
	c := m.Apply(g.Point{X: cx, Y: cy})
	m[4], m[5] = mid.X+c.X, mid.Y+c.Y
	start := same.Atan2(y-cy, x-cx)
	extent := same.Atan2(-y-cy, -x-cx) - start
	if sweep && extent < 0 {
		extent += 2 * math.Pi
	} else if !sweep && extent > 0 {
		extent -= 2 * math.Pi
	}
	arc := g.MoveTo(from)
	g.EllipseArc(arc, m, start, extent)
	segments := arc.Open().Segments
	segments[len(segments)-1].End = to // exactly, so that a closed path closes
	for _, s := range segments {
		b.CubicTo(s.C1, s.C2, s.End)
	}
}
