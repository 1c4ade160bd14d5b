package reading

import "maskloft/layouts/document"

// LooksLikeLayout tells whether a text is meant as a layout and not as a file that
// layouts name, such as one of an aircraft or an alphabet: it has markings, stencils or
// an aircraft, or it is no YAML at all, so that its mistakes are told.
func LooksLikeLayout(text []byte) bool {
	_, root, ok := document.Parse("", text, layoutForm)
	if !ok {
		return true
	}
	for _, key := range []string{"markings", "stencils", "aircraft"} {
		if root.Peek(key).Written() {
			return true
		}
	}
	return false
}
