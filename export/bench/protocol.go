package bench

import (
	"encoding/json"

	"maskloft/layouts/document"
)

// Version is the version of the messages.
const Version = 1

// Request is what the page asks. Fields that an ask has no use for are left out;
// unknown ones are ignored.
type Request struct {
	V   int    `json:"v"`
	ID  int    `json:"id"`
	Ask string `json:"ask"`
	Of  string `json:"of,omitempty"`  // hash of the text that is meant
	Tab string `json:"tab,omitempty"` // the asking tab, any word; what it changes is not told to it

	// edit: one of Path with Value or YAML, Remove, Add with YAML, Duplicate with As, Splice
	Path      string           `json:"path,omitempty"`
	Value     *string          `json:"value,omitempty"`     // a scalar; quoted where it must be
	YAML      *string          `json:"yaml,omitempty"`      // a value as YAML
	Remove    string           `json:"remove,omitempty"`    // path
	Add       string           `json:"add,omitempty"`       // path of a list
	Duplicate string           `json:"duplicate,omitempty"` // path of an item
	As        string           `json:"as,omitempty"`        // id of the new item
	Splice    *document.Splice `json:"splice,omitempty"`    // bytes of UTF-8
	Label     string           `json:"label,omitempty"`     // of the step of undo
	Group     string           `json:"group,omitempty"`     // edits in a row of one group are one step

	Number int    `json:"number,omitempty"` // take: of the list of offers
	List   string `json:"list,omitempty"`   // mark of that list

	Name  string    `json:"name,omitempty"`
	Text  *string   `json:"text,omitempty"`
	Found []Finding `json:"found,omitempty"` // open: the findings of the text, where the page has them already
	Data  []byte    `json:"data,omitempty"`  // base64
	Disk  string    `json:"disk,omitempty"`  // hash of the file that was read

	Marking string `json:"marking,omitempty"` // id, without its side
	Exact   bool   `json:"exact,omitempty"`
	After   string `json:"after,omitempty"` // hash of an earlier text

	On      string   `json:"on,omitempty"`
	Nation  string   `json:"nation,omitempty"`
	Service string   `json:"service,omitempty"`
	Place   string   `json:"place,omitempty"`
	Finish  string   `json:"finish,omitempty"`
	Kind    string   `json:"kind,omitempty"`
	Types   []string `json:"types,omitempty"`
	Rule    string   `json:"rule,omitempty"`
	Size    string   `json:"size,omitempty"`

	Readings []ReadingAsked `json:"readings,omitempty"`
	CSV      string         `json:"csv,omitempty"`

	Pixels []Point2    `json:"pixels,omitempty"` // photo, trace: whose places are read
	Within []float64   `json:"within,omitempty"` // photo, trace: standard deviation of each of Pixels; 0 or none: that of the photo
	Edges  []EdgeAsked `json:"edges,omitempty"`  // photo: whose places are read, and what lies between the first two

	Spots []SpotAsked `json:"spots,omitempty"` // trace: points known on the side view

	To string `json:"to,omitempty"` // pack: folder or zip
}

// ReadingAsked is one reading of a tape as it was typed.
type ReadingAsked struct {
	Point string `json:"point"`
	From  string `json:"from"`
	Kind  string `json:"kind,omitempty"` // as the tape list says; empty: a tape over the skin or in air
	Reads string `json:"reads"`          // 18-5/16, with or without a unit
}

// EdgeAsked is an edge that the page fitted in a photograph, pixels.
type EdgeAsked struct {
	At    Point2  `json:"at"`
	Along Point2  `json:"along"` // unit vector
	Off   float64 `json:"off"`   // standard deviation across
	Turn  float64 `json:"turn"`  // standard deviation of the direction, radians
	Round bool    `json:"round"` // of a disc
	Tone  float64 `json:"tone"`  // by how much across, to along turned from x to y, if the tones are not those of light
}

// SpotAsked is a point of the side view found in a picture of it.
type SpotAsked struct {
	Name   string  `json:"name"`
	At     Point2  `json:"at"` // FS and WL
	Pixel  Point2  `json:"pixel"`
	Within float64 `json:"within"` // standard deviation of the pixel; 0: the usual one
}

// Answer is a part of the reply to a request: a body, a step of progress, or an error.
// The last has Done.
type Answer struct {
	ID    int             `json:"id"`
	Of    string          `json:"of,omitempty"` // hash of the text that it is of
	Part  string          `json:"part,omitempty"`
	Done  bool            `json:"done,omitempty"`
	Body  json.RawMessage `json:"body,omitempty" ts:"unknown"`
	Step  int             `json:"step,omitempty"`
	N     int             `json:"n,omitempty"` // of so many steps; 0: not known
	Say   string          `json:"say,omitempty"`
	Error *Error          `json:"error,omitempty"`
}

// Error codes.
const (
	CodeLayout    = "layout"    // a mistake in the text
	CodeAsk       = "ask"       // the request says something that it cannot
	CodeStale     = "stale"     // the text has changed meanwhile
	CodeCancelled = "cancelled" // another request took its place
	CodeRefused   = "refused"   // looked at and not done: a hint that does not help
	CodeDisk      = "disk"      // the file on the disk is another than the one read
	CodeMissing   = "missing"   // what is asked for is not there
	CodeFault     = "fault"     // of the program
)

// Error is why there is no answer.
type Error struct {
	Code    string `json:"code"`
	Message string `json:"message"`
	At      *At    `json:"at,omitempty"`
	Excerpt string `json:"excerpt,omitempty"`
	Hint    string `json:"hint,omitempty"`
}

// At is a place in a file, from 1; a column is one character.
type At struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

// Problem is one mistake in the text.
type Problem struct {
	At      At     `json:"at"`
	Message string `json:"message"`
	Excerpt string `json:"excerpt,omitempty"`
	Hint    string `json:"hint,omitempty"`
}

// Hello says what the engine is.
type Hello struct {
	Version int      `json:"version"`
	Program string   `json:"program"` // version of the program
	Engine  string   `json:"engine"`  // native or wasm
	Name    string   `json:"name"`    // of the layout file
	Can     []string `json:"can"`     // what can be asked
	Body    int      `json:"body"`    // the largest request, bytes
	Asks    int      `json:"asks"`    // requests at once
}

// States of the file on the disk.
const (
	FileSaved    = "saved"
	FileChanged  = "changed"         // the text is another than the file
	FileOnDisk   = "changed-on-disk" // the file is another than the one read
	FileGone     = "gone"
	FileReadOnly = "read-only"
	FileNone     = "none" // there is no file: a page with the engine inside, or the demo
)

// Opened is a text that is open.
type Opened struct {
	Name     string    `json:"name"`
	Text     string    `json:"text"`
	Hash     string    `json:"hash"`
	Disk     string    `json:"disk"` // hash of the file as it was read; empty: there is none
	File     string    `json:"file"` // state of the file
	Problems []Problem `json:"problems"`
	Units    string    `json:"units"` // of bare numbers
	Undo     []string  `json:"undo"`  // labels, the next first
	Redo     []string  `json:"redo"`
	Draft    *Draft    `json:"draft,omitempty"` // what was not saved when the last session ended
}

// Draft is a text that was not saved, with what can be taken back.
type Draft struct {
	Text string `json:"text"`
	Hash string `json:"hash"`
	Disk string `json:"disk"` // hash of the file that it was made of
}

// Edited is a change that was made.
type Edited struct {
	Splice   document.Splice `json:"splice"`
	Inverse  document.Splice `json:"inverse"`
	Hash     string          `json:"hash"` // of the text after it
	Problems []Problem       `json:"problems"`
	Touched  []string        `json:"touched"` // ids, with their side, of the markings that differ; none with All
	All      bool            `json:"all"`     // the aircraft, film or paints changed
	Label    string          `json:"label"`
	Undo     []string        `json:"undo"`
	Redo     []string        `json:"redo"`
	Taken    *Offer          `json:"taken,omitempty"`
}

// Saved is a file that was written.
type Saved struct {
	Disk  string `json:"disk"`  // hash of the file now
	First string `json:"first"` // the name of the copy of its first state; empty: it was there already
	File  string `json:"file"`
}

// Told is the body of what the engine says by itself: a text changed by another tab
// (part text), or the state of the file (part file).
type Told struct {
	Edited *Edited `json:"edited,omitempty"`
	File   string  `json:"file,omitempty"`
	Disk   string  `json:"disk,omitempty"`
	Tab    string  `json:"tab,omitempty"`
}

// Finding is as in report.json, with a key by which it is known again.
type Finding struct {
	Key       string     `json:"key"`
	Level     string     `json:"level"`
	Rule      string     `json:"rule"`
	Marking   string     `json:"marking"`
	At        Point3     `json:"at"`
	Message   string     `json:"message"`
	Hint      string     `json:"hint,omitempty"`
	Proposals []Proposal `json:"proposals,omitempty"`
	Measured  string     `json:"measured,omitempty"`
	Expected  string     `json:"expected,omitempty"`
	Tolerance string     `json:"tolerance,omitempty"`
	Source    string     `json:"source"`
}

// Proposal is a value that makes a finding go away.
type Proposal struct {
	Path  string `json:"path"`
	Value string `json:"value"`
	Why   string `json:"why"`
}

// Offer is a proposal with its number in a list of offers, for take.
type Offer struct {
	Number  int    `json:"number"`
	Name    string `json:"name"`
	Key     string `json:"key"` // of its finding
	Marking string `json:"marking"`
	Rule    string `json:"rule"`
	Path    string `json:"path"`
	Value   string `json:"value"`
	Why     string `json:"why"`
}

// Findings are those of a text, or of one marking of it.
type Findings struct {
	List     string    `json:"list"` // mark of the offers
	Findings []Finding `json:"findings"`
	Offers   []Offer   `json:"offers"`
	Gone     []Finding `json:"gone"`  // since the text After
	Fresh    []string  `json:"fresh"` // keys of those that came
}

// Packed is a pack that was written.
type Packed struct {
	Name     string       `json:"name"` // of the folder, or of the zip file
	Files    []PackedFile `json:"files"`
	Manifest string       `json:"manifest"` // SHA-256 of its list of files
	Zip      []byte       `json:"zip,omitempty" ts:"string"`
}

// PackedFile is one file of a pack.
type PackedFile struct {
	Name string `json:"name"`
	Size int    `json:"size"`
}
