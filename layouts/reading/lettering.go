package reading

import "maskloft/layouts"

// letteringAs reads the rules that a text is held against: one, or a list.
func (r *layoutReader) letteringAs(v value) []string {
	if !v.Written() {
		return nil
	}
	items := []value{v}
	if v.IsList() {
		if items = v.items("rule"); len(items) == 0 {
			v.Fail("write "+exampleOf("", "as"), "as is an empty list")
		}
	}
	var out []string
	for _, e := range items {
		id := e.Text()
		if id == "" {
			continue
		}
		if _, err := layouts.LetteringRules([]string{id}); err != nil {
			e.Fail("maskloft rules lists them", "%v", err)
			continue
		}
		out = append(out, id)
	}
	return out
}
