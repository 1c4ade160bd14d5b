package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// floors gives each package its floor. Imports go down only; a test may also look across
// its floor. The tests of the reader of drawings, which stands below the layouts, write
// with the writer, which stands above.
var floors = map[string]int{
	"geometry/same":       -1,
	"geometry":            0,
	"layouts/document":    0,
	"geometry/adjust":     0,
	"geometry/parallel":   0,
	"geometry/ended":      0,
	"geometry/trial":      0,
	"geometry/skin":       1,
	"geometry/camera":     1,
	"glyphs":              1,
	"layouts/standards":   1,
	"layouts/sprayday":    1,
	"geometry/scan":       2,
	"layouts":             3,
	"layouts/reading":     4,
	"layouts/masks":       4,
	"layouts/survey":      5,
	"layouts/taping":      5,
	"layouts/proportions": 5,
	"layouts/worked":      5,
	"layouts/job":         6,
	"export/sheet":        6,
	"export/drawing":      1,
	"export/samples":      7,
	"export/audit":        8,
	"export/views":        8,
	"export/tapelist":     9,
	"export/book":         10,
	"export/book/pack":    0,
	"export":              10,
	"export/bench":        11,
	"cmd/maskloft":        12,
}

// doors gives each outside library the files that may import it; tests may
// import the referees.
var doors = map[string][]string{
	"github.com/go-text":     {"glyphs/outline.go"},
	"golang.org/x/image":     {"glyphs/label.go"},
	"golang.org/x/sys":       {"export/audit/exchange_linux.go", "export/audit/exchange_darwin.go"},
	"golang.org/x/text":      {"export/sheet/pdftext.go"},
	"go.yaml.in/yaml/v3":     {"layouts/document/"},
	"gonum.org/v1/gonum":     {"geometry/scan/fit.go", "layouts/taping/structurefit.go", "geometry/camera/adjust.go"},
	"golang.org/x/sync":      {"geometry/parallel/each.go"},
	"github.com/spf13/cobra": {"cmd/maskloft/"},
	"github.com/spf13/pflag": {"cmd/maskloft/"},
}

// forTests are the packages that only tests import.
var forTests = []string{"geometry/ended", "geometry/trial", "layouts/worked", "export/samples"}

var testOnly = []string{"github.com/stretchr/testify", "pgregory.net/rapid", "github.com/rogpeppe/go-internal", "github.com/peterstace/simplefeatures"}

// The files are read here, in the test itself, so that the test cache notices
// when one changes.
func TestFloors(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := map[string]bool{}
	err := fs.WalkDir(os.DirFS(root), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != "." || d.Name() == "testdata" || path == "tools") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		pkg := filepath.ToSlash(filepath.Dir(path))
		floor, known := floors[pkg]
		require.True(t, known, "package %s has no floor: give it one in floors", pkg)
		seen[pkg] = true
		src, err := os.ReadFile(filepath.Join(root, path))
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, src, parser.ImportsOnly)
		if err != nil {
			return err
		}
		if pkg == "export/drawing" && strings.HasSuffix(path, "_test.go") {
			floor = floors["export/samples"]
		}
		isTest := strings.HasSuffix(path, "_test.go") || slices.Contains(forTests, pkg)
		for _, imp := range file.Imports {
			name, err := strconv.Unquote(imp.Path.Value)
			require.NoError(t, err)
			if own, ok := strings.CutPrefix(name, "maskloft/"); ok {
				below, known := floors[own]
				require.True(t, known, "%s imports %s, which has no floor", path, own)
				require.True(t, isTest || !slices.Contains(forTests, own), "%s imports %s, which only tests may", path, own)
				require.True(t, below < floor || own == pkg || isTest && (below == floor || slices.Contains(forTests, own)), "%s (floor %d) imports %s (floor %d): imports go down only", path, floor, own, below)
				continue
			}
			if !strings.Contains(strings.SplitN(name, "/", 2)[0], ".") {
				continue // standard library
			}
			require.True(t, isTest || throughDoor(name, path), "%s imports %s: not its door", path, name)
			for _, only := range testOnly {
				require.False(t, strings.HasPrefix(name, only) && !isTest, "%s imports %s outside a test", path, name)
			}
		}
		return nil
	})
	require.NoError(t, err)
	for pkg := range floors {
		require.True(t, seen[pkg], "package %s has a floor but no files", pkg)
	}
}

func throughDoor(name, path string) bool {
	for lib, files := range doors {
		if name == lib || strings.HasPrefix(name, lib+"/") {
			for _, f := range files {
				if path == f || strings.HasSuffix(f, "/") && strings.HasPrefix(path, f) {
					return true
				}
			}
		}
	}
	return false
}
