package survey

import (
	"fmt"
	"math"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Bands of the stretch of a drawing that is true in side view: how much longer
// along the skin than in the view. Practice, not a standard.
const (
	warnStretch = 1.5 // the normal 48 degrees off the butt line
	stopStretch = 4.0 // 76 degrees: a slip of 0.01 in of the view is 0.04 in of skin
)

// hiddenStep is the spacing, in inches, at which the outlines seen from the side
// are tried for skin hidden behind.
const hiddenStep = 0.5

// stretch reports the largest stretch 1/|n.y| of a drawing true in side view,
// n the unit normal: a ray along the butt line that grazes the skin there
// (derived). The drawing's outlines are looked at.
func stretch(l masks.Laid) (layouts.Finding, bool) {
	if l.Placement.Marking.True != layouts.TrueSide {
		return layouts.Finding{}, false
	}
	worst, at := 1.0, g.Position{}
	eachOutlinePoint(l, 0.25, func(_ layouts.Region, q g.Point, _ float64) {
		if uv, ok := l.Map.ToSkin(q); ok {
			p, n := l.Placement.Surface.At(uv, uv)
			if s := 1 / math.Max(1e-6, math.Abs(n.Y)); s > worst {
				worst, at = s, g.PositionOf(p)
			}
		}
	})
	if worst <= warnStretch {
		return layouts.Finding{}, false
	}
	f := layouts.Finding{
		Level: layouts.Warn, Rule: "side-view-stretch", Where: at,
		Message: fmt.Sprintf("%s: at %s the skin turns away from the side view: the drawing is %.2f times as long on the skin as it is seen",
			l.ID(), l.Placement.Read.Position(at), worst),
		Measured: fmt.Sprintf("%.2f", worst), Expected: "1", Tolerance: g.FormatNumber(warnStretch, 2) + ", at most " + g.FormatNumber(stopStretch, 2),
		Source: "practice, not a standard",
	}
	if worst > stopStretch {
		f.Level = layouts.Stop
	}
	f.Proposals = []layouts.Proposal{{Path: l.Placement.Marking.Path("true"), Value: string(layouts.TrueSkin)}}
	f.Hint = hintOf(f.Proposals, "keep it lower or higher on the side, or make it smaller")
	return f, true
}

// hidden reports places where a ray from the side meets the skin more than once:
// the outermost skin is taken. Of a marking true along the skin the anchor alone
// is found so.
func hidden(l masks.Laid) (layouts.Finding, bool) {
	p := l.Placement
	tries := []g.Position{p.Anchor}
	if p.Marking.True == layouts.TrueSide {
		eachOutlinePoint(l, hiddenStep, func(_ layouts.Region, q g.Point, _ float64) {
			if pos, ok := l.Map.PositionOf(q); ok {
				tries = append(tries, pos)
			}
		})
	}
	for _, pos := range tries {
		hits := skin.SideHits(p.Surface, p.Side, g.SidePosition{FS: pos.FS, WL: pos.WL})
		if len(hits) < 2 {
			continue
		}
		u := p.Read
		outer, inner := g.PositionOf(skin.PointAt(p.Surface, hits[0])), g.PositionOf(skin.PointAt(p.Surface, hits[1]))
		return layouts.Finding{
			Level: layouts.Warn, Rule: "side-view-hidden", Where: outer,
			Message: fmt.Sprintf("%s: at FS %s WL %s the frame is hollow: seen from the side there are %d skins one behind another, at BL %s and BL %s; the outermost is taken",
				l.ID(), u.At(outer.FS.Inches()), u.At(outer.WL.Inches()), len(hits), u.At(outer.BL.Inches()), u.At(inner.BL.Inches())),
			Hint:     "move the marking clear of the hollow with where: fs: and wl:, if the inner skin was meant",
			Measured: fmt.Sprint(len(hits)), Expected: "1", Tolerance: "none", Source: "derived",
		}, true
	}
	return layouts.Finding{}, false
}

// closesRound reports film that would meet itself round a body.
func closesRound(l masks.Laid) (layouts.Finding, bool) {
	at, round, meets := l.Map.Seam(l.Field)
	if !meets {
		return layouts.Finding{}, false
	}
	u := l.Placement.Read
	return layouts.Finding{
		Level: layouts.Stop, Rule: "closes-round", Where: at,
		Message: fmt.Sprintf("%s: the film of %s reaches all the way round the body and meets itself at %s",
			l.ID(), u.Size(g.Length(l.Field.Width()), g.Length(l.Field.Height()), 3), u.Position(at)),
		Hint:     "make it smaller, or paint it as two markings, one a side",
		Measured: u.Length(g.Length(math.Max(l.Field.Width(), l.Field.Height())), 3), Expected: "less than once round",
		Tolerance: u.Fixed(round, 2), Source: "derived",
	}, true
}

// eachOutlinePoint visits points of the outlines of the paint, ends of segments
// included, at most step inches apart, each with its region and the length of
// outline that it stands for.
func eachOutlinePoint(l masks.Laid, step float64, visit func(r layouts.Region, q g.Point, length float64)) {
	for _, r := range l.Regions {
		for _, c := range r.Outline {
			for i := range c.Segments {
				length := g.Contour{Start: c.From(i), Segments: c.Segments[i : i+1]}.Length()
				n := max(2, g.Steps(length, step))
				for k := 0; k < n; k++ {
					visit(r, c.At(i, float64(k)/float64(n)), length/float64(n))
				}
			}
		}
	}
}
