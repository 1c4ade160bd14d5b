//go:build !unix

package audit

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// claimName is the file by which a folder is claimed.
const claimName = ".claim"

// claim is a file in a folder that stands open while the program lives: where files that
// are open cannot be removed, as on Windows, no other program takes the folder.
type claim struct{ file *os.File }

// claimFolder takes the claim of a folder; errClaimed where another has it.
func claimFolder(dir string) (*claim, error) {
	name := filepath.Join(dir, claimName)
	if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, errClaimed
	}
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666)
	if err != nil {
		return nil, errClaimed
	}
	return &claim{f}, nil
}

// release gives the claim up; none is fine.
func (c *claim) release() {
	if c != nil && c.file != nil {
		_ = c.file.Close()
		_ = os.Remove(c.file.Name()) // gone where the folder is
		c.file = nil
	}
}

// loosen makes the folder free to be moved or removed: it is not while a file in it
// stands open.
func (c *claim) loosen() { c.release() }

// syncFolder does nothing: a folder cannot be brought to the disk by its name here.
func syncFolder(string) error { return nil }
