package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"maskloft/geometry/parallel"

	"github.com/stretchr/testify/require"
)

// A fault of the program, here or in work done in parallel, is one sentence; with the
// variable set it shows where it is.
func TestFaultInWords(t *testing.T) {
	fault := func() error {
		return parallel.Each(t.Context(), 3, func(i int) error {
			var none []int
			if i == 1 {
				return errors.New("second")
			}
			none[i]++
			return nil
		})
	}
	err := whole(fault)
	require.ErrorContains(t, err, "a fault of maskloft")
	for _, word := range []string{"runtime", "index", "goroutine", ".go", "panic", "\n"} {
		require.NotContains(t, err.Error(), word)
	}
	t.Setenv(traceVariable, "1")
	err = whole(fault)
	require.Contains(t, err.Error(), "index out of range")
	require.Contains(t, err.Error(), "fault_test.go")
	require.EqualError(t, whole(func() error { return errors.New("plain") }), "plain")
	require.NotContains(t, strings.Split(err.Error(), "\n")[0], "index")
}

// No package below this one has a line that prints.
func TestLibrariesPrintNothing(t *testing.T) {
	prints := regexp.MustCompile(`\bfmt\.Print|\bos\.Stdout\b|\bos\.Stderr\b|\blog\.[A-Z]|[^.\w]println\(`)
	for _, dir := range []string{"geometry", "glyphs", "layouts", "export"} {
		err := filepath.WalkDir(filepath.Join("..", "..", dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || filepath.Base(path) == "silent.go" {
				return err
			}
			src, err := os.ReadFile(path)
			if !strings.Contains(string(src), "\npackage main\n") { // a program of go generate
				require.Empty(t, prints.FindString(string(src)), path)
			}
			return err
		})
		require.NoError(t, err)
	}
}
