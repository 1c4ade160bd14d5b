package document

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
)

// formsOf are the ways to write a text as a value, the best first: in the quotes
// that the old value had, else bare where that is safe, else quoted.
func formsOf(text string, old yaml.Style, flow bool) []string {
	var forms []string
	single := !strings.ContainsFunc(text, IsControl)
	switch {
	case old&yaml.DoubleQuotedStyle != 0:
		return []string{doubleQuoted(text)}
	case old&yaml.SingleQuotedStyle != 0 && single:
		forms = append(forms, singleQuoted(text))
	case isBareSafe(text, flow):
		forms = append(forms, text)
	}
	return append(forms, doubleQuoted(text))
}

// isBareSafe tells whether a text means itself without quotes (YAML 1.2.2, 7.3.3,
// and a little stricter).
func isBareSafe(text string, flow bool) bool {
	switch {
	case text == "", strings.TrimSpace(text) != text, strings.ContainsFunc(text, IsControl):
		return false
	case strings.IndexByte("?:,[]{}#&*!|>'\"%@`", text[0]) >= 0:
		return false
	case text[0] == '-' && (len(text) == 1 || strings.IndexByte(" -,[]{}", text[1]) >= 0), strings.HasPrefix(text, "..."), text == "<<", text == "=":
		return false
	case strings.Contains(text, ": "), strings.HasSuffix(text, ":"), strings.Contains(text, " #"), strings.Contains(text, "\t"):
		return false
	}
	return !flow || !strings.ContainsAny(text, ",[]{}") && !strings.Contains(text, ":")
}

func singleQuoted(text string) string {
	return "'" + strings.ReplaceAll(text, "'", "''") + "'"
}

// doubleQuoted writes a text with the escapes of YAML 1.2.2, 5.7.
func doubleQuoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case IsControl(r) && r > 0xffff:
			fmt.Fprintf(&b, `\U%08X`, r)
		case IsControl(r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
