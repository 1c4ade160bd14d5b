package main

import (
	"bytes"
	"io/fs"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
)

// fullDisk takes so many bytes and then no more, as /dev/full does with none.
type fullDisk struct{ room int }

func (d *fullDisk) Write(data []byte) (int, error) {
	if len(data) <= d.room {
		d.room -= len(data)
		return len(data), nil
	}
	n := d.room
	d.room = 0
	return n, &fs.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.ENOSPC}
}

// An answer that was not written whole ends with code 2 whatever the verb, and says so.
func TestLostAnswer(t *testing.T) {
	for _, args := range [][]string{
		{"start"}, {"--help"}, {"rules", "--alphabets"}, {"rules", "an-i-9b/star-and-bars"},
		{"weather", "--air", "70F", "--rh", "65%", "--surface", "68F"}, {"build", "--show", "spec"}, {"check", "--json"},
	} {
		for _, room := range []int{0, 20} {
			var errs bytes.Buffer
			assert.Equal(t, exitFailed, run(t.Context(), args, &fullDisk{room}, &errs), args)
			assert.Contains(t, errs.String(), "the answer could not be written: no space left on device", args)
		}
	}
}
