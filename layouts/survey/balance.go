package survey

import (
	"math"
	"slices"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// BalanceCheck is printed, with a line to sign, wherever a control surface is
// painted (AC 43.13-1B 4-36: control surfaces stay within their balance limits).
const BalanceCheck = "BALANCE CHECK REQUIRED, signature"

// hingeReach is how far from a hinge gap a surface may begin and still hang there,
// in inches: the aft edge of the gap may be written to a sixteenth, or to the nose
// of a rounded leading edge (practice, not a standard).
const hingeReach = 0.5

// Balance is what the paint of the markings does to a control surface, and what one
// coat of dope over all of it would. It informs; a licensed person decides.
type Balance struct {
	Surface string
	Painted []string   // ids of the markings on it
	Hinge   *g.Station // nil: unknown
	At      g.Position // the middle of what is painted
	Area    float64    // square feet that are painted, both sides of the aircraft
	Weight  Weights    // pounds of all coats
	Arm     g.Length   // from the hinge line aft to the middle of the weight
	Moment  Weights    // inch-pounds about the hinge line, tail-heavy positive
	Whole   *WholeCoat // nil where the surface is not given by an outline
}

// WholeCoat is one coat over both faces of a control surface.
type WholeCoat struct {
	Face   float64  // square feet of one face
	Arm    g.Length // of its middle, aft of the hinge line
	Weight Weights
	Moment Weights
}

// balances returns the balance of every control surface that a marking paints, in
// the order of the aircraft.
func balances(l *layouts.Layout, laid []masks.Laid) ([]Balance, error) {
	var out []Balance
	for _, s := range l.Spec.Aircraft.Surfaces {
		hinge, moves := hingeOf(l.Spec.Aircraft, s)
		if !moves {
			continue
		}
		b := Balance{Surface: s.ID, Hinge: hinge}
		var mass, first, wl, bl float64 // weight as area times coats, and its first moments
		for _, one := range laid {
			for _, m := range one.Masks {
				on, err := onSurface(one, m.Opening, s)
				if err != nil {
					return nil, err
				}
				middle, area := centroidOf(on)
				pos, ok := one.Map.PositionOf(middle)
				if area <= 0 || !ok {
					continue
				}
				w := float64(area / squareFoot * float64(m.Coats+m.Under))
				shown, err := onSurface(one, m.Shows, s)
				if err != nil {
					return nil, err
				}
				b.Area += shown.Area() / squareFoot
				if !slices.Contains(b.Painted, one.ID()) {
					b.Painted = append(b.Painted, one.ID())
				}
				mass, first, wl, bl = mass+w, first+float64(w*pos.FS.Inches()), wl+float64(w*pos.WL.Inches()), bl+float64(w*pos.BL.Inches())
			}
		}
		if mass == 0 {
			continue
		}
		b.At = g.Position{FS: g.Station(first / mass), BL: g.ButtLine(bl / mass), WL: g.Waterline(wl / mass)}
		b.Weight = DopeWeight(mass, 1)
		if hinge != nil {
			b.Arm = hinge.To(b.At.FS)
			b.Moment = momentOf(b.Weight, b.Arm)
			b.Whole = wholeCoat(s, *hinge)
		}
		out = append(out, b)
	}
	return out, nil
}

func momentOf(w Weights, arm g.Length) Weights {
	a, b := w.Low*arm.Inches(), w.High*arm.Inches()
	return Weights{math.Min(a, b), math.Max(a, b)}
}

// hingeOf returns the hinge line of a surface and whether it moves: as written, or
// in the middle of the hinge gap that its fore edge lies on.
func hingeOf(a layouts.AircraftSpec, s layouts.SurfaceSpec) (*g.Station, bool) {
	if s.Hinge != nil {
		return s.Hinge, true
	}
	fore := g.Station(math.Inf(1))
	for _, p := range append(s.Outline, s.Leading...) {
		fore = min(fore, p.FS)
	}
	for _, o := range a.Obstacles {
		if o.Kind == layouts.HingeAt && math.Abs(float64(o.To-fore)) <= hingeReach {
			middle := (o.At.FS + o.To) / 2
			return &middle, true
		}
	}
	return nil, s.Control
}

// wholeCoat returns one coat over both faces of a plate; nil for other surfaces.
func wholeCoat(s layouts.SurfaceSpec, hinge g.Station) *WholeCoat {
	if s.Kind != layouts.Plate {
		return nil
	}
	middle, area := centroidOf(g.Path{sideOutline(s)})
	w := WholeCoat{Face: math.Abs(area) / squareFoot, Arm: hinge.To(g.Station(middle.X))}
	w.Weight = DopeWeight(2*w.Face, 1)
	w.Moment = momentOf(w.Weight, w.Arm)
	return &w
}

// sideOutline is the outline of a plate, x its FS and y its WL.
func sideOutline(s layouts.SurfaceSpec) g.Contour {
	var pts []g.Point
	for _, p := range s.Outline {
		pts = append(pts, g.Point{X: p.FS.Inches(), Y: p.WL.Inches()})
	}
	return g.Polygon(pts...)
}

// onSurface returns the part of a region that lies on a surface. Of a marking on
// several plates it is cut out along the plate's outline, which is brought into the
// flat: that of a plate is turned and moved, no more.
func onSurface(l masks.Laid, p g.Path, s layouts.SurfaceSpec) (g.Path, error) {
	on := l.Placement.Marking.Where.Surfaces
	switch {
	case !slices.Contains(on, s.ID):
		return nil, nil
	case len(on) == 1:
		return p, nil
	}
	o, okO := l.Map.PositionOf(g.Point{})
	x, okX := l.Map.PositionOf(g.Point{X: 1})
	y, okY := l.Map.PositionOf(g.Point{Y: 1})
	if !okO || !okX || !okY {
		return nil, nil
	}
	along := g.Vec{X: float64(x.FS - o.FS), Y: float64(x.WL - o.WL)}
	up := g.Vec{X: float64(y.FS - o.FS), Y: float64(y.WL - o.WL)}
	outline := sideOutline(s).Map(func(q g.Point) g.Point {
		d := q.Sub(g.Point{X: o.FS.Inches(), Y: o.WL.Inches()})
		return g.Point{X: d.Cross(up) / along.Cross(up), Y: along.Cross(d) / along.Cross(up)}
	})
	return g.Intersect(p, g.Path{outline})
}
