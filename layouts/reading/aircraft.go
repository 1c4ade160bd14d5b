package reading

import (
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// aircraftBlock reads the keys of an aircraft.
func (r *layoutReader) aircraftBlock(v value) layouts.AircraftSpec {
	f := v.block("the aircraft")
	if !f.Written() {
		r.surfaces.partial = true
		return layouts.AircraftSpec{}
	}
	a := layouts.AircraftSpec{Place: v.Place(), Name: f.at("name").Text(), Datum: f.at("datum").Text()}
	list := f.at("surfaces")
	if !list.IsList() {
		r.surfaces.partial = true
	}
	for _, s := range list.items("surface") {
		a.Surfaces = append(a.Surfaces, r.surface(s))
	}
	if list.IsList() && len(a.Surfaces) == 0 {
		list.Fail("write "+exampleOf("", "surfaces"), "surfaces is empty; an aircraft has at least one")
	}
	r.aircraft = a
	hardpoints := newNames("hardpoint")
	for _, h := range f.at("hardpoints").items("hardpoint") {
		f := h.block("hardpoint")
		side := f.at("side").sides()
		a.Hardpoints = append(a.Hardpoints, layouts.HardpointSpec{
			Place: h.Place(), ID: hardpoints.addFrom(f), Name: f.at("name").Text(), Side: side,
			FS: f.at("fs").station(), At: layouts.SectionPoint{BL: f.at("bl").buttLine(), WL: f.at("wl").waterline()},
			Measured: f.at("measured").measured(side), Sigma: f.at("sigma").or(0, value.positive),
		})
	}
	a.LevelPegs, a.Taped = f.at("level-pegs").pegs(), f.at("measured-tapes").hardpointTapes(hardpoints, a.Hardpoints)
	obstacles := newNames("obstacle")
	for _, o := range f.at("obstacles").items("obstacle") {
		a.Obstacles = append(a.Obstacles, r.obstacle(o, obstacles))
	}
	if g := f.at("ground"); g.Written() {
		a.Ground = readGround(g)
	}
	profiles := newNames("profile")
	for _, p := range f.at("profile").items("profile") {
		a.Profile = append(a.Profile, readProfile(p, profiles))
	}
	return a
}

// surface reads one surface; the keys depend on its kind.
func (r *layoutReader) surface(v value) layouts.SurfaceSpec {
	kind := choice(v.peek("kind"), "", layouts.Stringers, layouts.Round, layouts.Faired, layouts.Scanned, layouts.Wing, layouts.Foil, layouts.Plate)
	what := "surface"
	if kind != "" {
		what = "surface of kind " + string(kind)
	}
	f := v.block(what)
	s := layouts.SurfaceSpec{Place: v.Place(), ID: r.surfaces.addFrom(f), Kind: kind}
	switch kind {
	case layouts.Stringers:
		lines := newNames("line")
		list := f.at("lines")
		for _, l := range list.items("line") {
			s.Lines = append(s.Lines, lines.add(l))
		}
		if list.IsList() && len(s.Lines) < 2 {
			list.Fail("write "+exampleOf("", "lines"), "lines names %d, wanted 2 or more from crown to keel", len(s.Lines))
		}
		lines.partial = lines.partial || !list.IsList()
		for _, h := range f.at("hard").items("hard line") {
			s.Hard = append(s.Hard, lines.refer(h))
		}
		s.Sag = f.at("sag").or(0, func(v value) geometry.Length { return v.atLeastZero("") })
		s.Sections = readSections(f.at("sections"), func(v value) layouts.SectionSpec { return stringerSection(v, s.Lines) })
	case layouts.Round:
		s.Sections = readSections(f.at("sections"), roundSection)
	case layouts.Faired:
		s.Along = choice(f.at("along"), "", layouts.RuledAlong, layouts.MonotoneAlong, layouts.NaturalAlong, layouts.ClampedAlong)
		s.Sections = readSections(f.at("sections"), fairedSection)
		for _, b := range f.at("breaks").items("break frame") {
			fs := b.station()
			if !slices.ContainsFunc(s.Sections, func(x layouts.SectionSpec) bool { return x.FS == fs }) {
				b.Fail("write the fs of one of the sections", "no section stands at the break frame FS %s", geometry.Length(fs))
			}
			s.Breaks = append(s.Breaks, fs)
		}
	case layouts.Scanned:
		s.Scan = r.scan(f)
	case layouts.Foil:
		readFoil(f, &s)
	case layouts.Wing:
		readWing(f, &s)
	case layouts.Plate:
		s.Thickness = f.at("thickness").positive()
		s.Outline = readOutline(f.at("outline"))
		for _, w := range f.at("ribs").items("rib") {
			s.Ribs = append(s.Ribs, w.waterline())
		}
	}
	readControl(f, &s)
	return s
}

// obstacle reads one obstacle; the keys depend on its kind.
func (r *layoutReader) obstacle(v value, ids *names) layouts.ObstacleSpec {
	if r.onWing(v) {
		return r.obstacleOnWing(v, ids)
	}
	kind := choice(v.peek("kind"), "", layouts.Ring, layouts.Spot, layouts.FinishingTape, layouts.HingeAt, layouts.Around, layouts.Opening)
	what := "obstacle"
	if kind != "" {
		what = "obstacle of kind " + string(kind)
	}
	f := v.block(what)
	o := layouts.ObstacleSpec{Place: v.Place(), ID: ids.addFrom(f), Kind: kind, Side: f.at("side").sides()}
	o.Surface = r.surfaces.refer(f.at("surface"))
	surface, known := r.aircraft.Find(o.Surface)
	if o.Keeps() {
		o.Clear = readClear(f.at("clear"), kind)
	}
	if kind == layouts.Ring || kind == layouts.Spot || kind == layouts.Around || kind == layouts.HingeAt {
		o.At.FS = f.at("fs").station()
	}
	o.Solid = readSolid(f.at("solid"))
	switch kind {
	case layouts.Ring, layouts.Spot:
		o.At.WL = f.at("wl").waterline()
		o.Size = f.at("size").positive()
	case layouts.Around:
		o.Size = f.at("size").positive()
		if known && surface.Kind == layouts.Plate {
			v.Fail("name a surface with sections", "%q is a plate: no tape runs round a station of it", surface.ID)
		}
	case layouts.FinishingTape:
		o.Size = f.at("size").positive()
		o.Line = f.at("line").Text()
		switch {
		case !known || o.Line == "":
		case surface.Kind == layouts.Plate || surface.Kind == layouts.Round:
			f.at("line").Fail("name a surface of kind stringers, or leave the tape out", "%q is of kind %s and has no named lines", surface.ID, surface.Kind)
		case surface.Kind == layouts.Stringers && len(surface.Lines) > 0 && !slices.Contains(surface.Lines, o.Line) && !slices.Contains(surface.Lines, ""):
			f.at("line").Fail("its lines: "+strings.Join(surface.Lines, ", "), "%q has no line %q", surface.ID, document.Shorten(o.Line))
		}
	case layouts.Opening:
		o.Points, o.Over = readOpening(f), f.at("over").yesNo()
	case layouts.HingeAt:
		o.To = f.at("to").station()
		if o.To <= o.At.FS {
			f.at("to").Fail("fs is the fore edge of the gap, to the aft edge", "to is %s, must be above fs %s", geometry.Length(o.To), geometry.Length(o.At.FS))
		}
	}
	return o
}

func readGround(v value) *layouts.GroundSpec {
	f := v.block("ground")
	point := func(v value) geometry.SidePosition {
		f := v.blockNamed("wheel", v.Name)
		return geometry.SidePosition{FS: f.at("fs").station(), WL: f.at("wl").waterline()}
	}
	g := &layouts.GroundSpec{Place: v.Place(), Main: point(f.at("main")), Tail: point(f.at("tail"))}
	if f.at("main").Written() && f.at("tail").Written() && g.Main.FS == g.Tail.FS {
		f.at("tail").Fail("give the stations of both wheels", "main and tail wheel both stand at the same station")
	}
	return g
}

func readProfile(v value, ids *names) layouts.ProfileSpec {
	f := v.block("profile")
	p := layouts.ProfileSpec{Place: v.Place(), ID: ids.addFrom(f), Closed: f.at("closed").yes()}
	list := f.at("points")
	for _, q := range list.items("point") {
		p.Points = append(p.Points, readSidePoint(q))
	}
	least := 2
	if p.Closed {
		least = 3
	}
	if list.IsList() && len(p.Points) < least {
		list.Fail("write [fs, wl] for each", "%s, wanted %d or more", geometry.Counted(len(p.Points), "point"), least)
	}
	return p
}
