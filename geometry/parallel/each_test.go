package parallel

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// All are done, and the first error in order is returned.
func TestEach(t *testing.T) {
	var done atomic.Int32
	first, second := errors.New("3"), errors.New("7")
	err := Each(t.Context(), 10, func(i int) error {
		done.Add(1)
		switch i {
		case 3:
			return first
		case 7:
			return second
		}
		return nil
	})
	require.Equal(t, first, err)
	require.EqualValues(t, 10, done.Load())
}

// A context that is done ends the work.
func TestEachCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	var done atomic.Int32
	err := Each(ctx, 1000, func(i int) error {
		if done.Add(1) == 3 {
			cancel()
		}
		return nil
	})
	require.ErrorIs(t, err, context.Canceled)
	require.Less(t, done.Load(), int32(1000))
}

// One by one, no call begins before the one before has ended.
func TestEachOneByOne(t *testing.T) {
	var now atomic.Int32
	err := Each(OneByOne(t.Context()), 50, func(int) error {
		if now.Add(1) > 1 {
			t.Error("two at a time")
		}
		time.Sleep(time.Millisecond / 4)
		now.Add(-1)
		return nil
	})
	require.NoError(t, err)
}
