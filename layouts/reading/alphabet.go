package reading

import (
	"errors"
	"strings"

	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// alphabet reads the name of an alphabet, or of a file with one, which is looked
// for beside the layout. What is wrong with the file is reported at its own lines.
func (r *layoutReader) alphabet(v value) (string, *glyphs.Alphabet) {
	name := v.Text()
	if !isAlphabetFile(name) {
		return name, nil
	}
	file := r.source.Beside(r.file, name)
	data, err := r.source.read(file)
	if err == nil && len(data) > document.MaxSize {
		err = errors.New("it is too large")
	}
	if err != nil {
		v.Fail("the alphabet file is looked for beside the layout; check its name", "cannot read the alphabet file %s: %s", file, reason(err))
		return name, nil
	}
	a, err := glyphs.Parse(file, data)
	var problems layouts.Problems
	if errors.As(err, &problems) {
		r.beside = append(r.beside, problems...)
	}
	return name, a
}

// isAlphabetFile tells a file name from the name of an embedded alphabet.
func isAlphabetFile(name string) bool { return strings.HasSuffix(name, ".yaml") }
