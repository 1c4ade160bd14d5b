package layouts

import (
	"fmt"

	"maskloft/geometry/scan"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
)

// scanWeld is the distance within which two vertices of a scan are one.
const scanWeld = 0.0005

// Limits above which a scan asks for a second look, in inches: what the fit of
// the matched points and the smoothing of the mesh may leave before they eat the
// eighth that placing is allowed (derived: a quarter of it).
const scanResidual = 1.0 / 32

// scanMost is what a matched point may be off, in inches: above it a wrong point, unit or
// pose is likelier than measuring (common practice, no source).
const scanMost = 1.0 / 4

// scanSkin brings a scan into the aircraft's axes, cleans it and makes it a skin.
// What was found on the way is returned as findings.
func scanSkin(s SurfaceSpec) (skin.Surface, []Finding, error) {
	fit, err := scan.FitScan(s.Scan.Matches, s.Scan.Unit)
	if err != nil {
		return nil, nil, err
	}
	mesh, cleaned, err := fit.Place(s.Scan.Mesh).Clean(scanWeld)
	if err != nil {
		return nil, nil, err
	}
	body, report, err := scan.NewScanSkin(mesh, scan.ScanGridSpacing{Step: s.Scan.Step})
	if err != nil {
		return nil, nil, err
	}
	note := func(level Level, rule string, at g.Position, format string, args ...any) Finding {
		return Finding{Level: level, Rule: rule, Where: at, Message: s.ID + ": " + fmt.Sprintf(format, args...), Source: "derived"}
	}
	level := func(over bool) Level {
		if over {
			return Warn
		}
		return Note
	}
	first := s.Scan.Matches[0].At
	out := []Finding{
		note(level(fit.RMS > scanResidual), "scan-fit", first, "%d matched points agree to %.4f in (root mean square)", len(fit.Residuals), fit.RMS.Inches()),
		note(Note, "scan-mesh", first, "%d triangles; %d vertices welded, %d triangles dropped as empty or double, %d turned over, %d holes, %d edges with more than two triangles",
			cleaned.Triangles, cleaned.Welded, cleaned.Degenerate+cleaned.Duplicates, cleaned.Flipped, len(cleaned.Holes), cleaned.NonManifoldEdges),
		note(level(report.Residual > scanResidual), "scan-smooth", report.ResidualAt, "the smooth skin leaves the scan by %.4f in at most, %.4f in root mean square; sharp edges are rounded",
			report.Residual.Inches(), report.RMS.Inches()),
	}
	if i, off := fit.Worst(); off > scanMost {
		f := note(Stop, "scan-fit", s.Scan.Matches[i].At, "the scan misses its points: %q is %.2f in off, of %v at most", s.Scan.Matches[i].Name, off.Inches(), g.Length(scanMost))
		f.Hint = "check that point on the scan and on the aircraft, its station, butt line and waterline, and the unit of the scan"
		if fit.Mirrored <= scanMost && fit.Mirrored < fit.RMS/4 {
			f.Message += fmt.Sprintf("; its mirror image fits to %.3f in: the scan is mirrored, or left and right of its points are", fit.Mirrored.Inches())
			f.Hint = "give the points on the right side a positive bl: and those on the left a negative one; else mirror the scan before it is saved"
		}
		out[0] = f
	}
	if 2*cleaned.Flipped > cleaned.Triangles {
		f := note(Stop, "scan-inside-out", first, "%d of %d triangles of the scan face inwards: it is turned inside out, or mirrored", cleaned.Flipped, cleaned.Triangles)
		f.Hint = "save the scan with its faces outward; where it was mirrored, mirror it back and look at its points"
		out = append(out, f)
	}
	for _, gap := range report.Gaps {
		out = append(out, note(Warn, "scan-hole", gap.Centre, "no scan from FS %.1f to FS %.1f about %v", float64(gap.From), float64(gap.To), gap.Centre))
	}
	return body, out, nil
}
