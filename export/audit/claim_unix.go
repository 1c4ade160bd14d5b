//go:build unix

package audit

import (
	"errors"
	"os"
	"syscall"
)

// claim is a lock on a folder that ends with the program that took it, however it ends.
type claim struct{ folder *os.File }

// claimFolder takes the claim of a folder; errClaimed where another has it.
func claimFolder(dir string) (*claim, error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		err = errClaimed
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return &claim{f}, nil
}

// release gives the claim up; none is fine.
func (c *claim) release() {
	if c != nil {
		_ = c.folder.Close() // the lock goes with it
	}
}

// loosen makes the folder free to be moved or removed; here it always is.
func (c *claim) loosen() {}

// syncFolder brings the names in a folder to the disk.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, syscall.EINVAL) {
		err = nil // a file system without it
	}
	return errors.Join(err, f.Close())
}
