package main

import (
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write the golden files anew")

// testFiles is the folder of lessons, aircraft, bad layouts, scripts and golden
// files.
var testFiles = filepath.Join("..", "..", "testdata")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"maskloft": main, "maskloft-peak": programWithPeak,
	})
}

// TestScripts runs testdata/scripts. Beside the files of its own a script finds
// aircraft/, lessons/ and bad/; they are copied here, in the test itself, so that
// the test cache notices when one changes.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join(testFiles, "scripts"),
		Setup: func(env *testscript.Env) error {
			for _, name := range []string{"aircraft", "lessons", "bad", "foreign"} {
				if err := os.CopyFS(filepath.Join(env.WorkDir, name), os.DirFS(filepath.Join(testFiles, name))); err != nil {
					return err
				}
			}
			return nil
		},
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "json": oneDocument, "same": sameFolder, "linked": linked, "shot": shot},
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}

// exits is the script command "exits CODE PROGRAM ARGS...": the program must end
// with that code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, wanted %d", got, want)
	}
}

// oneDocument is the script command "json FILE": the file holds one JSON document
// and nothing else.
func oneDocument(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: json FILE")
	}
	d := json.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
	var document map[string]any
	ts.Check(d.Decode(&document))
	if len(document) == 0 {
		ts.Fatalf("%s: the document is empty", args[0])
	}
	if err := d.Decode(&document); !errors.Is(err, io.EOF) {
		ts.Fatalf("%s: more than one document: %v", args[0], err)
	}
}

var linkedFile = regexp.MustCompile(`(?:href|src)="([^"#:]+)[^":]*"`)

// linked is the script command "linked PACK...": every file that the job book of a pack
// links or shows is in it.
func linked(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: linked PACK...")
	}
	for _, pack := range args {
		links := linkedFile.FindAllStringSubmatch(ts.ReadFile(filepath.Join(pack, "index.html")), -1)
		if len(links) < 5 {
			ts.Fatalf("%s: %d links in the job book", pack, len(links))
		}
		for _, link := range links {
			if _, err := os.Stat(ts.MkAbs(filepath.Join(pack, filepath.FromSlash(link[1])))); err != nil {
				ts.Fatalf("%s: the job book links a file that is not there: %v", pack, err)
			}
		}
	}
}

// sameFolder is the script command "same A B": two folders hold files of the same
// names and bytes. With ! they differ.
func sameFolder(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: same FOLDER FOLDER")
	}
	a, b := listing(ts, args[0]), listing(ts, args[1])
	if (a == b) == neg {
		ts.Fatalf("%s and %s: same is %v", args[0], args[1], a == b)
	}
}

// listing returns the names and contents of all files of a folder.
func listing(ts *testscript.TestScript, dir string) string {
	var b strings.Builder
	root := ts.MkAbs(dir)
	ts.Check(filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		b.WriteString(strconv.Quote(strings.TrimPrefix(path, root)) + " " + strconv.Quote(string(data)) + "\n")
		return err
	}))
	if b.Len() == 0 {
		ts.Fatalf("%s holds no file", dir)
	}
	return b.String()
}
