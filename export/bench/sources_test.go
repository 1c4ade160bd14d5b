package bench

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"
)

// TestSourcesSum: what the engine is made of changes the sum; tests and the page do not.
func TestSourcesSum(t *testing.T) {
	root := t.TempDir()
	put := func(name, text string) {
		path := filepath.Join(root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	}
	sum := func() string {
		s, err := SourcesSum(root)
		require.NoError(t, err)
		return s
	}
	for _, folder := range sourceFolders {
		put(folder+"/doc.go", "package p")
	}
	put("go.mod", "module maskloft")
	put("go.sum", "")
	first := sum()
	require.Equal(t, first, sum())
	for _, other := range []string{"cmd/p_test.go", "export/bench/built/page.js", "export/bench/page/app.ts", "layouts/testdata/a.yaml", ".ci/run"} {
		put(other, "x")
		require.Equal(t, first, sum(), other)
	}
	was := first
	for _, source := range []string{"layouts/standards/documents/a.yaml", "cmd/doc.go", "go.sum", "geometry/new.go"} {
		put(source, "y")
		require.NotEqual(t, was, sum(), source)
		was = sum()
	}
	require.NoError(t, os.Rename(filepath.Join(root, "geometry/new.go"), filepath.Join(root, "geometry/named.go")))
	require.NotEqual(t, was, sum(), "a name")
}

// TestStaleEngine: an engine in this tree is of what stands here, or is refused.
func TestStaleEngine(t *testing.T) {
	require.Equal(t, "", sourceRoot(t.TempDir()))
	here, err := os.Getwd()
	require.NoError(t, err)
	root := sourceRoot(here)
	require.Equal(t, filepath.Dir(filepath.Dir(here)), root)
	now, err := SourcesSum(root)
	require.NoError(t, err)
	made, err := built.ReadFile("built/engine.sources")
	if err != nil || string(made) == now+"\n" {
		require.NoError(t, staleEngine())
		return
	}
	require.ErrorIs(t, staleEngine(), ErrStaleEngine)
	_, err = OneFile(t.Context(), "test", testKit(), "mine.yaml", []byte(demoText(t)), reading.InFS(reading.DemoFiles()))
	require.ErrorContains(t, err, "go generate ./export/bench")
}
