package bench

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"maskloft/layouts"
	"maskloft/layouts/document"
	"maskloft/layouts/job"
)

// askOpen returns the text as it stands; with a text it opens that one, where no file
// stands behind the page.
func askOpen(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if q.Text != nil {
		if b.Home != nil {
			return nil, askError{"the text of a file is changed by edit, not opened anew"}
		}
		if len(*q.Text) > document.MaxSize {
			return nil, askError{fmt.Sprintf("a layout has at most %d MB", document.MaxSize>>20)}
		}
		name := q.Name
		if name == "" {
			name = "layout.yaml"
		}
		b.open(name, []byte(*q.Text), b.files)
		b.disk = q.Disk
		if q.Found != nil {
			b.remembered("\x00"+b.hash, q.Found)
		}
		if len(q.Data) > 0 {
			if err := b.remember(q.Data); err != nil {
				return nil, askError{"the draft is of another text: " + err.Error()}
			}
		}
	}
	if b.file == nil {
		return nil, askError{"no text is open"}
	}
	return b.opened(), nil
}

func (b *Bench) opened() Opened {
	o := Opened{
		Name: b.file.Name, Text: string(b.file.Text()), Hash: b.hash, Disk: b.disk, File: b.state(), Problems: []Problem{},
		Undo: labels(b.past.Undo), Redo: labels(b.past.Redo), Draft: b.draft,
	}
	j, err := b.file.Job()
	if err != nil {
		o.Problems = problemsOf(err)
	} else {
		o.Units = j.Spec.Units
	}
	return o
}

// askEdit makes one change of the text.
func askEdit(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	edit, err := editOf(q)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if q.Of != b.hash {
		return nil, b.stale()
	}
	return b.change(ctx, q, func() (document.Splice, document.Splice, error) {
		if q.Splice != nil {
			before := b.file.Text()
			if s := *q.Splice; s.From < 0 || s.To < s.From || s.To > len(before) || within(before, s.From) || within(before, s.To) {
				return document.Splice{}, document.Splice{}, askError{"the change reaches outside the text, or begins or ends within a character"}
			} else if len(before)+len(s.Insert) > document.MaxSize {
				return document.Splice{}, document.Splice{}, askError{fmt.Sprintf("a layout has at most %d MB", document.MaxSize>>20)}
			}
			return *q.Splice, q.Splice.Inverse(before), b.file.Apply(*q.Splice)
		}
		return b.file.Edit(edit)
	})
}

func (b *Bench) stale() error {
	return codedError{CodeStale, "the text has changed meanwhile", "take what stands there now: " + b.hash}
}

// change makes a change and says what it is.
func (b *Bench) change(ctx context.Context, q Request, make func() (document.Splice, document.Splice, error)) (Edited, error) {
	before, beforeAll := b.contents(ctx)
	splice, inverse, err := make()
	if err != nil {
		return Edited{}, err
	}
	b.past.add(q.Label, q.Group, change{splice, inverse})
	return b.edited(ctx, q, splice, inverse, before, beforeAll), nil
}

// edited says what a change that was made has done, and tells the other tabs.
func (b *Bench) edited(ctx context.Context, q Request, splice, inverse document.Splice, before map[string]string, beforeAll string) Edited {
	b.hash, b.draft = Hash(b.file.Text()), nil
	e := Edited{Splice: splice, Inverse: inverse, Hash: b.hash, Problems: []Problem{}, Touched: []string{}, Label: q.Label, Undo: labels(b.past.Undo), Redo: labels(b.past.Redo)}
	if _, err := b.file.Job(); err != nil {
		e.Problems = problemsOf(err)
	} else if after, all := b.contents(ctx); before != nil && after != nil {
		e.All = all != beforeAll
		if !e.All {
			for _, id := range sortedKeys(before, after) {
				if before[id] != after[id] {
					e.Touched = append(e.Touched, id)
				}
			}
		}
	} else {
		e.All = true
	}
	b.tell(Told{Edited: &e, Tab: q.Tab, File: b.state(), Disk: b.disk})
	if b.Home != nil {
		b.Home.keep(func() []byte { b.mu.Lock(); defer b.mu.Unlock(); return b.draftBytes() })
	}
	return e
}

// contents are checksums of all markings; nil where the text cannot be read.
func (b *Bench) contents(ctx context.Context) (map[string]string, string) {
	j, err := b.file.Job()
	if err != nil {
		return nil, ""
	}
	markings, all, err := j.Contents(ctx)
	if err != nil {
		return nil, ""
	}
	return markings, all
}

// editOf is the change of a request.
func editOf(q Request) (func(*document.Document) (document.Splice, error), error) {
	type edit = func(*document.Document, document.Path) (document.Splice, error)
	var path string
	var do edit
	n := 0
	set := func(given bool, at string, e edit) {
		if given {
			path, do, n = at, e, n+1
		}
	}
	set(q.Value != nil, q.Path, func(d *document.Document, p document.Path) (document.Splice, error) { return d.Set(p, *q.Value) })
	set(q.YAML != nil && q.Add == "", q.Path, func(d *document.Document, p document.Path) (document.Splice, error) { return d.Put(p, *q.YAML) })
	set(q.YAML != nil && q.Add != "", q.Add, func(d *document.Document, p document.Path) (document.Splice, error) { return d.Add(p, *q.YAML) })
	set(q.Remove != "", q.Remove, func(d *document.Document, p document.Path) (document.Splice, error) { return d.Remove(p) })
	set(q.Duplicate != "", q.Duplicate, func(d *document.Document, p document.Path) (document.Splice, error) { return d.Duplicate(p, q.As) })
	if q.Splice != nil {
		n++
	}
	if n != 1 {
		return nil, askError{"an edit is one of path with value or yaml, remove, add with yaml, duplicate, splice"}
	}
	if q.Splice != nil {
		return nil, nil
	}
	p, err := document.ParsePath(path)
	if err != nil {
		return nil, askError{fmt.Sprintf("%q is no path: %v", document.Shorten(path), err)}
	}
	return func(d *document.Document) (document.Splice, error) { return do(d, p) }, nil
}

// askTake writes an offer of findings into the text, where it does what it says.
func askTake(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	b.mu.Lock()
	if q.Of != b.hash {
		defer b.mu.Unlock()
		return nil, b.stale()
	}
	text, name := b.file.Text(), b.file.Name
	trial := b.file.Copy()
	b.mu.Unlock()
	// computed beside the text, which others may look at meanwhile
	taken, err := trial.Take(ctx, []string{fmt.Sprint(q.Number)}, q.List, func(ctx context.Context, j *job.Job) ([]layouts.Finding, error) {
		_, findings, err := b.Kit.Check(ctx, j)
		return findings, err
	})
	if err != nil {
		var problems layouts.Problems
		if ctx.Err() != nil || errors.As(err, &problems) {
			return nil, err
		}
		return nil, codedError{CodeRefused, strings.TrimPrefix(err.Error(), name+": "), ""}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.hash != Hash(text) {
		return nil, b.stale()
	}
	t := taken[0]
	if q.Label == "" {
		q.Label = t.Path + ": " + t.Value
	}
	e, err := b.change(ctx, q, func() (document.Splice, document.Splice, error) { return t.Change, t.Undo, b.file.Apply(t.Change) })
	e.Taken = &Offer{Number: t.Number, Name: t.Name(), Marking: t.Finding.Marking, Rule: t.Finding.Rule, Path: t.Path, Value: t.Value, Why: t.Why}
	return e, err
}

// askUndo takes back the last step.
func askUndo(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	return b.turn(ctx, q, "undo", &b.past.Undo, &b.past.Redo, true)
}

// askRedo makes the last step that was taken back again.
func askRedo(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	return b.turn(ctx, q, "redo", &b.past.Redo, &b.past.Undo, false)
}

// turn moves one step from a list to the other and makes it.
func (b *Bench) turn(ctx context.Context, q Request, what string, from, to *[]step, back bool) (any, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(*from) == 0 {
		return nil, missingError{"there is nothing to " + what}
	}
	before, beforeAll := b.contents(ctx)
	old := b.file.Text()
	s := (*from)[len(*from)-1]
	for i := range s.Changes {
		c := s.Changes[i].Splice
		if back {
			c = s.Changes[len(s.Changes)-1-i].Inverse
		}
		if err := b.file.Apply(c); err != nil {
			return nil, err
		}
	}
	*from = (*from)[:len(*from)-1]
	s.Group = "" // what follows is a step of its own
	*to = append(*to, s)
	q.Label = s.Label
	splice := spliceBetween(old, b.file.Text())
	return b.edited(ctx, q, splice, splice.Inverse(old), before, beforeAll), nil
}

// spliceBetween is one splice that makes a text out of another: all between the bytes
// that they share at their beginnings and ends.
func spliceBetween(old, now []byte) document.Splice {
	n := min(len(old), len(now))
	from := 0
	for from < n && old[from] == now[from] {
		from++
	}
	for from > 0 && (within(old, from) || within(now, from)) {
		from--
	}
	end := 0
	for end < n-from && old[len(old)-1-end] == now[len(now)-1-end] {
		end++
	}
	for end > 0 && within(old, len(old)-end) {
		end--
	}
	return document.Splice{From: from, To: len(old) - end, Insert: string(now[from : len(now)-end])}
}

// within tells whether a place in a text lies within a character.
func within(text []byte, at int) bool { return at < len(text) && !utf8.RuneStart(text[at]) }
