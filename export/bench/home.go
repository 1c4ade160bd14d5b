package bench

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"maskloft/export/audit"
	"maskloft/layouts/document"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// Home is the folder of a layout file: what a page may read and write there and nothing
// else. Links that leave the folder are not followed.
type Home struct {
	Name string // of the layout in the folder

	folder string
	root   *os.Root
	fresh  bool // there was no file of the name: the first save makes it

	mu    sync.Mutex
	first bool // the copy of the first state was looked at
	timer *time.Timer
	later func() []byte
}

// OpenHome opens the folder of a layout file.
func OpenHome(folder, name string) (*Home, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	return &Home{Name: name, folder: folder, root: root}, nil
}

// NewHome opens a folder for a layout that is no file yet. Its name is the one given, or
// the next that is free: mine.yaml, mine-2.yaml.
func NewHome(folder, name string) (*Home, error) {
	h, err := OpenHome(folder, name)
	if err != nil {
		return nil, err
	}
	h.fresh = true
	ext := path.Ext(name)
	for i := 2; ; i++ {
		if _, err := h.root.Lstat(h.Name); errors.Is(err, fs.ErrNotExist) {
			return h, nil
		} else if err != nil {
			return nil, errors.Join(err, h.Close())
		}
		h.Name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), i, ext)
	}
}

// Close writes a draft that waits to be written and closes the folder.
func (h *Home) Close() error {
	h.flush()
	return h.root.Close()
}

// Read returns the text of the layout.
func (h *Home) Read() ([]byte, error) { return h.read(h.Name, document.MaxSize) }

// Files are the files that the layout names: plain names of the folder.
func (h *Home) Files() reading.Files {
	return reading.Files{
		Open: func(name string) (io.ReadCloser, error) {
			if err := plain(name); err != nil {
				return nil, err
			}
			return h.root.Open(name)
		},
		Beside: func(_, name string) string { return name },
	}
}

// plain tells whether a name is one of the folder itself, and visible.
func plain(name string) error {
	if name == "" || strings.ContainsAny(name, `/\:`) || strings.HasPrefix(name, ".") || !fs.ValidPath(name) || name != path.Base(name) {
		return fmt.Errorf("%q is no plain name of a file beside the layout", document.Shorten(name))
	}
	return nil
}

func (h *Home) read(name string, most int64) ([]byte, error) {
	f, err := h.root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no file", name)
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most {
		err = fmt.Errorf("%s is larger than %d MB", name, most>>20)
	}
	return data, err
}

// write puts data in the place of a file in one step, with its mode.
func (h *Home) write(name string, data []byte, mode fs.FileMode) (err error) {
	var random [6]byte
	if _, err := rand.Read(random[:]); err != nil {
		return err
	}
	temporary := ".maskloft-" + hex.EncodeToString(random[:])
	f, err := h.root.OpenFile(temporary, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = h.root.Remove(temporary)
		}
	}()
	_, err = f.Write(data)
	if err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close()); err != nil {
		return err
	}
	return h.root.Rename(temporary, name)
}

// save writes the text where the file still holds what was read (disk is its hash), and
// before the first time keeps what stood there as NAME.first. It returns the name of that
// copy where it was made now.
func (h *Home) save(text []byte, disk string) (first string, err error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.fresh {
		if err := h.saveAs(h.Name, text); err != nil {
			return "", err
		}
		h.fresh, h.first = false, true // there is no state before to be kept
		return "", nil
	}
	now, err := h.Read()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", codedError{CodeDisk, h.Name + " is gone from its folder; nothing was written", "save under a new name, or put it back"}
	case err != nil:
		return "", codedError{CodeDisk, h.Name + " cannot be read: " + err.Error(), ""}
	case Hash(now) != disk:
		return "", codedError{CodeDisk, h.Name + " was changed on the disk meanwhile; nothing was written", "take what stands there, or save yours under a new name"}
	}
	info, err := h.root.Stat(h.Name)
	if err != nil {
		return "", err
	}
	mode := info.Mode().Perm()
	if mode&0o200 == 0 {
		return "", codedError{CodeDisk, h.Name + " may not be written", "give yourself the right to write it, or save under a new name"}
	}
	if !h.first && !bytes.Equal(now, text) {
		name := h.Name + ".first"
		if _, err := h.root.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			if err := h.write(name, now, mode); err != nil {
				return "", codedError{CodeDisk, "the first state could not be kept as " + name + ", and nothing was written: " + err.Error(), ""}
			}
			first = name
		}
		h.first = true
	}
	if err := h.write(h.Name, text, mode); err != nil {
		return first, codedError{CodeDisk, h.Name + " cannot be written: " + err.Error(), ""}
	}
	return first, nil
}

// saveAs writes a new file beside the layout; it never overwrites.
func (h *Home) saveAs(name string, data []byte) error {
	if err := plain(name); err != nil {
		return askError{err.Error()}
	}
	if ext := strings.ToLower(path.Ext(name)); ext != ".yaml" && ext != ".yml" {
		return askError{name + ": the name of a layout ends in .yaml"}
	}
	err := h.writeNew(name, data)
	if errors.Is(err, fs.ErrExist) {
		return codedError{CodeDisk, name + " is there already; nothing was written", "take another name"}
	}
	return err
}

// writeNew writes a file that is not there yet.
func (h *Home) writeNew(name string, data []byte) error {
	f, err := h.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}

// pack writes the files of a pack into a folder beside the layout, whole or not at all;
// see [audit.NewPack].
func (h *Home) pack(name string, files []File) error {
	if err := plain(name); err != nil {
		return askError{err.Error()}
	}
	if info, err := h.root.Lstat(name); err == nil && !info.IsDir() {
		return codedError{CodeDisk, name + " is no folder; nothing was written", "take another name"}
	}
	p, err := audit.NewPack(filepath.Join(h.folder, name))
	if err != nil {
		return codedError{CodeDisk, err.Error(), ""}
	}
	defer p.Abort()
	for _, f := range files {
		if err := p.Add(f.Name, f.Data); err != nil {
			return codedError{CodeDisk, err.Error(), ""}
		}
	}
	if err := p.Commit(); err != nil {
		return codedError{CodeDisk, err.Error(), ""}
	}
	return nil
}

// draftName is where what is not saved yet is kept beside the layout.
func (h *Home) draftName() string { return "." + h.Name + ".draft" }

// draftWait is how long after a change the draft is written.
const draftWait = 300 * time.Millisecond

// keep writes the draft a little later, once for all changes until then; of returns its
// bytes, none to take it away.
func (h *Home) keep(of func() []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.later = of
	if h.timer == nil {
		h.timer = time.AfterFunc(draftWait, h.flush)
	}
}

func (h *Home) flush() {
	h.mu.Lock()
	of := h.later
	h.timer, h.later = nil, nil
	h.mu.Unlock()
	if of == nil {
		return
	}
	data := of()
	if data == nil {
		_ = h.root.Remove(h.draftName())
		return
	}
	_ = h.write(h.draftName(), data, 0o600) // the page keeps its own; there is nobody to ask
}

// unmade tells whether the file is still to be made by the first save.
func (h *Home) unmade() bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.fresh
}

// state tells how the file stands: hash of what it holds, empty where it is gone.
func (h *Home) state() (disk string, writable bool) {
	data, err := h.Read()
	if err != nil {
		return "", false
	}
	info, err := h.root.Stat(h.Name)
	return Hash(data), err == nil && info.Mode().Perm()&0o200 != 0
}

// drafted is a text that was not saved with all that can be taken back.
type drafted struct {
	Text string  `json:"text"`
	Disk string  `json:"disk"`
	Past history `json:"past"`
}

// draftBytes is the draft as it is kept; nil where the text is the file's.
func (b *Bench) draftBytes() []byte {
	if b.hash == b.disk {
		return nil
	}
	data, err := json.Marshal(drafted{string(b.file.Text()), b.disk, b.past})
	if err != nil {
		return nil
	}
	return data
}

// remember takes up what a draft says can be taken back, where it is of the text.
func (b *Bench) remember(data []byte) error {
	d, err := readDraft(data)
	if err != nil {
		return err
	}
	if Hash([]byte(d.Text)) != b.hash {
		return errors.New("its text differs")
	}
	b.past = d.Past
	return nil
}

// readDraft reads a draft as a stranger's file: its steps must lead back through texts.
func readDraft(data []byte) (drafted, error) {
	var d drafted
	if err := json.Unmarshal(data, &d); err != nil {
		return d, errors.New("it is no draft")
	}
	if len(d.Text) > document.MaxSize {
		return d, errors.New("it is too long")
	}
	text := []byte(d.Text)
	apply := func(s document.Splice) bool {
		if s.From < 0 || s.To < s.From || s.To > len(text) || len(text)+len(s.Insert) > document.MaxSize {
			return false
		}
		text = s.Apply(text)
		return true
	}
	for i := len(d.Past.Undo) - 1; i >= 0; i-- {
		for k := len(d.Past.Undo[i].Changes) - 1; k >= 0; k-- {
			if !apply(d.Past.Undo[i].Changes[k].Inverse) {
				d.Past = history{}
				return d, nil
			}
		}
	}
	text = []byte(d.Text)
	for i := len(d.Past.Redo) - 1; i >= 0; i-- {
		for _, c := range d.Past.Redo[i].Changes {
			if !apply(c.Splice) {
				d.Past.Redo = nil
				return d, nil
			}
		}
	}
	return d, nil
}

// OpenFile opens the layout of a folder, and a draft that an earlier session left there:
// the text is the draft's where it was made of the file as it stands.
func (b *Bench) OpenFile(h *Home) error {
	text, err := h.Read()
	if err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.openIn(h, text, Hash(text))
	return nil
}

// OpenNew opens a text for which there is no file yet, and a draft that an earlier session
// left of one.
func (b *Bench) OpenNew(h *Home, text []byte) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.openIn(h, text, "")
}

// openIn opens a text in a folder; disk is the hash of its file, empty where there is none.
func (b *Bench) openIn(h *Home, text []byte, disk string) {
	b.Home, b.Keep, b.disk = h, h.writeNew, disk
	b.open(h.Name, text, h.Files())
	data, err := h.read(h.draftName(), 16*document.MaxSize)
	if err != nil {
		return
	}
	if d, err := readDraft(data); err == nil && Hash([]byte(d.Text)) != b.hash {
		b.draft = &Draft{Text: d.Text, Hash: Hash([]byte(d.Text)), Disk: d.Disk}
		if d.Disk == b.disk { // nobody changed the file since: go on where it ended
			b.file = job.Open(h.Name, []byte(d.Text), b.files, nil)
			b.hash, b.past = b.draft.Hash, d.Past
		}
	}
}
