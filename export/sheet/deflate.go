package sheet

import (
	"bytes"
	"compress/zlib"
	"io"
	"sync"
)

// packers are idle writers of zlib streams. A new one clears a megabyte of tables, which
// is more work than packing a page.
var packers = sync.Pool{New: func() any {
	w, err := zlib.NewWriterLevel(io.Discard, zlib.BestSpeed) // coordinates hold few long runs: trying harder gains little
	if err != nil {
		panic(err) // the level is one that there is
	}
	return w
}}

// deflated returns what put writes, as a zlib stream (RFC 1950).
func deflated(put func(w io.Writer) error) ([]byte, error) {
	var out bytes.Buffer
	w := packers.Get().(*zlib.Writer)
	defer packers.Put(w)
	w.Reset(&out)
	if err := put(w); err != nil {
		return nil, err
	}
	err := w.Close()
	return out.Bytes(), err
}

// deflatedBytes is [deflated] of what is there whole.
func deflatedBytes(data []byte) ([]byte, error) {
	return deflated(func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
