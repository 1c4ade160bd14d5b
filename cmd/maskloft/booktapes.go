package main

import (
	"fmt"
	"slices"
	"strings"

	"maskloft/export/book"
	"maskloft/export/tapelist"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
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

// bookPoints are the points that place a marking: three where it has as many. The tape
// checklist holds all.
func bookPoints(list taping.TapeList) (points []int, more map[string]int) {
	more = map[string]int{}
	taken := map[string]int{}
	for _, role := range []masks.Role{masks.Centre, masks.LevelTick, masks.UprightTick, masks.Extent, masks.Registration} {
		for i, c := range list.Points {
			if c.Role == role && taken[c.Marking] < 3 {
				taken[c.Marking]++
				points = append(points, i)
			} else if c.Role == role {
				more[c.Marking]++
			}
		}
	}
	slices.Sort(points)
	return points, more
}

// shownTapes are the tapes of the points that the book holds.
func shownTapes(list taping.TapeList) taping.TapeList {
	at, _ := bookPoints(list)
	out := list
	out.Points = nil
	for _, i := range at {
		out.Points = append(out.Points, list.Points[i])
	}
	return out
}

// placeData is what placing on a phone needs. Without films, points keep their ticks
// whatever is cut.
func placeData(j *job.Whole, films map[string][]string, seen map[string]book.Seen, views []book.View) book.PlaceData {
	var markings []book.PlaceMarking
	for _, l := range j.Laid {
		box := l.Painted.Bounds()
		markings = append(markings, book.PlaceMarking{ID: l.ID(), View: viewOf(views, l.ID()), Box: book.BoxOf(box)})
	}
	points := j.Tapes.Points
	if views != nil {
		points = shownTapes(j.Tapes).Points
	}
	report := map[string]ReportCheckpoint{}
	for _, c := range points {
		report[c.ID] = reportCheckpoint(c)
	}
	other := func(c taping.Checkpoint) string {
		if len(c.Tapes) == 2 {
			return ""
		}
		return otherWays(j.Tapes.Tape, c, report[c.ID]).String()
	}
	return book.Place(j.Tapes.Tape, markings, seen, films, pointName, other, points)
}

// bookTapes are the tape lists by marking.
func bookTapes(list taping.TapeList, report Report, place book.PlaceData) map[string]book.Tapes {
	keys := map[string]string{}
	for _, m := range place.Markings {
		for _, p := range m.Points {
			keys[p.ID] = p.Key
		}
	}
	out := map[string]book.Tapes{}
	points, more := bookPoints(list)
	for i, b := range report.Tapes.Budgets {
		path := fmt.Sprintf("/tapes.budgets.%d.within95_in.", i)
		out[b.Marking] = book.Tapes{Budget: words("95 of 100 within ", figure(path+"0", b.Within95[0], 3), " x ", figure(path+"1", b.Within95[1], 3), " in"), More: more[b.Marking]}
	}
	tape := func(path string, t taping.Taping, r ReportTape) book.Text {
		return words(namedFigure(path+".length_in", r.Length, tapelist.Reading(list.Tape, t.Length)), " from "+t.From.ID, ", "+string(t.Kind))
	}
	for _, i := range points {
		c, r := list.Points[i], report.Checkpoints[i]
		p := book.Point{ID: c.ID, Key: keys[c.ID], Step: c.Step, Label: pointName(c), Grade: string(c.Grade), Error: words(figure("sigma_in", r.Sigma, 3))}
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
		p.Step = len(one.Points) + 1
		one.Points = append(one.Points, p)
		out[c.Marking] = one
	}
	return out
}
