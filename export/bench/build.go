//go:build ignore

// Build makes the engine of the one-file page: this program as WebAssembly, packed, the
// checksum of what it is made of, and the script of the Go distribution that runs it.
package main

import (
	"bytes"
	"compress/gzip"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"maskloft/export/bench"
)

func main() {
	log.SetFlags(0)
	out := filepath.Join("built", "engine.wasm")
	sources, err := bench.SourcesSum(filepath.Join("..", ".."))
	check(err)
	build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", out, "maskloft/cmd/maskloft")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	build.Stderr = os.Stderr
	check(build.Run())
	engine, err := os.ReadFile(out)
	check(err)
	check(os.Remove(out))
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	check(err)
	_, err = w.Write(engine)
	check(err)
	check(w.Close())
	check(os.WriteFile(out+".gz", packed.Bytes(), 0o666))
	check(os.WriteFile(filepath.Join("built", "engine.sources"), []byte(sources+"\n"), 0o666))

	root, err := exec.Command("go", "env", "GOROOT").Output()
	check(err)
	runner, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	check(err)
	check(os.WriteFile(filepath.Join("built", "wasm_exec.js"), runner, 0o666))
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
