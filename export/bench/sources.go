//go:build !js

package bench

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// sourceFolders hold what the engine is made of.
var sourceFolders = []string{"cmd", "export", "geometry", "glyphs", "layouts"}

// SourcesSum is a checksum of all files below root that the engine of the page is made of:
// names and contents, without tests and without the page itself.
func SourcesSum(root string) (string, error) {
	sum := sha256.New()
	add := func(name string) error {
		data, err := os.ReadFile(filepath.Join(root, name))
		if err == nil {
			fmt.Fprintf(sum, "%s %d\n", filepath.ToSlash(name), len(data))
			sum.Write(data)
		}
		return err
	}
	for _, name := range []string{"go.mod", "go.sum"} {
		if err := add(name); err != nil {
			return "", err
		}
	}
	for _, folder := range sourceFolders {
		err := filepath.WalkDir(filepath.Join(root, folder), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			name, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			if d.IsDir() {
				if n := filepath.ToSlash(name); d.Name() == "testdata" || n == "export/bench/built" || n == "export/bench/page" {
					return filepath.SkipDir
				}
				return nil
			}
			if strings.HasSuffix(name, "_test.go") || !d.Type().IsRegular() {
				return nil
			}
			return add(name)
		})
		if err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// staleEngine tells whether the engine was made of other sources than those that the
// program stands or runs among. A release carries no checksum: it is built in one step
// with its engine.
func staleEngine() error {
	made, err := built.ReadFile("built/engine.sources")
	if err != nil {
		return nil
	}
	var among []string
	if here, err := os.Getwd(); err == nil {
		among = append(among, here)
	}
	if program, err := os.Executable(); err == nil {
		among = append(among, filepath.Dir(program))
	}
	for _, folder := range among {
		root := sourceRoot(folder)
		if root == "" {
			continue
		}
		if now, err := SourcesSum(root); err == nil && strings.TrimSpace(string(made)) != now {
			return ErrStaleEngine
		}
	}
	return nil
}

// sourceRoot is the folder of this module that a folder lies in; empty: in none.
func sourceRoot(folder string) string {
	for {
		if text, err := os.ReadFile(filepath.Join(folder, "go.mod")); err == nil && strings.HasPrefix(string(text), "module maskloft\n") {
			return folder
		}
		above := filepath.Dir(folder)
		if above == folder {
			return ""
		}
		folder = above
	}
}
