package drawing

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// dxfGroup is a code and its value; the value is good until the next group is read.
type dxfGroup struct {
	code  int
	value []byte
	line  int // of the code, from 1
}

// ReadDXF reads a DXF file in text, of any release from R12 on: lines, polylines with
// bulges, arcs, circles, ellipses and splines of the section of entities, and of the
// blocks inserted there, by layer. The page is what the header gives for its extents.
// Units are those of the header; where it gives none, inches. Codes are those of the
// published reference of the format.
//
// Errors: a damaged file, a kind of entity that is not read.
func ReadDXF(r io.Reader) (Drawing, error) { return readDXF(r, nil) }

func readDXF(r io.Reader, notes *passedOver) (Drawing, error) {
	scan := bufio.NewScanner(r)
	scan.Buffer(make([]byte, 64*1024), 1<<20)
	d := &dxfReader{scan: scan, notes: notes, unit: 1, budget: wholeBudget(), blocks: map[string][]dxfEntity{}}
	if err := d.sections(); err != nil {
		return Drawing{}, fmt.Errorf("dxf: %w", err)
	}
	return d.out, nil
}

type dxfReader struct {
	scan   *bufio.Scanner
	line   int // read so far
	groups int // read so far
	out    Drawing
	notes  *passedOver
	unit   float64 // inches
	stated bool    // the file says its unit
	budget budget
	kept   int                    // numbers of entities that are kept
	blocks map[string][]dxfEntity // by name, the first entity the block's own
	uses   int
}

// next reads a group: two lines. What it reads last is EOF.
func (d *dxfReader) next() (dxfGroup, error) {
	cutOff := errors.New("it does not end with EOF: it was cut off")
	if !d.scan.Scan() {
		if err := d.scan.Err(); err != nil {
			return dxfGroup{}, err
		}
		return dxfGroup{}, cutOff
	}
	d.line++
	line := d.line
	code, ok := codeOf(trimmed(d.scan.Bytes()))
	if !ok {
		return dxfGroup{}, fmt.Errorf("line %d: %.20q is no group code: write the file as DXF in text", line, d.scan.Text())
	}
	if !d.scan.Scan() {
		if err := d.scan.Err(); err != nil {
			return dxfGroup{}, err
		}
		return dxfGroup{}, fmt.Errorf("line %d: the file ends within a group", line)
	}
	d.line++
	if d.groups++; d.groups > mostGroups {
		return dxfGroup{}, errTooLarge
	}
	return dxfGroup{code, trimmed(d.scan.Bytes()), line}, nil
}

// codeOf reads a group code, a whole number of at most four digits.
func codeOf(b []byte) (int, bool) {
	minus := len(b) > 0 && b[0] == '-'
	if minus {
		b = b[1:]
	}
	code := 0
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		code = 10*code + int(c-'0')
	}
	if minus {
		code = -code
	}
	return code, len(b) > 0 && len(b) <= 4
}

func trimmed(b []byte) []byte { return bytes.Trim(b, " \t\r") }

// sections reads the header, the blocks and the entities; tables and the rest say
// nothing of what is drawn.
func (d *dxfReader) sections() error {
	for {
		k, err := d.next()
		if err != nil {
			return err
		}
		if k.code == 0 && string(k.value) == "EOF" {
			return nil
		}
		if k.code != 0 || string(k.value) != "SECTION" {
			continue
		}
		if k, err = d.next(); err != nil {
			return err
		}
		switch string(k.value) {
		case "HEADER":
			err = d.header()
		case "BLOCKS":
			err = d.block()
		case "ENTITIES":
			if err = d.sizeStated(); err == nil {
				err = d.drawn()
			}
		}
		if err != nil {
			return err
		}
	}
}

// dxfUnits are inches to the unit, by $INSUNITS: none, inches, feet, miles, millimetres,
// centimetres, metres, kilometres, microinches, thousandths, yards; microns, decimetres.
var dxfUnits = map[string]float64{
	"0": 1, "1": 1, "2": 12, "3": 63360, "4": 1 / 25.4, "5": 1 / 2.54, "6": 1 / 0.0254, "7": 1000 / 0.0254, "8": 1e-6, "9": 1e-3, "10": 36, "13": 1e-3 / 25.4, "14": 1 / 0.254,
}

func (d *dxfReader) header() error {
	name := ""
	for {
		k, err := d.next()
		if err != nil {
			return err
		}
		switch {
		case k.code == 0:
			d.out.Width, d.out.Height = d.out.Width*d.unit, d.out.Height*d.unit
			return nil
		case k.code == 9:
			name = string(k.value)
		case name == "$INSUNITS" && k.code == 70:
			unit, known := dxfUnits[string(k.value)]
			if !known {
				return fmt.Errorf("line %d: $INSUNITS %s is not read: write 1 for inches or 4 for millimetres", k.line, k.value)
			}
			d.unit, d.stated = unit, string(k.value) != "0"
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
}

// sizeStated notes where a file of another program does not say its unit.
func (d *dxfReader) sizeStated() error {
	if d.stated || !d.notes.lenient() {
		return nil
	}
	return d.notes.pass(errors.New("dxf: the file states no unit, so no true size: taken as inches"))
}

func (k dxfGroup) number() (float64, error) {
	v, err := strconv.ParseFloat(string(k.value), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("line %d: %.20q is no number", k.line, k.value)
	}
	return v, nil
}

// block reads the section of blocks.
func (d *dxfReader) block() error {
	var own []dxfEntity
	return d.entities(func(e dxfEntity) error {
		if d.kept += len(e.numbers) + entityKept; d.kept > mostKept {
			return errTooLarge
		}
		switch {
		case e.kind == "BLOCK":
			own = []dxfEntity{e}
		case e.kind == "ENDBLK" && own != nil:
			d.blocks[own[0].name], own = own, nil
		case own != nil:
			own = append(own, e)
		}
		return nil
	})
}

// drawn draws the section of entities as it is read.
func (d *dxfReader) drawn() error {
	p := dxfPlace{m: g.Affine{d.unit, 0, 0, d.unit, 0, 0}, layer: "0"}
	if err := d.entities(func(e dxfEntity) error { return d.entity(e, &p) }); err != nil {
		return err
	}
	return p.ended()
}

// insert draws a block at its place, turned and scaled; rows and columns of it are
// refused.
func (d *dxfReader) insert(e dxfEntity, p dxfPlace) error {
	block, ok := d.blocks[e.name]
	if !ok {
		return d.notes.pass(fmt.Errorf("line %d: there is no block %.40q in the file", e.line, e.name))
	}
	if d.uses++; p.depth >= mostReferences || d.uses > mostUses {
		return fmt.Errorf("line %d: blocks stand in one another more than %d deep, or %d times: explode them", e.line, mostReferences, mostUses)
	}
	if e.get(70) > 1 || e.get(71) > 1 {
		return d.notes.pass(fmt.Errorf("line %d: the block %.40q stands in rows: explode it", e.line, e.name))
	}
	scale := func(code int) float64 {
		if v, ok := e.find(code); ok {
			return v
		}
		return 1
	}
	sin, cos := same.Sincos(e.get(50) * math.Pi / 180)
	sx, sy := scale(41), scale(42)
	to := g.Affine{sx * cos, sx * sin, -sy * sin, sy * cos, e.get(10), e.get(20)}
	base := g.Affine{1, 0, 0, 1, -block[0].get(10), -block[0].get(20)}
	in := dxfPlace{m: p.m.After(e.seen()).After(to.After(base)), layer: e.layer, depth: p.depth + 1}
	for _, one := range block[1:] {
		if err := d.entity(one, &in); err != nil {
			return err
		}
	}
	return in.ended()
}
