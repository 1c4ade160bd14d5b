package drawing

import (
	"errors"
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// dxfEntity is one entity: its kind, its layer, its name, and its numbers in the order of
// the file.
type dxfEntity struct {
	kind, layer, name string
	line              int
	numbers           []dxfNumber
}

type dxfNumber struct {
	code int
	v    float64
}

// find returns the last number of a code.
func (e dxfEntity) find(code int) (float64, bool) {
	for i := len(e.numbers) - 1; i >= 0; i-- {
		if e.numbers[i].code == code {
			return e.numbers[i].v, true
		}
	}
	return 0, false
}

// get is find, 0 where there is none.
func (e dxfEntity) get(code int) float64 { v, _ := e.find(code); return v }

// all returns the numbers of a code.
func (e dxfEntity) all(code int) (out []float64) {
	for _, n := range e.numbers {
		if n.code == code {
			out = append(out, n.v)
		}
	}
	return out
}

// points returns the points whose x have a code and whose y have one ten above.
func (e dxfEntity) points(code int) []g.Point {
	xs, ys := e.all(code), e.all(code+10)
	out := make([]g.Point, min(len(xs), len(ys)))
	for i := range out {
		out[i] = g.Point{X: xs[i], Y: ys[i]}
	}
	return out
}

// What is kept of one file: a line takes at most 12 groups, and what all blocks hold is
// counted in numbers, of which an entity itself takes as much room as 6.
const (
	mostGroups = 12 * mostPoints
	mostKept   = 2_000_000
	entityKept = 6
)

// dxfRead are the codes whose numbers are read: not heights, widths and colours.
var dxfRead = map[int]bool{
	10: true, 20: true, 11: true, 21: true, 40: true, 41: true, 42: true, 50: true, 51: true, 67: true, 70: true, 71: true, 210: true, 220: true, 230: true,
}

// entities reads a section to its end and hands over each entity.
func (d *dxfReader) entities(take func(dxfEntity) error) error {
	var e dxfEntity
	open, points := false, 0
	names := map[string]string{} // each kind and layer once
	named := func(b []byte) string {
		s, ok := names[string(b)]
		if !ok {
			s = string(b)
			names[s] = s
		}
		return s
	}
	for {
		k, err := d.next()
		if err != nil {
			return err
		}
		switch {
		case k.code == 0:
			if open {
				if err := take(e); err != nil {
					return err
				}
			}
			if string(k.value) == "ENDSEC" {
				return nil
			}
			points = 0
			e, open = dxfEntity{kind: named(k.value), line: k.line}, true
		case !open:
			return fmt.Errorf("line %d: a group before any entity", k.line)
		case k.code == 8:
			e.layer = named(k.value)
		case k.code == 2:
			e.name = named(k.value)
		case dxfRead[k.code]:
			v, err := k.number()
			if err != nil {
				return err
			}
			if k.code == 10 {
				points++
			}
			if e.numbers = append(e.numbers, dxfNumber{k.code, v}); points > d.budget.points || len(e.numbers) > mostKept {
				return fmt.Errorf("line %d: %w", e.line, errTooLarge)
			}
		}
	}
}

// dxfPlace is where entities stand: by m, on a layer where they name none.
type dxfPlace struct {
	m        g.Affine
	layer    string
	depth    int        // blocks in one another
	polyline *dxfEntity // that is open: vertices follow
	vertices []dxfVertex
}

type dxfVertex struct {
	g.Point
	bulge float64
}

// ended tells of a polyline that has no end.
func (p dxfPlace) ended() error {
	if p.polyline != nil {
		return fmt.Errorf("line %d: a polyline without its end", p.polyline.line)
	}
	return nil
}

// seen returns what takes an entity's own plane to the page: an entity whose extrusion
// points away lies mirrored about the y axis (DXF reference, arbitrary axis algorithm).
func (e dxfEntity) seen() g.Affine {
	if e.get(230) < 0 {
		return g.Affine{-1, 0, 0, 1, 0, 0}
	}
	return g.Affine{1, 0, 0, 1, 0, 0}
}

// tilted tells whether an entity stands aslant to the page.
func (e dxfEntity) tilted() bool {
	return math.Abs(e.get(210)) > 1e-6 || math.Abs(e.get(220)) > 1e-6
}

// Flags of polylines and of their vertices.
const (
	dxfClosed = 1
	dxfMeshes = 16 | 64 // meshes
	dxfFrame  = 16      // of a vertex: of the frame of a spline, not on the line
)

// entity draws one entity. What lies on layer 0 of a block is on the layer of where it is
// inserted.
func (d *dxfReader) entity(e dxfEntity, p *dxfPlace) error {
	if p.polyline != nil {
		return d.vertex(e, p)
	}
	if e.get(67) == 1 { // on a sheet of paper, not in the model
		return nil
	}
	if e.layer == "" || e.layer == "0" {
		e.layer = p.layer
	}
	m := p.m.After(e.seen())
	var c g.Contour
	switch e.kind {
	case "POLYLINE":
		p.polyline, p.vertices = &e, nil
		return nil
	case "LWPOLYLINE":
		vertices := make([]dxfVertex, 0, len(e.all(10)))
		for _, n := range e.numbers {
			last := len(vertices) - 1
			switch {
			case n.code == 10:
				vertices = append(vertices, dxfVertex{Point: g.Point{X: n.v}})
			case n.code == 20 && last >= 0:
				vertices[last].Y = n.v
			case n.code == 42 && last >= 0:
				vertices[last].bulge = n.v
			}
		}
		var err error
		if c, err = polylineOf(vertices, int(e.get(70))&dxfClosed != 0, d.budget.points); err != nil {
			return fmt.Errorf("line %d: %w", e.line, err)
		}
	case "INSERT":
		return d.insert(e, *p)
	case "LINE": // in the plane of the page, whatever its extrusion
		c, m = g.Polyline(g.Point{X: e.get(10), Y: e.get(20)}, g.Point{X: e.get(11), Y: e.get(21)}), p.m
	case "CIRCLE":
		c = g.Circle(g.Point{X: e.get(10), Y: e.get(20)}, e.get(40))
	case "ARC":
		sweep := math.Mod(e.get(51)-e.get(50)+720, 360)
		sin, cos := same.Sincos(e.get(50) * math.Pi / 180)
		middle := g.Point{X: e.get(10), Y: e.get(20)}
		c = g.MoveTo(middle.Add(g.Vec{X: cos, Y: sin}.Scale(e.get(40)))).ArcTo(middle, sweep*math.Pi/180).Open()
	case "ELLIPSE":
		c, m = ellipseOf(e), p.m
	case "SPLINE":
		var err error
		if c, err = splineOf(e, d.budget.points); errors.Is(err, errTooLarge) {
			return fmt.Errorf("line %d: %w", e.line, err)
		} else if err != nil {
			return d.notes.pass(fmt.Errorf("line %d: the spline: %w", e.line, err))
		}
		m = p.m
	default:
		return d.notes.pass(fmt.Errorf("line %d: %.20s is no outline that is read", e.line, e.kind))
	}
	return d.put(e, c, m)
}

func (d *dxfReader) put(e dxfEntity, c g.Contour, m g.Affine) error {
	if e.tilted() {
		return d.notes.pass(fmt.Errorf("line %d: %s stands aslant to the page: lay it flat in the drawing program", e.line, e.kind))
	}
	if err := d.out.draw(e.layer, "", g.Path{c}, Paint{}, m, &d.budget); err != nil {
		return fmt.Errorf("line %d: %w", e.line, err)
	}
	return nil
}

// vertex takes a vertex of a polyline, or its end.
func (d *dxfReader) vertex(e dxfEntity, p *dxfPlace) error {
	line := *p.polyline
	switch {
	case e.kind == "VERTEX" && int(e.get(70))&dxfFrame == 0:
		if p.vertices = append(p.vertices, dxfVertex{g.Point{X: e.get(10), Y: e.get(20)}, e.get(42)}); len(p.vertices) > d.budget.points {
			return fmt.Errorf("line %d: %w", line.line, errTooLarge)
		}
		return nil
	case e.kind == "VERTEX":
		return nil
	case e.kind != "SEQEND":
		return p.ended()
	}
	vertices := p.vertices
	p.polyline, p.vertices = nil, nil
	flags := int(line.get(70))
	if flags&dxfMeshes != 0 {
		return d.notes.pass(fmt.Errorf("line %d: a mesh is no outline that is read", line.line))
	}
	c, err := polylineOf(vertices, flags&dxfClosed != 0, d.budget.points)
	if err != nil {
		return fmt.Errorf("line %d: %w", line.line, err)
	}
	return d.put(line, c, p.m.After(line.seen()))
}

// polylineOf returns the contour of vertices with bulges.
//
// Errors: more segments than most.
func polylineOf(vertices []dxfVertex, closed bool, most int) (g.Contour, error) {
	n := len(vertices)
	if n < 2 {
		return g.Contour{}, nil
	}
	b := g.MoveTo(vertices[0].Point)
	last := n - 1
	if closed {
		last = n
	}
	for i := range last {
		from, to := vertices[i], vertices[(i+1)%n].Point
		if math.Abs(from.bulge) > 1e-9 {
			b = arcBy(b, from.Point, to, from.bulge)
		} else {
			b = b.LineTo(to)
		}
		if len(b.Open().Segments) > most {
			return g.Contour{}, errTooLarge
		}
	}
	return b.Open(), nil
}

// arcBy adds the arc from a to b that turns through four times the angle whose tangent
// the bulge is; it ends exactly at b.
func arcBy(to *g.Builder, a, b g.Point, bulge float64) *g.Builder {
	chord := b.Sub(a)
	centre := a.Lerp(b, 0.5).Add(chord.Perp().Scale((1 - float64(bulge*bulge)) / (4 * bulge)))
	to = to.ArcTo(centre, 4*same.Atan(bulge))
	segments := to.Open().Segments
	segments[len(segments)-1].End = b
	return to
}

// ellipseOf returns an ellipse or an arc of one: the end of its longer half axis from the
// centre (11, 21), the shorter half axis as a part of it (40), turned to it by a quarter
// about the extrusion, and the parameters of its ends (41, 42).
func ellipseOf(e dxfEntity) g.Contour {
	long := g.Vec{X: e.get(11), Y: e.get(21)}
	short := long.Perp().Scale(e.get(40))
	if e.get(230) < 0 {
		short = short.Scale(-1)
	}
	m := g.Affine{long.X, long.Y, short.X, short.Y, e.get(10), e.get(20)}
	from, to := e.get(41), 2*math.Pi
	if v, ok := e.find(42); ok {
		to = v
	}
	sweep := math.Mod(to-from, 2*math.Pi)
	if sweep <= 1e-9 {
		sweep += 2 * math.Pi
	}
	sin, cos := same.Sincos(from)
	b := g.MoveTo(m.Apply(g.Point{X: cos, Y: sin}))
	g.EllipseArc(b, m, from, sweep)
	c := b.Open()
	if n := len(c.Segments); 2*math.Pi-sweep < 1e-9 && n > 0 {
		c.Segments[n-1].End = c.Start
	}
	return c
}
