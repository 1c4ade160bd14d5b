package drawing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A square of four lines on each of two layers, in turn, and a line by itself: each square
// is one closed outline, and stays on its layer.
func TestLinesAreJoined(t *testing.T) {
	var b strings.Builder
	line := func(layer, from, to string) {
		x, y, _ := strings.Cut(from, " ")
		u, v, _ := strings.Cut(to, " ")
		b.WriteString("0\nLINE\n8\n" + layer + "\n10\n" + x + "\n20\n" + y + "\n11\n" + u + "\n21\n" + v + "\n")
	}
	corners := []string{"0 0", "1 0", "1 1", "0 1", "0 0"}
	for i := range 4 {
		line("a", corners[i], corners[i+1])
		line("b", corners[i+1], corners[i])
	}
	line("a", "5 5", "6 6")
	d, err := ReadDXF(strings.NewReader("0\nSECTION\n2\nENTITIES\n" + b.String() + "0\nENDSEC\n0\nEOF\n"))
	require.NoError(t, err)
	require.Len(t, d.Painted(), 9)
	var closed, open int
	for _, it := range d.Joined() {
		require.Len(t, it.Path, 1)
		if it.Path[0].Closed() {
			closed++
			assert.InDelta(t, 1, max(it.Path.Area(), -it.Path.Area()), 1e-12)
		} else {
			open++
		}
	}
	assert.Equal(t, []int{2, 1}, []int{closed, open})
}
