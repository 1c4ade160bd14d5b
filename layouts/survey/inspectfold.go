package survey

import (
	"fmt"
	"math"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Angles in degrees above which a hard line, and a twisted bay, are worth a word.
// Practice, not a standard.
const (
	noteFold  = 30.0
	noteTwist = 5.0
)

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// sharpFold reports a hard line under the film where the skin turns sharply.
func sharpFold(l masks.Laid) (layouts.Finding, bool) {
	fold := l.Map.SharpestFold(l.Field)
	if degrees(fold.Angle) <= noteFold {
		return layouts.Finding{}, false
	}
	return layouts.Finding{
		Level: layouts.Note, Rule: "sharp-fold", Where: fold.At,
		Message:  fmt.Sprintf("%s: the film goes over an edge at %s where the skin turns by %.0f degrees", l.ID(), l.Placement.Read.Position(fold.At), degrees(fold.Angle)),
		Hint:     "crease the film along the edge, or cut it there and lay it in two pieces; the flat is true on either side",
		Measured: fmt.Sprintf("%.1f degrees", degrees(fold.Angle)), Expected: "0", Tolerance: g.FormatNumber(noteFold, 1) + " degrees",
		Source: "practice, not a standard",
	}, true
}

// bayTwist reports a bay between sections under the film that is twisted, so that
// it cannot be unrolled.
func bayTwist(l masks.Laid) (layouts.Finding, bool) {
	twist := l.Map.MostTwisted(l.Field)
	if degrees(twist.Angle) <= noteTwist {
		return layouts.Finding{}, false
	}
	u := l.Placement.Read
	return layouts.Finding{
		Level: layouts.Note, Rule: "bay-twist", Where: twist.At,
		Message: fmt.Sprintf("%s: the skin at %s twists by %.1f degrees between the frames at FS %s and FS %s: it cannot be laid out flat there without strain",
			l.ID(), u.Position(twist.At), degrees(twist.Angle), u.At(twist.From.Inches()), u.At(twist.To.Inches())),
		Hint:     "measure a frame between them, if the skin itself does not twist so",
		Measured: fmt.Sprintf("%.1f degrees", degrees(twist.Angle)), Expected: "0", Tolerance: g.FormatNumber(noteTwist, 1) + " degrees",
		Source: "practice, not a standard",
	}, true
}
