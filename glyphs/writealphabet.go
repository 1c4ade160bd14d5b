package glyphs

import (
	"fmt"
	"strings"

	g "maskloft/geometry"
)

// YAML writes the alphabet as a file that [Parse] reads. Ratios have six
// decimals; what was inferred is marked where it stands.
func (a *Alphabet) YAML() []byte {
	var b strings.Builder
	inferred := map[string]bool{}
	for _, k := range a.Inferred {
		inferred[k] = true
	}
	num := func(x float64) string { return g.FormatNumber(x, 6) }
	line := func(key, value string) {
		fmt.Fprintf(&b, "%s: %s", key, value)
		if inferred[key] {
			b.WriteString("  # inferred, not measured")
		}
		b.WriteByte('\n')
	}
	quoted := func(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }
	cut := func(c Cut) string {
		if c.Kind == SquareCut {
			return "kind: square"
		}
		return fmt.Sprintf("kind: %s, size: %s", c.Kind, num(c.Size))
	}
	line("name", a.Name)
	if a.Title != "" {
		line("title", quoted(a.Title))
	}
	line("height", num(a.Height))
	line("width", num(a.Width))
	line("stroke", fmt.Sprintf("{vertical: %s, horizontal: %s}", num(a.Stroke.Vertical), num(a.Stroke.Horizontal)))
	line("gap", num(a.Gap))
	line("word", num(a.Word))
	corner := cut(a.Corner.Cut)
	if a.Corner.Inner != nil {
		corner += ", inner: {" + cut(*a.Corner.Inner) + "}"
	}
	line("corner", "{"+corner+"}")
	numbers := func(key string, m map[string]float64, mark string) {
		if len(m) == 0 {
			return
		}
		b.WriteString(key + ":\n")
		for _, k := range sorted(m) {
			fmt.Fprintf(&b, "  %q: %s", k, num(m[k]))
			if inferred[mark+k] {
				b.WriteString("  # inferred, not measured")
			}
			b.WriteByte('\n')
		}
	}
	numbers("widths", a.Widths, "")
	numbers("waists", a.Waists, "waist ")
	if a.Hook > 0 {
		line("hook", num(a.Hook))
	}
	numbers("hooks", a.Hooks, "hook ")
	numbers("pairs", a.Pairs, "pair ")
	if len(a.Forms) > 0 {
		b.WriteString("forms:\n")
		for _, k := range sorted(a.Forms) {
			fmt.Fprintf(&b, "  %q: %s\n", k, a.Forms[k])
		}
	}
	if a.Slant != 0 {
		line("slant", num(a.Slant))
	}
	if len(a.Inferred) > 0 {
		var list []string
		for _, k := range a.Inferred {
			list = append(list, quoted(k))
		}
		line("inferred", "["+strings.Join(list, ", ")+"]")
	}
	line("source", quoted(a.Source))
	if len(a.Sources) > 0 {
		b.WriteString("sources:\n")
		for _, k := range sorted(a.Sources) {
			fmt.Fprintf(&b, "  %s: %s\n", k, quoted(a.Sources[k]))
		}
	}
	return []byte(b.String())
}
