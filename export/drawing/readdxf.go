package drawing

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	g "maskloft/geometry"
)

// dxfGroup is a code and its value.
type dxfGroup struct {
	code  int
	value string
	line  int // of the code, from 1
}

// ReadDXF reads a DXF file in text: polylines with bulges, lines, arcs and circles of
// the section of entities, and of the blocks inserted there, by layer. The page is what
// the header gives for its extents. Units are those of the header; where it gives none,
// inches.
//
// Errors: a damaged file, a kind of entity that is not read.
func ReadDXF(r io.Reader) (Drawing, error) { return readDXF(r, nil) }

func readDXF(r io.Reader, notes *passedOver) (Drawing, error) {
	d := &dxfReader{notes: notes, unit: 1, budget: mostSegments, blocks: map[string][]dxfEntity{}}
	groups, err := dxfGroups(r)
	if err == nil {
		err = d.sections(groups)
	}
	if err != nil {
		return Drawing{}, fmt.Errorf("dxf: %w", err)
	}
	return d.out, nil
}

// dxfGroups reads the lines in twos.
func dxfGroups(r io.Reader) ([]dxfGroup, error) {
	scan := bufio.NewScanner(r)
	scan.Buffer(make([]byte, 64*1024), 1<<20)
	var out []dxfGroup
	for line := 1; scan.Scan(); line += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(scan.Text()))
		if err != nil {
			return nil, fmt.Errorf("line %d: %.20q is no group code: write the file as DXF in text", line, scan.Text())
		}
		if !scan.Scan() {
			return nil, fmt.Errorf("line %d: the file ends within a group", line)
		}
		if out = append(out, dxfGroup{code, strings.TrimSpace(scan.Text()), line}); len(out) > 5*mostSegments {
			return nil, errTooLarge
		}
	}
	if err := scan.Err(); err != nil {
		return nil, err
	}
	if len(out) == 0 || out[len(out)-1].value != "EOF" {
		return nil, errors.New("it does not end with EOF: it was cut off")
	}
	return out, nil
}

type dxfReader struct {
	out    Drawing
	notes  *passedOver
	unit   float64 // inches
	budget int
	blocks map[string][]dxfEntity // by name, the first entity the block's own
	uses   int
}

// sections reads the header, the blocks and the entities; tables and the rest say
// nothing of what is drawn.
func (d *dxfReader) sections(groups []dxfGroup) error {
	for i := 0; i+1 < len(groups); i++ {
		if groups[i].code != 0 || groups[i].value != "SECTION" {
			continue
		}
		end := i + 1
		for end < len(groups) && (groups[end].code != 0 || groups[end].value != "ENDSEC") {
			end++
		}
		body := groups[i+2 : max(i+2, end)]
		var err error
		switch groups[i+1].value {
		case "HEADER":
			err = d.header(body)
		case "BLOCKS":
			err = d.block(body)
		case "ENTITIES":
			var all []dxfEntity
			if all, err = dxfEntities(body); err == nil {
				err = d.entities(all, g.Affine{d.unit, 0, 0, d.unit, 0, 0}, "0", 0)
			}
		}
		if err != nil {
			return err
		}
		i = end
	}
	return nil
}

// dxfUnits are inches to the unit, by $INSUNITS.
var dxfUnits = map[string]float64{"0": 1, "1": 1, "2": 12, "4": 1 / 25.4, "5": 1 / 2.54, "6": 1 / 0.0254}

func (d *dxfReader) header(groups []dxfGroup) error {
	name := ""
	for _, k := range groups {
		switch {
		case k.code == 9:
			name = k.value
		case name == "$INSUNITS" && k.code == 70:
			unit, known := dxfUnits[k.value]
			if !known {
				return fmt.Errorf("line %d: $INSUNITS %s is not read: write 1 for inches or 4 for millimetres", k.line, k.value)
			}
			d.unit = unit
		case name == "$EXTMAX" && (k.code == 10 || k.code == 20):
			v, err := k.number()
			if err != nil {
				return err
			}
			if k.code == 10 {
				d.out.Width = v
			} else {
				d.out.Height = v
			}
		}
	}
	d.out.Width, d.out.Height = d.out.Width*d.unit, d.out.Height*d.unit
	return nil
}

func (k dxfGroup) number() (float64, error) {
	v, err := strconv.ParseFloat(k.value, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("line %d: %.20q is no number", k.line, k.value)
	}
	return v, nil
}

// dxfEntity is one entity: its kind, its layer, the last number of each code, and the
// vertices of a light polyline.
type dxfEntity struct {
	kind, layer, name string
	line              int
	v                 map[int]float64
	vertices          []dxfEntity
}

// dxfEntities reads the groups of a section, entity by entity.
func dxfEntities(groups []dxfGroup) ([]dxfEntity, error) {
	var all []dxfEntity
	for _, k := range groups {
		if k.code == 0 {
			all = append(all, dxfEntity{kind: k.value, line: k.line, v: map[int]float64{}})
			continue
		}
		if len(all) == 0 {
			return nil, fmt.Errorf("line %d: a group before any entity", k.line)
		}
		e := &all[len(all)-1]
		switch {
		case k.code == 8:
			e.layer = k.value
		case k.code == 2:
			e.name = k.value
		case k.code >= 10 && k.code < 80 || k.code == 230:
			v, err := k.number()
			if err != nil {
				return nil, err
			}
			if e.kind == "LWPOLYLINE" && (k.code == 10 || k.code == 20 || k.code == 42) {
				if k.code == 10 {
					e.vertices = append(e.vertices, dxfEntity{v: map[int]float64{}})
				}
				if n := len(e.vertices); n > 0 {
					e.vertices[n-1].v[k.code] = v
				}
				continue
			}
			e.v[k.code] = v
		}
	}
	return all, nil
}

// block reads the section of blocks.
func (d *dxfReader) block(groups []dxfGroup) error {
	all, err := dxfEntities(groups)
	if err != nil {
		return err
	}
	for i, e := range all {
		if e.kind != "BLOCK" {
			continue
		}
		end := i + 1
		for end < len(all) && all[end].kind != "ENDBLK" {
			end++
		}
		d.blocks[e.name] = all[i:end]
	}
	return nil
}

// entities draws entities placed by m; a polyline has its vertices after it. What lies
// on layer 0 of a block is on the layer of where it is inserted.
func (d *dxfReader) entities(all []dxfEntity, m g.Affine, layer string, depth int) error {
	for i := 0; i < len(all); i++ {
		e := all[i]
		if e.v[67] == 1 { // on a sheet of paper, not in the model
			continue
		}
		if e.layer == "" || e.layer == "0" {
			e.layer = layer
		}
		var p g.Path
		switch e.kind {
		case "POLYLINE":
			var vertices []dxfEntity
			for i++; i < len(all) && all[i].kind == "VERTEX"; i++ {
				vertices = append(vertices, all[i])
			}
			if i >= len(all) || all[i].kind != "SEQEND" {
				return fmt.Errorf("line %d: a polyline without its end", e.line)
			}
			if c := polylineOf(vertices, int(e.v[70])&1 == 1); len(c.Segments) > 0 {
				p = g.Path{c}
			}
		case "LWPOLYLINE":
			if c := polylineOf(e.vertices, int(e.v[70])&1 == 1); len(c.Segments) > 0 {
				p = g.Path{c}
			}
		case "INSERT":
			if err := d.insert(e, m, depth); err != nil {
				return err
			}
			continue
		case "LINE":
			p = g.Path{g.Polyline(g.Point{X: e.v[10], Y: e.v[20]}, g.Point{X: e.v[11], Y: e.v[21]})}
		case "CIRCLE":
			p = g.Path{g.Circle(g.Point{X: e.v[10], Y: e.v[20]}, e.v[40])}
		case "ARC":
			sweep := math.Mod(e.v[51]-e.v[50]+720, 360)
			s, c := math.Sincos(e.v[50] * math.Pi / 180)
			m := g.Point{X: e.v[10], Y: e.v[20]}
			p = g.Path{g.MoveTo(m.Add(g.Vec{X: c, Y: s}.Scale(e.v[40]))).ArcTo(m, sweep*math.Pi/180).Open()}
		default:
			if err := d.notes.pass(fmt.Errorf("line %d: %.20s is no outline that is read", e.line, e.kind)); err != nil {
				return err
			}
			continue
		}
		if e.v[230] < 0 {
			if err := d.notes.pass(fmt.Errorf("line %d: %s is drawn as seen from below: mirror it in the drawing program", e.line, e.kind)); err != nil {
				return err
			}
			continue
		}
		if err := d.out.draw(e.layer, "", p, Paint{}, m, &d.budget); err != nil {
			return fmt.Errorf("line %d: %w", e.line, err)
		}
	}
	return nil
}

// insert draws a block at its place, turned and scaled; rows and columns of it are
// refused.
func (d *dxfReader) insert(e dxfEntity, m g.Affine, depth int) error {
	block, ok := d.blocks[e.name]
	if !ok {
		return d.notes.pass(fmt.Errorf("line %d: there is no block %.40q in the file", e.line, e.name))
	}
	if d.uses++; depth >= mostReferences || d.uses > mostUses {
		return fmt.Errorf("line %d: blocks stand in one another more than %d deep, or %d times: explode them", e.line, mostReferences, mostUses)
	}
	if e.v[70] > 1 || e.v[71] > 1 || e.v[230] < 0 {
		return d.notes.pass(fmt.Errorf("line %d: the block %.40q stands in rows or is seen from below: explode it", e.line, e.name))
	}
	scale := func(code int) float64 {
		if v, ok := e.v[code]; ok {
			return v
		}
		return 1
	}
	sin, cos := math.Sincos(e.v[50] * math.Pi / 180)
	sx, sy := scale(41), scale(42)
	to := g.Affine{sx * cos, sx * sin, -sy * sin, sy * cos, e.v[10], e.v[20]}
	base := g.Affine{1, 0, 0, 1, -block[0].v[10], -block[0].v[20]}
	return d.entities(block[1:], m.After(to.After(base)), e.layer, depth+1)
}

// polylineOf returns the contour of vertices with bulges.
func polylineOf(vertices []dxfEntity, closed bool) g.Contour {
	at := func(i int) g.Point { return g.Point{X: vertices[i].v[10], Y: vertices[i].v[20]} }
	n := len(vertices)
	if n < 2 {
		return g.Contour{}
	}
	b := g.MoveTo(at(0))
	last := n - 1
	if closed {
		last = n
	}
	for i := range last {
		to := at((i + 1) % n)
		if bulge := vertices[i].v[42]; math.Abs(bulge) > 1e-9 {
			b = arcBy(b, at(i), to, bulge)
		} else {
			b = b.LineTo(to)
		}
	}
	return b.Open()
}

// arcBy adds the arc from a to b that turns through four times the angle whose tangent
// the bulge is; it ends exactly at b.
func arcBy(to *g.Builder, a, b g.Point, bulge float64) *g.Builder {
	chord := b.Sub(a)
	centre := a.Lerp(b, 0.5).Add(chord.Perp().Scale((1 - bulge*bulge) / (4 * bulge)))
	c := g.MoveTo(a).ArcTo(centre, 4*math.Atan(bulge)).Open()
	for i, s := range c.Segments {
		if i == len(c.Segments)-1 {
			s.End = b
		}
		to = to.CubicTo(s.C1, s.C2, s.End)
	}
	return to
}
