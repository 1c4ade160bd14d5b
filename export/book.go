package export

import (
	"html/template"
	"strconv"

	"maskloft/export/audit"
	"maskloft/layouts"
)

// Book is the job book: everything of a pack on one page that needs no network.
type Book struct {
	Title, Aircraft, Frame string
	Facts                  []BookRow
	Findings               BookFindings
	Views                  []BookView
	Markings               []BookMarking
	Run                    BookPicture
	RunWords               BookText
	Ticket                 []BookFilm
	Causes                 []audit.Cause
	Dossier                template.HTML
	Cautions               []string
	Scene                  template.JS // what the view in three dimensions shows
}

// BookText is a run of words and figures.
type BookText []BookPart

// BookPart is words, or a figure of the report: the path by which report.json holds
// it and its value there, with the words that stand for it.
type BookPart struct {
	Text   string
	Figure string // "anchor.fs"; empty: plain words
	Value  float64
}

// Exact writes the value as report.json does.
func (p BookPart) Exact() string { return strconv.FormatFloat(p.Value, 'f', -1, 64) }

// BookRow is a name and what stands beside it.
type BookRow struct {
	Name string
	Text BookText
}

// BookFindings are the findings, the gravest apart from notes.
type BookFindings struct {
	Stops, Warns int
	Grave, Notes []BookFinding
}

// BookFinding is a finding, and whether the book holds its marking.
type BookFinding struct {
	layouts.Finding
	Linked bool
}

// BookPicture is a drawing with its caption.
type BookPicture struct {
	ID, Title string
	SVG       template.HTML
}

// BookView is the aircraft from one side, and the markings to be seen on it.
type BookView struct {
	BookPicture
	Shows []string
}

// BookMarking is one marking on one side.
type BookMarking struct {
	ID, Where string
	View      string // id of the view that shows it
	Level     string // of its gravest finding that is no note; empty: none
	Rows      []BookRow
	Findings  []layouts.Finding
	Film      BookPicture
	Passes    []BookPass
	Films     int
	Strain    *BookPicture
	Check     *BookCheck
	Tapes     BookTapes
}

// BookPass is one pass of a marking: the id of its layer in the picture of the film,
// and its files.
type BookPass struct {
	Layer, Name, Colour string
	Tiles               []BookTile
}

// BookTile is one file to cut.
type BookTile struct {
	Number             int
	ID, SVG, PDF, Kind string
	Size               BookText
}

// BookCheck is a marking held against its rule.
type BookCheck struct {
	Against string
	Good    int // dimensions that conform
	Rows    []BookChecked
}

// BookChecked is one dimension with its verdict.
type BookChecked struct {
	What, Measured, Expected, Off, Within, Verdict, Hint, Source string
	Exact                                                        string // measured, as check --json gives it
	Good                                                         bool
}

// BookTapes is the tape list of one marking, in working order.
type BookTapes struct {
	Budget BookText
	Points []BookPoint
}

// BookPoint is one point to place. Other says how else, where tapes are not enough.
type BookPoint struct {
	ID, Label, Grade     string
	Step                 int
	Other                BookText
	First, Second, Check BookText
	Crossing, Error      BookText
}

// BookFilm is one film of the ticket.
type BookFilm struct {
	Number           int
	ID, Size, Pieces string
}
