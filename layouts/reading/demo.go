package reading

import (
	"embed"
	"io/fs"

	"maskloft/layouts"
)

//go:embed demo/*.yaml
var demoFiles embed.FS

// DemoName is the name of the demo layout in [DemoFiles].
const DemoName = "demo.yaml"

// DemoFiles returns the demo layout and its aircraft file, both invented, for
// reading as they are or copying as a start.
func DemoFiles() fs.FS {
	sub, err := fs.Sub(demoFiles, "demo")
	if err != nil {
		panic(err) // "demo" is a valid path
	}
	return sub
}

// Demo loads the demo layout.
func Demo() (*layouts.Spec, error) { return LoadFS(DemoFiles(), DemoName) }
