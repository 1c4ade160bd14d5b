package export

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/layouts/standards"
)

// Every rule has a card that says its source, and whose figure and text stay on
// the page.
func TestEveryRuleHasACard(t *testing.T) {
	docs, err := standards.Documents()
	require.NoError(t, err)
	for _, d := range docs {
		for _, r := range d.Rules {
			sheets, err := RuleCard(sheet.Letter, r, nil)
			require.NoError(t, err, r.ID)
			var b bytes.Buffer
			require.NoError(t, sheet.WritePDF(&b, sheets, sheet.PDFOptions{Title: r.ID}))
			require.Contains(t, b.String(), "How it is known")
			for _, s := range sheets {
				for _, l := range s.Layers {
					for _, it := range l.Items {
						drawn := it.Outline()
						if len(drawn) == 0 {
							continue // a blank line
						}
						k := drawn.Bounds()
						require.True(t, k.Min.X > sheet.PageMargin-0.05 && k.Max.X < s.Width-sheet.PageMargin+0.05 && k.Min.Y > sheet.PageMargin-0.05, "%s %v", r.ID, k)
					}
				}
			}
			if dir := os.Getenv("MASKLOFT_LOOK"); dir != "" {
				require.NoError(t, os.WriteFile(filepath.Join(dir, "rule-"+strings.ReplaceAll(r.ID, "/", "-")+".pdf"), b.Bytes(), 0o644))
			}
		}
	}
}
