package reading

import (
	"fmt"
	"strconv"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// mostStrips bounds the strips of one figure.
const mostStrips = 100

// skinExamples are the examples of the keys of stripes, bands and lines.
var skinExamples = map[string]string{
	"stripes":            "stripes: {along: hinge, strips: [{paint: insignia-red, part: 1}, {paint: insignia-white, part: 1}]}",
	"stripes along":      "along: hinge (or upright, level)",
	"stripes fs":         "fs: [20 in, 34 in], the ends of stripes that run along a body, as round a cowling",
	"stripes count":      "count: 13, with paints: [insignia-red, insignia-white] by turns",
	"paints":             "paints: [insignia-red, insignia-white]",
	"strips":             "strips: [{paint: insignia-white, width: 18 in}, {paint: black, width: 18 in}]",
	"strip width":        "width: 18 in",
	"part":               "part: 1, its share of the whole",
	"strip gap":          "gap: 1/2 in, left bare",
	"band":               "band: {fs: 150 in, width: 18 in, paint: insignia-red}",
	"band fs":            "fs: 150 in, its fore edge; or fs: [150, 168], between two stations",
	"band bl":            "bl: 60 in, its inboard edge; or bl: [60, 78], between two butt lines",
	"square":             "square: yes (square to the body's centre line)",
	"joins":              "joins: [crown, S3, keel], lines at which its films meet",
	"demarcation":        "demarcation: {points: [{fs: 40, wl: 52}, {fs: 180, wl: 50}], width: 2 in, paint: insignia-red}",
	"demarcation points": "points: [{fs: 40, wl: 52}, {fs: 90, from: {line: S2, down: 3 in}}]",
	"course":             "course: straight (or smooth)",
	"lies":               "lies: below (or above, centred)",
	"stripes cuts":       "cuts: [0 in], waterlines at which the film of stripes along a body is parted",
	"band cuts":          "cuts: [40 in, 58 in], waterlines at which its film is parted; over a wing stations",
	"covers":             "covers: below (or above), the side that film covers; the other is sprayed freely",
	"cuts":               "cuts: [90 in, 130 in], stations at which its film is parted into pieces",
	"demarcation edge":   "edge: hard (or soft)",
	"strip paint":        "paint: insignia-red",
}

// strips reads the strips of stripes, a band or a line: a list, or one by paint: and
// width: beside it. Byparts says that strips may share a room and need no width.
func (r *layoutReader) strips(f fields, byParts bool) []layouts.StripSpec {
	list := f.at("strips")
	if one := f.at("paint"); one.Written() || !list.Written() {
		if list.Written() {
			one.Fail("take one of the two out", "%s says paint and strips", f.Name)
			return nil
		}
		if !one.Written() {
			f.Fail("write "+exampleOf("", "strips"), "%s has no strips", f.Name)
			return nil
		}
		s := layouts.StripSpec{Place: one.Place(), Paint: r.paints.refer(one)}
		switch w := f.at("width"); {
		case w.Written():
			s.Width = w.drawn()
		case byParts:
			s.Part = 1
		default:
			f.Fail("add width: 18 in", "%s has no width", f.Name)
		}
		return []layouts.StripSpec{s}
	}
	var out []layouts.StripSpec
	for _, item := range list.items("strip") {
		g := item.block("strip")
		s := layouts.StripSpec{Place: item.Place()}
		gap, paint, width, part := g.at("gap"), g.at("paint"), g.at("width"), g.at("part")
		switch {
		case gap.Written() && (paint.Written() || width.Written() || part.Written()):
			item.Fail("write {gap: 1/2 in} alone, or {paint: ..., width: 3 in}", "the strip says gap and more")
		case gap.Written():
			s.Width = gap.drawn()
		case !paint.Written():
			item.Fail("write {paint: a paint, width: 3 in}, or {gap: 1/2 in}", "the strip has no paint")
		case width.Written() == part.Written():
			item.Fail("write width: 3 in, or part: 1", "the strip wants one of width and part")
		default:
			s.Paint = r.paints.refer(paint)
			if width.Written() {
				s.Width = width.drawn()
			} else {
				s.Part = part.share()
			}
		}
		out = append(out, s)
	}
	switch {
	case list.IsList() && len(out) == 0:
		list.Fail("write "+exampleOf("", "strips"), "strips is empty")
	case len(out) > mostStrips:
		list.Fail("write fewer", "strips lists %d, more than %d", len(out), mostStrips)
		out = out[:mostStrips]
	}
	for i, s := range out[min(1, len(out)):] {
		if (s.Part > 0) != (out[0].Part > 0) {
			list.items("strip")[i+1].Fail("give all a width, or all a part", "strip %d has another measure than strip 1", i+2)
		}
	}
	if !byParts && len(out) > 0 && out[0].Part > 0 {
		list.Fail("give each a width", "parts share a room, and there is none: %s has one edge", f.Name)
	}
	return out
}

// share reads a number above 0.
func (v value) share() float64 {
	text, ok := v.Scalar("a number")
	if !ok {
		return 1
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || !(n > 0 && n <= 1000) {
		v.Fail("write part: 1, or part: 2 for twice as much", "%s is %q, wanted a number above 0", v.Name, document.Shorten(text))
		return 1
	}
	return n
}

// stripesOf reads stripes across a surface.
func (r *layoutReader) stripesOf(v value) *layouts.StripesSpec {
	f := v.block("stripes")
	s := &layouts.StripesSpec{Place: v.Place()}
	if along, angle := f.at("along"), f.at("angle"); !f.at("fs").Written() {
		s.Along, s.Angle = choice(along, "", layouts.AlongHinge, layouts.AlongUpright, layouts.AlongLevel), angle.degrees()
		if f.at("cuts").Written() {
			f.at("cuts").Fail("take cuts: out", "cuts: parts the film of stripes along a body")
		}
	} else {
		for _, other := range []value{along, angle} {
			if other.Written() {
				other.Fail("take one of the two out", "stripes between two stations run fore and aft along a body, and %s says how they cross an outline", other.Name)
			}
		}
		s.Between = placesOf(f.at("fs"))
		if len(s.Between) == 1 {
			f.at("fs").Fail("write fs: [20 in, 34 in]", "fs is one station, wanted the fore and the aft end of the stripes")
		}
		for _, c := range f.at("cuts").items("waterline") {
			s.Cuts = append(s.Cuts, c.waterline().Inches())
		}
	}
	count, paints := f.at("count"), f.at("paints")
	if !count.Written() && !paints.Written() {
		s.Strips = r.strips(f, true)
		return s
	}
	if f.at("strips").Written() || f.at("paint").Written() || !count.Written() || !paints.Written() {
		v.Fail("write count: 13 with paints: [insignia-red, insignia-white], or strips:", "stripes want count and paints together, and no strips beside them")
		return s
	}
	n := 0
	if text, ok := count.Scalar("a number"); ok {
		var err error
		if n, err = strconv.Atoi(text); err != nil || n < 1 || n > mostStrips {
			count.Fail("write count: 13", "count is %q, wanted a whole number from 1 to %d", document.Shorten(text), mostStrips)
			n = 0
		}
	}
	var turns []string
	for _, p := range paints.items("paint") {
		turns = append(turns, r.paints.refer(p))
	}
	for i := range n {
		if len(turns) > 0 {
			s.Strips = append(s.Strips, layouts.StripSpec{Place: v.Place(), Paint: turns[i%len(turns)], Part: 1})
		}
	}
	return s
}

// placesOf reads one place, or two in rising order; none where it is neither.
func placesOf(at value) []float64 {
	edges := []value{at}
	if at.IsList() {
		if edges = at.items(at.Name); len(edges) != 2 {
			at.Fail("write one, or two such as ["+"150, 168]", "%s lists %s, must be one or two", at.Name, geometry.Counted(len(edges), "place"))
			return nil
		}
	}
	var out []float64
	for _, e := range edges {
		out = append(out, e.length().Inches())
	}
	if len(out) == 2 && !(out[1] > out[0]) {
		at.Fail("write the smaller first", "%s begins with the larger of two", at.Name)
	}
	return out
}

// band reads a band round a body or over a wing.
func (r *layoutReader) band(v value) *layouts.BandSpec {
	f := v.block("band")
	b := &layouts.BandSpec{Place: v.Place(), Square: f.at("square").yesNo()}
	fs, bl := f.at("fs"), f.at("bl")
	if fs.Written() == bl.Written() {
		v.Fail("write fs: 150 in (round a body) or bl: 60 in (over a wing)", "band wants one of fs and bl")
		return b
	}
	at := fs
	if bl.Written() {
		at = bl
	}
	if b.At = placesOf(at); len(b.At) == 0 {
		return b
	}
	if len(b.At) == 2 && f.at("width").Written() {
		f.at("width").Fail("take width out, or write one "+at.Name, "width is given, and the band lies between two places")
	}
	for _, j := range f.at("joins").items("line") {
		b.Joins = append(b.Joins, j.Text())
	}
	if len(b.Joins) == 1 {
		f.at("joins").Fail("write "+exampleOf("", "joins"), "joins lists one line, must be two or more")
	}
	for _, c := range f.at("cuts").items("place") {
		b.Cuts = append(b.Cuts, c.length().Inches())
	}
	b.Strips = r.strips(f, len(b.At) == 2)
	return b
}

// demarcation reads a line along the skin.
func (r *layoutReader) demarcation(v value) *layouts.LineSpec {
	f := v.block("demarcation")
	l := &layouts.LineSpec{Place: v.Place(), Lies: choice(f.at("lies"), layouts.LiesBelow, layouts.LiesBelow, layouts.LiesAbove, layouts.LiesCentred)}
	l.Smooth = choice(f.at("course"), "straight", "straight", "smooth") == "smooth"
	if covers := f.at("covers"); covers.Written() {
		if l.Covers = choice(covers, layouts.LiesBelow, layouts.LiesBelow, layouts.LiesAbove); f.at("lies").Written() {
			f.at("lies").Fail("take lies: out", "covers: says on which side the paint lies: on the other one")
		}
		if l.Lies = layouts.LiesAbove; l.Covers == layouts.LiesAbove {
			l.Lies = layouts.LiesBelow
		}
		if f.at("strips").Written() {
			f.at("strips").Fail("write paint: and width:, how far it is drawn from the line", "film that covers one side of a line leaves one paint to the other")
		}
	}
	l.Soft = choice(f.at("edge"), "hard", "hard", "soft") == "soft"
	items := f.at("points").items("point")
	for _, p := range items {
		need := "wl"
		if p.peek("from").Written() {
			need = "from"
		}
		g := p.block("demarcation point", need)
		w := layouts.WhereSpec{Place: p.Place(), FS: g.at("fs").station()}
		if g.at("wl").Written() && g.at("from").Written() {
			p.Fail("write wl: or from:", "the point gives its height twice")
		}
		r.height(g, &w)
		l.Points = append(l.Points, w)
	}
	if at := f.at("points"); at.IsList() && len(items) < 2 {
		at.Fail("write "+exampleOf("demarcation", "points"), "points lists %s, must be two or more", geometry.Counted(len(items), "point"))
	}
	for _, c := range f.at("cuts").items("station") {
		l.Cuts = append(l.Cuts, c.station().Inches())
	}
	l.Strips = r.strips(f, false)
	return l
}

// whereOnSkin reads where a figure stands that follows the skin: it brings its own
// place, and where: names the surface and side alone.
func (r *layoutReader) whereOnSkin(v value, s layouts.FigureSpec) layouts.WhereSpec {
	if !v.Written() {
		return layouts.WhereSpec{}
	}
	wing := r.onWing(v)
	face := "-face"
	if wing {
		face = "face"
	}
	f := v.block("where of what follows the skin", face)
	w := layouts.WhereSpec{Place: v.Place(), Side: f.at("side").sides(), Hold: layouts.HoldCentre, Align: layouts.AlignWaterline, Baseline: layouts.StraightBaseline}
	surface := f.at("surface")
	items := []value{surface}
	if surface.IsList() {
		items = surface.items("surface")
	}
	for _, item := range items {
		w.Surfaces = append(w.Surfaces, r.surfaces.refer(item))
	}
	r.checkPlane(items, w.Surfaces)
	if wing {
		w.Face, w.Align = choice(f.at("face"), layouts.NoFace, layouts.UpperFace, layouts.LowerFace), layouts.AlignForward
	}
	r.fits(surface, w, s, wing)
	return w
}

// fits reports a figure that cannot follow the surface named.
func (r *layoutReader) fits(surface value, w layouts.WhereSpec, s layouts.FigureSpec, wing bool) {
	if len(w.Surfaces) == 0 {
		surface.Fail("write "+exampleOf("", "surface"), "surface is an empty list")
		return
	}
	spec, ok := r.aircraft.Find(w.Surfaces[0])
	if !ok || spec.Kind == "" {
		return
	}
	flat := spec.Kind == layouts.Plate || spec.Kind == layouts.Foil
	say := func(hint, what string) {
		surface.Fail(hint, "%s", fmt.Sprintf("%s is of kind %s: %s", document.Shorten(spec.ID), spec.Kind, what))
	}
	switch {
	case s.Band != nil && flat:
		say("name a body, or a wing with face:; a fin or rudder takes stripes:", "a band goes round a body or over a wing")
	case s.Stripes != nil && len(s.Stripes.Between) > 0 && (flat || wing):
		say("name a body; a fin, a rudder or a wing takes along:", "stripes between two stations run along a body")
	case s.Band == nil && s.Line == nil && (s.Stripes == nil || len(s.Stripes.Between) == 0) && !flat && !wing:
		say("name a fin, a rudder or a wing; a body takes band:, or stripes: with fs: [fore, aft]", "it has no outline to put stripes in")
	case s.Line != nil && wing:
		say("name a body, a fin or a rudder", "a demarcation line is given by stations and heights")
	}
}
