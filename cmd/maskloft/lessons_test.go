package main

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every lesson builds without a finding of level stop, and its pack is whole.
func TestLessons(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(testFiles, "lessons", "*.yaml"))
	require.NoError(t, err)
	require.Greater(t, len(files), 3)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "pack")
			var out, errs bytes.Buffer
			require.Equal(t, exitClean, run(t.Context(), []string{"build", file, "-o", dir}, &out, &errs), "%s%s", &out, &errs)
			assert.Empty(t, errs.String())
			for _, name := range []string{"report.json", "manifest.txt", "tape-checklist.csv", "tape-checklist.md"} {
				assert.FileExists(t, filepath.Join(dir, name))
			}
			views, err := filepath.Glob(filepath.Join(dir, "*-view-*.svg"))
			require.NoError(t, err)
			assert.Len(t, views, 2, "both sides, or a wing from above and from below")
			cut, err := filepath.Glob(filepath.Join(dir, "cut", "*.svg"))
			require.NoError(t, err)
			assert.NotEmpty(t, cut)
		})
	}
}
