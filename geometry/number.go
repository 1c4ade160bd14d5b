package geometry

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// FormatNumber writes v with at most the given number of decimals, without
// trailing zeros and never as "-0", so that equal values make equal bytes.
func FormatNumber(v float64, decimals int) string {
	var room [32]byte
	s := strconv.AppendFloat(room[:0], v, 'f', decimals, 64)
	if decimals > 0 && bytes.IndexByte(s, '.') >= 0 {
		for s[len(s)-1] == '0' {
			s = s[:len(s)-1]
		}
		s = bytes.TrimSuffix(s, []byte("."))
	}
	if string(s) == "-0" {
		return "0"
	}
	return string(s)
}

// OnGrid returns the whole multiple of step nearest to v. What a library for numbers
// returns is put on a grid before anything is decided by it: its last digits depend on
// the processor.
func OnGrid(v, step float64) float64 { return math.Round(v/step) * step }

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
