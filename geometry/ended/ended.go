// Package ended serves tests alone: it tells whether work ends when its context is done.
package ended

import "context"

// After is a context that is done once it was asked more than Most times.
type After struct {
	context.Context
	Most  int // questions answered before it is done
	Asked int // questions until now
}

// Never returns a context that counts how often it is asked and is never done.
func Never(c context.Context) *After { return &After{Context: c, Most: 1 << 30} }

// Err counts the question.
func (a *After) Err() error {
	if a.Asked++; a.Asked > a.Most {
		return context.Canceled
	}
	return nil
}
