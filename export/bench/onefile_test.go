package bench

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"

	"maskloft/layouts/reading"
)

// TestEscaped: every byte comes back from a page in windows-1252, whose characters are
// counted by the encoding's own table.
func TestEscaped(t *testing.T) {
	var all []byte
	for i := range 1024 {
		all = append(all, byte(i), byte(i*7))
	}
	held := escaped(all)
	for _, c := range []byte{0, '\r', '<'} {
		require.NotContains(t, held, c)
	}
	var back []byte
	for i := 0; i < len(held); i++ {
		c := held[i]
		if c == '=' {
			i++
			c = held[i] - 64
		}
		back = append(back, c)
	}
	require.Equal(t, all, back)
	// one character a byte; what the table leaves undefined is the control of that number,
	// as browsers have it
	text, err := charmap.Windows1252.NewDecoder().Bytes(held)
	require.NoError(t, err)
	require.Len(t, []rune(string(text)), len(held))
}

// TestOneFile: the page is whole, small enough, and lets nothing out; without the engine
// it is told what to run.
func TestOneFile(t *testing.T) {
	page, err := OneFile(context.Background(), "test", testKit(), "mine.yaml", []byte(demoText(t)+"# é 😀 </script>\n"), reading.InFS(reading.DemoFiles()))
	if errors.Is(err, ErrNoEngine) {
		require.ErrorContains(t, err, "go generate ./export/bench")
		t.Skip("the engine was not built")
	}
	if errors.Is(err, ErrStaleEngine) {
		t.Skip(err)
	}
	require.NoError(t, err)
	require.Less(t, len(page), 12_000_000)
	head, _, ok := bytes.Cut(page, []byte(`id="maskloft-engine">`))
	require.True(t, ok)
	text := string(head)
	require.Contains(t, text[:1024], `<meta charset="windows-1252">`)
	require.Contains(t, text, "connect-src 'none'")
	require.Contains(t, text, `\u00e9 \ud83d\ude00 \u003c/script\u003e`)
	require.Equal(t, 3, strings.Count(text, "</script>"), "the layout, the worker and the page")
	require.NotContains(t, text, "http://127")
	again, err := OneFile(context.Background(), "test", testKit(), "mine.yaml", []byte(demoText(t)+"# é 😀 </script>\n"), reading.InFS(reading.DemoFiles()))
	require.NoError(t, err)
	require.True(t, bytes.Equal(page, again), "the same layout gives the same page")
}
