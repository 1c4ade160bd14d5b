package bench

import (
	"bytes"
	"io/fs"
	"time"
)

// bytesFile is a file in memory.
type bytesFile struct {
	*bytes.Reader
	name string
	size int
}

func openBytes(name string, data []byte) fs.File {
	return bytesFile{bytes.NewReader(data), name, len(data)}
}

func (f bytesFile) Stat() (fs.FileInfo, error) { return bytesInfo{f.name, f.size}, nil }
func (f bytesFile) Close() error               { return nil }

// bytesInfo says what it is.
type bytesInfo struct {
	name string
	size int
}

func (i bytesInfo) Name() string       { return i.name }
func (i bytesInfo) Size() int64        { return int64(i.size) }
func (i bytesInfo) Mode() fs.FileMode  { return 0o444 }
func (i bytesInfo) ModTime() time.Time { return time.Time{} }
func (i bytesInfo) IsDir() bool        { return false }
func (i bytesInfo) Sys() any           { return nil }
