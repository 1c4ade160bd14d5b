package skin

import (
	"math"

	g "maskloft/geometry"
)

const (
	// checkedPoints is how many points of a piece of outline are looked at.
	checkedPoints = 24
	// overBL0 is how far an outline may stray over the plane of symmetry, in
	// inches: rounding, and the swing of a spline that no film shows.
	overBL0 = 1e-4
)

// checkedStations are the places of a bay, as parts of it, that are looked at: its
// two sections first, so that a fault of a section is not laid on the bay.
var checkedStations = [...]float64{0, 1, 0.25, 0.5, 0.75}

// outlineFault says what is wrong with the right half of an outline, given as
// points from crown to keel: no breadth, points doubled, BL below 0, or a
// crossing of itself. Nil where nothing is.
func outlineFault(pts []g.Point) error {
	breadth, place := 0.0, func(p g.Point) error { // an error, so that its units are the reader's
		return g.Errorf("BL %v WL %v", g.ButtLine(p.X), g.Waterline(p.Y))
	}
	for i, p := range pts {
		if math.IsNaN(p.X) || math.IsNaN(p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			return g.Errorf("the outline is not a number after %v", place(pts[max(0, i-1)]))
		}
		if p.X < -overBL0 {
			return g.Errorf("the outline crosses BL 0: it runs to %v, limit 0", place(p))
		}
		if i > 0 && p.Dist(pts[i-1]) < g.SnapTolerance/checkedPoints {
			return g.Errorf("the outline has no length at %v", place(p))
		}
		breadth = max(breadth, p.X)
	}
	if breadth < g.SnapTolerance {
		return g.Errorf("the outline has no breadth: every point lies on BL 0, from WL %v to WL %v", g.Waterline(pts[0].Y), g.Waterline(pts[len(pts)-1].Y))
	}
	var err error
	crossings(pts, false, func(_, _ int, at g.Point) bool {
		err = g.Errorf("the outline crosses itself at %v", place(at))
		return false
	})
	return err
}

// checkBays refuses a section, or a skin between two sections, whose outline is
// no outline: see [outlineFault]. Three stations of each bay are looked at.
func (s *FairedSkin) checkBays() error {
	for bay := 0; bay+1 < len(s.u); bay++ {
		a, b := s.u[bay], s.u[bay+1]
		for _, t := range checkedStations {
			u := a + float64((b-a)*t)
			var pts []g.Point
			for piece := 0; piece < s.n; piece++ {
				for i := 0; i <= checkedPoints; i++ {
					if i == 0 && piece > 0 {
						continue
					}
					pts = append(pts, s.runs[s.runOf[bay]].at(&fairedLine{s: s, piece: piece, t: float64(i) / checkedPoints, side: 1}, bay, u).p)
				}
			}
			if err := refuseOutline(outlineFault(pts), a, b, t); err != nil {
				return err
			}
		}
	}
	return nil
}

// refuseOutline puts the place before a fault, and what to do behind it.
// The outline lies at the part t of the bay between the sections a and b.
func refuseOutline(fault error, a, b, t float64) error {
	at := func(x float64) error { return g.Errorf("FS %v", g.Station(x)) }
	switch {
	case fault == nil:
		return nil
	case t == 0:
		return refuseOutline(fault, b, a, 1)
	case t == 1:
		return g.Errorf("section %v: %w: give its points once each, from crown to keel down the right side", at(b), fault)
	}
	return g.Errorf("%v: the skin folds between the sections %v and %v: %w: name or tag the same points in both, put a section between them, or fair it monotone or ruled",
		at(a+float64((b-a)*t)), at(a), at(b), fault)
}

// checkStringers refuses sections of a stringer fuselage whose points are not the
// right half from crown to keel, each once, and bays that fold between sections.
func checkStringers(sections []StringerSection) error {
	for i, sec := range sections {
		name := g.Errorf("section FS %v", sec.FS)
		n := len(sec.Points) - 1
		for k, p := range sec.Points {
			where := g.Errorf("point %d (BL %v WL %v)", k+1, p.BL, p.WL)
			switch {
			case !(p.BL >= -overBL0):
				return g.Errorf("%v: %v is not on the right side: give the right half, BL 0 or more", name, where)
			case (k == 0 || k == n) && !(math.Abs(p.BL.Inches()) <= overBL0):
				return g.Errorf("%v: %v: the first point (crown) and the last (keel) must lie on BL 0", name, where)
			case k > 0 && p.To(g.Position{FS: p.FS, BL: sec.Points[k-1].BL, WL: sec.Points[k-1].WL}).Inches() < g.SnapTolerance:
				return g.Errorf("%s: points %d and %d are the same (BL %v WL %v): between two lines there must be fabric: set them apart, or leave that line out", name, k, k+1, p.BL, p.WL)
			}
		}
		if sec.Points[0].WL <= sec.Points[n].WL {
			return g.Errorf("%s: the points run from WL %v to WL %v: give them from the crown down to the keel", name, sec.Points[0].WL, sec.Points[n].WL)
		}
		for _, t := range checkedStations {
			if i == 0 {
				break
			}
			a := sections[i-1]
			var pts []g.Point
			for j, p := range sec.Points {
				q := a.Points[j]
				pts = append(pts, g.Point{X: q.BL.Inches(), Y: q.WL.Inches()}.Lerp(g.Point{X: p.BL.Inches(), Y: p.WL.Inches()}, t))
			}
			u0, u1 := a.FS.Inches(), sec.FS.Inches()
			if err := refuseOutline(outlineFault(pts), u0, u1, t); err != nil {
				return err
			}
		}
	}
	return nil
}
