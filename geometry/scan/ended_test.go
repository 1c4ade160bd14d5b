package scan

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/geometry/ended"
)

// A skin that is no longer wanted is given up within 1,024 triangles: after the context
// is done, it is asked once more by each of the two passes over the scan, and once by
// what returns its error.
func TestScanSkinEnds(t *testing.T) {
	s := scanOf(barrel{30, 200, 80}, 81, 64, 0, 1)
	whole := ended.Never(t.Context())
	_, _, err := NewScanSkin(whole, s, ScanGridSpacing{})
	require.NoError(t, err)
	require.Greater(t, whole.Asked, 2*len(s.Triangles)/1024)
	for _, done := range []int{0, 1, whole.Asked / 2, whole.Asked - 1} {
		ctx := &ended.After{Context: t.Context(), Most: done}
		_, _, err := NewScanSkin(ctx, s, ScanGridSpacing{})
		require.ErrorIs(t, err, context.Canceled)
		assert.LessOrEqual(t, ctx.Asked, done+3)
	}
}
