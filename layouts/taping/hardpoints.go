package taping

import (
	"fmt"
	"math"

	"maskloft/geometry/same"
	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// TapeKind says how a tape is held.
type TapeKind string

// Kinds of tape.
const (
	OnSkin   TapeKind = "on skin"  // pressed along the skin
	Straight TapeKind = "straight" // pulled straight through the air
)

// Taping is one tape from a hardpoint to a point.
type Taping struct {
	From     layouts.Hardpoint
	Kind     TapeKind
	Length   g.Length
	Taut     g.Length // pulled taut along the skin, bridging its hollows
	Straight g.Length // through the air, for comparison
	Around   g.Length // pressed, the other way round the body; +Inf where there is none
	Sigma    g.Length // one standard deviation of the length as laid and read
	// Bearing is the direction in which the tape leaves the point, in the flat of
	// the marking. A straight tape stands off the skin: its bearing is the part
	// along the skin of its direction, shorter than one. The length grows by the
	// bearing's share of a movement of the point away from it.
	Bearing g.Vec
	Path    []g.Position // where the tape runs, from the point to the hardpoint; for pictures
	own     g.Length     // Sigma without what the tape itself is out by
	away    g.Vec3       // unit direction at the hardpoint away from the point
}

// onSkinWithin is how near a hardpoint must lie to the skin for a tape hooked on
// it to lie in the skin, in inches.
const onSkinWithin = 0.25

// throughSkin is how deep a straight tape may run below a skin, in inches: fabric
// gives way to a tape laid on it by that much (common practice, no source).
const throughSkin = 1.0 / 16

// hook is a hardpoint as seen from one surface.
type hook struct {
	layouts.Hardpoint
	uv     skin.UV // where it stands on the surface
	onSkin bool
}

// hooksOn returns the hardpoints of a marking's side, each with its place on the
// surface. A hardpoint belongs to the skin where the drawing has it there, however
// it was measured.
func hooksOn(a *layouts.Airframe, p layouts.Placement) []hook {
	var out []hook
	for _, h := range a.Hardpoints(p.Side) {
		k := hook{Hardpoint: h}
		uv, gap := skin.Nearest(p.Surface, h.At.Vec())
		if h.Measured && gap > onSkinWithin {
			_, gap = skin.Nearest(p.Surface, h.Drawn.Vec())
		}
		k.uv, k.onSkin = uv, gap <= onSkinWithin && p.Surface.Contains(uv)
		out = append(out, k)
	}
	return out
}

// taper measures tapes to the points of one marking.
type taper struct {
	layout    *layouts.Layout
	laid      *masks.Laid
	hooks     []hook
	stops     []stop
	tolerance float64
}

// Refusal is a tape that cannot be used.
type Refusal struct {
	From layouts.Hardpoint
	Why  string
}

// nearHardpoint is how near a hardpoint may stand for a tape to be swung from it, in
// inches: nearer, the hook is in the way (common practice, no source).
const nearHardpoint = 1.0

// from measures from a hardpoint to a point: along the skin where the hardpoint
// is on that skin, else straight through the air, where no skin is in the way. A
// tape along the skin whose length does not settle is refused.
func (t *taper) from(h hook, m masks.RegistrationMark) (Taping, *Refusal) {
	s := t.laid.Placement.Surface
	d := h.At.Vec().Sub(m.Skin.Vec())
	inf := g.Length(math.Inf(1))
	tape := Taping{From: h.Hardpoint, Kind: Straight, Length: g.Length(d.Norm()), Taut: g.Length(d.Norm()), Straight: g.Length(d.Norm()), Around: inf}
	if d.Norm() < nearHardpoint {
		return tape, &Refusal{From: h.Hardpoint, Why: fmt.Sprintf("%s is too near to swing a tape from", h.ID)}
	}
	if !h.onSkin {
		if at, by, blocked := t.layout.Airframe.Blocked(m.Skin, h.At, throughSkin); blocked {
			return tape, &Refusal{From: h.Hardpoint, Why: fmt.Sprintf("a straight tape from %s would run through the %s at FS %s", h.ID, by, t.laid.Placement.Read.Number(g.Length(at.FS), 1))}
		}
		tape.away = d.Unit()
		tape.Path = []g.Position{m.Skin, h.At}
		tape.Bearing = t.throughAir(m.UV, d.Unit())
		tape.Sigma, tape.own = tapeSigma(t.layout.Spec.Tape, tape.Kind, tape.Length), ownSigma(t.layout.Spec.Tape, tape.Kind)
		return tape, nil
	}
	for _, o := range t.stops {
		if o.holds(h.At) {
			return tape, &Refusal{From: h.Hardpoint, Why: fmt.Sprintf("%s stands within the %s", h.ID, o.ID)}
		}
	}
	path, err := skin.Tape(s, m.UV, h.uv, t.tolerance)
	if err != nil {
		return tape, &Refusal{From: h.Hardpoint, Why: fmt.Sprintf("from %s, %s", h.ID, g.ErrorIn(t.laid.Placement.Read, err))}
	}
	tape.Kind = OnSkin
	points := path.Points
	for _, q := range points {
		tape.Path = append(tape.Path, g.PositionOf(skin.PointAt(s, q)))
	}
	tape.Path = append(tape.Path, h.At)
	for _, o := range t.stops {
		if o.crosses(tape.Path) {
			return tape, &Refusal{From: h.Hardpoint, Why: fmt.Sprintf("a tape from %s would run through the %s", h.ID, o.ID)}
		}
	}
	if at, id, through := t.layout.Airframe.Through(tape.Path, t.laid.Placement.Marking.Where.Surfaces, throughSkin); through {
		return tape, &Refusal{From: h.Hardpoint, Why: fmt.Sprintf("a tape from %s would run through the %s at FS %s", h.ID, id, t.laid.Placement.Read.Number(g.Length(at.FS), 1))}
	}
	end := skin.PointAt(s, points[len(points)-1])
	off := h.At.Vec().Sub(end)
	tape.away = d.Unit()
	for i := len(points) - 2; i >= 0; i-- {
		if step := end.Sub(skin.PointAt(s, points[i])); step.Norm() > g.SnapTolerance {
			tape.away = step.Unit()
			break
		}
	}
	// a hook that stands off the skin's end of the path lengthens the tape by its
	// part along it, and by the rest as a hypotenuse
	along := off.Dot(tape.away)
	square := off.Sub(tape.away.Scale(along)).Norm()
	reach := func(l g.Length) g.Length { return g.Length(same.Hypot(l.Inches()+along, square)) }
	tape.Length, tape.Taut, tape.Around = reach(path.Length), reach(skin.PullTaut(s, path).Length), reach(path.Around)
	at := skin.PointAt(s, points[0])
	tape.Bearing = t.inFlat(m.UV, m.UV, d.Unit()).Unit()
	for _, q := range points[1:] {
		if step := skin.PointAt(s, q).Sub(at); step.Norm() > g.SnapTolerance {
			mid := skin.UV{U: (points[0].U + q.U) / 2, V: (points[0].V + q.V) / 2}
			tape.Bearing = t.inFlat(points[0], mid, step).Unit()
			break
		}
	}
	tape.Sigma, tape.own = tapeSigma(t.layout.Spec.Tape, tape.Kind, tape.Length), ownSigma(t.layout.Spec.Tape, tape.Kind)
	return tape, nil
}

// throughAir returns the part along the skin of a direction at uv, in the flat. On a
// crease it is the mean of what the panels at its two sides give, so that a point there
// reads alike on the left and on the right.
func (t *taper) throughAir(uv skin.UV, d g.Vec3) g.Vec {
	const e = 1e-6 // of V, to either side
	lo := t.inFlat(uv, skin.UV{U: uv.U, V: uv.V - e}, d)
	hi := t.inFlat(uv, skin.UV{U: uv.U, V: uv.V + e}, d)
	return lo.Add(hi).Scale(0.5)
}

// inFlat returns the part along the skin of a direction at uv, in the flat of the
// marking, as seen in the panel that holds in: folded about the line of constant V
// there, so that directions in the two panels of a crease unfold alike.
func (t *taper) inFlat(uv, in skin.UV, d g.Vec3) g.Vec {
	s := t.laid.Placement.Surface
	const e = 1e-3 // inches: steps of the differences
	lo, hi := skin.Extent(s)
	u0, u1 := math.Max(lo, uv.U-e), math.Min(hi, uv.U+e)
	a, _ := s.At(skin.UV{U: u0, V: uv.V}, in)
	b, _ := s.At(skin.UV{U: u1, V: uv.V}, in)
	_, n := s.At(uv, in)
	line := b.Sub(a)
	line = line.Sub(n.Scale(line.Dot(n))).Unit()
	// seen from outside, n x line is a quarter turn to the left of line, as in the flat
	x, y := d.Dot(line), d.Dot(n.Cross(line))
	fa, okA := t.laid.Map.ToFlat(skin.UV{U: u0, V: uv.V})
	fb, okB := t.laid.Map.ToFlat(skin.UV{U: u1, V: uv.V})
	if !okA || !okB {
		return g.Vec{}
	}
	f := fb.Sub(fa).Unit()
	return f.Scale(x).Add(f.Perp().Scale(y))
}
