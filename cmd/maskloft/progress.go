package main

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
	"unicode/utf8"
)

// progress writes one line, over and over, once the work has lasted a second.
// It writes nothing where the output is not a terminal. What stood there is covered by
// blanks, since a console of Windows prints the sequence that erases a line.
type progress struct {
	w     io.Writer // nil: silent
	start time.Time
	mu    *sync.Mutex
	long  *int // characters of the line that stands there
}

func newProgress(w io.Writer) progress {
	return progress{w: w, start: time.Now(), mu: &sync.Mutex{}, long: new(int)}
}

// step returns a function to call with the name of each job begun.
func (p progress) step(what string) func(string) {
	return func(name string) {
		if p.w == nil || time.Since(p.start) < time.Second {
			return
		}
		p.mu.Lock()
		defer p.mu.Unlock()
		p.put(what + ": " + name)
	}
}

// done clears the line.
func (p progress) done() {
	if p.w != nil && *p.long > 0 {
		p.put("")
	}
}

// put writes a line over the one before.
func (p progress) put(line string) {
	long := utf8.RuneCountInString(line)
	fmt.Fprint(p.w, "\r"+line+strings.Repeat(" ", max(0, *p.long-long))+strings.Repeat("\b", max(0, *p.long-long)))
	*p.long = long
}
