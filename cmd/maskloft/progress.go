package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// progress writes one line, over and over, once the work has lasted a second.
// It writes nothing where the output is not a terminal.
type progress struct {
	w     io.Writer // nil: silent
	start time.Time
	mu    *sync.Mutex
	wrote *bool
}

func newProgress(w io.Writer) progress {
	return progress{w: w, start: time.Now(), mu: &sync.Mutex{}, wrote: new(bool)}
}

// step returns a function to call with the name of each job begun.
func (p progress) step(what string) func(string) {
	return func(name string) {
		if p.w == nil || time.Since(p.start) < time.Second {
			return
		}
		p.mu.Lock()
		defer p.mu.Unlock()
		fmt.Fprintf(p.w, "\r\x1b[K%s: %s", what, name)
		*p.wrote = true
	}
}

// done clears the line.
func (p progress) done() {
	if p.w != nil && *p.wrote {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
