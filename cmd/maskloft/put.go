package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// putFiles writes files into a folder, each in the place of an earlier one in one step.
// All are written under other names before the first is put in place, so that a full disk
// leaves what was there before and nothing else. The folder must be there.
//
// Errors: a file cannot be written; they begin with its name.
func putFiles(folder string, files []packFile, mode fs.FileMode) (err error) {
	var written []string
	defer func() {
		if err != nil {
			for _, name := range written {
				_ = os.Remove(name) // those put in place are gone from here
			}
		}
	}()
	for _, f := range files {
		temporary, err := os.CreateTemp(folder, ".maskloft-*"+filepath.Ext(f.name))
		if err != nil {
			return unput(folder, f.name, err)
		}
		written = append(written, temporary.Name())
		_, err = temporary.Write(f.data)
		if err = errors.Join(err, temporary.Chmod(mode), temporary.Sync(), temporary.Close()); err != nil {
			return unput(folder, f.name, err)
		}
	}
	for i, f := range files {
		if err := os.Rename(written[i], filepath.Join(folder, f.name)); err != nil {
			return unput(folder, f.name, err)
		}
	}
	return nil
}

// unput says which file could not be written, and why, without the name it had meanwhile.
func unput(folder, name string, err error) error {
	var at *fs.PathError
	var moved *os.LinkError
	switch {
	case errors.As(err, &at):
		err = at.Err
	case errors.As(err, &moved):
		err = moved.Err
	}
	return fmt.Errorf("%s: it cannot be written: %w: give it room, or another place", filepath.Join(folder, name), err)
}
