package job

import (
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"
)

// Why film does not lie flat is found out once for both sides, however often it is asked.
func TestRefusedFlatIsKept(t *testing.T) {
	text, err := os.ReadFile("../../testdata/lessons/05-faired.yaml")
	require.NoError(t, err)
	steep := strings.Replace(string(text), "circle: {radius: 12, wl: 57}", "circle: {radius: 12, wl: 570}", 1)
	require.NotEqual(t, string(text), steep)
	say := func(string) func(string) { return func(string) {} }
	f := Open("steep.yaml", []byte(steep), reading.InFS(os.DirFS("../../testdata/lessons")), say)
	var mu sync.Mutex
	flats := 0
	f.kept.computed = func(kind string) {
		mu.Lock()
		defer mu.Unlock()
		if kind == "flat" {
			flats++
		}
	}
	j, err := f.Job()
	require.NoError(t, err)
	laid, err := j.Laid(t.Context())
	require.NoError(t, err)
	require.Empty(t, laid)
	_, err = j.Tilings(t.Context())
	require.NoError(t, err)
	var said []string
	for _, x := range j.Findings() {
		if strings.Contains(x.Message, "lie flat") || strings.Contains(x.Message, "does not settle") {
			said = append(said, x.Message)
		}
	}
	require.Len(t, said, 2)
	require.Equal(t, 1, flats)
}
