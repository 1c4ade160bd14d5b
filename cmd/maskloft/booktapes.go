package main

import (
	"fmt"
	"strings"

	"maskloft/export/book"
	"maskloft/export/tapelist"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

// pointName says what a point is: its role, where its label does not say so.
func pointName(c taping.Checkpoint) string {
	if role := string(c.Role); !strings.Contains(c.Label, role) {
		return role + ": " + c.Label
	}
	return c.Label
}

// otherWays are the string and the girth of a point whose tapes are not enough.
func otherWays(tape layouts.TapeSpec, c taping.Checkpoint, r ReportCheckpoint) book.Text {
	plain := tape
	plain.Burn = false // neither is read from a burnt end
	var out book.Text
	if s := c.Baseline; s != nil {
		out = words(out, "; by string from "+s.From.ID+" to "+s.To.ID+": ", namedFigure("string.along_in", r.String.Along, tapelist.Reading(plain, s.Along)), " along, ",
			namedFigure("string.offset_in", r.String.Offset, tapelist.Reading(plain, s.Offset)), " "+s.Towards+" it")
	}
	if q := c.Girth; q != nil {
		out = words(out, "; by girth at "+q.Plane+" "+geometry.FormatNumber(q.At, 2)+": ", namedFigure("girth.length_in", r.Girth.Length, tapelist.Reading(plain, q.Length)), " "+q.Towards+" from "+tapelist.LineName(q.Line))
	}
	return out
}

// bookTapes are the tape lists by marking.
func bookTapes(list taping.TapeList, report Report) map[string]book.Tapes {
	out := map[string]book.Tapes{}
	for i, b := range report.Tapes.Budgets {
		path := fmt.Sprintf("/tapes.budgets.%d.within95_in.", i)
		out[b.Marking] = book.Tapes{Budget: words("95 of 100 within ", figure(path+"0", b.Within95[0], 3), " x ", figure(path+"1", b.Within95[1], 3), " in")}
	}
	tape := func(path string, t taping.Taping, r ReportTape) book.Text {
		return words(namedFigure(path+".length_in", r.Length, tapelist.Reading(list.Tape, t.Length)), " from "+t.From.ID, ", "+string(t.Kind))
	}
	for i, c := range list.Points {
		r := report.Checkpoints[i]
		p := book.Point{ID: c.ID, Step: c.Step, Label: pointName(c), Grade: string(c.Grade), Error: words(figure("sigma_in", r.Sigma, 3))}
		if len(c.Tapes) == 2 {
			p.First, p.Second = tape("tapes.0", c.Tapes[0], r.Tapes[0]), tape("tapes.1", c.Tapes[1], r.Tapes[1])
			p.Crossing = words(figure("crossing_deg", r.Crossing, 1), " deg")
		} else {
			p.Error, p.Other = nil, words("no two tapes")
		}
		if len(c.Tapes) < 2 || c.Grade == taping.Poor || c.Closure == nil {
			p.Other = append(p.Other, otherWays(list.Tape, c, r)...)
		}
		if c.Closure != nil {
			p.Check = tape("closure", *c.Closure, *r.Closure)
		}
		one := out[c.Marking]
		one.Points = append(one.Points, p)
		out[c.Marking] = one
	}
	return out
}
