package survey

import (
	"fmt"
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

const (
	coverGrid = 24  // points each way at which paint is looked for under other paint
	sameSpot  = 0.9 // of the paint of both: one marking stands where the other does
)

// others compares markings with each other on every surface: paint that lies on the
// paint of another marking warns, and two that stand on one spot stop. Nothing is said
// where one names the other under over:.
func others(laid []masks.Laid) []layouts.Finding {
	paint, rounds, reaches := make([]*g.Chords, len(laid)), make([][]round, len(laid)), make([]float64, len(laid))
	for i, one := range laid {
		r := one.Painted.Bounds()
		rounds[i], reaches[i] = roundsOf(one), same.Hypot(max(-r.Min.X, r.Max.X), max(-r.Min.Y, r.Max.Y))
	}
	var out []layouts.Finding
	for j := range laid {
		for i := range j {
			a, b := &laid[i].Placement, &laid[j].Placement
			if !meet(a, b, reaches[i]+reaches[j]) || !touch(rounds[i], rounds[j]) || a.Marking.CoversOn(b.Marking.ID) || b.Marking.CoversOn(a.Marking.ID) {
				continue
			}
			for _, k := range [2]int{i, j} {
				if paint[k] == nil {
					paint[k] = g.ChordsOf(laid[k].Painted, g.FlattenTolerance)
				}
			}
			below, above := covered(laid[i], paint[i], laid[j], paint[j]), covered(laid[j], paint[j], laid[i], paint[i])
			if below == 0 && above == 0 {
				continue
			}
			out = append(out, paintOnPaint(laid[i], laid[j], below, above, math.Abs(masks.PolygonsOf(laid[j].Painted).Area())))
		}
	}
	return out
}

// meet tells whether two markings can come near each other: on one skin, on one side of
// it or on a body that closes round, and no farther apart than both reach, in inches.
func meet(p, q *layouts.Placement, reach float64) bool {
	if p.Anchor.To(q.Anchor).Inches() > reach || p.Face() != q.Face() || !slices.ContainsFunc(p.Marking.Where.Surfaces, func(s string) bool { return slices.Contains(q.Marking.Where.Surfaces, s) }) {
		return false
	}
	_, _, period := p.Surface.Breaks()
	return p.Side == q.Side || period > 0
}

// round is a ball that holds a part of a marking's paint.
type round struct {
	at     g.Vec3
	radius float64
}

// roundsOf covers the paint of a marking with balls about places of its skin: what lies
// in the flat at a distance lies in space no farther, but for the strain of the film,
// which a tenth allows for. Nil where a place has no skin under it.
func roundsOf(l masks.Laid) []round {
	b := l.Painted.Bounds()
	const most = 40 // of them along the longer side
	size := math.Max(math.Min(b.Width(), b.Height()), math.Max(b.Width(), b.Height())/most)
	if !(size > 0) {
		return nil
	}
	nx, ny := int(math.Ceil(b.Width()/size)), int(math.Ceil(b.Height()/size))
	w, h := b.Width()/float64(max(nx, 1)), b.Height()/float64(max(ny, 1))
	var out []round
	for i := range nx {
		for j := range ny {
			uv, ok := l.Map.ToSkin(g.Point{X: b.Min.X + float64((float64(i)+0.5)*w), Y: b.Min.Y + float64((float64(j)+0.5)*h)})
			if !ok {
				return nil
			}
			out = append(out, round{skin.PointAt(l.Placement.Surface, uv), 1.1*same.Hypot(w, h)/2 + g.SayDifference})
		}
	}
	return out
}

// touch tells whether what two sets of balls hold may meet; a set that is nil may.
func touch(a, b []round) bool {
	if a == nil || b == nil {
		return true
	}
	for _, p := range a {
		for _, q := range b {
			if p.at.Sub(q.at).Norm() <= p.radius+q.radius {
				return true
			}
		}
	}
	return false
}

// covered returns the part of the paint of a that lies on that of b, by points of a grid
// and of its outline; paint that only touches counts as none.
func covered(a masks.Laid, paint *g.Chords, b masks.Laid, on *g.Chords) float64 {
	under := func(q g.Point) bool {
		uv, ok := a.Map.ToSkin(q)
		if !ok {
			return false
		}
		at, ok := inFlat(a.Placement, uv, b)
		return ok && on.Contains(at) && on.Distance(at) > g.SayDifference
	}
	r := paint.Bounds()
	all, hit := 0, 0
	for i := range coverGrid {
		for k := range coverGrid {
			q := g.Point{
				X: r.Min.X + float64(r.Width()*(float64(i)+0.5)/coverGrid),
				Y: r.Min.Y + float64(r.Height()*(float64(k)+0.5)/coverGrid),
			}
			if !paint.Contains(q) {
				continue
			}
			all++
			if under(q) {
				hit++
			}
		}
	}
	if hit == 0 {
		eachOutlinePoint(a, runStep, func(_ layouts.Region, q g.Point, _ float64) {
			if hit == 0 && under(q) {
				hit = 1
			}
		})
	}
	return float64(hit) / float64(max(all, 1))
}

// inFlat returns where a point of the skin of one placement lies in the flat of another
// marking. A body that closes round has several numbers for one line.
func inFlat(from layouts.Placement, uv skin.UV, to masks.Laid) (g.Point, bool) {
	p := to.Placement
	if from.On != p.On { // a fin, and the same fin with its rudder: by what is seen from the side
		at := skin.PointAt(from.Surface, uv)
		var err error
		if uv, err = skin.LocateSide(p.Surface, p.Side, g.SidePosition{FS: g.Station(at.X), WL: g.Waterline(at.Z)}); err != nil {
			return g.Point{}, false
		}
	}
	_, _, period := p.Surface.Breaks()
	for _, turn := range []float64{0, period, -period} {
		if at, ok := to.Map.ToFlat(skin.UV{U: uv.U, V: uv.V + turn}); ok {
			return at, true
		}
		if period <= 0 {
			break
		}
	}
	return g.Point{}, false
}

// paintOnPaint says how much of the later of two markings lies on the earlier one.
func paintOnPaint(a, b masks.Laid, below, above, area float64) layouts.Finding {
	first, second := a.Placement.Marking.ID, b.Placement.Marking.ID
	f := layouts.Finding{
		Level: layouts.Warn, Rule: "paint-on-paint", Marking: b.ID(), Where: b.Placement.Anchor,
		Message:  fmt.Sprintf("%s: about %s of its paint lies on the paint of %s", b.ID(), b.Placement.Read.SmallArea(g.OnGrid(above*area, 0.1), 1), a.ID()),
		Hint:     fmt.Sprintf("move one of them, or write over: [%s] in %s where it is meant to cover it", first, second),
		Measured: g.FormatNumber(100*above, 0) + " % of it, " + g.FormatNumber(100*below, 0) + " % of " + a.ID(), Expected: "0 %",
		Tolerance: "none", Source: "derived",
	}
	if above == 0 {
		f.Message = fmt.Sprintf("%s: it lies on the paint of %s", b.ID(), a.ID())
	}
	if below >= sameSpot && above >= sameSpot {
		f.Level, f.Message = layouts.Stop, fmt.Sprintf("%s: it stands on the same spot as %s", b.ID(), a.ID())
		f.Hint = fmt.Sprintf("take one of them out, or move it with where:; over: [%s] where both are meant", first)
	}
	return f
}
