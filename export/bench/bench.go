package bench

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync"

	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// Bench is one layout that is open on a page, or on several. It is safe for several
// goroutines.
type Bench struct {
	Program string // version of the program
	Engine  string // native or wasm
	Home    *Home  // the file and its folder; nil: there is none
	Kit     Kit
	// Keep keeps a new file beside the layout; fs.ErrExist where there is one of the
	// name. nil: there is no place for it.
	Keep func(name string, data []byte) error

	mu    sync.Mutex
	file  *job.File
	files reading.Files
	hash  string // of the text
	disk  string // hash of the file when it was read or written last
	draft *Draft // of the last session, until the text is changed
	past  history
	found map[string][]Finding // by marking and text, for what is gone and new
	order []string             // keys of found, the oldest first
	tabs  map[chan Told]string
	skins map[*layouts.Airframe]Skins
}

// Kit is what the verbs of the program give to the page, as they print it.
type Kit struct {
	// Check holds markings against their rules: what check --json prints, and the findings.
	Check func(context.Context, *job.Job) (any, []layouts.Finding, error)
	// Rules answers like rules --json.
	Rules func(Request) (any, error)
	// Place is what tape --json prints.
	Place func(context.Context, *job.Job) (any, error)
	// Readings is what tape --measured --json prints, of the readings of a request.
	Readings func(context.Context, *job.Job, Request) (any, error)
	// Pack draws all files of the pack; say is told of each piece of work.
	Pack func(ctx context.Context, j *job.Job, say func(string)) ([]File, error)
}

// Bounds of requests.
const (
	largestBody = 64 << 20 // bytes
	mostAsks    = 8        // at once; what is told, one a tab, not counted
	mostTabs    = 32
)

// File is one file of a pack.
type File struct {
	Name string // with slashes
	Data []byte
}

// Open puts a text in the place of what was open; files is where others stand that it
// names.
func (b *Bench) Open(name string, text []byte, files reading.Files) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.open(name, text, files)
}

func (b *Bench) open(name string, text []byte, files reading.Files) {
	b.file, b.files, b.hash = job.Open(name, text, files, nil), files, Hash(text)
	b.past, b.found, b.order = history{}, map[string][]Finding{}, nil
}

// ask is one kind of request.
type ask func(b *Bench, ctx context.Context, q Request, say func(Answer)) (any, error)

// asks are all of them, but for hello, which lists them.
var asks = map[string]ask{
	"open": askOpen, "edit": askEdit, "take": askTake, "undo": askUndo, "redo": askRedo,
	"save": askSave, "draft": askDraft, "disk": askDisk, "told": askTold,
	"skins": askSkins, "scene": askScene, "markings": askMarkings, "figure": askFigure, "outline": askOutline,
	"film": askFilm, "run": askRun, "findings": askFindings, "check": askCheck,
	"rules": askRules, "rule": askRule, "alphabets": askAlphabets, "examples": askExamples, "drawing": askDrawing,
	"beside": askBeside, "place": askPlace, "readings": askReadings, "photo": askPhoto, "trace": askTrace, "pack": askPack,
}

// Ask answers one request; send is called with each answer, the last of which has Done,
// from one goroutine at a time. Where ctx ends the last answer comes at once; what was
// being computed for it may go on a while, and is kept where it can be used.
func (b *Bench) Ask(ctx context.Context, q Request, send func(Answer)) {
	var mu sync.Mutex
	over := false
	say := func(a Answer) {
		mu.Lock()
		defer mu.Unlock()
		if !over {
			a.ID, over = q.ID, a.Done
			send(a)
		}
	}
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() {
			if r := recover(); r != nil {
				say(Answer{Done: true, Error: &Error{Code: CodeFault, Message: "this met a fault of maskloft and could not be finished; the text is as it was"}})
			}
		}()
		body, err := b.answer(ctx, q, say)
		if err != nil {
			say(Answer{Done: true, Error: errorOf(err)})
			return
		}
		data, err := json.Marshal(body)
		if err != nil {
			say(Answer{Done: true, Error: &Error{Code: CodeFault, Message: err.Error()}})
			return
		}
		b.mu.Lock()
		of := b.hash
		b.mu.Unlock()
		say(Answer{Of: of, Done: true, Body: data})
	}()
	select {
	case <-done:
	case <-ctx.Done():
		say(Answer{Done: true, Error: &Error{Code: CodeCancelled, Message: "another request took its place"}})
	}
}

func (b *Bench) answer(ctx context.Context, q Request, say func(Answer)) (any, error) {
	if q.V != Version {
		return nil, askError{fmt.Sprintf("the page speaks version %d of the messages, the engine %d: load the page again", q.V, Version)}
	}
	if q.Ask == "hello" {
		return b.hello(), nil
	}
	do, ok := asks[q.Ask]
	if !ok {
		return nil, askError{fmt.Sprintf("nothing is known under %q", q.Ask)}
	}
	b.mu.Lock()
	none := b.file == nil
	b.mu.Unlock()
	if none && q.Ask != "open" {
		return nil, askError{"no text is open"}
	}
	return do(b, ctx, q, say)
}

func (b *Bench) hello() Hello {
	b.mu.Lock()
	defer b.mu.Unlock()
	can := append(slices.Sorted(maps.Keys(asks)), "hello")
	h := Hello{Version: Version, Program: b.Program, Engine: b.Engine, Can: can, Body: largestBody, Asks: mostAsks}
	if b.file != nil {
		h.Name = b.file.Name
	}
	return h
}

// job is the job of the text as it stands.
func (b *Bench) job() (*job.Job, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.file.Job()
}

// askError is a request that says what it cannot.
type askError struct{ message string }

func (e askError) Error() string { return e.message }

// missingError is something that is asked for and is not there.
type missingError struct{ message string }

func (e missingError) Error() string { return e.message }

// codedError is an error with its code.
type codedError struct {
	code, message, hint string
}

func (e codedError) Error() string { return e.message }

func errorOf(err error) *Error {
	var problems layouts.Problems
	var problem layouts.Problem
	var asked askError
	var missing missingError
	var coded codedError
	switch {
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return &Error{Code: CodeCancelled, Message: "another request took its place"}
	case errors.As(err, &coded):
		return &Error{Code: coded.code, Message: coded.message, Hint: coded.hint}
	case errors.As(err, &asked):
		return &Error{Code: CodeAsk, Message: asked.message}
	case errors.As(err, &missing):
		return &Error{Code: CodeMissing, Message: missing.message}
	case errors.As(err, &problems) && len(problems) > 0:
		problem = problems[0]
	case errors.As(err, &problem):
	default:
		return &Error{Code: CodeLayout, Message: err.Error()}
	}
	p := problemOf(problem)
	return &Error{Code: CodeLayout, Message: p.Message, At: &p.At, Excerpt: p.Excerpt, Hint: p.Hint}
}

func problemOf(p layouts.Problem) Problem {
	return Problem{At: At{p.Place.File, p.Place.Line, p.Place.Column}, Message: p.Message, Excerpt: p.Excerpt, Hint: p.Hint}
}

// problemsOf are the mistakes of an error of reading a text.
func problemsOf(err error) []Problem {
	out := []Problem{}
	var all layouts.Problems
	if errors.As(err, &all) {
		for _, p := range all {
			out = append(out, problemOf(p))
		}
	} else if err != nil {
		out = append(out, Problem{Message: err.Error()})
	}
	return out
}
