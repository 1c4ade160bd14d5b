package reading

import (
	"fmt"
	"io/fs"
	"strings"
)

// Starter returns a commented layout to begin with: an example as one file, its
// aircraft written inside it; the demo where no name is given. A marking from a drawing
// beside the layout is commented out, since the drawing does not come with it.
func Starter(example string) (string, error) {
	files := DemoFiles()
	file, err := ExampleFile(example)
	if err != nil {
		return "", err
	}
	layout, err := fs.ReadFile(files, file)
	if err != nil {
		return "", err
	}
	spec, err := LoadFS(files, file)
	if err != nil {
		return "", err
	}
	name := spec.Aircraft.Place.File
	aircraft, err := fs.ReadFile(files, name)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	b.WriteString("# Change the names and numbers to those of your aircraft; every key is checked.\n")
	found := false
	for _, line := range strings.SplitAfter(withoutDrawings(string(layout)), "\n") {
		if !strings.HasPrefix(line, "aircraft: "+name) {
			b.WriteString(line)
			continue
		}
		found = true
		b.WriteString("\naircraft: # may also be the name of a file that holds these keys\n")
		for _, inner := range strings.SplitAfter(string(aircraft), "\n") {
			if strings.TrimSpace(inner) == "" {
				b.WriteString(inner)
				continue
			}
			b.WriteString("  " + inner)
		}
		b.WriteString("\n")
	}
	if !found {
		return "", fmt.Errorf("%s: no line `aircraft: %s`", file, name)
	}
	return b.String(), nil
}

// withoutDrawings comments out the markings of an example whose figure is a drawing.
func withoutDrawings(layout string) string {
	blocks := strings.Split(layout, "\n\n")
	for i, b := range blocks {
		if strings.Contains(b, "{drawing: ") {
			blocks[i] = "  # a drawing beside this file:\n" + strings.ReplaceAll("\n"+b, "\n  ", "\n  # ")[1:]
		}
	}
	return strings.Join(blocks, "\n\n")
}
