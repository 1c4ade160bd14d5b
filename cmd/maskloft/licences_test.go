package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// notLinked are modules of go.mod that no program contains: they serve tests, or what
// libraries themselves are tested with.
var notLinked = append([]string{
	"github.com/davecgh/go-spew", "github.com/pmezard/go-difflib", "gopkg.in/yaml.v3", "golang.org/x/tools",
}, testOnly...)

// Every module that go.mod names, in the version that it names, has a part of its own in
// the licence texts, and no part is of a module that is gone; each part has a text.
func TestLicencesAreWhole(t *testing.T) {
	mod, err := os.ReadFile("../../go.mod")
	require.NoError(t, err)
	wanted := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^\s*(?:require )?(\S+\.\S+/\S+) (v\S+)`).FindAllStringSubmatch(string(mod), -1) {
		wanted[m[1]+" "+m[2]] = true
	}
	require.Greater(t, len(wanted), 10)
	parts := map[string]bool{}
	for _, part := range strings.Split("\n"+licenceTexts, "\n== ")[1:] {
		head, text, _ := strings.Cut(part, "\n")
		parts[head] = true
		assert.Greater(t, len(text), 100, head)
	}
	for module := range wanted {
		path, _, _ := strings.Cut(module, " ")
		serves := false
		for _, n := range notLinked {
			serves = serves || path == n
		}
		assert.Equal(t, !serves, parts[module], "%s: run .ci/licences", module)
	}
	for head := range parts {
		if strings.Contains(head, " v") {
			assert.True(t, wanted[head], "%s is no longer in go.mod: run .ci/licences", head)
		}
	}
	// what is embedded in the pages
	require.NoError(t, filepath.WalkDir("../../export", func(file string, d fs.DirEntry, err error) error {
		if err != nil || !strings.Contains(d.Name(), "LICENSE") || !strings.HasSuffix(file, ".txt") {
			return err
		}
		assert.True(t, parts["embedded in pages: "+strings.TrimPrefix(filepath.ToSlash(file), "../../")], "%s: run .ci/licences", file)
		return nil
	}))
}
