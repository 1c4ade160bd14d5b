package reading

import (
	"errors"
	"strings"

	"maskloft/glyphs"
	"maskloft/layouts"
)

// alphabet reads the name of an alphabet, or of a file with one, which is looked
// for beside the layout. What is wrong with the file is reported at its own lines.
func (r *layoutReader) alphabet(v value) (string, *glyphs.Alphabet) {
	name := v.text()
	if !isAlphabetFile(name) {
		return name, nil
	}
	file := r.source.beside(r.file, name)
	data, err := r.source.read(file)
	if err == nil && len(data) > maxFileSize {
		err = errors.New("it is too large")
	}
	if err != nil {
		v.fail("the alphabet file is looked for beside the layout; check its name", "cannot read the alphabet file %s: %s", file, reason(err))
		return name, nil
	}
	a, err := glyphs.Parse(file, data)
	var problems glyphs.Problems
	if errors.As(err, &problems) {
		for _, p := range problems {
			r.beside = append(r.beside, layouts.Problem{
				Place: layouts.Place(p.Place), Message: p.Message, Excerpt: p.Excerpt, Hint: p.Hint,
			})
		}
	}
	return name, a
}

// isAlphabetFile tells a file name from the name of an embedded alphabet.
func isAlphabetFile(name string) bool { return strings.HasSuffix(name, ".yaml") }
