package survey

import (
	"fmt"
	"math"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// Fit is the size of an insignia beside the height of the side it stands on.
type Fit struct {
	Size, Height g.Length // governing size; height of the side at the anchor, seen from the side
	Part, Limit  float64  // Size over Height, and the most that the rule lets it be
}

// fitOf returns how an insignia fits its side; nil where its rule has no limit.
func fitOf(l *layouts.Layout, laid masks.Laid) *Fit {
	p := laid.Placement
	if p.Figure.Rule == nil {
		return nil
	}
	limit, ok := p.Figure.Rule.HeightLimit()
	if !ok {
		return nil
	}
	lo, hi, ok := l.SideHeight(p, p.Anchor.FS)
	if !ok {
		return nil
	}
	f := Fit{Size: p.Marking.Figure.Size, Height: g.Length(hi - lo), Limit: limit}
	f.Part = f.Size.Inches() / f.Height.Inches()
	return &f
}

// heightLimit reports an insignia larger than its rule lets it be on that side.
func heightLimit(gr *surroundings, s Surveyed) (layouts.Finding, bool) {
	if s.Fit == nil || s.Fit.Part <= s.Fit.Limit+g.SnapTolerance {
		return layouts.Finding{}, false
	}
	p, fit := gr.laid.Placement, *s.Fit
	r := p.Figure.Rule
	most, word := math.Floor(fit.Limit*fit.Height.Inches()*8)/8, "the largest there"
	if offered := r.Offered(fit.Limit * fit.Height.Inches()); len(offered) > 0 {
		most, word = offered[0], "the largest standard size that fits there"
	}
	f := layouts.Finding{
		Level: layouts.Stop, Rule: "height-limit", Where: p.Anchor,
		Message: fmt.Sprintf("%s: %s is %.1f %% of the side, which is %s high at FS %s; rule %s lets it be %s %%",
			s.ID, p.Read.Length(fit.Size, 4), fit.Part*100, p.Read.Fixed(fit.Height, 2), p.Read.At(p.Anchor.FS.Inches()), p.Marking.Figure.Rule, g.FormatNumber(fit.Limit*100, 1)),
		Proposals: []layouts.Proposal{{Path: p.Marking.Path("figure", "size"), Value: gr.layout.Spec.Write(g.Length(most)), Why: word}},
		Measured:  fmt.Sprintf("%.1f %%", fit.Part*100), Expected: "at most " + g.FormatNumber(fit.Limit*100, 1) + " %", Tolerance: "none",
		Source: r.Fit.Provenance.Where,
	}
	// a rule of thumb of secondary works, or one that is remembered, warns
	if known := r.Fit.Provenance; known.Kind == standards.Memory || known.Grade == "secondary" || known.Grade == "tertiary" {
		f.Level = layouts.Warn
	}
	if to, ok := nearestFit(gr.layout, p, fit); ok {
		f.Proposals = append(f.Proposals, layouts.Proposal{Path: p.Marking.Path("where", "fs"), Value: gr.layout.Spec.Write(g.Length(to)),
			Why: fmt.Sprintf("the nearest station where %s passes", p.Read.Length(fit.Size, 4))})
	}
	f.Hint = hintOf(f.Proposals, "")
	return f, true
}

// nearestFit returns the station nearest to the anchor, in eighths of an inch, at
// which the size passes and the figure does not run off an end of the surface.
func nearestFit(l *layouts.Layout, p layouts.Placement, fit Fit) (float64, bool) {
	const step = 1.0 / 8
	first, last := skin.Extent(p.Surface)
	half := p.Figure.Bounds().Width() / 2
	at := p.Anchor.FS.Inches()
	passes := func(fs float64) (ok, on bool) {
		lo, hi, on := l.SideHeight(p, g.Station(fs))
		on = on && fs-half >= first && fs+half <= last
		return on && fit.Size.Inches() <= fit.Limit*float64(hi-lo), on
	}
	fore, aft := true, true
	for k := 1.0; fore || aft; k++ {
		for _, way := range []struct {
			open *bool
			fs   float64
		}{{&fore, math.Ceil(at/step-k) * step}, {&aft, math.Floor(at/step+k) * step}} {
			if !*way.open {
				continue
			}
			ok, on := passes(way.fs)
			if ok {
				return way.fs, true
			}
			*way.open = on
		}
	}
	return 0, false
}
