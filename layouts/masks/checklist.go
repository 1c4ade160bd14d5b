package masks

import (
	"fmt"
	"math"
	"runtime"

	"golang.org/x/sync/errgroup"

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
	bearing  g.Vec3   // unit direction in which the tape leaves the point
}

// Checkpoint is one registration mark located by two tapes and checked by a
// third.
type Checkpoint struct {
	ID       string // the marking's id, the side and the mark's letter
	Marking  string
	Mark     RegistrationMark
	Tapes    [2]Taping
	Crossing float64 // degrees between the two tapes at the mark, 0 to 180
	Closure  *Taping // nil where the aircraft has only two hardpoints on that side
}

// onSkinWithin is how near a hardpoint must lie to the skin for a tape hooked on
// it to lie in the skin, in inches.
const onSkinWithin = 0.25

// Checklist returns a checkpoint for every registration mark. Of all pairs of
// hardpoints the one whose tapes cross nearest to square is taken: the error of
// the point grows with 1/sin of the crossing angle (trilateration; derived). The
// best of the rest is the closure.
//
// Errors: a side has fewer than two hardpoints.
// Findings: a tape that is nearly as long the other way round.
func Checklist(l *layouts.Layout, tilings []Tiling, tolerance float64) ([]Checkpoint, []layouts.Finding, error) {
	type job struct {
		tiling *Tiling
		mark   RegistrationMark
		hard   []layouts.Hardpoint
	}
	var jobs []job
	for i := range tilings {
		t := &tilings[i]
		hard := l.Airframe.Hardpoints(t.Laid.Placement.Side)
		if len(hard) < 2 {
			return nil, nil, fmt.Errorf("%v: hardpoints: the %s side has %d, a point needs tapes from two: add one under hardpoints:",
				l.Spec.Aircraft.Place, t.Laid.Placement.Side, len(hard))
		}
		for _, m := range t.Marks {
			jobs = append(jobs, job{t, m, hard})
		}
	}
	out := make([]Checkpoint, len(jobs))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, j := range jobs {
		group.Go(func() (err error) {
			out[i], err = locate(j.tiling, j.mark, j.hard, tolerance)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, nil, err
	}
	var findings []layouts.Finding
	for _, c := range out {
		for _, tape := range c.Tapes {
			if f, tie := tapeTie(c.Marking, c.Mark, tape); tie {
				findings = append(findings, f)
			}
		}
	}
	return out, findings, nil
}

func locate(t *Tiling, m RegistrationMark, hard []layouts.Hardpoint, tolerance float64) (Checkpoint, error) {
	p := t.Laid.Placement
	c := Checkpoint{ID: t.Laid.ID() + "-" + m.ID, Marking: t.Laid.ID(), Mark: m}
	_, normal := p.Surface.At(m.UV, m.UV)
	in := func(h layouts.Hardpoint) g.Vec3 { // direction in the skin, for choosing
		d := h.At.Vec().Sub(m.Skin.Vec())
		return d.Sub(normal.Scale(d.Dot(normal))).Unit()
	}
	sine := func(a, b layouts.Hardpoint) float64 { return in(a).Cross(in(b)).Norm() }
	pair, best := [2]int{0, 1}, -1.0
	for i := range hard {
		for j := i + 1; j < len(hard); j++ {
			if s := sine(hard[i], hard[j]); s > best+1e-9 {
				pair, best = [2]int{i, j}, s
			}
		}
	}
	for k, i := range pair {
		tape, err := tapeFrom(p.Surface, m, hard[i], tolerance)
		if err != nil {
			return c, err
		}
		c.Tapes[k] = tape
	}
	c.Crossing = math.Acos(math.Max(-1, math.Min(1, c.Tapes[0].bearing.Dot(c.Tapes[1].bearing)))) * 180 / math.Pi
	third, best := -1, -1.0
	for i := range hard {
		if i == pair[0] || i == pair[1] {
			continue
		}
		// a closure shows an error best where it crosses both tapes
		if s := math.Min(sine(hard[i], hard[pair[0]]), sine(hard[i], hard[pair[1]])); s > best {
			third, best = i, s
		}
	}
	if third >= 0 {
		tape, err := tapeFrom(p.Surface, m, hard[third], tolerance)
		if err != nil {
			return c, err
		}
		c.Closure = &tape
	}
	return c, nil
}

// tapeFrom measures from a hardpoint to a mark: along the skin where the
// hardpoint is on that skin, else straight.
func tapeFrom(s skin.Surface, m RegistrationMark, h layouts.Hardpoint, tolerance float64) (Taping, error) {
	d := h.At.Vec().Sub(m.Skin.Vec())
	tape := Taping{From: h, Kind: Straight, Length: g.Length(d.Norm()), Taut: g.Length(d.Norm()), Straight: g.Length(d.Norm()), Around: g.Length(math.Inf(1)), bearing: d.Unit()}
	uv, gap := skin.Nearest(s, h.At.Vec())
	if gap > onSkinWithin || !s.Contains(uv) {
		return tape, nil
	}
	path, err := skin.Tape(s, m.UV, uv, tolerance)
	if err != nil {
		return tape, fmt.Errorf("mark %s: tape from %s: %w", m.ID, h.ID, err)
	}
	// a hook that stands off the skin lengthens the tape as the hypotenuse
	off := func(l g.Length) g.Length { return g.Length(math.Hypot(l.Inches(), gap.Inches())) }
	tape.Kind, tape.Length, tape.Taut = OnSkin, off(path.Length), off(skin.PullTaut(s, path).Length)
	tape.Around = off(path.Around)
	for _, q := range path.Points[1:] {
		if step := skin.PointAt(s, q).Sub(m.Skin.Vec()); step.Norm() > 1e-6 {
			tape.bearing = step.Unit()
			break
		}
	}
	return tape, nil
}
