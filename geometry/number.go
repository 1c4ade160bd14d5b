package geometry

import (
	"fmt"
	"strconv"
	"strings"
)

// FormatNumber writes v with at most the given number of decimals, without
// trailing zeros and never as "-0", so that equal values make equal bytes.
func FormatNumber(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Counted writes a number with its noun: "1 pass", "2 passes".
func Counted(n int, noun string) string {
	switch {
	case n == 1:
	case strings.HasSuffix(noun, "s"):
		noun += "es"
	default:
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}
