package bench

import (
	"context"
	"time"
)

// state is that of the file.
func (b *Bench) state() string {
	if b.Home == nil || b.Home.unmade() {
		return FileNone
	}
	disk, writable := b.Home.state()
	switch {
	case disk == "":
		return FileGone
	case disk != b.disk:
		return FileOnDisk
	case !writable:
		return FileReadOnly
	case b.hash != b.disk:
		return FileChanged
	}
	return FileSaved
}

// askSave writes the file, where it still is what was read; with a name it writes a new
// file beside it and the layout stays as it is.
func askSave(b *Bench, _ context.Context, q Request, _ func(Answer)) (any, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.Home == nil {
		return nil, missingError{"there is no file behind this page: save a copy"}
	}
	if q.Of != b.hash {
		return nil, b.stale()
	}
	text := b.file.Text()
	if q.Name != "" {
		if err := b.Home.saveAs(q.Name, text); err != nil {
			return nil, err
		}
		return Saved{Disk: b.disk, First: "", File: b.state()}, nil
	}
	if q.Disk != "" && q.Disk != b.disk {
		return nil, codedError{CodeDisk, "the file was read again meanwhile; nothing was written", "look at what stands there"}
	}
	first, err := b.Home.save(text, b.disk)
	if err != nil {
		return nil, err
	}
	b.disk, b.draft = b.hash, nil
	b.Home.keep(func() []byte { b.mu.Lock(); defer b.mu.Unlock(); return b.draftBytes() })
	b.tell(Told{File: FileSaved, Disk: b.disk, Tab: q.Tab})
	return Saved{Disk: b.disk, First: first, File: FileSaved}, nil
}

// DraftKept is a draft as a page keeps it that has no file behind it, for open.
type DraftKept struct {
	Data []byte `json:"data" ts:"string"`
	Hash string `json:"hash"`
}

// askDraft returns the text and what can be taken back, as a page keeps it.
func askDraft(b *Bench, _ context.Context, _ Request, _ func(Answer)) (any, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return DraftKept{Data: b.draftBytes(), Hash: b.hash}, nil
}

// Disk is what stands in the file now.
type Disk struct {
	File string `json:"file"`
	Disk string `json:"disk"`
	Text string `json:"text"`
}

// askDisk returns what stands in the file, and with To "theirs" puts it in the place of
// the text, one undo away.
func askDisk(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.Home == nil || b.Home.unmade() {
		return Disk{File: FileNone}, nil
	}
	data, err := b.Home.Read()
	if err != nil {
		return Disk{File: FileGone}, nil
	}
	if q.To == "theirs" {
		if q.Of != b.hash {
			return nil, b.stale()
		}
		before, all := b.contents(ctx)
		old := b.file.Text()
		s := spliceBetween(old, data)
		if err := b.file.Apply(s); err != nil {
			return nil, err
		}
		if q.Label == "" {
			q.Label = "the file as it stands on the disk"
		}
		b.past.add(q.Label, "", change{s, s.Inverse(old)})
		b.disk = Hash(data)
		return b.edited(ctx, q, s, s.Inverse(old), before, all), nil
	}
	return Disk{File: b.state(), Disk: Hash(data), Text: string(data)}, nil
}

// tell sends word to every other tab; one that does not listen misses it and asks anew.
func (b *Bench) tell(t Told) {
	for tab := range b.tabs {
		select {
		case tab <- t:
		default:
		}
	}
}

// watchEvery is how often the file is looked at while a page is open.
const watchEvery = time.Second

// askTold is one long answer: a part for each change that another tab makes, and for each
// change of the file on the disk.
func askTold(b *Bench, ctx context.Context, q Request, say func(Answer)) (any, error) {
	tab := make(chan Told, 64)
	b.mu.Lock()
	if b.tabs == nil {
		b.tabs = map[chan Told]string{}
	}
	b.tabs[tab] = q.Tab
	last, hash := b.state(), b.hash
	b.mu.Unlock()
	defer func() {
		b.mu.Lock()
		delete(b.tabs, tab)
		b.mu.Unlock()
	}()
	send := func(part string, t Told) error {
		body, err := marshal(t)
		if err == nil {
			say(Answer{Of: hash, Part: part, Body: body})
		}
		return err
	}
	b.mu.Lock()
	now := Told{File: last, Disk: b.disk}
	b.mu.Unlock()
	if err := send("file", now); err != nil { // the first word: it listens
		return nil, err
	}
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case t := <-tab:
			if t.Tab == q.Tab && q.Tab != "" {
				continue // its own; what has become of the file since is told at the next look
			}
			if t.File != "" {
				last = t.File
			}
			part := "file"
			if t.Edited != nil {
				part, hash = "text", t.Edited.Hash
			}
			if err := send(part, t); err != nil {
				return nil, err
			}
		case <-tick.C:
			b.mu.Lock()
			t := Told{File: b.state(), Disk: b.disk}
			hash = b.hash
			b.mu.Unlock()
			if t.File != last {
				last = t.File
				if err := send("file", t); err != nil {
					return nil, err
				}
			}
		}
	}
}
