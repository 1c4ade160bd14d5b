package book

import (
	"html/template"
	"strconv"

	"maskloft/export/audit"
	"maskloft/layouts"
)

// Book is the job book: everything of a pack on one page that needs no network.
type Book struct {
	Title, Aircraft, Frame string
	Facts                  []Row
	Findings               Findings
	Views                  []View
	Markings               []Marking
	Run                    Picture
	RunWords               Text
	Ticket                 []Film
	Causes                 []audit.Cause
	Dossier                template.HTML
	Cautions               []string
	Scene                  template.JS // what the view in three dimensions shows
}

// Text is a run of words and figures.
type Text []Part

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

// Findings are the findings, the gravest apart from notes.
type Findings struct {
	Stops, Warns int
	Grave, Notes []Finding
}

// Finding is a finding, and whether the book holds its marking.
type Finding struct {
	layouts.Finding
	Linked bool
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
	ID, Where string
	View      string // id of the view that shows it
	Level     string // of its gravest finding that is no note; empty: none
	Rows      []Row
	Findings  []layouts.Finding
	Film      Picture
	Passes    []Pass
	Films     int
	Strain    *Picture
	Check     *Check
	Tapes     Tapes
}

// Pass is one pass of a marking: the id of its layer in the picture of the film,
// and its files.
type Pass struct {
	Layer, Name, Colour string
	Tiles               []Tile
}

// Tile is one file to cut.
type Tile struct {
	Number             int
	ID, SVG, PDF, Kind string
	Size               Text
}

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

// Tapes is the tape list of one marking, in working order.
type Tapes struct {
	Budget Text
	Points []Point
}

// Point is one point to place. Other says how else, where tapes are not enough.
type Point struct {
	ID, Label, Grade     string
	Step                 int
	Other                Text
	First, Second, Check Text
	Crossing, Error      Text
}

// Film is one film of the ticket.
type Film struct {
	Number           int
	ID, Size, Pieces string
}
