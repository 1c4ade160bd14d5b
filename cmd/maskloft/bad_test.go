package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every bad layout ends with code 2 for every verb, says on standard error where
// it is wrong and what to type, and writes nothing.
func TestBadLayouts(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(testFiles, "bad", "*.yaml"))
	require.NoError(t, err)
	require.Greater(t, len(files), 10)
	place := regexp.MustCompile(`(?m)^\S*\.yaml:\d+:\d+: [^A-Z]`)
	for _, file := range files {
		name := filepath.Base(file)
		if name == "hack.yaml" { // the aircraft of the others
			continue
		}
		t.Run(name, func(t *testing.T) {
			above := t.TempDir()
			dir := filepath.Join(above, "pack")
			for _, args := range [][]string{
				{"build", file, "-o", dir},
				{"build", "--json", file, "-o", dir},
				{"build", "--show", "masks", file},
				{"preview", file, "-o", dir},
				{"tape", file},
			} {
				var out, errs bytes.Buffer
				require.Equal(t, exitFailed, run(t.Context(), args, &out, &errs), args)
				assert.Empty(t, out.String(), args)
				assert.Contains(t, errs.String(), "hint: ", args)
				if name != "empty.yaml" { // the whole file is meant
					assert.Regexp(t, place, errs.String(), args)
				}
				left, err := os.ReadDir(above)
				require.NoError(t, err)
				assert.Empty(t, left, "%v left something behind", args)
			}
		})
	}
}
