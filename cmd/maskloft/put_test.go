package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Where one of several files cannot be written, those before it are as they were.
func TestPutFiles(t *testing.T) {
	dir := t.TempDir()
	one := filepath.Join(dir, "one.txt")
	require.NoError(t, os.WriteFile(one, []byte("old"), 0o600))
	names := func() (out []string) {
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		for _, e := range entries {
			out = append(out, e.Name())
		}
		return out
	}
	tooLong := "two." + strings.Repeat("x", 300)
	err := putFiles(dir, []packFile{{"one.txt", []byte("new")}, {tooLong, nil}}, 0o640)
	require.ErrorContains(t, err, filepath.Join(dir, tooLong)+": it cannot be written: ")
	require.NotContains(t, err.Error(), ".maskloft-")
	data, err := os.ReadFile(one)
	require.NoError(t, err)
	require.Equal(t, "old", string(data))
	require.Equal(t, []string{"one.txt"}, names())

	require.NoError(t, putFiles(dir, []packFile{{"one.txt", []byte("new")}, {"two.txt", nil}}, 0o640))
	data, err = os.ReadFile(one)
	require.NoError(t, err)
	require.Equal(t, "new", string(data))
	require.Equal(t, []string{"one.txt", "two.txt"}, names())
	info, err := os.Stat(one)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o640), info.Mode().Perm())
}
