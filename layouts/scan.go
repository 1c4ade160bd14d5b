package layouts

import (
	"context"
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
func scanSkin(ctx context.Context, u g.Units, s SurfaceSpec) (skin.Surface, []Finding, error) {
	fit, err := scan.FitScan(s.Scan.Matches, s.Scan.Unit)
	if err != nil {
		return nil, nil, err
	}
	mesh, cleaned, err := fit.Place(s.Scan.Mesh).Clean(scanWeld)
	if err != nil {
		return nil, nil, err
	}
	body, report, err := scan.NewScanSkin(ctx, mesh, scan.ScanGridSpacing{Step: s.Scan.Step})
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
		note(level(fit.RMS > scanResidual), "scan-fit", first, "%d matched points agree to %s (root mean square)", len(fit.Residuals), u.Fixed(fit.RMS, 4)),
		note(Note, "scan-mesh", first, "%d triangles; %d vertices welded, %d triangles dropped as empty or double, %d turned over, %d holes, %d edges with more than two triangles",
			cleaned.Triangles, cleaned.Welded, cleaned.Degenerate+cleaned.Duplicates, cleaned.Flipped, len(cleaned.Holes), cleaned.NonManifoldEdges),
		note(level(report.Residual > scanResidual), "scan-smooth", report.ResidualAt, "the smooth skin leaves the scan by %s at most, %s root mean square; sharp edges are rounded",
			u.Fixed(report.Residual, 4), u.Fixed(report.RMS, 4)),
	}
	if i, off := fit.Worst(); off > scanMost {
		f := note(Stop, "scan-fit", s.Scan.Matches[i].At, "the scan misses its points: %q is %s off, at most %s is allowed", s.Scan.Matches[i].Name, u.Fixed(off, 2), u.Length(scanMost, 4))
		f.Hint = "check that point on the scan and on the aircraft, its station, butt line and waterline, and the unit of the scan"
		if fit.Mirrored <= scanMost && fit.Mirrored < fit.RMS/4 {
			f.Message += fmt.Sprintf("; its mirror image fits to %s: the scan is mirrored, or left and right of its points are", u.Fixed(fit.Mirrored, 3))
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
		out = append(out, note(Warn, "scan-hole", gap.Centre, "no scan from FS %s to FS %s about %s", u.FixedNumber(g.Length(gap.From), 1), u.FixedNumber(g.Length(gap.To), 1), u.Position(gap.Centre)))
	}
	return body, out, nil
}
