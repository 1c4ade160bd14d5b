package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// fused are the functions of package math whose last bit depends on the processor and that
// geometry/same has.
var fused = []string{"Sin", "Cos", "Sincos", "Tan", "Asin", "Acos", "Atan", "Atan2", "Hypot", "Exp", "Expm1", "Log", "Log10", "Cbrt", "Pow"}

// What a pack is made of takes these functions from geometry/same.
func TestRoundedFunctions(t *testing.T) {
	root := filepath.Join("..", "..")
	looked := 0
	for _, top := range []string{"geometry", "glyphs", "layouts", "export", "cmd"} {
		require.NoError(t, fs.WalkDir(os.DirFS(root), top, func(path string, d fs.DirEntry, err error) error {
			pkg := filepath.ToSlash(filepath.Dir(path))
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || slices.Contains(forTests, pkg) || pkg == "geometry/same" {
				return err
			}
			src, err := os.ReadFile(filepath.Join(root, path))
			if err != nil {
				return err
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, path, src, 0)
			if err != nil {
				return err
			}
			looked++
			ast.Inspect(file, func(n ast.Node) bool {
				if x, ok := n.(*ast.SelectorExpr); ok {
					from, _ := x.X.(*ast.Ident)
					require.False(t, from != nil && from.Name == "math" && slices.Contains(fused, x.Sel.Name), "%s: math.%s: write same.%s", set.Position(x.Pos()), x.Sel.Name, x.Sel.Name)
				}
				return true
			})
			return nil
		}))
	}
	require.Greater(t, looked, 300)
}
