package tapelist

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "maskloft/geometry/trial"
)

// The signs of OWASP's page on CSV injection, and numbers, which stay numbers.
func TestCellsThatASpreadsheetWouldRun(t *testing.T) {
	for cell, want := range map[string]string{
		`=HYPERLINK("http://example","P1")`: `'=HYPERLINK("http://example","P1")`,
		"@SUM(A1)":                          "'@SUM(A1)", "+1+cmd|' /C calc'!A0": "'+1+cmd|' /C calc'!A0", "-2+3": "'-2+3", "\uff1dA1": "'\uff1dA1", "\tx": "'\tx",
		"-12.5": "-12.5", "+3": "+3", "P1": "P1", "'tis": "'tis", "'=x": "''=x", "": "", "12-1/2": "12-1/2",
	} {
		assert.Equal(t, want, defused(cell))
		assert.Equal(t, cell, asWritten(defused(cell)))
	}
}

func TestCellsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`'{0,3}[=+@\-a1]?.{0,4}`).Draw(t, "cell")
		if got := asWritten(defused(cell)); got != cell {
			t.Fatalf("%q came back as %q", cell, got)
		}
	})
}

// A hardpoint named as a formula comes back from the table as it was named.
func TestTableOfFormulas(t *testing.T) {
	var b bytes.Buffer
	w := cellWriter{csv.NewWriter(&b)}
	require.NoError(t, w.Write([]string{"point", "from", "measured_in"}))
	require.NoError(t, w.Write([]string{"insignia-left-u1", "=1+1", "66.4"}))
	w.Flush()
	assert.Contains(t, b.String(), "'=1+1")
	r, err := ReadTapeCSV("t.csv", strings.NewReader(b.String()))
	require.NoError(t, err)
	require.Len(t, r, 1)
	assert.Equal(t, "=1+1", r[0].From)
}
