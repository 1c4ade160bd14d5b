package skin

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// stopwatch is a context that is done from a time on, and tells how often it was asked.
type stopwatch struct {
	context.Context
	asked int
	from  int
}

func (s *stopwatch) Err() error {
	if s.asked++; s.asked > s.from {
		return context.Canceled
	}
	return nil
}

// Work that is called off ends at the next step, whichever it is; work that is not has the
// same answer as ever.
func TestFlattenUntilDone(t *testing.T) {
	s := spheroid{30, 90}
	f := frameAt(t, s, g.Left, g.SidePosition{FS: 30, WL: 6})
	want, err := Flatten(t.Context(), s, f, box(20, 20), box(20, 20), g.NetTolerance)
	require.NoError(t, err)
	all := &stopwatch{Context: t.Context(), from: 1 << 30}
	got, err := Flatten(all, s, f, box(20, 20), box(20, 20), g.NetTolerance)
	require.NoError(t, err)
	require.Equal(t, want.Energy(), got.Energy())
	require.Greater(t, all.asked, 10, "it is asked often")
	for from := 0; from < all.asked-1; from += max(1, all.asked/12) {
		one := &stopwatch{Context: t.Context(), from: from}
		_, err := Flatten(one, s, f, box(20, 20), box(20, 20), g.NetTolerance)
		require.ErrorIs(t, err, context.Canceled, "called off at question %d", from)
		require.LessOrEqual(t, one.asked, from+3)
	}
}

// From one question to the next it takes no more than a part of the whole.
func TestFlattenUntilDoneIsAskedOften(t *testing.T) {
	s := spheroid{30, 90}
	f := frameAt(t, s, g.Left, g.SidePosition{FS: 30, WL: 6})
	ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
	defer cancel()
	_, err := Flatten(ctx, s, f, box(20, 20), box(20, 20), g.NetTolerance)
	require.ErrorIs(t, err, context.DeadlineExceeded)
}
