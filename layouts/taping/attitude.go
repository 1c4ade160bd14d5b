package taping

import (
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts"
)

// Attitude is how the aircraft stands, parked on its wheels and levelled, for
// those who work from the floor and a level. All angles are in degrees, and
// positive where a line rises towards the tail.
type Attitude struct {
	Ground    float64  // from the floor to the waterlines, nose up positive
	TailStand g.Length // raise the tail wheel by so much to level; negative: lower it
	Waterline float64  // what an inclinometer shows along a waterline, parked
	Lines     []LineSlope
	Heights   []PointHeight
	Pegs      []PegBlock
}

// LineSlope is what an inclinometer shows along a named line of a body, from
// section to section.
type LineSlope struct {
	Surface, Line string
	From, To      g.Station
	Side          float64 // of the side view, levelled
	Level         float64 // shown by an inclinometer laid along the line, levelled
	Parked        float64 // and parked
}

// PointHeight is the height of a checkpoint above the floor.
type PointHeight struct {
	ID     string
	Parked g.Length // on its wheels
	Level  g.Length // tail raised
}

// PegBlock is what to lay under a level across two pegs.
type PegBlock struct {
	From, To    string   // ids of the pegs, fore and aft
	Length      g.Length // between them
	Slope       float64  // levelled, rising towards the tail
	Block       g.Length // under the level at the peg called Under, levelled; 0 where the pegs are level
	Under       string
	Parked      float64  // slope shown parked
	ParkedBlock g.Length // block that makes the level read level, parked
	ParkedUnder string
}

// AttitudeOf returns how the aircraft stands; false where the layout gives no
// ground line.
func AttitudeOf(l *layouts.Layout, points []Checkpoint) (Attitude, bool) {
	ground := l.Spec.Aircraft.Ground
	angle, ok := l.Airframe.GroundAngle()
	if !ok {
		return Attitude{}, false
	}
	degrees := func(rad float64) float64 { return rad * 180 / math.Pi }
	a := Attitude{Ground: degrees(angle), TailStand: ground.Main.WL.To(ground.Tail.WL), Waterline: -degrees(angle)}
	for _, p := range points {
		a.Heights = append(a.Heights, PointHeight{ID: p.ID, Parked: HeightParked(*ground, angle, p.Mark.Skin), Level: ground.Main.WL.To(p.Mark.Skin.WL)})
	}
	for _, s := range l.Spec.Aircraft.Surfaces {
		if s.Kind != layouts.Stringers {
			continue
		}
		for k := 1; k < len(s.Sections); k++ {
			fore, aft := s.Sections[k-1], s.Sections[k]
			for i, name := range s.Lines {
				d := g.Vec3{
					X: float64(aft.FS - fore.FS), Y: float64(aft.Points[i].BL - fore.Points[i].BL), Z: float64(aft.Points[i].WL - fore.Points[i].WL),
				}
				a.Lines = append(a.Lines, LineSlope{
					Surface: s.ID, Line: name, From: fore.FS, To: aft.FS, Side: degrees(same.Atan2(d.Z, d.X)),
					Level: degrees(elevation(d, 0)), Parked: degrees(elevation(d, angle)),
				})
			}
		}
	}
	pegs := l.Spec.Aircraft.LevelPegs
	for i := 1; i < len(pegs); i++ {
		a.Pegs = append(a.Pegs, pegBlock(pegs[i-1], pegs[i], angle))
	}
	return a, true
}

// HeightParked returns the height above the floor of a point of an aircraft that
// stands on its wheels at a ground angle, in radians: its distance from the line
// through both contacts, seen from the side.
func HeightParked(ground layouts.GroundSpec, angle float64, p g.Position) g.Length {
	dz, dx := float64(p.WL-ground.Main.WL), float64(p.FS-ground.Main.FS)
	return g.Length((dz - float64(dx*same.Tan(angle))) * same.Cos(angle))
}

// elevation returns the angle above the floor, rising along d, of a direction of
// an aircraft that stands nose up by angle.
func elevation(d g.Vec3, angle float64) float64 {
	sin, cos := same.Sincos(angle)
	return same.Asin((float64(d.Z*cos) - float64(d.X*sin)) / d.Norm())
}

func pegBlock(a, b layouts.PegSpec, angle float64) PegBlock {
	if a.At.FS > b.At.FS {
		a, b = b, a
	}
	d := g.Vec3{X: float64(b.At.FS - a.At.FS), Z: float64(b.At.WL - a.At.WL)}
	out := PegBlock{From: a.ID, To: b.ID, Length: g.Length(d.Norm())}
	under := func(rad float64) (g.Length, string) {
		// the block goes under the lower peg's end
		rise := d.Norm() * same.Sin(rad)
		switch {
		case rise > g.SnapTolerance:
			return g.Length(rise), a.ID
		case rise < -g.SnapTolerance:
			return g.Length(-rise), b.ID
		}
		return 0, ""
	}
	level, parked := elevation(d, 0), elevation(d, angle)
	out.Slope, out.Parked = level*180/math.Pi, parked*180/math.Pi
	out.Block, out.Under = under(level)
	out.ParkedBlock, out.ParkedUnder = under(parked)
	return out
}
