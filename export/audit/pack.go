package audit

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Pack is a folder of files that is put in place whole or not at all. Files are
// gathered in a hidden folder beside it; [Pack.Commit] puts that in place of
// an earlier pack, [Pack.Abort] throws it away. Nothing is overwritten that this
// tool did not write. A Pack is for one goroutine.
//
// A program that is killed leaves its hidden folder behind, and on a system that cannot
// exchange two folders in one step perhaps the earlier pack under another name:
// [Sweep] puts that right.
type Pack struct {
	dir   string
	part  string            // where files are gathered; empty once it is over
	claim *claim            // of part: says to others that this program lives
	made  []string          // folders made above dir, the outermost first
	sums  map[string]string // by name as given
	lower map[string]string // names given, by lower case
	disk  disk
}

// disk is what Commit asks of the system, for tests that break it.
type disk struct {
	move     func(from, to string) error
	exchange func(a, b string) error // in one step; errNoExchange where that cannot be had
}

// errNoExchange says that the system cannot exchange two folders in one step.
var errNoExchange = errors.New("two folders cannot be exchanged in one step")

// NewPack prepares a pack in dir, and puts right what a killed program left there. It
// is an error, and nothing is written, when dir is there and holds anything but the
// unchanged files of an earlier pack.
func NewPack(dir string) (*Pack, error) {
	dir = filepath.Clean(dir)
	full, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	if filepath.Dir(full) == full {
		return nil, fmt.Errorf("%s: it is the root of a disk or a device: give a folder with -o DIR", dir)
	}
	if base := filepath.Base(dir); base == "." || base == ".." {
		dir = full // a folder is renamed by its name
	}
	if err := Sweep(dir); err != nil {
		return nil, err
	}
	if err := CanWrite(dir); err != nil {
		return nil, err
	}
	p := &Pack{dir: dir, sums: map[string]string{}, lower: map[string]string{}, disk: disk{os.Rename, exchange}}
	if err := p.makeAbove(filepath.Dir(dir)); err != nil {
		p.Abort()
		return nil, unwritten(dir, err)
	}
	if p.part, p.claim, err = claimedFolder(partName(dir)); err != nil {
		p.Abort()
		return nil, unwritten(dir, err)
	}
	return p, nil
}

// makeAbove makes the folders down to dir that are missing, and remembers them.
func (p *Pack) makeAbove(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	} else if above := filepath.Dir(dir); !errors.Is(err, fs.ErrNotExist) || above == dir { // such as a drive that is not there
		return err
	} else if err := p.makeAbove(above); err != nil {
		return err
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		return err
	}
	p.made = append(p.made, dir)
	return nil
}

// Add writes one file of the pack. The name is relative, with slashes; folders
// in it are made. A name given twice, in whatever case, is an error.
func (p *Pack) Add(name string, data []byte) error {
	if p.part == "" {
		return fmt.Errorf("pack file %q: the pack is over", name)
	}
	if err := packName(name); err != nil {
		return err
	}
	if first, ok := p.lower[strings.ToLower(name)]; ok {
		return fmt.Errorf("pack file %q: %q is in the pack already: give each file its own name", name, first)
	}
	file := filepath.Join(p.part, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		return unwritten(p.dir, err)
	}
	if err := os.WriteFile(file, data, 0o666); err != nil {
		return unwritten(p.dir, err)
	}
	p.sums[name], p.lower[strings.ToLower(name)] = checksum(data), name
	return nil
}

// Commit writes the list of files and puts the pack in place of an earlier one,
// which is looked at once more: a file that came or changed meanwhile is an
// error. On any error the earlier pack stands as it was, and nothing else is
// left behind.
func (p *Pack) Commit() error {
	if p.part == "" {
		return errors.New("the pack is over")
	}
	defer p.Abort()
	if err := os.WriteFile(filepath.Join(p.part, ManifestName), manifestText(p.sums), 0o666); err != nil {
		return unwritten(p.dir, err)
	}
	if err := replaceable(p.dir); err != nil {
		return unwritten(p.dir, err)
	}
	if err := p.synced(); err != nil {
		return unwritten(p.dir, err)
	}
	if err := p.swap(); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(p.dir))
}

// swap puts part in the place of dir, and leaves in part's place what dir was; Abort
// then throws that away.
func (p *Pack) swap() error {
	p.claim.loosen()
	if _, err := os.Lstat(p.dir); errors.Is(err, fs.ErrNotExist) {
		if err := p.disk.move(p.part, p.dir); err != nil {
			return unmoved(p.dir, err)
		}
		p.over()
		return nil
	}
	err := p.disk.exchange(p.part, p.dir)
	if !errors.Is(err, errNoExchange) {
		if err == nil {
			p.made = nil
		}
		return unmoved(p.dir, err)
	}
	// In two steps, then: the earlier pack goes into a claimed folder of its own.
	room, kept, err := claimedFolder(oldName(p.dir))
	if err != nil {
		return unwritten(p.dir, err)
	}
	defer func() { kept.release() }()
	aside := filepath.Join(room, "pack")
	if err := p.disk.move(p.dir, aside); err != nil {
		return errors.Join(unmoved(p.dir, err), os.Remove(room))
	}
	if err := p.disk.move(p.part, p.dir); err != nil {
		return errors.Join(unmoved(p.dir, err), p.disk.move(aside, p.dir), os.Remove(room))
	}
	p.over()
	kept.loosen()
	if err := os.RemoveAll(room); err != nil {
		return fmt.Errorf("the pack is in place, but the earlier one could not be removed: %w", err)
	}
	return nil
}

// over says that nothing is left to throw away.
func (p *Pack) over() {
	p.claim.release()
	p.part, p.made, p.claim = "", nil, nil
}

// synced brings the files and folders of the pack to the disk.
func (p *Pack) synced() error {
	return filepath.WalkDir(p.part, func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			return syncFolder(name)
		}
		f, err := os.OpenFile(name, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	})
}

// Abort throws away what was gathered, and the folders that were made for it. It
// does nothing after [Pack.Commit], so it can be deferred.
func (p *Pack) Abort() {
	if p.part != "" {
		_ = os.RemoveAll(p.part) // there is nobody to tell, and nothing else to do
	}
	for i := len(p.made) - 1; i >= 0; i-- {
		_ = os.Remove(p.made[i]) // only while it is empty
	}
	p.over()
}
