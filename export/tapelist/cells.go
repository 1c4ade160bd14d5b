package tapelist

import (
	"encoding/csv"
	"strconv"
	"strings"
)

// cellWriter writes rows whose texts no spreadsheet takes for a formula.
type cellWriter struct{ *csv.Writer }

// Write writes one row.
func (w cellWriter) Write(cells []string) error {
	safe := make([]string, len(cells))
	for i, c := range cells {
		safe[i] = defused(c)
	}
	return w.Writer.Write(safe)
}

// defused puts an apostrophe before a cell that a spreadsheet would run: one that begins
// with = + - @, a tab or a return, and is no number (OWASP, "CSV Injection"). A cell that
// begins so behind apostrophes of its own gets one more, so that [asWritten] gives every
// text back.
func defused(cell string) string {
	if isFormula(strings.TrimLeft(cell, "'")) {
		return "'" + cell
	}
	return cell
}

// asWritten takes off the apostrophe that [defused] puts before a cell.
func asWritten(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && isFormula(strings.TrimLeft(rest, "'")) {
		return rest
	}
	return cell
}

// isFormula tells whether a spreadsheet would run a cell: its first sign, also in full
// width, begins a formula, and it is no number.
func isFormula(cell string) bool {
	if cell == "" || !strings.ContainsRune("=+-@\t\r\uff1d\uff0b\uff0d\uff20", []rune(cell)[0]) {
		return false
	}
	_, err := strconv.ParseFloat(cell, 64)
	return err != nil
}
