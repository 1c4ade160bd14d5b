package bench

import (
	"context"
	"math"

	"maskloft/export/views"
	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// askScene returns what stands round the markings.
func askScene(b *Bench, ctx context.Context, _ Request, _ func(Answer)) (any, error) {
	j, err := b.job()
	if err != nil {
		return nil, err
	}
	l, err := j.Layout(ctx)
	if err != nil {
		return nil, err
	}
	spec, a := l.Spec, l.Airframe
	s := Scene{
		Name: spec.Name, Aircraft: a.Spec.Name, Datum: a.Spec.Datum, Units: spec.Units,
		Stations: []SceneFrame{}, Lines: []SceneLine{}, Obstacles: []SceneBar{}, Hardpoints: []ScenePoint{}, Pegs: []ScenePoint{}, Profile: []SceneShape{},
		Paints: []Paint{}, Coats: map[string]string{}, Edge: round6(spec.Rules.Edge.Inches()), Evidence: []ScenePlace{}, Photos: []ScenePhoto{}, Skipped: []SceneReason{},
		Rules: SceneRules{Date: spec.Rules.Date, Nation: spec.Rules.Nation, Service: spec.Rules.Service, Finish: spec.Rules.Finish, Types: append([]string{}, spec.Rules.Types...)},
		Web:   round6(spec.Film.Web.Inches()),
	}
	for _, c := range spec.Paint.Colours {
		s.Paints = append(s.Paints, Paint{c.ID, c.Name, views.HexOf(spec.Paint, c.ID)})
	}
	for _, e := range spec.Evidence {
		s.Evidence = append(s.Evidence, ScenePlace{e.ID, e.Class, e.What})
	}
	for _, p := range spec.Photos {
		s.Photos = append(s.Photos, ScenePhoto{p.ID, p.File})
	}
	for _, p := range a.Spec.Profile {
		s.Profile = append(s.Profile, SceneShape{p.ID, p.Closed, sidePoints(p.Points)})
	}
	if angle, ok := a.GroundAngle(); ok {
		ground := a.Spec.Ground
		s.Ground = &SceneGround{round6(angle), sidePoint(ground.Main), sidePoint(ground.Tail)}
	}
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range a.Hardpoints(side) {
			s.Hardpoints = append(s.Hardpoints, ScenePoint{h.ID, h.Name, side.String(), point3(h.At.Vec()), h.Measured})
		}
		for _, p := range a.Spec.LevelPegs {
			for _, on := range p.Side.List() {
				if on == side {
					s.Pegs = append(s.Pegs, ScenePoint{ID: p.ID, Name: p.ID, Side: side.String(), At: Point3{round6(p.At.FS.Inches()), 0, round6(p.At.WL.Inches())}})
				}
			}
		}
	}
	for _, surface := range a.Spec.Surfaces {
		if hex := spec.SkinSaid(surface.ID); hex != "" {
			s.Coats[surface.ID] = hex
		}
		s.structure(a, surface)
	}
	for _, o := range a.Spec.Obstacles {
		for _, side := range o.Side.List() {
			s.obstacle(a, o, side)
		}
	}
	s.bounds(a)
	return s, nil
}

func sidePoint(p g.SidePosition) Point2 {
	return Point2{round6(p.FS.Inches()), round6(p.WL.Inches())}
}

func sidePoints(ps []g.SidePosition) []Point2 {
	out := []Point2{}
	for _, p := range ps {
		out = append(out, sidePoint(p))
	}
	return out
}

// Points of lines of the scene.
const (
	sceneRound = 48 // round half a section
	sceneAlong = 32 // along a line
)

// structure adds the sections, ribs and named lines of a surface.
func (s *Scene) structure(a *layouts.Airframe, spec layouts.SurfaceSpec) {
	line := func(n int, at func(t float64) (g.Vec3, bool)) []Point3 {
		out := []Point3{}
		for i := range n + 1 {
			if p, ok := at(float64(i) / float64(n)); ok {
				out = append(out, point3(p))
			}
		}
		return out
	}
	switch spec.Kind {
	case layouts.Plate:
		y := spec.Thickness.Inches() / 2
		for _, rib := range spec.Ribs {
			for _, cut := range views.AcrossAt(spec.Outline, rib) {
				s.Stations = append(s.Stations, SceneFrame{spec.ID, round6(rib.Inches()), []Point3{
					{round6(cut[0].FS.Inches()), round6(y), round6(rib.Inches())}, {round6(cut[1].FS.Inches()), round6(y), round6(rib.Inches())}}})
			}
		}
	case layouts.Wing:
		w, err := a.WingSurface(spec.ID, g.Right, layouts.UpperFace)
		if err != nil {
			return
		}
		for _, rib := range spec.Span.Ribs {
			fore, aft := w.Chord(rib.Inches())
			s.Stations = append(s.Stations, SceneFrame{spec.ID, round6(rib.Inches()), line(sceneAlong, func(t float64) (g.Vec3, bool) {
				return skin.PointAt(w, skin.UV{U: fore + float64(float64(t*t)*(aft-fore)), V: rib.Inches()}), true
			})})
		}
	case layouts.Foil:
	default:
		on, err := a.Surface([]string{spec.ID}, g.Right)
		if err != nil {
			return
		}
		us, _, period := on.Breaks()
		crown, err := a.LineAt(on, spec.ID, layouts.CrownLine, g.Right)
		if err != nil {
			return
		}
		stations := us
		if spec.Kind == layouts.Scanned {
			stations = ends(us)
		}
		for _, u := range stations {
			s.Stations = append(s.Stations, SceneFrame{spec.ID, round6(u), line(sceneRound, func(t float64) (g.Vec3, bool) {
				return skin.PointAt(on, skin.UV{U: u, V: crown + float64(t*period/2)}), true
			})})
		}
		lo, hi := us[0], us[len(us)-1]
		for _, name := range append([]string{layouts.CrownLine, layouts.KeelLine}, spec.Lines...) {
			v, err := a.LineAt(on, spec.ID, name, g.Right)
			if err != nil {
				continue
			}
			s.Lines = append(s.Lines, SceneLine{spec.ID, name, line(sceneAlong, func(t float64) (g.Vec3, bool) {
				return skin.PointAt(on, skin.UV{U: lo + float64(t*(hi-lo)), V: v}), true
			})})
		}
	}
}

// obstacle adds an obstacle on one side, or the reason why it is not drawn.
func (s *Scene) obstacle(a *layouts.Airframe, o layouts.ObstacleSpec, side g.Side) {
	spec, ok := a.SurfaceSpec(o.Surface)
	if !ok {
		return
	}
	faces := []layouts.Face{layouts.NoFace}
	if spec.Kind == layouts.Wing {
		faces = []layouts.Face{layouts.UpperFace, layouts.LowerFace}
		if o.Face != layouts.NoFace {
			faces = []layouts.Face{o.Face}
		}
	}
	for _, face := range faces {
		bar := SceneBar{ID: o.ID, Kind: string(o.Kind), Surface: o.Surface, Side: side.String(), Face: string(face), Size: round6(o.Size.Inches()), Line: o.Line, Points: []Point3{}}
		if o.Keeps() {
			bar.Clear = round6(o.Clear.Inches())
		}
		on, err := surfaceOf(a, spec, side, face)
		if err == nil {
			err = bar.draw(a, o, on, side)
		}
		if err != nil {
			s.Skipped = append(s.Skipped, SceneReason{o.ID, err.Error()})
			continue
		}
		s.Obstacles = append(s.Obstacles, bar)
	}
}

func surfaceOf(a *layouts.Airframe, spec layouts.SurfaceSpec, side g.Side, face layouts.Face) (skin.Surface, error) {
	if spec.Kind == layouts.Wing {
		return a.WingSurface(spec.ID, side, face)
	}
	return a.Surface([]string{spec.ID}, side)
}

// draw fills in where an obstacle is on its skin.
func (bar *SceneBar) draw(a *layouts.Airframe, o layouts.ObstacleSpec, on skin.Surface, side g.Side) error {
	us, vs, period := on.Breaks()
	add := func(uv skin.UV) { bar.Points = append(bar.Points, point3(skin.PointAt(on, uv))) }
	lo, hi := us[0], us[len(us)-1]
	switch o.Kind {
	case layouts.Ring, layouts.Spot:
		uv, err := o.Locate(on, side, o.Middle())
		if err != nil {
			return err
		}
		middle, n := on.At(uv, uv)
		at := point3(middle)
		bar.At, bar.Closed = &at, true
		across := n.Cross(g.Vec3{X: 1})
		if across.Norm() < 1e-6 {
			across = n.Cross(g.Vec3{Z: 1})
		}
		across = across.Unit()
		along := across.Cross(n).Unit()
		const corners = 24
		r := o.Size.Inches() / 2
		for i := range corners {
			sin, cos := same.Sincos(2 * math.Pi * float64(i) / corners)
			bar.Points = append(bar.Points, point3(middle.Add(along.Scale(r*cos)).Add(across.Scale(r*sin))))
		}
	case layouts.Opening:
		bar.Closed = true
		c := o.Corners()
		for i, p := range c {
			q := c[(i+1)%len(c)]
			n := max(1, int(math.Ceil(same.Hypot(q.X-p.X, q.Y-p.Y))))
			for k := range n {
				t := float64(k) / float64(n)
				uv, err := o.Locate(on, side, g.Point{X: p.X + float64(t*(q.X-p.X)), Y: p.Y + float64(t*(q.Y-p.Y))})
				if err != nil {
					return err
				}
				add(uv)
			}
		}
	case layouts.FinishingTape:
		v, err := a.LineAt(on, o.Surface, o.Line, side)
		if err != nil {
			return err
		}
		for i := range sceneAlong + 1 {
			add(skin.UV{U: lo + float64((hi-lo)*float64(i)/sceneAlong), V: v})
		}
	case layouts.HingeAt:
		bar.Size = round6(float64(o.At.FS.To(o.To)))
		u := float64(o.At.FS+o.To) / 2
		for i := range sceneAlong + 1 {
			if uv := (skin.UV{U: u, V: vs[0] + float64((vs[len(vs)-1]-vs[0])*float64(i)/sceneAlong)}); on.Contains(uv) {
				add(uv)
			}
		}
	case layouts.Around:
		if wing, ok := on.(*skin.LiftingSkin); ok && o.OnWing {
			v := o.BL.Inches() * side.Sign()
			fore, aft := wing.Chord(v)
			for i := range sceneAlong + 1 {
				t := float64(i) / sceneAlong
				add(skin.UV{U: fore + float64(float64(t*t)*(aft-fore)), V: v})
			}
			break
		}
		from, to := vs[0], vs[len(vs)-1]
		if period > 0 {
			crown, err := a.LineAt(on, o.Surface, layouts.CrownLine, side)
			if err != nil {
				return err
			}
			from, to = crown, crown+float64(period/2*side.Sign())
		}
		for i := range sceneRound + 1 {
			if uv := (skin.UV{U: o.At.FS.Inches(), V: from + float64((to-from)*float64(i)/sceneRound)}); on.Contains(uv) || period > 0 {
				add(uv)
			}
		}
	}
	return nil
}

// bounds is the box of all surfaces and of what is drawn in the side view.
func (s *Scene) bounds(a *layouts.Airframe) {
	lo, hi := Point3{math.Inf(1), math.Inf(1), math.Inf(1)}, Point3{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	take := func(p Point3) {
		for k := range p {
			lo[k], hi[k] = math.Min(lo[k], p[k]), math.Max(hi[k], p[k])
		}
	}
	for _, p := range s.Profile {
		for _, q := range p.Points {
			take(Point3{q[0], 0, q[1]})
		}
	}
	for _, spec := range a.Spec.Surfaces {
		skins, err := skinsOf(a, spec)
		if err != nil {
			continue
		}
		for _, k := range skins {
			at := [3]int{}
			for i, step := range k.XYZ {
				at[i%3] += step
				if i%3 == 2 {
					p := Point3{float64(at[0]) / 1000, float64(at[1]) / 1000, float64(at[2]) / 1000}
					take(p)
					if k.Mirror {
						take(Point3{p[0], -p[1], p[2]})
					}
				}
			}
			for _, o := range k.Outlines {
				for _, q := range o {
					take(Point3{q[0], 0, q[1]})
				}
			}
		}
	}
	if lo[0] <= hi[0] {
		s.Min, s.Max = lo, hi
	}
}
