package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// answer is the stream of the program's answers. It keeps the first error, so that an
// answer that was lost on a full disk ends with a code of its own.
type answer struct {
	out  io.Writer
	lost error
}

// Write writes to the stream; after an error it goes on failing.
func (a *answer) Write(data []byte) (int, error) {
	if a.lost != nil {
		return 0, a.lost
	}
	n, err := a.out.Write(data)
	if err != nil {
		var at *fs.PathError
		if errors.As(err, &at) {
			err = at.Err
		}
		a.lost = fmt.Errorf("the answer could not be written: %w: give it room, or another place; folders that were named as written are there", err)
	}
	return n, a.lost
}
