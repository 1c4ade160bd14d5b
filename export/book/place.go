package book

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"maskloft/export/tapelist"
	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

// PlaceData is what placing on a phone needs, of the book or of any other page: every
// point with its tapes, what an adjustment of readings takes of them, and where they run
// in the picture. Lengths in inches; vectors in the flat of the marking, x to the reader's
// right, y up; places of pictures in the units of the view's SVG.
type PlaceData struct {
	Unit     string         `json:"unit"`  // of the tape: in, mm
	Parts    int            `json:"parts"` // of an inch between two graduations
	Held     number         `json:"held"`  // the mark that the list has held at the hardpoint; 0: the hook
	Mark     number         `json:"mark"`  // the mark that is held instead of the hook, where one is
	Zero     number         `json:"zero"`  // what the tape is out by, one standard deviation
	Scale    number         `json:"scale"`
	Limit    number         `json:"limit"` // how far a corner of the paint may lie off
	Markings []PlaceMarking `json:"markings"`
}

// PlaceMarking is one marking on one side.
type PlaceMarking struct {
	ID     string       `json:"id"`
	View   string       `json:"view"` // id of the picture; empty: none
	Box    [4]number    `json:"box"`  // of its paint in the flat
	Points []PlacePoint `json:"points"`
}

// PlacePoint is one point to place.
type PlacePoint struct {
	ID    string      `json:"id"`
	Key   string      `json:"key"` // of its tick
	Label string      `json:"label"`
	Film  [2]number   `json:"film"`
	Seen  [2]number   `json:"seen"`
	Tapes []PlaceTape `json:"tapes"`
	Other string      `json:"other,omitempty"`
}

// PlaceTape is one reading to a point: a tape from a hardpoint (Along and Away), or one
// from a frame, a line, a string or the floor (Slope).
type PlaceTape struct {
	Key    string        `json:"key"` // of the reading
	From   string        `json:"from"`
	Kind   string        `json:"kind"`
	Use    string        `json:"use"` // place, check
	Length number        `json:"length"`
	Says   string        `json:"says"`  // what to see on the tape
	Where  string        `json:"where"` // from what, and which way
	Hook   string        `json:"hook,omitempty"`
	Along  *[2]number    `json:"along,omitempty"` // in which the tape leaves the point
	Away   *[3]number    `json:"away,omitempty"`  // at the hardpoint, away from the point
	Sigma  number        `json:"sigma"`
	HookSD number        `json:"hookSD,omitempty"`
	Slope  *[2]number    `json:"slope,omitempty"` // change of the reading by an inch of the point's movement
	Shared []PlaceShared `json:"shared,omitempty"`
	Path   []number      `json:"path"` // from the point to where it is measured from, x and y by turns
}

// PlaceShared is an error that other readings have too.
type PlaceShared struct {
	Name  string `json:"name"`
	Sigma number `json:"sigma"`
	By    number `json:"by"`
}

// number is written with the digits that it needs, nine decimals at most.
type number float64

// MarshalJSON writes it.
func (n number) MarshalJSON() ([]byte, error) { return []byte(g.FormatNumber(float64(n), 9)), nil }

func to(v float64, decimals int) number {
	r, _ := strconv.ParseFloat(g.FormatNumber(v, decimals), 64)
	return number(r)
}

// Seen is where a position of the aircraft falls in the picture of a marking, in units of
// the view's SVG.
type Seen func(p g.Position) g.Point

// hashOf names by ten hexadecimal digits what the parts say.
func hashOf(parts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(parts, "\n")))
	return hex.EncodeToString(sum[:5])
}

// TickKey is the key of a tick: what is done, and a hash of all that it stands on.
func TickKey(what string, parts ...string) string { return what + " " + hashOf(parts...) }

// BoxOf writes a rectangle.
func BoxOf(r g.Rect) [4]number {
	return [4]number{to(r.Min.X, 6), to(r.Min.Y, 6), to(r.Max.X, 6), to(r.Max.Y, 6)}
}

// Place gathers the data of placing. films gives of each marking the hashes of its films:
// a point of a film that is cut anew is to be placed anew.
func Place(list taping.TapeList, markings []PlaceMarking, seen map[string]Seen, films map[string][]string) PlaceData {
	tape := list.Tape
	zero, scale := taping.TapeCommon(tape.Class)
	d := PlaceData{Unit: string(tape.Units), Parts: 16, Held: to(tape.Start().Inches(), 6), Mark: to(taping.StartMark(tape), 6), Zero: number(zero), Scale: number(scale), Limit: to(taping.PlacingLimit.Inches(), 6), Markings: markings}
	if step := tape.Reading.Inches(); step > 0 && !tape.Units.Metric() {
		d.Parts = int(1/step + 0.5)
	}
	at := map[string]int{}
	for i, m := range markings {
		at[m.ID] = i
		d.Markings[i].Points = []PlacePoint{}
	}
	for _, placing := range list.Placings {
		i, ok := at[placing.Marking]
		if !ok {
			continue
		}
		see := seen[markings[i].View]
		if see == nil {
			see = func(g.Position) g.Point { return g.Point{} }
		}
		for _, q := range placing.Points {
			d.Markings[i].Points = append(d.Markings[i].Points, placePoint(tape, q, see, films[placing.Marking]))
		}
	}
	return d
}

func placePoint(tape layouts.TapeSpec, q taping.PlacePoint, see Seen, films []string) PlacePoint {
	c := q.Point
	where := see(c.Mark.Skin)
	p := PlacePoint{ID: c.ID, Label: string(q.Use) + " mark " + q.Name, Film: [2]number{to(c.Mark.Film.X, 6), to(c.Mark.Film.Y, 6)}, Seen: [2]number{to(where.X, 1), to(where.Y, 1)}, Tapes: []PlaceTape{}}
	parts := append([]string{c.ID, g.FormatNumber(c.Mark.Film.X, 3), g.FormatNumber(c.Mark.Film.Y, 3)}, films...)
	add := func(t PlaceTape, line []g.Position) {
		t.Key = hashOf(c.ID, t.From, t.Kind, g.FormatNumber(float64(t.Length), 3))
		var pts []g.Vec3
		for _, q := range line {
			s := see(q)
			pts = append(pts, g.Vec3{X: s.X, Y: s.Y})
		}
		t.Path = []number{}
		for n, v := range flatLineWithin(pts, 0.5) {
			if n%3 != 2 {
				t.Path = append(t.Path, to(v, 1))
			}
		}
		parts = append(parts, t.From, t.Kind, g.FormatNumber(float64(t.Length), 2))
		p.Tapes = append(p.Tapes, t)
	}
	way, ok := q.Way()
	if !ok {
		p.Key, p.Other = TickKey("place", parts...), "Nothing finds this point: measure it from what is near."
		return p
	}
	tapeOf := func(t taping.Taping, use, says, where string) PlaceTape {
		terms := t.Terms()
		return PlaceTape{
			From: t.From.ID, Hook: t.From.ID, Kind: string(t.Kind), Use: use, Length: to(t.Length.Inches(), 6), Says: says, Where: where,
			Along: &[2]number{to(t.Bearing.X, 8), to(t.Bearing.Y, 8)}, Away: &[3]number{to(terms.Away.X, 6), to(terms.Away.Y, 6), to(terms.Away.Z, 6)},
			Sigma: to(terms.Sigma, 8), HookSD: to(terms.Hook, 8),
		}
	}
	row := tapelist.RowOf(tape, way)
	for k, part := range row.Parts {
		if k < len(way.Tapes) {
			add(tapeOf(way.Tapes[k], "place", part.Reading, part.Where), way.Tapes[k].Path)
			continue
		}
		o := part.Offset
		one := PlaceTape{
			From: o.From, Kind: string(o.Kind), Use: "place", Length: to(o.Length.Inches(), 6), Says: part.Reading, Where: part.Where,
			Sigma: to(o.Sigma.Inches(), 8), Slope: &[2]number{to(o.Slope.X, 8), to(o.Slope.Y, 8)},
		}
		for _, s := range o.Shared {
			one.Shared = append(one.Shared, PlaceShared{s.Name, to(s.Sigma, 8), to(s.By, 8)})
		}
		var line []g.Position
		if o.Start != (g.Position{}) {
			line = []g.Position{c.Mark.Skin, o.Start}
			if k+1 < len(row.Parts) { // the first ends where the second begins
				if next := row.Parts[k+1].Offset; next.Start != (g.Position{}) {
					line[0] = next.Start
				}
			}
		}
		add(one, line)
	}
	if way.Method == taping.ByTapes && c.Closure != nil {
		t := *c.Closure
		add(tapeOf(t, "check", tapelist.Reading(tape, t.Length), "from "+t.From.ID+" ("+string(t.Kind)+")"), t.Path)
	}
	p.Key = TickKey("place", parts...)
	return p
}

// JSON writes the data for a script element.
func (d PlaceData) JSON() (template.JS, error) {
	data, err := json.Marshal(d)
	if err != nil {
		return "", fmt.Errorf("the data of placing: %w", err)
	}
	return template.JS(strings.ReplaceAll(string(data), "</", `<\/`)), nil
}
