package tapelist

import (
	"bytes"
	"encoding/csv"
	"strconv"

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

// TapeCSV returns the tape list as comma-separated values, one line a tape and one
// for a point without tapes. Lengths are in inches; reading is what to see on the
// tape, which starts at starts_at_in. Deviations are of one sigma; major95_in and
// minor95_in are the half axes of the ellipse that holds 95 of 100 points, and
// misses_sigma_in is by how much the check misses its length. After the tapes come
// other ways to measure the same points (use: offset): kind says how, from says from
// what. The last column is for what is measured: [ReadTapeCSV] reads it back.
func TapeCSV(list taping.TapeList) ([]byte, error) {
	var b bytes.Buffer
	w := cellWriter{csv.NewWriter(&b)}
	if err := w.Write([]string{
		"point", "marking", "mark", "fs_in", "bl_in", "wl_in", "use", "from", "hardpoint", "kind", "length_in", "length_sixteenths", "taut_in", "straight_in", "crossing_deg",
		"step", "role", "grade", "hardpoint_place", "limit_in", "misses_sigma_in", "sigma_tape_in", "sigma_point_in", "major95_in", "minor95_in", "ellipse_deg",
		"string", "string_along_in", "string_offset_in", "string_towards", "girth_line", "girth_plane", "girth_in", "girth_towards", "starts_at_in", "reading", measuredColumn(list.Tape),
	}); err != nil {
		return nil, err
	}
	dec := func(v float64) string { return g.FormatNumber(v, 4) }
	in := func(l g.Length) string { return dec(l.Inches()) }
	for _, p := range list.Points {
		row := func(use string, t *taping.Taping) error {
			cells := []string{p.ID, p.Marking, p.Mark.ID, dec(float64(p.Mark.Skin.FS)), dec(float64(p.Mark.Skin.BL)), dec(float64(p.Mark.Skin.WL)), use}
			var place, limit, misses, sigma, starts, reading string
			if t == nil {
				cells = append(cells, make([]string, 8)...)
			} else {
				cells = append(cells, t.From.ID, t.From.Name, string(t.Kind), in(t.Length), t.Length.Fraction(tapeStep), in(t.Taut), in(t.Straight), g.FormatNumber(p.Crossing, 1))
				place, sigma, starts, reading = drawnOrMeasured(t.From), in(t.Sigma), in(list.Tape.Start()), Reading(list.Tape, t.Length)
			}
			if use == "check" {
				limit, misses = in(taping.ClosureLimit), in(p.Misses)
			}
			cells = append(cells, strconv.Itoa(p.Step), string(p.Role))
			if t == nil {
				cells = append(cells, make([]string, 8)...)
			} else {
				major, minor := p.Error.Ellipse.Within95()
				cells = append(cells, string(p.Grade), place, limit, misses, sigma, in(p.Error.Ellipse.RMS()), in(major), in(minor))
			}
			angle := ""
			if t != nil {
				angle = g.FormatNumber(p.Error.Ellipse.Angle, 1)
			}
			cells = append(cells, angle)
			if s := p.Baseline; s != nil {
				cells = append(cells, s.From.ID+" to "+s.To.ID, in(s.Along), in(s.Offset), s.Towards)
			} else {
				cells = append(cells, "", "", "", "")
			}
			if r := p.Girth; r != nil {
				cells = append(cells, r.Line, r.Plane+" "+dec(r.At), in(r.Length), r.Towards)
			} else {
				cells = append(cells, "", "", "", "")
			}
			return w.Write(append(cells, starts, reading, ""))
		}
		if len(p.Tapes) == 0 {
			if err := row("none", nil); err != nil {
				return nil, err
			}
		}
		for i := range p.Tapes {
			if err := row("place", &p.Tapes[i]); err != nil {
				return nil, err
			}
		}
		if p.Closure != nil {
			if err := row("check", p.Closure); err != nil {
				return nil, err
			}
		}
	}
	plain := list.Tape
	plain.Burn = false
	for _, p := range list.Points {
		for _, o := range p.Offsets {
			cells := make([]string, 37)
			copy(cells, []string{
				p.ID, p.Marking, p.Mark.ID, dec(float64(p.Mark.Skin.FS)), dec(float64(p.Mark.Skin.BL)), dec(float64(p.Mark.Skin.WL)),
				"offset", o.From, "", string(o.Kind), in(o.Length), o.Length.Fraction(tapeStep),
			})
			cells[15], cells[16], cells[21], cells[34], cells[35] = strconv.Itoa(p.Step), string(p.Role), in(o.Sigma), "0", Reading(plain, o.Length)
			if err := w.Write(cells); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

func drawnOrMeasured(h layouts.Hardpoint) string {
	if h.Measured {
		return "as measured"
	}
	return "as drawn"
}
