// Command pack packs the library of the view in three dimensions for the job book; run it
// by `go generate ./export/book`.
package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"os"
)

const library = "three-0.187.0.min.js"

func main() {
	if err := pack(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func pack() error {
	text, err := os.ReadFile("pack/" + library)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := z.Write(text); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	return os.WriteFile("page/"+library+".gz", b.Bytes(), 0o644)
}
