package geometry

import (
	"os"
	"sync"
)

// silent counts the calls of the polygon clipper that run. It prints warnings to
// os.Stdout, which would spoil the answers of a program; so while any runs, os.Stdout is
// closed, and what other goroutines print there meanwhile is lost: a program that prints
// keeps the stream that it was started with, as the one of this module does.
var silent struct {
	sync.Mutex
	calls int
	out   *os.File
}

// silenced closes os.Stdout until what it returns is called.
func silenced() (end func()) {
	silent.Lock()
	defer silent.Unlock()
	if silent.calls++; silent.calls == 1 {
		silent.out, os.Stdout = os.Stdout, nil
	}
	return func() {
		silent.Lock()
		defer silent.Unlock()
		if silent.calls--; silent.calls == 0 {
			os.Stdout = silent.out
		}
	}
}
