package survey

import (
	"testing"

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
