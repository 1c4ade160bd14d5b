package bench

import (
	"context"

	"maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// skinID names one skin: a body has one, a plate or foil two, a wing four.
func skinID(surface string, side geometry.Side, face layouts.Face, kind layouts.SurfaceKind) string {
	switch kind {
	case layouts.Wing:
		return surface + "/" + side.String() + "/" + string(face)
	case layouts.Plate, layouts.Foil:
		return surface + "/" + side.String()
	}
	return surface
}

// askSkins returns the surfaces of the aircraft as nets.
func askSkins(b *Bench, ctx context.Context, _ Request, _ func(Answer)) (any, error) {
	frame, err := b.airframe(ctx)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	kept, ok := b.skins[frame]
	b.mu.Unlock()
	if ok {
		return kept, nil
	}
	out := Skins{Skins: []Skin{}}
	for _, spec := range frame.Spec.Surfaces {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		all, err := skinsOf(frame, spec)
		if err != nil {
			return nil, err
		}
		out.Skins = append(out.Skins, all...)
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.skins = map[*layouts.Airframe]Skins{frame: out} // an airframe is kept while the aircraft is the same
	return out, nil
}

func (b *Bench) airframe(ctx context.Context) (*layouts.Airframe, error) {
	j, err := b.job()
	if err != nil {
		return nil, err
	}
	l, err := j.Layout(ctx)
	if err != nil {
		return nil, err
	}
	return l.Airframe, nil
}

// skinsOf are the skins of one surface.
func skinsOf(a *layouts.Airframe, spec layouts.SurfaceSpec) ([]Skin, error) {
	one := func(side geometry.Side, face layouts.Face) Skin {
		return Skin{
			ID: skinID(spec.ID, side, face, spec.Kind), Surface: spec.ID, Kind: string(spec.Kind), Side: side.String(), Face: string(face),
			Lines: map[string]float64{}, Outlines: [][]Point2{},
		}
	}
	var out []Skin
	switch spec.Kind {
	case layouts.Wing:
		for _, side := range []geometry.Side{geometry.Left, geometry.Right} {
			for _, face := range []layouts.Face{layouts.UpperFace, layouts.LowerFace} {
				w, err := a.WingSurface(spec.ID, side, face)
				if err != nil {
					return nil, err
				}
				s := one(side, face)
				chordNet(&s, w)
				out = append(out, s)
			}
		}
	case layouts.Foil, layouts.Plate:
		for _, side := range []geometry.Side{geometry.Left, geometry.Right} {
			on, err := a.Surface([]string{spec.ID}, side)
			if err != nil {
				return nil, err
			}
			s := one(side, layouts.NoFace)
			if w, ok := on.(*skin.LiftingSkin); ok {
				chordNet(&s, w)
			} else {
				plateNet(&s, on, spec)
			}
			out = append(out, s)
		}
	default:
		on, err := a.Surface([]string{spec.ID}, geometry.Right)
		if err != nil {
			return nil, err
		}
		s := one(geometry.Right, layouts.NoFace)
		s.Side = "both"
		s.Mirror = spec.Kind != layouts.Scanned
		bodyNet(&s, on)
		for _, name := range append([]string{layouts.CrownLine, layouts.KeelLine}, spec.Lines...) {
			if v, err := a.LineAt(on, spec.ID, name, geometry.Right); err == nil {
				s.Lines[name] = v
			}
		}
		out = append(out, s)
	}
	return out, nil
}

// bodyNet nets a body: its right half, or all round where the halves differ.
func bodyNet(s *Skin, on skin.Surface) {
	us, vs, period := on.Breaks()
	v0, v1 := vs[0], vs[len(vs)-1]
	if period > 0 {
		crown := 0.0
		if vs[0] > 0 || v1 < 0 {
			crown = vs[0]
		}
		v0, v1 = crown, crown+period
		if s.Mirror {
			v1 = crown + float64(period/2)
		}
		s.Closed = !s.Mirror
	}
	netOf(s, func(uv, in skin.UV) (geometry.Vec3, geometry.Vec3) { return on.At(uv, in) }, us, between(vs, v0, v1))
}

// chordNet nets a wing or foil over the root of the part of the chord, by which a round
// leading edge is smooth.
func chordNet(s *Skin, on *skin.LiftingSkin) {
	_, vs, _ := on.Breaks()
	at := func(uv, in skin.UV) (geometry.Vec3, geometry.Vec3) {
		fore, aft := on.Chord(uv.V)
		u := fore + float64(float64(uv.U*uv.U)*(aft-fore))
		return on.At(skin.UV{U: u, V: uv.V}, skin.UV{U: u, V: in.V})
	}
	netOf(s, at, []float64{0, 1}, vs)
	for _, v := range s.V {
		fore, aft := on.Chord(v)
		s.Chords = append(s.Chords, Chord{round6(fore), round6(aft)})
	}
}

// plateNet is the box of a flat plate.
func plateNet(s *Skin, on skin.Surface, spec layouts.SurfaceSpec) {
	us, vs, _ := on.Breaks()
	var outline []Point2
	for _, p := range spec.Outline {
		outline = append(outline, Point2{round6(p.FS.Inches()), round6(p.WL.Inches())})
	}
	s.Outlines = append(s.Outlines, outline)
	netOf(s, func(uv, in skin.UV) (geometry.Vec3, geometry.Vec3) { return on.At(uv, in) }, ends(us), ends(vs))
}

func ends(x []float64) []float64 { return []float64{x[0], x[len(x)-1]} }

// between are the values from lo to hi, and those ends.
func between(x []float64, lo, hi float64) []float64 {
	out := []float64{lo}
	for _, v := range x {
		if v > lo+1e-9 && v < hi-1e-9 {
			out = append(out, v)
		}
	}
	return append(out, hi)
}
