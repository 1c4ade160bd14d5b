package masks

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Verdict says how film is laid, by how much it is squeezed and stretched.
// Practice, not a standard.
type Verdict string

// Verdicts, one for each band of strain.
const (
	LayCold    Verdict = "lay cold"
	LayWarm    Verdict = "lay warm, from the centre out"
	SlitIt     Verdict = "slit in the waste, or split"
	LayPieces  Verdict = "tile smaller, or paint in pieces"
	bandSource         = "practice, not a standard"
)

var verdicts = [...]Verdict{layouts.EasyBand: LayCold, layouts.WarmBand: LayWarm, layouts.SplitBand: SlitIt, layouts.PiecesBand: LayPieces}

// VerdictOf returns the verdict of a band.
func VerdictOf(b layouts.StrainBand) Verdict { return verdicts[b] }

// Advise returns the verdict on a strain: that of the worse of its two peaks.
func Advise(s skin.Strain, bands layouts.StrainBands) Verdict {
	b, _ := worseBand(s, bands)
	return VerdictOf(b)
}

// worseBand returns the band of the worse peak, and whether that is the peak of
// tension; where both lie in one band it is that of compression.
func worseBand(s skin.Strain, bands layouts.StrainBands) (b layouts.StrainBand, tension bool) {
	b = bands.Squeezed.Band(s.Compression)
	if t := bands.Stretched.Band(s.Tension); t > b {
		return t, true
	}
	return b, false
}

// strainFinding says where the film is squeezed and stretched most, and what to
// do about it.
func strainFinding(l Laid) layouts.Finding {
	s, u := l.Strain, l.Placement.Read
	band, tension := worseBand(s, l.Bands)
	f := layouts.Finding{
		Level: layouts.Note, Rule: "film-strain", Marking: l.ID(), Where: s.CompressionAt,
		Message: fmt.Sprintf("%s: the skin there cannot be laid out flat without strain: the film is squeezed by up to %s%s, at %s, and stretched by up to %s%s, at %s; its outline is good to plus or minus %s: %s",
			l.ID(), Percent(s.Compression), rangeOf(l.Range.CompressionLeast, l.Range.CompressionMost), u.Position(s.CompressionAt),
			Percent(s.Tension), rangeOf(l.Range.TensionLeast, l.Range.TensionMost), u.Position(s.TensionAt), u.Fixed(l.Outline.PlusMinus(), 4), VerdictOf(band)),
		Measured: Percent(s.Compression), Expected: "0", Tolerance: Percent(l.Bands.Squeezed.Easy) + " squeezed",
		Source: bandSource,
	}
	if tension {
		f.Where, f.Measured, f.Tolerance = s.TensionAt, Percent(s.Tension), Percent(l.Bands.Stretched.Easy)+" stretched"
	}
	switch band {
	case layouts.WarmBand:
		f.Level, f.Hint = layouts.Warn, "lay the film warm, from the centre out"
	case layouts.SplitBand:
		f.Level, f.Hint = layouts.Warn, "lay the film warm, from the centre out, and split it between pieces of paint"
		if slits := l.describeSlits(); slits != "" {
			f.Hint = "lay the film warm, from the centre out; slit its waste first: " + slits
		}
	case layouts.PiecesBand:
		f.Level, f.Hint = layouts.Stop, "make the marking smaller, cut smaller tiles (film: longest:), or paint it in pieces"
	}
	return f
}

// rangeOf writes the range of a strain over the film's law; nothing where it is one
// figure.
func rangeOf(least, most float64) string {
	if Percent(least) == Percent(most) {
		return ""
	}
	return fmt.Sprintf(" (%s to %s)", Percent(least), Percent(most))
}

// describeSlits says how many slits there are, how long, and where; empty when
// there are none.
func (l Laid) describeSlits() string {
	if len(l.Slits) == 0 {
		return ""
	}
	short, long := math.Inf(1), 0.0
	edges := map[string]int{}
	for _, s := range l.Slits {
		short, long = min(short, s.Length.Inches()), max(long, s.Length.Inches())
		edges[l.edgeAt(s.From)]++
	}
	var where []string
	for _, e := range []string{"upper", "lower", "forward", "aft"} {
		if edges[e] > 0 {
			where = append(where, fmt.Sprintf("%d from the %s edge", edges[e], e))
		}
	}
	u := l.Placement.Read
	length := u.FixedNumber(g.Length(short), 2) + " to " + u.Fixed(g.Length(long), 2)
	if long-short < 0.01 {
		length = u.Fixed(g.Length(long), 2)
	}
	return fmt.Sprintf("%s towards the middle, %s long (%s), clear of the paint by %s; each closes by about %s, one edge over the other; they are drawn in proof.pdf",
		g.Counted(len(l.Slits), "slit"), length, strings.Join(where, ", "), u.Fraction(1.0/8, 8), u.Fixed(l.Slits[0].Closes, 3))
}

// edgeAt names the edge of the field that a point on it lies on.
func (l Laid) edgeAt(p g.Point) string {
	const near = 1e-6
	switch {
	case l.Field.Max.Y-p.Y < near:
		return "upper"
	case p.Y-l.Field.Min.Y < near:
		return "lower"
	}
	return Sideways(l, p.X-l.Field.Centre().X)
}
