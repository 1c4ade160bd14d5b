package reading

import (
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/document"
	"maskloft/layouts/standards"
)

// colourOfRules is a paint of the order for which the file gives no colours: it has the
// name of a role of the rules, and takes what is known of that role on the date of the
// layout.
func (r *layoutReader) colourOfRules(v value) layouts.ColourSpec {
	id := r.paints.add(v)
	spec := layouts.ColourSpec{Place: v.Place(), ID: id, Name: id}
	palette, err := standards.Palette()
	if err != nil || id == "" {
		return spec
	}
	var roles []string
	for _, c := range palette {
		name := strings.ReplaceAll(c.Role, "_", "-")
		if name == strings.ReplaceAll(id, "_", "-") {
			spec.Name, spec.Hex, spec.Standard = c.Name, strings.ToLower(c.Hex), c.StandardAt(r.date)
			return spec
		}
		roles = append(roles, name)
	}
	hint := "add colours: {" + id + ": {hex: \"#f0e9ee\"}}"
	if k := nearest(id, roles); k != "" {
		hint = "did you mean " + k + "? or " + hint
	}
	v.Fail(hint, "the paint %q is no role of a rule, and the file gives it no colour", document.Shorten(id))
	return spec
}
