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
	return string(AppendNumber(room[:0], v, decimals))
}

// tens are the powers of ten by which [AppendNumber] makes decimals whole.
var tens = [...]int64{1, 10, 100, 1e3, 1e4, 1e5, 1e6}

// AppendNumber appends what [FormatNumber] writes.
func AppendNumber(to []byte, v float64, decimals int) []byte {
	// Where the number is nowhere near half way between two of so many decimals, rounding
	// in floating point finds the same one that the exact way below does.
	if decimals >= 0 && decimals < len(tens) && math.Abs(v) < 1e7 {
		scaled := float64(math.Abs(v) * float64(tens[decimals]))
		whole := math.Floor(scaled)
		if part := scaled - whole; math.Abs(part-0.5) > 1e-2 {
			n := int64(whole)
			if part > 0.5 {
				n++
			}
			if n == 0 {
				return append(to, '0')
			}
			if v < 0 {
				to = append(to, '-')
			}
			to = strconv.AppendInt(to, n/tens[decimals], 10)
			if n %= tens[decimals]; n == 0 {
				return to
			}
			to = append(to, '.')
			for k := decimals - 1; n > 0; k-- {
				to = append(to, byte('0'+n/tens[k]))
				n %= tens[k]
			}
			return to
		}
	}
	first := len(to)
	to = strconv.AppendFloat(to, v, 'f', decimals, 64)
	if decimals > 0 && bytes.IndexByte(to[first:], '.') >= 0 {
		for to[len(to)-1] == '0' {
			to = to[:len(to)-1]
		}
		to = bytes.TrimSuffix(to, []byte("."))
	}
	if string(to[first:]) == "-0" {
		return append(to[:first], '0')
	}
	return to
}

// OnGrid returns the whole multiple of step nearest to v. What a library for numbers
// returns is put on a grid before anything is decided by it: its last digits depend on
// the processor.
func OnGrid(v, step float64) float64 { return float64(math.Round(v/step) * step) }

// Steps returns how many equal steps, none longer than step but for rounding, cover a
// length: 1 at least.
func Steps[T ~float64](length, step T) int { return max(1, int(math.Ceil(float64(length/step)-1e-9))) }

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
