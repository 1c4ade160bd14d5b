package geometry

import (
	"fmt"
	"strconv"
	"strings"
)

// SegmentKind says what a [Segment] is.
type SegmentKind uint8

// Kinds of segment.
const (
	Line SegmentKind = iota
	Cubic
)

// Segment runs from the end of the one before it (or the start of its contour)
// to End. C1 and C2 are the control points of a cubic; a line ignores them.
type Segment struct {
	Kind        SegmentKind
	C1, C2, End Point
}

// Contour is a connected run of segments. It is closed when its last segment
// ends exactly where it starts; a contour of a Path always is.
type Contour struct {
	Start    Point
	Segments []Segment
}

// Path is a region of a plane: closed contours, outer ones counter-clockwise
// and holes clockwise (y up), no two crossing. Functions that accept other
// orientations say so.
type Path []Contour

// Builder makes a contour step by step.
type Builder struct{ c Contour }

// MoveTo starts a contour.
func MoveTo(p Point) *Builder { return &Builder{Contour{Start: p}} }

// LineTo adds a straight line.
func (b *Builder) LineTo(p Point) *Builder {
	b.c.Segments = append(b.c.Segments, Segment{Kind: Line, End: p})
	return b
}

// CubicTo adds a cubic curve.
func (b *Builder) CubicTo(c1, c2, p Point) *Builder {
	b.c.Segments = append(b.c.Segments, Segment{Kind: Cubic, C1: c1, C2: c2, End: p})
	return b
}

// Follow adds segments.
func (b *Builder) Follow(segments []Segment) *Builder {
	b.c.Segments = append(b.c.Segments, segments...)
	return b
}

// Close joins the end to the start, with a line where they differ.
func (b *Builder) Close() Contour {
	if !b.c.Closed() {
		b.LineTo(b.c.Start)
	}
	return b.c
}

// Open returns the contour as it stands.
func (b *Builder) Open() Contour { return b.c }

// Polygon returns the closed contour through the points, in their order.
func Polygon(points ...Point) Contour {
	b := MoveTo(points[0])
	for _, p := range points[1:] {
		b.LineTo(p)
	}
	return b.Close()
}

// Polyline returns the open contour through the points, in their order.
func Polyline(points ...Point) Contour {
	b := MoveTo(points[0])
	for _, p := range points[1:] {
		b.LineTo(p)
	}
	return b.Open()
}

// Rectangle returns the counter-clockwise outline of r.
func Rectangle(r Rect) Contour {
	return Polygon(r.Min, Point{r.Max.X, r.Min.Y}, r.Max, Point{r.Min.X, r.Max.Y})
}

// End returns the point where c ends.
func (c Contour) End() Point {
	if len(c.Segments) == 0 {
		return c.Start
	}
	return c.Segments[len(c.Segments)-1].End
}

// Closed tells whether c ends exactly where it starts.
func (c Contour) Closed() bool { return len(c.Segments) > 0 && c.End() == c.Start }

// From returns the start of segment i.
func (c Contour) From(i int) Point {
	if i == 0 {
		return c.Start
	}
	return c.Segments[i-1].End
}

// Reversed returns c walked the other way.
func (c Contour) Reversed() Contour {
	r := Contour{Start: c.End(), Segments: make([]Segment, 0, len(c.Segments))}
	for i := len(c.Segments) - 1; i >= 0; i-- {
		s := c.Segments[i]
		r.Segments = append(r.Segments, Segment{Kind: s.Kind, C1: s.C2, C2: s.C1, End: c.From(i)})
	}
	return r
}

// Nodes returns the number of segments of all contours.
func (p Path) Nodes() int {
	n := 0
	for _, c := range p {
		n += len(c.Segments)
	}
	return n
}

// At returns the point of segment i of c at parameter t in [0, 1].
func (c Contour) At(i int, t float64) Point {
	s, a := c.Segments[i], c.From(i)
	if s.Kind == Line {
		return a.Lerp(s.End, t)
	}
	u := 1 - t
	w0, w1, w2, w3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{
		float64(w0*a.X) + float64(w1*s.C1.X) + float64(w2*s.C2.X) + float64(w3*s.End.X),
		float64(w0*a.Y) + float64(w1*s.C1.Y) + float64(w2*s.C2.Y) + float64(w3*s.End.Y),
	}
}

// Map returns c with f applied to every node and control point. It is exact
// only for affine f; for other maps see [FitMap].
func (c Contour) Map(f func(Point) Point) Contour {
	m := Contour{Start: f(c.Start), Segments: make([]Segment, len(c.Segments))}
	for i, s := range c.Segments {
		t := Segment{Kind: s.Kind, End: f(s.End)}
		if s.Kind == Cubic {
			t.C1, t.C2 = f(s.C1), f(s.C2)
		}
		if c.Closed() && i == len(c.Segments)-1 {
			t.End = m.Start
		}
		m.Segments[i] = t
	}
	return m
}

// Map applies an affine f to every contour. A map that mirrors turns every
// contour the wrong way; Map turns it back.
func (p Path) Map(f func(Point) Point) Path {
	o, x, y := f(Point{}), f(Point{X: 1}), f(Point{Y: 1})
	mirrors := x.Sub(o).Cross(y.Sub(o)) < 0
	m := make(Path, len(p))
	for i, c := range p {
		if m[i] = c.Map(f); mirrors {
			m[i] = m[i].Reversed()
		}
	}
	return m
}

// Moved returns p displaced by v.
func (p Path) Moved(v Vec) Path { return p.Map(func(q Point) Point { return q.Add(v) }) }

// String writes p as path text: M, L, C and Z with absolute coordinates.
func (p Path) String() string {
	var b strings.Builder
	n := func(q Point) string { return FormatNumber(q.X, 6) + " " + FormatNumber(q.Y, 6) }
	for _, c := range p {
		b.WriteString("M" + n(c.Start))
		for i, s := range c.Segments {
			switch {
			case s.Kind == Cubic:
				b.WriteString("C" + n(s.C1) + " " + n(s.C2) + " " + n(s.End))
			case c.Closed() && i == len(c.Segments)-1:
			default:
				b.WriteString("L" + n(s.End))
			}
		}
		if c.Closed() {
			b.WriteString("Z")
		}
	}
	return b.String()
}

// ParsePath reads the text that [Path.String] writes: absolute M, L, C, H, V
// and Z. It is the short form for tests and for data files of the project.
func ParsePath(text string) (Path, error) {
	var p Path
	var b *Builder
	fields := splitPath(text)
	number := func(i int) (float64, error) {
		if i >= len(fields) {
			return 0, fmt.Errorf("path text ends within a command")
		}
		return strconv.ParseFloat(fields[i], 64)
	}
	cmd := byte(0)
	for i := 0; i < len(fields); {
		if c := fields[i][0]; c >= 'A' && c <= 'Z' {
			cmd = c
			i++
		}
		need := map[byte]int{'M': 2, 'L': 2, 'C': 6, 'H': 1, 'V': 1, 'Z': 0}
		n, ok := need[cmd]
		if !ok || (b == nil && cmd != 'M') {
			return nil, fmt.Errorf("path text: unknown or misplaced command %q", string(cmd))
		}
		v := [6]float64{}
		for k := 0; k < n; k++ {
			x, err := number(i + k)
			if err != nil {
				return nil, fmt.Errorf("path text: %w", err)
			}
			v[k] = x
		}
		i += n
		switch cmd {
		case 'M':
			if b != nil {
				p = append(p, b.Open())
			}
			b, cmd = MoveTo(Point{v[0], v[1]}), 'L'
		case 'L':
			b.LineTo(Point{v[0], v[1]})
		case 'H':
			b.LineTo(Point{v[0], b.c.End().Y})
		case 'V':
			b.LineTo(Point{b.c.End().X, v[0]})
		case 'C':
			b.CubicTo(Point{v[0], v[1]}, Point{v[2], v[3]}, Point{v[4], v[5]})
		case 'Z':
			p = append(p, b.Close())
			b = nil
		}
	}
	if b != nil {
		p = append(p, b.Open())
	}
	return p, nil
}

// splitPath breaks path text into command letters and numbers.
func splitPath(text string) []string {
	var out []string
	word := ""
	flush := func() {
		if word != "" {
			out = append(out, word)
			word = ""
		}
	}
	for _, r := range text {
		switch {
		case r == ' ' || r == ',' || r == '\n' || r == '\t':
			flush()
		case r >= 'A' && r <= 'Z':
			flush()
			out = append(out, string(r))
		case r == '-' && word != "" && word[len(word)-1] != 'e':
			flush()
			word = "-"
		default:
			word += string(r)
		}
	}
	flush()
	return out
}
