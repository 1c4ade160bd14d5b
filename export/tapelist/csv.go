package tapelist

import (
	"bytes"
	"encoding/csv"

	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// tapeStep is the fraction of an inch that lengths are written in beside the
// reading.
const tapeStep = 16

// measuredColumn is the column, left empty, that is filled in at the aircraft: the
// tape as it reads, in the unit of its name.
func measuredColumn(t layouts.TapeSpec) string { return "measured_" + string(t.Units) }

// columns of the table, but the last.
var csvColumns = []string{
	"point", "marking", "mark", "fs_in", "bl_in", "wl_in", "role", "use", "method", "from", "hardpoint", "kind", "towards", "length_in", "length_sixteenths", "taut_in", "straight_in",
	"crossing_deg", "grade", "hardpoint_place", "limit_in", "misses_sigma_in", "sigma_reading_in", "sigma_point_in", "major95_in", "minor95_in", "ellipse_deg", "words", "starts_at_in", "reading",
}

// TapeCSV returns the tape list as comma-separated values, one line a reading. First come
// the points that films are laid by: the readings of the way to take (use: set or check),
// then those of other ways (use: other); a third tape is use: closure. With list.All
// every other point follows, by tapes (use: tape, closure) and by other readings (use:
// offset); a point that nothing finds is one line (use: none). Lengths are in inches;
// reading is what to see on the tape, which starts at starts_at_in. Deviations are of one
// sigma; major95_in and minor95_in are the half axes of the ellipse that holds 95 of 100
// points. The last column is for what is measured: [ReadTapeCSV] reads it back.
func TapeCSV(list taping.TapeList) ([]byte, error) {
	var b bytes.Buffer
	w := csvWriter{list: list, out: cellWriter{csv.NewWriter(&b)}, done: map[[3]string]bool{}}
	if err := w.out.Write(append(csvColumns[:len(csvColumns):len(csvColumns)], measuredColumn(list.Tape))); err != nil {
		return nil, err
	}
	for _, p := range list.Placings {
		for _, q := range p.Points {
			for k, way := range q.Ways {
				use := string(q.Use)
				if k > 0 {
					use = "other"
				}
				row := RowOf(list.Tape, way)
				for i, part := range row.Parts {
					var tape *taping.Taping
					if i < len(way.Tapes) {
						tape = &way.Tapes[i]
					}
					w.reading(q.Point, use, row, part, tape)
				}
				if way.Method == taping.ByTapes && q.Point.Closure != nil {
					w.tape(q.Point, "closure", *q.Point.Closure)
				}
			}
			if len(q.Ways) == 0 {
				w.none(q.Point)
			}
		}
	}
	if list.All {
		for _, c := range list.Points {
			for _, t := range c.Tapes {
				w.tape(c, "tape", t)
			}
			if c.Closure != nil {
				w.tape(c, "closure", *c.Closure)
			}
			if len(c.Tapes)+len(c.Offsets) == 0 {
				w.none(c)
			}
		}
		for _, c := range list.Points {
			for _, o := range c.Offsets {
				w.reading(c, "offset", Row{}, partOf(list.Tape, taping.Way{}, 0, o), nil)
			}
		}
	}
	w.out.Flush()
	if w.err == nil {
		w.err = w.out.Error()
	}
	return b.Bytes(), w.err
}

// csvWriter writes each reading once.
type csvWriter struct {
	list taping.TapeList
	out  cellWriter
	done map[[3]string]bool // by point, kind, from
	err  error
}

// write writes the cells of one reading, by column.
func (w *csvWriter) write(c taping.Checkpoint, cells map[string]string) {
	key := [3]string{c.ID, cells["kind"], cells["from"]}
	if w.done[key] || w.err != nil {
		return
	}
	w.done[key] = true
	dec := func(v float64) string { return g.FormatNumber(v, 4) }
	cells["point"], cells["marking"], cells["mark"], cells["role"] = c.ID, c.Marking, c.Mark.ID, string(c.Role)
	cells["fs_in"], cells["bl_in"], cells["wl_in"] = dec(c.Mark.Skin.FS.Inches()), dec(c.Mark.Skin.BL.Inches()), dec(c.Mark.Skin.WL.Inches())
	row := make([]string, 0, len(csvColumns)+1)
	for _, name := range csvColumns {
		row = append(row, cells[name])
	}
	w.err = w.out.Write(append(row, ""))
}

func (w *csvWriter) none(c taping.Checkpoint) { w.write(c, map[string]string{"use": "none"}) }

// reading writes one reading of a way; tape is nil where it is none from a hardpoint.
func (w *csvWriter) reading(c taping.Checkpoint, use string, row Row, p Part, tape *taping.Taping) {
	in := func(l g.Length) string { return g.FormatNumber(l.Inches(), 4) }
	o := p.Offset
	cells := map[string]string{
		"use": use, "method": string(row.Method), "from": o.From, "kind": string(o.Kind), "towards": o.Towards, "length_in": in(o.Length), "length_sixteenths": o.Length.Fraction(tapeStep),
		"sigma_reading_in": in(o.Sigma), "words": row.Words, "starts_at_in": "0", "reading": p.Reading,
	}
	if len(row.Parts) > 0 {
		e := row.Way.Error
		major, minor := e.Within95()
		cells["sigma_point_in"], cells["major95_in"], cells["minor95_in"], cells["ellipse_deg"] = in(e.RMS()), in(major), in(minor), g.FormatNumber(e.Angle, 1)
	}
	if tape != nil {
		w.ofTape(cells, c, *tape)
	}
	w.write(c, cells)
}

// tape writes a tape that is part of no way that is printed.
func (w *csvWriter) tape(c taping.Checkpoint, use string, t taping.Taping) {
	in := func(l g.Length) string { return g.FormatNumber(l.Inches(), 4) }
	cells := map[string]string{"use": use, "from": t.From.ID, "kind": string(t.Kind), "length_in": in(t.Length), "length_sixteenths": t.Length.Fraction(tapeStep), "sigma_reading_in": in(t.Sigma)}
	major, minor := c.Error.Ellipse.Within95()
	cells["sigma_point_in"], cells["major95_in"], cells["minor95_in"], cells["ellipse_deg"] = in(c.Error.Ellipse.RMS()), in(major), in(minor), g.FormatNumber(c.Error.Ellipse.Angle, 1)
	if use == "closure" {
		cells["limit_in"], cells["misses_sigma_in"] = in(taping.ClosureLimit), in(c.Misses)
	}
	w.ofTape(cells, c, t)
	w.write(c, cells)
}

// ofTape adds what a tape from a hardpoint has besides.
func (w *csvWriter) ofTape(cells map[string]string, c taping.Checkpoint, t taping.Taping) {
	in := func(l g.Length) string { return g.FormatNumber(l.Inches(), 4) }
	cells["hardpoint"], cells["hardpoint_place"] = t.From.Name, drawnOrMeasured(t.From)
	cells["taut_in"], cells["straight_in"] = in(t.Taut), in(t.Straight)
	cells["crossing_deg"], cells["grade"] = g.FormatNumber(c.Crossing, 1), string(c.Grade)
	cells["starts_at_in"], cells["reading"] = in(w.list.Tape.Start()), Reading(w.list.Tape, t.Length)
}

func drawnOrMeasured(h layouts.Hardpoint) string {
	if h.Measured {
		return "as measured"
	}
	return "as drawn"
}
