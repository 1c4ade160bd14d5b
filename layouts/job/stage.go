package job

import (
	"context"
	"sync"

	"maskloft/layouts"
)

// stage is the value of one step of the path and what was found on the way, computed
// when it is first asked for. An error, a cancelled context among them, is not kept:
// the next call computes it again.
type stage[T any] struct {
	mu       sync.Mutex
	done     bool
	value    T
	findings []layouts.Finding
}

// get returns the value, computing it where it is not there yet.
func (s *stage[T]) get(ctx context.Context, compute func() (T, []layouts.Finding, error)) (T, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.done {
		return s.value, nil
	}
	var none T
	if err := ctx.Err(); err != nil {
		return none, err
	}
	value, findings, err := compute()
	if err != nil {
		return none, err
	}
	s.value, s.findings, s.done = value, findings, true
	return value, nil
}

// found returns what was found, where the stage is computed.
func (s *stage[T]) found() []layouts.Finding {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.findings
}
