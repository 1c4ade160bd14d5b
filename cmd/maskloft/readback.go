package main

import (
	"fmt"

	"maskloft/export/audit"
	"maskloft/export/drawing"
)

// audit reads both files back and measures them against the sheet they were
// written from.
func (f *cutFile) audit() error {
	for k, format := range []drawing.Format{drawing.SVG, drawing.PDF} {
		name := [...]string{f.svg, f.pdf}[k]
		got, err := audit.Audit(f.sheet, f.data[k], format, auditTolerance)
		if err != nil {
			return fmt.Errorf("%s does not hold what was drawn: %w", name, err)
		}
		f.audited = max(f.audited, got.Deviation)
	}
	return nil
}
