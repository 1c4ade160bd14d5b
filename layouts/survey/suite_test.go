package survey

import (
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/worked"
)

// lay lays a layout and inspects it.
func lay(t testing.TB, l *layouts.Layout) ([]masks.Laid, []layouts.Finding) {
	t.Helper()
	laid := worked.Lay(t, l)
	return laid, Inspect(laid)
}

// survey looks round laid markings.
func survey(t testing.TB, l *layouts.Layout, laid []masks.Laid) ([]Surveyed, []layouts.Finding) {
	t.Helper()
	surveyed, findings, err := Survey(t.Context(), l, laid, func(one masks.Laid) (Surveyed, []layouts.Finding, error) { return One(t.Context(), l, one) })
	require.NoError(t, err)
	return surveyed, findings
}
