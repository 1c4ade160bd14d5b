package skin

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/ended"
)

// Work that is called off ends at the next step, whichever it is; work that is not has the
// same answer as ever.
func TestFlattenUntilDone(t *testing.T) {
	s := spheroid{30, 90}
	f := frameAt(t, s, g.Left, g.SidePosition{FS: 30, WL: 6})
	want, err := Flatten(t.Context(), s, f, box(20, 20), box(20, 20), g.NetTolerance)
	require.NoError(t, err)
	all := ended.Never(t.Context())
	got, err := Flatten(all, s, f, box(20, 20), box(20, 20), g.NetTolerance)
	require.NoError(t, err)
	require.Equal(t, want.Energy(), got.Energy())
	require.Greater(t, all.Asked, 10, "it is asked often")
	for from := 0; from < all.Asked-1; from += max(1, all.Asked/12) {
		one := &ended.After{Context: t.Context(), Most: from}
		_, err := Flatten(one, s, f, box(20, 20), box(20, 20), g.NetTolerance)
		require.ErrorIs(t, err, context.Canceled, "called off at question %d", from)
		require.LessOrEqual(t, one.Asked, from+3)
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
