package book

import (
	"html/template"
	"strconv"
	"strings"

	"maskloft/export/audit"
	"maskloft/layouts"
)

// Book is the job book: everything of a pack on one page that needs no network.
type Book struct {
	Title, Aircraft, Frame string
	Unit                   string // of its lengths: in, mm
	Job                    string // under which ticks are kept; see [JobKey]
	Facts                  []Row
	Findings               Findings
	Open                   []Opening
	Views                  []View
	Markings               []Marking
	Run                    Picture
	RunWords               Text
	Ticket                 []Film
	Sprays                 []Spray
	Causes                 []audit.Cause
	Dossier                template.HTML
	Cautions               []string
	Place                  template.JS // what placing on a phone needs
	Scene                  template.JS // what the view in three dimensions shows
}

// JobKey is under what the ticks of a job are kept: its own id, or its title with the
// hash of its films.
func JobKey(id, title string, films []string) string {
	if id != "" {
		return id
	}
	return title + " " + hashOf(films...)
}

// Text is a run of words and figures.
type Text []Part

// String is the words and figures in a row.
func (t Text) String() string {
	var b strings.Builder
	for _, p := range t {
		b.WriteString(p.Text)
	}
	return b.String()
}

// Part is words, or a figure of the report: the path by which report.json holds
// it and its value there, with the words that stand for it.
type Part struct {
	Text   string
	Figure string // "anchor.fs"; empty: plain words
	Value  float64
}

// Exact writes the value as report.json does.
func (p Part) Exact() string { return strconv.FormatFloat(p.Value, 'f', -1, 64) }

// Row is a name and what stands beside it.
type Row struct {
	Name string
	Text Text
}

// Picture is a drawing with its caption.
type Picture struct {
	ID, Title string
	SVG       template.HTML
}

// View is the aircraft from one side, and the markings to be seen on it.
type View struct {
	Picture
	Shows []string
}

// Marking is one marking on one side.
type Marking struct {
	ID, Name, Where string
	View            string // id of the view that shows it
	Unit            string // of its lengths: in, mm
	Level           string // of its gravest finding that is no note; empty: none
	Rows            []Row
	Grave, Notes    []layouts.Finding
	Thumb           template.HTML // a small picture of the paint
	Film            Picture
	Passes          []Pass
	Strain          *Picture
	Check           *Check
	Tapes           Tapes
}

// Pass is one pass of a marking: the id of its layer in the picture of the film.
type Pass struct{ Layer, Name, Colour string }

// Film is one film to cut, by its number along the run.
type Film struct {
	Number                              int
	ID, Marking, Pieces, Pass, SVG, PDF string
	Key                                 string // of its tick
	Size                                Text
}

// Spray is one pass of one marking to spray. Key, of its tick, changes with any film of the
// marking.
type Spray struct{ Marking, Pass, Name, Colour, Key string }

// Check is a marking held against its rule.
type Check struct {
	Against string
	Good    int // dimensions that conform
	Rows    []Checked
}

// Checked is one dimension with its verdict.
type Checked struct {
	What, Measured, Expected, Off, Within, Verdict, Hint, Source string
	Exact                                                        string // measured, as check --json gives it
	Good                                                         bool
}

// Tapes is how a marking is placed, in working order.
type Tapes struct {
	Budget Text
	Points []Point
}

// Point is one point to place: a mark of the first film. None: nothing finds it.
type Point struct {
	ID, Name, Use               string
	Key                         string // of its tick
	Words                       string
	First, Second, Check, Error Text
	FirstWhere, SecondWhere     string
	None                        bool
}
