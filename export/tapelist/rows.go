package tapelist

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/taping"
)

// Row is one way to find a point, as every form of the list prints it.
type Row struct {
	Method taping.Method
	Words  string // what to do, the readings in it
	Parts  []Part // one a reading, in the order of the work
	Error  string // expected, one standard deviation, with its unit
	Way    taping.Way
}

// Part is one reading.
type Part struct {
	Reading  string // what the tape reads: "20-7/16 in"
	Decimals string // exactly, from 0, without unit
	Where    string // "aft of the frame FS 120 along stringer S3"
	Head     string // short, for a column: "P2 ON SKIN"
	Taut     string // decimals, where a taut tape reads otherwise
	Straight string // decimals, where a straight one does
	Offset   taping.Offset
}

// atFrame is how near a frame counts as at it, in inches: half a line (judgement).
const atFrame = 1.0 / 32

// RowsOf returns the ways to a point, the one of least expected error first.
func RowsOf(t layouts.TapeSpec, p taping.PlacePoint) []Row {
	var out []Row
	for _, w := range p.Ways {
		out = append(out, RowOf(t, w))
	}
	return out
}

// RowOf returns one way.
func RowOf(t layouts.TapeSpec, w taping.Way) Row {
	row := Row{Method: w.Method, Way: w, Error: amount(t, w.Error.RMS())}
	for i, r := range w.Readings {
		row.Parts = append(row.Parts, partOf(t, w, i, r))
	}
	a, b := row.Parts[0], row.Parts[1]
	switch {
	case a.Offset.Kind == taping.AlongLine && a.Offset.Length < atFrame && w.Method != taping.ByFloor:
		row.Words = fmt.Sprintf("%s %s at the %s", b.Reading, b.Where, FoundText(t, a.Offset.Of))
	case a.Offset.Kind == taping.AlongLine && b.Offset.Length < atFrame && w.Method != taping.ByFloor:
		row.Words = fmt.Sprintf("%s %s, on it", a.Reading, a.Where)
	case a.Offset.Kind == taping.AlongLine && w.Method != taping.ByFloor:
		row.Words = fmt.Sprintf("%s %s, then %s %s from it", a.Reading, a.Where, b.Reading, b.Offset.Towards)
	case w.Method == taping.ByString:
		row.Words = fmt.Sprintf("%s %s, then %s %s", a.Reading, a.Where, b.Reading, b.Where)
	default:
		row.Words = fmt.Sprintf("%s %s, and %s %s", a.Reading, a.Where, b.Reading, b.Where)
	}
	return row
}

func partOf(t layouts.TapeSpec, w taping.Way, i int, r taping.Offset) Part {
	unit := t
	if len(w.Tapes) == 0 {
		unit.Burn = false // measured from 0
	}
	p := Part{Reading: Reading(unit, r.Length), Decimals: decimals(t, r.Length), Offset: r, Where: whereOf(t, r), Head: headOf(r)}
	if i < len(w.Tapes) {
		p.Taut, p.Straight = otherLengths(t, w.Tapes[i])
	}
	return p
}

// otherLengths returns what a tape on the skin would read pulled taut, and straight
// through the air, where that is another length.
func otherLengths(t layouts.TapeSpec, k taping.Taping) (taut, straight string) {
	if k.Kind != taping.OnSkin {
		return "", ""
	}
	if k.Length-k.Taut > g.SayDifference {
		taut = decimals(t, k.Taut)
	}
	if d := k.Length - k.Straight; d > g.SayDifference || d < -g.SayDifference {
		straight = decimals(t, k.Straight)
	}
	return taut, straight
}

// whereOf says from where and which way a reading goes.
func whereOf(t layouts.TapeSpec, r taping.Offset) string {
	towards := r.Towards
	switch r.Kind {
	case taping.OnSkin, taping.Straight:
		id, _, _ := strings.Cut(r.From, ",")
		return fmt.Sprintf("from %s (%s)", id, r.Kind)
	case taping.AlongLine:
		text := fmt.Sprintf("%s of the %s along the %s", towards, FoundText(t, r.Of), FoundText(t, r.On))
		if strings.HasPrefix(r.Of.Name, "leading edge") {
			text += " (straight, at 90 deg to the edge)"
		}
		return text
	case taping.AlongSection, taping.FromRib:
		return fmt.Sprintf("%s from the %s", towards, FoundText(t, r.Of))
	case taping.FromEdge:
		how := "level"
		if towards == "up" || towards == "down" {
			how = "plumb"
		}
		return fmt.Sprintf("%s from the %s, %s", towards, FoundText(t, r.Of), how)
	case taping.AlongString:
		return fmt.Sprintf("along a string from %s", r.From)
	case taping.OffString:
		return fmt.Sprintf("straight from the string, %s it", offString(r.Towards))
	case taping.AftOfFrame:
		return fmt.Sprintf("aft of the %s", FoundText(t, r.Of))
	case taping.HeightStanding:
		return "above the floor, on its wheels"
	case taping.HeightLevelled:
		return "above the floor, levelled"
	}
	return "from " + r.From
}

// headOf names a reading in a few words, beside the words of its row.
func headOf(r taping.Offset) string {
	switch r.Kind {
	case taping.OnSkin, taping.Straight:
		return r.From + " " + strings.ToUpper(string(r.Kind))
	case taping.AlongLine:
		if r.On.Plane != "" {
			return "along the rib"
		}
		return "along the line"
	case taping.AlongSection, taping.FromRib:
		return r.Towards + " from it"
	case taping.FromEdge:
		if r.Towards == "up" || r.Towards == "down" {
			return "plumb"
		}
		return "level"
	case taping.AlongString:
		return "string " + r.From
	case taping.OffString:
		return offString(r.Towards) + " it"
	}
	return string(r.Kind)
}

// offString leads from a string to its point: "aft of", "above".
func offString(towards string) string {
	if towards == "above" || towards == "below" {
		return towards
	}
	return towards + " of"
}

// FoundText names a part of the structure, its place in the unit of the tape:
// "frame FS 120".
func FoundText(t layouts.TapeSpec, f taping.Found) string {
	if f.Plane == "" {
		return f.Name
	}
	return f.Name + " " + placeText(t, f)
}

func placeText(t layouts.TapeSpec, f taping.Found) string {
	if t.Units.Metric() {
		return f.Plane + " " + g.FormatNumber(f.At*25.4, 0)
	}
	return f.Plane + " " + g.FormatNumber(f.At, 2)
}
