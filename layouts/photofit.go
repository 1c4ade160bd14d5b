package layouts

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
)

// Bounds of what is said of a photograph's camera (judgement, no source; the
// chances are those of the normal distribution).
const (
	misfit      = 2.0  // standard deviations of unit weight above which the plus or minus is not believed
	focalWeak   = 0.05 // of the principal distance, above which it is told
	focalUnsaid = 0.30 // above which only the least distance is said
)

// croppedBy is how far the axis of the lens is taken to lie from the middle of a
// picture that may be cropped, as a share of its width: a print trimmed by a tenth at
// one edge (judgement, no source).
const croppedBy = 0.05

// ViewPhoto finds the camera of a photograph from its points, and makes the aircraft
// ready to be looked at. Width and height are those of its file in pixels, 0 where it
// was not opened.
//
// Errors name the place in the layout: a point that is nowhere, a pixel outside the
// picture, points that do not tell the camera. Findings: photo-misfit,
// photo-suspect, photo-mirrored, photo-side, photo-focal, photo-rival, photo-flat,
// photo-few.
func (l *Layout) ViewPhoto(p PhotoSpec, width, height int) (PhotoView, []Finding, error) {
	v := PhotoView{Photo: p}
	w, h, err := p.size(width, height)
	if err != nil {
		return v, nil, fmt.Errorf("%v: photo %s: %w", p.Place, p.ID, err)
	}
	if w == 0 {
		return v, nil, fmt.Errorf("%v: photo %s: its size in pixels is not known: give size:, or its file", p.Place, p.ID)
	}
	var sights []camera.Sight
	for _, q := range p.Points {
		s, err := l.Airframe.sightOf(q, l.Spec.Sheets.Units)
		if err != nil {
			return v, nil, fmt.Errorf("%v: photo %s, %s: %w", q.Place, p.ID, s.Name, err)
		}
		if q.Pixel.X < -0.5 || q.Pixel.Y < -0.5 || q.Pixel.X > w || q.Pixel.Y > h {
			return v, nil, fmt.Errorf("%v: photo %s, %s: pixel [%g, %g] lies outside the picture of %g x %g: count from the upper left corner, to the right and down", q.Place, p.ID, s.Name, q.Pixel.X, q.Pixel.Y, w, h)
		}
		if q.Side != p.Side && q.Position == nil {
			s.Name += ", " + q.Side.String()
		}
		sights = append(sights, s)
	}
	fit, err := camera.Resect(sights, p.known(w, h))
	if err != nil {
		return v, nil, fmt.Errorf("%v: photo %s: %w", p.Place, p.ID, err)
	}
	if o := fit.Second; o != nil { // one that stands on the side that is seen is taken, if the other does not
		switch one, two := p.sees(fit), p.sees(o); {
		case two && !one:
			fit = o
		case one && !two:
			fit.Second = nil
		}
	}
	if v.Skins, err = l.Airframe.Skins(); err != nil {
		return v, nil, err
	}
	v.Fit = fit
	if p.Centre == nil {
		for _, off := range []g.Vec{{X: croppedBy * w}, {Y: croppedBy * w}} {
			k := p.known(w, h)
			k.Principal = k.Principal.Add(off)
			if c, err := camera.Resect(sights, k); err == nil {
				v.Cropped = append(v.Cropped, c.Camera)
			}
		}
	}
	return v, p.findings(l.Spec.Sheets.Units, fit), nil
}

// sees tells whether a camera stands on the side of the aircraft that is seen.
func (p PhotoSpec) sees(f *camera.Fit) bool {
	return f.Camera.At.BL.Inches()*p.Side.Sign() > 0
}

// leastWord writes a least distance in whole feet or metres.
func leastWord(u g.Units, l g.Length) string {
	if u.Metric() {
		return g.FormatNumber(math.Floor(l.Millimetres()/1000), 0) + " m"
	}
	return g.FormatNumber(math.Floor(l.Inches()/12), 0) + " ft"
}

// findings says what the fit shows.
func (p PhotoSpec) findings(u g.Units, f *camera.Fit) []Finding {
	var out []Finding
	say := func(level Level, rule, message, hint, measured, expected string) {
		out = append(out, Finding{Level: level, Rule: rule, Where: f.Camera.At, Message: fmt.Sprintf("photo %s: %s", p.ID, message), Hint: hint, Measured: measured, Expected: expected, Source: "derived"})
	}
	unit := math.Sqrt(f.ChiSquare / float64(max(1, f.Freedom)))
	_, blSigma, _ := f.Sigma()
	far := g.ButtLine(f.Camera.At.BL*g.ButtLine(p.Side.Sign())) + g.ButtLine(3*g.ButtLine(blSigma)) // with the benefit of the doubt
	turned := "mirrored: true"
	if p.Mirrored {
		turned = "mirrored: false"
	}
	switch {
	case f.Turned != nil && f.ChiSquare-f.Turned.ChiSquare > 13.8 && f.Turned.ChiSquare < f.ChiSquare/4:
		say(Stop, "photo-mirrored", fmt.Sprintf("the points fit far better with the picture turned over: chi-square %.1f against %.1f: it is printed from the wrong side of the negative", f.Turned.ChiSquare, f.ChiSquare),
			"write "+turned+", or look whether left and right points are exchanged", fmt.Sprintf("%.1f", f.ChiSquare), fmt.Sprintf("below %.1f", f.Turned.ChiSquare))
	case far < 0:
		say(Stop, "photo-side", fmt.Sprintf("the camera comes out at BL %s, and the photo shows the %s side", u.Number(g.Length(f.Camera.At.BL), 0), p.Side),
			"look at side: and at the points; if they are right, the picture is turned over: write "+turned, u.Length(g.Length(f.Camera.At.BL), 1), "a BL on the "+p.Side.String()+" side")
	}
	if f.Suspect >= 0 {
		s, left := f.Sights[f.Suspect], f.Left[f.Suspect]
		say(Warn, "photo-suspect", fmt.Sprintf("%s looks wrong: seen %.1f pixels to the right and %.1f below where the camera has it, and without it chi-square falls from %.1f to %.1f", s.Name, left.X, left.Y, f.ChiSquare, f.Without),
			"look at that point again: its pixel, its side, its place on the aircraft", fmt.Sprintf("%.1f px", left.Norm()), fmt.Sprintf("plus or minus %g px", s.Sigma))
	}
	if f.Freedom > 0 && unit > misfit {
		say(Warn, "photo-misfit", fmt.Sprintf("the points fit %.1f times worse than their plus or minus: every plus or minus below is enlarged by that", unit),
			"look at the points with the most left over; give plus-minus: as it is; a wide picture may need distortion:", fmt.Sprintf("%.2f", unit), "about 1")
	}
	switch s := f.FocalSigma(); {
	case s > focalUnsaid*f.Camera.Focal:
		_, least := f.Distance()
		say(Warn, "photo-focal", fmt.Sprintf("the points do not tell the focal length, nor how far off the camera stood: %s at least (95 of 100); with so long a lens, what is read depends little on it", leastWord(u, least)),
			"give focal:, or points at other depths, such as the far side", fmt.Sprintf("%.0f %%", 100*s/f.Camera.Focal), "5 %")
	case s > focalWeak*f.Camera.Focal:
		say(Warn, "photo-focal", fmt.Sprintf("the focal length is found to %.0f %% only (%.0f pixels, plus or minus %.0f): a longer lens farther off would show nearly the same", 100*s/f.Camera.Focal, f.Camera.Focal, s),
			"give focal:, or points at other depths, such as the far side", fmt.Sprintf("%.0f %%", 100*s/f.Camera.Focal), "5 %")
	}
	if o := f.Second; o != nil {
		say(Warn, "photo-rival", u.Sprintf("another camera, at %v, fits about as well: chi-square %.1f against %.1f; intervals below cover both", o.Camera.At, o.ChiSquare, f.ChiSquare),
			"add a point off the plane of the others", fmt.Sprintf("%.1f", o.ChiSquare), fmt.Sprintf("%.1f or more", f.ChiSquare+camera.Undecided))
	}
	if f.Turned == nil {
		say(Note, "photo-flat", "the points lie in one plane, so that a picture turned over would fit as well from the other side", "add a point off that plane", "", "")
	}
	if f.Freedom < 4 {
		say(Note, "photo-few", fmt.Sprintf("%s for %d unknowns: so few cannot show whether a point is wrong", g.Counted(len(f.Sights), "point"), len(f.Covariance)), "add points", "", "")
	}
	return out
}
