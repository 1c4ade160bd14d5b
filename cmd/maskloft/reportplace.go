package main

import (
	"maskloft/export/tapelist"
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

// ReportPlace is how the first film of a marking is laid: by points that are marks of the
// film, each by the way of least expected error.
type ReportPlace struct {
	Marking string             `json:"marking"`
	Small   bool               `json:"small"` // a stencil: two points
	Paint   string             `json:"paint"` // of the first pass
	Points  []ReportPlacePoint `json:"points"`
	Tiles   []ReportPlaceTile  `json:"tiles"`
	Better  *ReportOneMore     `json:"one_more_hardpoint,omitempty"` // where that would help most
}

// ReportPlacePoint is one mark to find on the aircraft.
type ReportPlacePoint struct {
	ID    string         `json:"id"`
	Name  string         `json:"name"` // as it stands on the film
	Use   string         `json:"use"`  // set, or check
	Tiles []string       `json:"tiles"`
	Skin  ReportPosition `json:"skin"`
	Film  [2]float64     `json:"film_in"` // in the flat of the marking, from its held point: right, up
	Ways  []ReportWay    `json:"ways"`    // the one of least expected error first
}

// ReportWay is one way to find a point.
type ReportWay struct {
	Method   string          `json:"method"`
	Words    string          `json:"words"`
	Sigma    float64         `json:"sigma_in"`     // of the distance from the point meant
	Within95 [2]float64      `json:"within95_in"`  // half axes
	Axis     float64         `json:"within95_deg"` // of the major axis from the drawing's x
	Readings []ReportReading `json:"readings"`
}

// ReportReading is one length to read.
type ReportReading struct {
	Kind     string         `json:"kind"`
	From     string         `json:"from"`
	Words    string         `json:"words"`
	Length   float64        `json:"length_in"`
	Reading  string         `json:"reading"` // as the tape shows it
	Start    ReportPosition `json:"start"`   // where it is measured from
	Hook     string         `json:"hook,omitempty"`
	Taut     *float64       `json:"taut_in,omitempty"`
	Straight *float64       `json:"straight_in,omitempty"`
}

// ReportPlaceTile is the expected error of a tile of the first film as laid.
type ReportPlaceTile struct {
	Tile       string       `json:"tile"`
	From       string       `json:"from"` // names of the two points that set it
	To         string       `json:"to"`
	Within95   [2]float64   `json:"within95_in"` // of the middle of its paint, half axes
	Axis       float64      `json:"within95_deg"`
	Rotation95 float64      `json:"rotation95_deg"`
	Ends95     float64      `json:"at_ends95_in"`
	Terms      []ReportTerm `json:"terms"`
}

// ReportOneMore is a proposal for a hardpoint.
type ReportOneMore struct {
	Where  string         `json:"where"`
	At     ReportPosition `json:"at"`
	Before float64        `json:"before95_in"`
	After  float64        `json:"after95_in"`
}

func reportPlaces(t layouts.TapeSpec, placings []taping.Placing) []ReportPlace {
	out := []ReportPlace{}
	for _, p := range placings {
		one := ReportPlace{Marking: p.Marking, Small: p.Small, Paint: p.Paint, Points: []ReportPlacePoint{}, Tiles: []ReportPlaceTile{}}
		for _, q := range p.Points {
			point := ReportPlacePoint{
				ID: q.Point.ID, Name: q.Name, Use: string(q.Use), Tiles: q.Tiles, Skin: reportPosition(q.Point.Mark.Skin),
				Film: [2]float64{round6(q.Point.Mark.Film.X), round6(q.Point.Mark.Film.Y)}, Ways: []ReportWay{},
			}
			for _, row := range tapelist.RowsOf(t, q) {
				point.Ways = append(point.Ways, reportWay(row))
			}
			one.Points = append(one.Points, point)
		}
		for _, k := range p.Tiles {
			major, minor := k.Error.Within95()
			tile := ReportPlaceTile{
				Tile: k.Tile, From: k.From, To: k.To, Within95: [2]float64{round6(major.Inches()), round6(minor.Inches())}, Axis: degrees(k.Error.Angle),
				Rotation95: degrees(k.Rotation95()), Ends95: round6(1.96 * k.AtEnds.Inches()), Terms: []ReportTerm{},
			}
			for _, t := range k.Terms {
				tile.Terms = append(tile.Terms, ReportTerm{t.Name, round6(t.Sigma.Inches()), t.Help})
			}
			one.Tiles = append(one.Tiles, tile)
		}
		if b := p.Better; b != nil {
			one.Better = &ReportOneMore{Where: b.Where(func(f taping.Found) string { return tapelist.FoundText(t, f) }), At: reportPosition(b.At), Before: round6(b.Before.Inches()), After: round6(b.After.Inches())}
		}
		out = append(out, one)
	}
	return out
}

func reportWay(row tapelist.Row) ReportWay {
	w := row.Way
	major, minor := w.Error.Within95()
	out := ReportWay{
		Method: string(row.Method), Words: row.Words, Sigma: round6(w.Error.RMS().Inches()),
		Within95: [2]float64{round6(major.Inches()), round6(minor.Inches())}, Axis: degrees(w.Error.Angle), Readings: []ReportReading{},
	}
	for i, p := range row.Parts {
		r := ReportReading{Kind: string(p.Offset.Kind), From: p.Offset.From, Words: p.Where, Length: round6(p.Offset.Length.Inches()), Reading: p.Reading, Start: reportPosition(p.Offset.Start)}
		if i < len(w.Tapes) {
			r.Hook = w.Tapes[i].From.ID
			taut, straight := round6(w.Tapes[i].Taut.Inches()), round6(w.Tapes[i].Straight.Inches())
			r.Taut, r.Straight = &taut, &straight
		}
		out.Readings = append(out.Readings, r)
	}
	return out
}
