package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/standards"
)

// The table of the README counts the uses of each nation in each period by how they are
// known; it is written by -update.
func TestReadmeTable(t *testing.T) {
	periods := []struct {
		name     string
		from, to standards.Date
	}{{"to 1914", "1909", "1914-07"}, {"1914-18", "1914-08", "1918-11"}, {"1919-29", "1918-12", "1929"}, {"1930-39", "1930", "1939-08"}, {"1939-45", "1939-09", "1945-08"}, {"1945-51", "1945-09", "1950"}}
	uses, err := standards.Uses()
	require.NoError(t, err)
	nations, err := standards.Words("nation")
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("| nation |")
	for _, p := range periods {
		b.WriteString(" " + p.name + " |")
	}
	b.WriteString("\n|---|" + strings.Repeat("---|", len(periods)) + "\n")
	letters := []struct{ class, letter string }{{"official", "o"}, {"copy", "c"}, {"secondary", "s"}, {"tertiary", "t"}, {"memory", "m"}}
	for _, n := range nations {
		cells, any := []string{n.Means}, false
		for _, p := range periods {
			count := map[string]int{}
			for _, u := range uses {
				if u.Nation == n.Term && u.From <= p.to+"~" && (u.To == "" || u.To > p.from) {
					count[u.Provenance.Class()]++
				}
			}
			var cell []string
			for _, l := range letters {
				if k := count[l.class]; k > 0 {
					cell = append(cell, fmt.Sprintf("%s%d", l.letter, k))
				}
			}
			any = any || len(cell) > 0
			cells = append(cells, strings.Join(cell, " "))
		}
		if any {
			b.WriteString("| " + strings.Join(cells, " | ") + " |\n")
		}
	}
	const file, start, end = "../../README.md", "<!-- uses -->\n", "<!-- end of uses -->\n"
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(data), start)
	require.True(t, ok, "README.md has the mark of the table")
	old, after, ok := strings.Cut(rest, end)
	require.True(t, ok)
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(before+start+b.String()+end+after), 0o644))
		return
	}
	assert.Equal(t, b.String(), old, "run go test ./cmd/maskloft -run ReadmeTable -update and look at it")
}
