package reading

import (
	"fmt"
	"strings"

	"maskloft/layouts"
)

// examples say what to type for a key that is missing or empty.
var examples = map[string]string{
	"the file":            "name:, units:, aircraft: and markings:, each from column 1",
	"name":                "name: followed by what it is called",
	"aircraft":            "aircraft: myplane.yaml (a file beside this one), or the keys of an aircraft file",
	"markings":            "markings: and below it one - id: for each marking",
	"datum":               "datum: FS 0 is the firewall, positive aft; WL 0 is the thrust line, positive up",
	"surfaces":            "surfaces: and below it one - id: for each surface",
	"units":               "units: in",
	"id":                  "id: followed by a name",
	"kind":                "kind: followed by one word",
	"lines":               "lines: [T, S1, S2, B]",
	"sections":            "sections: and below it one - fs: for each section",
	"points":              "points: [[0, 72], [8, 70.25], [0, 35.25]]",
	"thickness":           "thickness: 1.6 in",
	"leading":             "leading: [[206, 65], [229, 88]], [fs, wl] from root to tip",
	"trailing":            "trailing: [[240, 62], [240, 93]], [fs, wl] from root to tip",
	"face":                "face: upper (or lower)",
	"dihedral":            "dihedral: 1.5 deg",
	"incidence":           "incidence: 2 deg",
	"sag":                 "sag: 1/8 in",
	"along":               "along: natural (or ruled, monotone, clamped)",
	"breaks":              "breaks: [48, 120], frames where the slope may jump",
	"half-breadth":        "half-breadth: 14.5 in",
	"half-height":         "half-height: 18 in",
	"top":                 "top: 72 in",
	"bottom":              "bottom: 36 in",
	"exponent":            "exponent: 2.5",
	"scan":                "scan: [x, y, z], in the scan's own axes and unit",
	"step":                "step: 2 in",
	"align":               "align: waterline (or station, leading-edge, or the name of a line)",
	"baseline":            "baseline: straight (or waterline)",
	"from":                "from: {line: S2, down: 6 in}",
	"between":             "between: [S3, S5]",
	"outline":             "outline: [[206, 65], [240, 93], [240, 62]]",
	"ribs":                "ribs: [70, 78, 86]",
	"fs":                  "fs: 134 in",
	"wl":                  "wl: 51 in",
	"bl":                  "bl: 12.5 in",
	"to":                  "to: 240.375 in",
	"radius":              "radius: 18 in",
	"size":                "size: 20 in",
	"height":              "height: 12 in",
	"gap":                 "gap: 1.5 in",
	"diameter":            "diameter: 20 in",
	"text":                "text: K4",
	"alphabet":            "alphabet: block-6x4, or a file beside this one: mine.yaml",
	"rule":                "rule: followed by the name of a published rule",
	"discs":               "discs: [{diameter: 20 in, colour: insignia-blue}]",
	"colour":              "colour: insignia-blue",
	"figure":              "figure: {text: K4, alphabet: block-6x4, height: 12 in}",
	"where":               "where: {surface: fuselage, side: both, fs: 134 in, wl: 51 in}",
	"surface":             "surface: fuselage",
	"line":                "line: S1",
	"side":                "side: both",
	"main":                "main: {fs: 72 in, wl: 6 in}",
	"tail":                "tail: {fs: 246 in, wl: 43 in}",
	"margin lead":         "lead: 1 in",
	"margin across":       "across: 0.75 in",
	"margin tail":         "tail: 2 in",
	"margin":              "margin: {across: 0.75 in, lead: 1 in, tail: 2 in}",
	"film":                "film: {web: 24 in}",
	"rules":               "rules: {date: 1944-06, nation: us}",
	"paint":               "paint: and below it order: and colours:",
	"ground":              "ground: {main: {fs: 72, wl: 6}, tail: {fs: 246, wl: 43}}",
	"profile":             "profile: and below it one - id: with points: for each line",
	"obstacles":           "obstacles: and below it one - id: for each",
	"clear":               "clear: 1/2 in, that paint keeps from it",
	"over":                "over: yes (the marking spans it, as one over an aileron's gap)",
	"edge":                "edge: 1/2 in, that paint keeps from the edges of its surface",
	"hard":                "hard: [S2, S6]",
	"angle":               "angle: 3 deg",
	"standard":            "standard: followed by the number of the paint standard",
	"web":                 "web: 24 in",
	"field":               "field: 1.5 in",
	"longest":             "longest: 48 in",
	"seam":                "seam: butt",
	"overlap":             "overlap: 1/8 in",
	"waste-overlap":       "waste-overlap: 1/2 in",
	"grain":               "grain: keep",
	"way":                 "way: open (or keep-down)",
	"trap":                "trap: 1/16 in",
	"skirt":               "skirt: 12 in",
	"coats":               "coats: 3",
	"coverage":            "coverage: 192 ft2/gal",
	"under":               "under: {orange-yellow: 1}, coats of under-coat beneath each paint",
	"control":             "control: true",
	"hinge":               "hinge: 240.1875 in, the FS of the hinge line",
	"strain":              "strain: {easy: 0.5 %, warm: 2 %, split: 4 %}",
	"stretched":           "stretched: {easy: 2 %, warm: 5 %, split: 15 %}",
	"easy":                "easy: 0.5 %",
	"warm":                "warm: 2 %",
	"split":               "split: 4 %",
	"date":                "date: 1944-06",
	"nation":              "nation: us",
	"order":               "order: [insignia-white, insignia-blue], light first",
	"colours":             "colours: {text: insignia-white}",
	"paint colours":       "colours: and below it one line for each, insignia-blue: {hex: \"#172035\"}",
	"options":             "options: {bar-length: from-arc}",
	"hex":                 `hex: "#172035", in quotes: without them # begins a comment`,
	"class":               "class: E2 (E1 paint on this airframe, to E7 a guess)",
	"what":                "what: followed by the source",
	"evidence":            "evidence: [E-1]",
	"explains":            "explains: {bars.length: [E-1]}",
	"the layout evidence": "evidence: and below it one - {id: E-1, class: E2, what: photograph} for each",
	"tape":                "tape: {class: us, reading: 1/16 in, burn: no, units: in}",
	"reading":             "reading: 1/16 in",
	"burn":                "burn: yes (hold the tape at its 1 in mark) or no",
	"tape class":          "class: us (or eu-1, eu-2)",
	"tape units":          "units: in (or mm)",
	"measured":            "measured: {left: {fs: 240.1, bl: 1.4, wl: 50}, right: {fs: 239.9, bl: 1.4, wl: 50}}",
	"measured left":       "left: {fs: 240.1, bl: 1.4, wl: 50}",
	"measured right":      "right: {fs: 239.9, bl: 1.4, wl: 50}",
	"sigma":               "sigma: 1/16 in",
	"measured-tapes":      "measured-tapes: and below it one - {from: P1, to: P2, side: left, length: 121-5/16 in} for each",
	"measured-tapes from": "from: P1",
	"level-pegs":          "level-pegs: and below it one - {id: LP1, fs: 84, wl: 46} for each",
	"photos":              "photos: and below it one - id: with file:, side: and points: for each",
	"photo points":        "points: and below it one - {at: P1, pixel: [1210, 640]} for each",
	"photo file":          "file: hangar-31.jpg, a picture beside this file",
	"photo side":          "side: left, the side of the aircraft that is seen",
	"pixel":               "pixel: [1210, 640], from the upper left corner, to the right and down",
	"at":                  "at: P1, or {fs: 120, bl: -13, wl: 65}, {surface: fuselage, line: S2, fs: 150}, {surface: fin, corner: 8}",
	"corner":              "corner: 3, counted along outline: from 1",
	"focal":               "focal: 2400 px, or focal: {length: 6 in, film: 7 in}",
	"centre":              "centre: [799.5, 549.5], where the axis of the lens meets the picture",
	"distortion":          "distortion: -0.05",
	"mirrored":            "mirrored: true, if the picture is printed from the wrong side of the negative",
	"plus-minus":          "plus-minus: 2, in pixels",
	"photo size":          "size: [1600, 1100], in pixels",
	"focal length":        "length: 6 in",
	"focal film":          "film: 7 in, the width of the film that the picture shows",
	"hardpoints":          "hardpoints: and below it one - {id: P1, name: door bolt, fs: 120, bl: 12.5, wl: 36} for each",
}

// exampleOf returns what to type for a key of a mapping; empty when unknown.
func exampleOf(in, key string) string {
	for _, k := range []string{in + " " + key, key} {
		for _, list := range []map[string]string{examples, textExamples} {
			if e, ok := list[k]; ok {
				return e
			}
		}
	}
	return ""
}

// example returns what to type for v.
func (v value) example() string {
	if e := exampleOf(v.in, v.name); e != "" {
		return "write " + e
	}
	return ""
}

// hintFor is the example of v, else what is wanted.
func (v value) hintFor(want string) string {
	if e := v.example(); e != "" {
		return e
	}
	if want == "a length" {
		want += ", 20-1/2 in"
	}
	return "write " + want
}

// otherWords are words of the trade that a layout spells otherwise.
var otherWords = map[string]string{
	"station": "fs", "sta": "fs", "waterline": "wl", "buttline": "bl", "butt line": "bl",
	"color": "colour", "colors": "colours", "center": "centre", "paints": "colours",
	"port": "left", "starboard": "right", "file": "aircraft", "letters": "text", "unit": "units",
	"inch": "in", "inches": "in", "feet": "ft", "foot": "ft", "millimetres": "mm", "metres": "m",
	"middle": "centre", "mirrored": "handed", "mirror": "handed", "longerons": "hard", "stringer": "stringers", "true size": "true", "marking": "markings",
}

// nearest returns the known word that was likely meant, empty when none is
// near: one slip, or one in every four letters. Words that differ in a digit are
// different words: E-3 was not meant to be E-1.
func nearest(word string, known []string) string {
	lower := strings.ToLower(strings.ReplaceAll(word, "_", "-"))
	for _, k := range known {
		if otherWords[lower] == k || strings.ToLower(k) == lower {
			return k
		}
	}
	n := len([]rune(lower))
	if n < 2 || n > 64 {
		return ""
	}
	best, at := max(1, n/4)+1, ""
	for _, k := range known {
		if d := slips([]rune(lower), []rune(strings.ToLower(k))); d < best && digitsOf(k) == digitsOf(lower) {
			best, at = d, k
		}
	}
	return at
}

func digitsOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}

// slips counts the letters to insert, delete, replace or swap with their
// neighbour (optimal string alignment; Damerau 1964).
func slips(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range b {
		rows[0][j+1] = j + 1
	}
	for i := range a {
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			d := min(rows[i][j]+cost, rows[i][j+1]+1, rows[i+1][j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				d = min(d, rows[i-1][j-1]+1)
			}
			rows[i+1][j+1] = d
		}
	}
	return rows[len(a)][len(b)]
}

// shorten keeps a quoted text short enough for a message.
func shorten(s string) string { return layouts.ShortenTo(40, s) }

// quoteOdd quotes a key that is not a plain word.
func quoteOdd(key string) string {
	for _, r := range key {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			return fmt.Sprintf("%q", shorten(key))
		}
	}
	if key == "" {
		return `""`
	}
	return shorten(key)
}
