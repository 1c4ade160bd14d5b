package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every stage of the demo is held against testdata/golden; -update writes them.
func TestShow(t *testing.T) {
	j, err := openDemo()
	require.NoError(t, err)
	for _, stage := range stages {
		var got bytes.Buffer
		require.NoError(t, show(t.Context(), &got, stage, j))
		require.NotEmpty(t, got.String())
		golden := filepath.Join(testFiles, "golden", "demo-"+stage+".txt")
		if *update {
			require.NoError(t, os.WriteFile(golden, got.Bytes(), 0o666))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		sameLines(t, golden, string(want), got.String())
	}
	assert.Error(t, show(t.Context(), &bytes.Buffer{}, "film", j))
}

// sameLines reports the first line that differs.
func sameLines(t testing.TB, name, want, got string) {
	t.Helper()
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			t.Errorf("%s:%d: if it is meant to change, write it anew with -update\n got: %s\nwant: %s", name, i+1, g[i], w[i])
			return
		}
	}
	assert.Equal(t, len(w), len(g), "%s: lines", name)
}

// Each golden file is of a stage that there is.
func TestShowGoldensAreUsed(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(testFiles, "golden", "demo-*.txt"))
	require.NoError(t, err)
	assert.Len(t, files, len(stages))
}
