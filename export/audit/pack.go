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
type Pack struct {
	dir   string
	part  string            // where files are gathered; empty once it is over
	made  []string          // folders made above dir, the outermost first
	sums  map[string]string // by name as given
	lower map[string]string // names given, by lower case
	move  func(from, to string) error
}

// NewPack prepares a pack in dir. It is an error, and nothing is written, when
// dir is there and holds anything but the unchanged files of an earlier pack.
func NewPack(dir string) (*Pack, error) {
	dir = filepath.Clean(dir)
	full, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	if filepath.Dir(full) == full {
		return nil, fmt.Errorf("%s: it is the root of the disk: give a folder with -o DIR", dir)
	}
	if base := filepath.Base(dir); base == "." || base == ".." {
		dir = full // a folder is renamed by its name
	}
	if err := CanWrite(dir); err != nil {
		return nil, err
	}
	p := &Pack{dir: dir, sums: map[string]string{}, lower: map[string]string{}, move: os.Rename}
	if err := p.makeAbove(filepath.Dir(dir)); err != nil {
		p.Abort()
		return nil, unwritten(dir, err)
	}
	if p.part, err = freshFolder(filepath.Dir(dir), "."+filepath.Base(dir)+".part"); err != nil {
		p.Abort()
		return nil, unwritten(dir, err)
	}
	return p, nil
}

// makeAbove makes the folders down to dir that are missing, and remembers them.
func (p *Pack) makeAbove(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := p.makeAbove(filepath.Dir(dir)); err != nil {
		return err
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		return err
	}
	p.made = append(p.made, dir)
	return nil
}

// freshFolder makes a folder in parent that was not there before.
func freshFolder(parent, name string) (string, error) {
	for n := 1; ; n++ {
		dir := filepath.Join(parent, fmt.Sprintf("%s%d", name, n))
		if err := os.Mkdir(dir, 0o777); err == nil || !errors.Is(err, fs.ErrExist) {
			return dir, err
		}
	}
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
	aside := ""
	if _, err := os.Lstat(p.dir); err == nil {
		// Renamed into a folder of its own, which nobody else has.
		room, err := freshFolder(filepath.Dir(p.dir), "."+filepath.Base(p.dir)+".old")
		if err != nil {
			return err
		}
		aside = filepath.Join(room, "pack")
		if err := p.move(p.dir, aside); err != nil {
			return errors.Join(err, os.Remove(room))
		}
	}
	if err := p.move(p.part, p.dir); err != nil {
		if aside != "" {
			err = errors.Join(err, p.move(aside, p.dir), os.Remove(filepath.Dir(aside)))
		}
		return err
	}
	p.part, p.made = "", nil
	if aside != "" {
		if err := os.RemoveAll(filepath.Dir(aside)); err != nil {
			return fmt.Errorf("the pack is in place, but the earlier one could not be removed: %w", err)
		}
	}
	return nil
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
	p.part, p.made = "", nil
}
