package scan

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// askedOf is a context that is done when it was asked so many times; it counts on.
type askedOf struct {
	context.Context
	times, done int
}

func (c *askedOf) Err() error {
	if c.times++; c.times > c.done {
		return context.Canceled
	}
	return nil
}

// A skin that is no longer wanted is given up within 1,024 triangles: after the context
// is done, it is asked once more by each of the two passes over the scan, and once by
// what returns its error.
func TestScanSkinEnds(t *testing.T) {
	s := scanOf(barrel{30, 200, 80}, 81, 64, 0, 1)
	whole := &askedOf{t.Context(), 0, 1 << 30}
	_, _, err := NewScanSkin(whole, s, ScanGridSpacing{})
	require.NoError(t, err)
	require.Greater(t, whole.times, 2*len(s.Triangles)/1024)
	for _, done := range []int{0, 1, whole.times / 2, whole.times - 1} {
		ctx := &askedOf{t.Context(), 0, done}
		_, _, err := NewScanSkin(ctx, s, ScanGridSpacing{})
		require.ErrorIs(t, err, context.Canceled)
		assert.LessOrEqual(t, ctx.times, done+3)
	}
}
