package reading

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
)

//go:embed demo/*.yaml demo/*.svg
var demoFiles embed.FS

// DemoName is the name of the demo layout in [DemoFiles].
const DemoName = "demo.yaml"

// Examples are the names of the invented aircraft, the demo first, and their layouts in
// [DemoFiles].
var Examples = []struct{ Name, File string }{
	{"kittock", DemoName},         // stringers and fabric, one seat, 1944
	{"sandling", "sandling.yaml"}, // a silver biplane, two seats, 1933, in millimetres
}

// ExampleFile returns the layout of an example in [DemoFiles]; of the demo where no name
// is given.
func ExampleFile(name string) (string, error) {
	var names []string
	for _, e := range Examples {
		if e.Name == name || name == "" {
			return e.File, nil
		}
		names = append(names, e.Name)
	}
	return "", fmt.Errorf("no example is called %q: write %s", name, strings.Join(names, " or "))
}

// DemoFiles returns the layouts and aircraft files of the examples, all invented, for
// reading as they are or copying as a start.
func DemoFiles() fs.FS {
	sub, err := fs.Sub(demoFiles, "demo")
	if err != nil {
		panic(err) // "demo" is a valid path
	}
	return sub
}
