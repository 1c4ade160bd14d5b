package main

import (
	"fmt"

	"maskloft/export/book"
	"maskloft/export/tapelist"
	"maskloft/layouts/job"
	"maskloft/layouts/taping"
)

// shownTapes are the tapes of the points that the book holds.
func shownTapes(list taping.TapeList) taping.TapeList {
	out := list
	out.Points = nil
	for _, p := range list.Placings {
		for _, q := range p.Points {
			out.Points = append(out.Points, q.Point)
		}
	}
	return out
}

// placeData is what placing on a phone needs. Without films, points keep their ticks
// whatever is cut.
func placeData(j *job.Whole, films map[string][]string, seen map[string]book.Seen, views []book.View) book.PlaceData {
	var markings []book.PlaceMarking
	for _, l := range j.Laid {
		markings = append(markings, book.PlaceMarking{ID: l.ID(), View: viewOf(views, l.ID()), Box: book.BoxOf(l.Painted.Bounds())})
	}
	return book.Place(j.Tapes, markings, seen, films)
}

// bookTapes are how each marking is placed: the marks of its first film with the readings
// that find them.
func bookTapes(list taping.TapeList, report Report, place book.PlaceData) map[string]book.Tapes {
	keys := map[string]string{}
	for _, m := range place.Markings {
		for _, p := range m.Points {
			keys[p.ID] = p.Key
		}
	}
	u, out := list.Tape.Units, map[string]book.Tapes{}
	checks := map[string]int{}
	for i, c := range report.Checkpoints {
		checks[c.ID] = i
	}
	for i, placing := range list.Placings {
		one, root := book.Tapes{}, fmt.Sprintf("/place.%d.", i)
		worst, found := placing.Worst()
		for k, t := range placing.Tiles {
			if found && t.Tile == worst.Tile {
				path, within := fmt.Sprintf("%stiles.%d.within95_in.", root, k), report.Place[i].Tiles[k].Within95
				one.Budget = words("The middle of the film lies within ", lengthFigure(u, path+"0", within[0], 3), " x ", lengthFigure(u, path+"1", within[1], 3), " "+u.Word()+", 95 of 100")
			}
		}
		for k, q := range placing.Points {
			p := book.Point{ID: q.Point.ID, Key: keys[q.Point.ID], Name: q.Name, Use: string(q.Use)}
			way, ok := q.Way()
			if p.None = !ok; p.None {
				one.Points = append(one.Points, p)
				continue
			}
			row, path, r := tapelist.RowOf(list.Tape, way), fmt.Sprintf("%spoints.%d.ways.0.", root, k), report.Place[i].Points[k].Ways[0]
			part := func(n int) book.Text {
				return words(namedFigure(fmt.Sprintf("%sreadings.%d.length_in", path, n), r.Readings[n].Length, row.Parts[n].Reading))
			}
			p.Words, p.First, p.Second = row.Words, part(0), part(1)
			p.FirstWhere, p.SecondWhere = row.Parts[0].Where, row.Parts[1].Where
			p.Error = words(lengthFigure(u, path+"sigma_in", r.Sigma, 3))
			if n, ok := checks[q.Point.ID]; ok && way.Method == taping.ByTapes && q.Point.Closure != nil {
				c := report.Checkpoints[n]
				p.Check = words(namedFigure(fmt.Sprintf("/checkpoints.%d.closure.length_in", n), c.Closure.Length, tapelist.Reading(list.Tape, q.Point.Closure.Length)), " from "+c.Closure.From)
			}
			one.Points = append(one.Points, p)
		}
		out[placing.Marking] = one
	}
	return out
}
