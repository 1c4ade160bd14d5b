package taping

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// OneMore is where one more hardpoint would help a film most.
type OneMore struct {
	Of, On Found // what is found there: a frame, rib or edge, and the line it crosses; either may be empty
	At     g.Position
	Before g.Length // half the long axis of the ellipse that holds 95 of 100 films
	After  g.Length
}

// advice says so, in the units that findings are read in.
func (o OneMore) advice(u g.Units) string {
	at := func(f Found) string {
		if f.Plane == "" {
			return f.Name
		}
		return f.Name + " " + f.Plane + " " + u.Number(g.Length(f.At), 1)
	}
	return fmt.Sprintf("one more hardpoint at the %s (%s) would bring that from %s to %s", o.Where(at), u.Position(o.At), u.FixedNumber(o.Before, 2), u.Fixed(o.After, 2))
}

// Where names the place in words of the aircraft, each part as name writes it.
func (o OneMore) Where(name func(Found) string) string {
	switch {
	case o.Of == (Found{}):
		return name(o.On)
	case o.On == (Found{}):
		return name(o.Of)
	}
	return name(o.Of) + " on the " + name(o.On)
}

// betterThan is by what part an error must fall for a proposal to be worth making.
const betterThan = 0.8

// oneMore returns where one more hardpoint would help the worst tile of a placing most:
// of the places where a frame, a rib or an edge crosses a line of the surface near its
// points. The tape is taken as straight, which over a few feet errs by little; nil where
// none helps.
func oneMore(l *layouts.Layout, t *masks.Tiling, p Placing) *OneMore {
	worst, ok := p.Worst()
	if !ok {
		return nil
	}
	before, _ := worst.Error.Within95()
	if before <= PlacingLimit {
		return nil
	}
	var a, b PlacePoint
	for _, q := range p.Points {
		switch q.Name {
		case worst.From:
			a = q
		case worst.To:
			b = q
		}
	}
	tp := &taper{layout: l, laid: &t.Laid}
	var best *OneMore
	for _, place := range placesNear(l, t, a, b) {
		with := func(q PlacePoint) PlacePoint {
			hook := layouts.Hardpoint{ID: "new", At: place.At, Drawn: place.At, Sigma: layouts.MeasuredSigma, Measured: true}
			d := place.At.Vec().Sub(q.Point.Mark.Skin.Vec())
			if d.Norm() < nearHardpoint {
				return q
			}
			tape := Taping{From: hook, Kind: OnSkin, Length: g.Length(d.Norm()), Bearing: tp.inFlat(q.Point.Mark.UV, q.Point.Mark.UV, d.Unit()), away: d.Unit(), own: ownSigma(l.Spec.Tape, OnSkin)}
			one := tape.asOffset(l.Spec.Tape)
			for _, other := range append(q.Point.all(), tape) {
				if other.From.ID == "new" {
					continue
				}
				if w, ok := wayOf(ByTapes, one, other.asOffset(l.Spec.Tape), tape, other); ok && (len(q.Ways) == 0 || w.Error.RMS() < q.Ways[0].Error.RMS()) {
					q.Ways = []Way{w}
				}
			}
			for _, o := range q.Point.Offsets { // the tape with a length along a line, or from one
				if w, ok := wayOf(ByTapes, one, o, tape); ok && (len(q.Ways) == 0 || w.Error.RMS() < q.Ways[0].Error.RMS()) {
					q.Ways = []Way{w}
				}
			}
			return q
		}
		after, ok := placedBy(with(a), with(b), worst.Middle, 0)
		if !ok {
			continue
		}
		major, _ := after.Error.Within95()
		if g.OnGrid(major.Inches(), 1e-4) < g.OnGrid(float64(betterThan*before.Inches()), 1e-4) && (best == nil || g.OnGrid(major.Inches(), 1e-4) < g.OnGrid(best.After.Inches(), 1e-4)) {
			one := place
			one.Before, one.After = before, major
			best = &one
		}
	}
	return best
}

// placesNear returns where frames, ribs and edges cross lines of a surface near two
// points.
func placesNear(l *layouts.Layout, t *masks.Tiling, points ...PlacePoint) []OneMore {
	p := t.Laid.Placement
	var out []OneMore
	for _, q := range points {
		uv := q.Point.Mark.UV
		for _, line := range l.Airframe.FoundLines(p, uv) {
			for _, start := range l.Airframe.FoundStarts(p, line, uv.U) {
				at := g.PositionOf(skin.PointAt(p.Surface, skin.UV{U: start.FS.Inches(), V: line.V}))
				if math.IsNaN(at.WL.Inches()) {
					continue
				}
				out = append(out, OneMore{Of: start.Found, On: line.Found, At: at})
			}
		}
		lo, hi := skin.Extent(p.Surface)
		for _, line := range l.Airframe.FoundLines(p, uv) { // abeam of the point, and ahead and aft of it
			for _, off := range []float64{-24, 0, 24} {
				at := skin.UV{U: math.Max(lo, math.Min(hi, uv.U+off)), V: line.V}
				if !p.Surface.Contains(at) {
					continue
				}
				out = append(out, OneMore{On: line.Found, At: g.PositionOf(skin.PointAt(p.Surface, at))})
			}
		}
		for _, edge := range l.Airframe.Edges(p, uv) {
			out = append(out, OneMore{Of: edge.Found, At: g.PositionOf(skin.PointAt(p.Surface, skin.UV{U: uv.U, V: edge.V}))})
		}
	}
	return out
}
