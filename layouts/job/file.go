package job

import (
	"bytes"
	"io"
	"slices"
	"sync"

	"maskloft/layouts"
	"maskloft/layouts/document"
	"maskloft/layouts/reading"
)

// File is a layout file that is open: its text, which can be changed value by value,
// and the job of the text as it stands. Work on markings whose content a change leaves
// as it was is not done again; an error in the text leaves what is kept in place. The
// files that the layout names, an aircraft, fonts, scans, are read once, when they are
// first met. It is safe for several goroutines.
type File struct {
	Name string

	files reading.Files
	say   Progress
	kept  *kept

	mu   sync.Mutex
	text []byte
	job  *Job // of text; nil: not read yet
}

// Open returns the open file of a layout. The text is what is read, whatever stands in
// the file of that name; files are where the others stand that it names.
func Open(name string, text []byte, files reading.Files, say Progress) *File {
	return &File{Name: name, files: onceRead(files), say: say, kept: newKept(), text: slices.Clone(text)}
}

// onceRead keeps what was read.
func onceRead(files reading.Files) reading.Files {
	var mu sync.Mutex
	kept := map[string][]byte{}
	open := files.Open
	files.Open = func(name string) (io.ReadCloser, error) {
		mu.Lock()
		defer mu.Unlock()
		data, ok := kept[name]
		if !ok {
			in, err := open(name)
			if err != nil {
				return nil, err
			}
			defer in.Close()
			if data, err = io.ReadAll(io.LimitReader(in, largestBeside)); err != nil {
				return nil, err
			}
			kept[name] = data
		}
		return io.NopCloser(bytes.NewReader(data)), nil
	}
	return files
}

// largestBeside bounds a file that a layout names, in bytes: above the bounds of each
// kind of file, which its reader checks.
const largestBeside = 1 << 30

// Text is the text as it stands.
func (f *File) Text() []byte {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Clone(f.text)
}

// Job is the job of the text as it stands. The error is of type [layouts.Problems].
func (f *File) Job() (*Job, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.job == nil {
		spec, err := f.files.Read(f.Name, f.text)
		if err != nil {
			return nil, err
		}
		f.kept.next()
		f.job = New(spec, f.say)
		f.job.kept, f.job.frames = f.kept, f.kept
	}
	return f.job, nil
}

// Apply makes a change of the text, such as one of an editor, or the inverse of one
// that was made: see [document.Splice.Inverse].
//
// Errors: the splice reaches outside the text.
func (f *File) Apply(s document.Splice) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.apply(s)
}

func (f *File) apply(s document.Splice) error {
	if s.From < 0 || s.To < s.From || s.To > len(f.text) {
		return layouts.Problem{Place: layouts.Place{File: f.Name}, Message: "the change reaches outside the text", Hint: "make it for the text as it stands"}
	}
	f.text, f.job = s.Apply(f.text), nil
	return nil
}

// Edit makes a change of one value, and returns it with its inverse:
//
//	change, undo, err := f.Edit(func(d *document.Document) (document.Splice, error) {
//		return d.Set(path, "136 in")
//	})
//
// Errors: those of edit; the text then stays as it is.
func (f *File) Edit(edit func(*document.Document) (document.Splice, error)) (change, undo document.Splice, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	doc, ok := reading.Document(f.Name, f.text)
	if !ok {
		return change, undo, doc.Problems()
	}
	if change, err = edit(doc); err != nil {
		return document.Splice{}, undo, err
	}
	undo = change.Inverse(f.text)
	return change, undo, f.apply(change)
}

// Set writes a value at a path, markings[insignia].where.fs; see [document.Document.Set].
func (f *File) Set(path, value string) (change, undo document.Splice, err error) {
	p, err := document.ParsePath(path)
	if err != nil {
		return change, undo, err
	}
	return f.Edit(func(d *document.Document) (document.Splice, error) { return d.Set(p, value) })
}

// Copy returns the same text open once more; what is computed of it is kept by both.
func (f *File) Copy() *File {
	f.mu.Lock()
	defer f.mu.Unlock()
	return &File{Name: f.Name, files: f.files, say: f.say, kept: f.kept, text: f.text, job: f.job}
}
