package reading

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// mostPixels bounds a pixel coordinate: more than the largest scans of a print.
const mostPixels = 100000

// photos reads the photographs.
func (r *layoutReader) photos(v value) []layouts.PhotoSpec {
	if !v.Written() {
		return nil
	}
	var out []layouts.PhotoSpec
	ids := newNames("photo")
	r.hardpoints = newNames("hardpoint")
	r.hardpoints.partial = r.surfaces.partial
	for _, h := range r.aircraft.Hardpoints {
		r.hardpoints.list, r.hardpoints.line[h.ID] = append(r.hardpoints.list, h.ID), h.Place.Line
	}
	for _, p := range v.items("photo") {
		out = append(out, r.photo(p, ids))
	}
	if v.IsList() && len(out) == 0 {
		v.Fail("write "+exampleOf("", "photos"), "photos is empty")
	}
	return out
}

func (r *layoutReader) photo(v value, ids *names) layouts.PhotoSpec {
	f := v.block("photo")
	p := layouts.PhotoSpec{Place: v.Place(), ID: ids.addFrom(f), Distortion: f.at("distortion").numberWithin(-2, 2), Mirrored: f.at("mirrored").yes()}
	f.at("id").namesFile(p.ID)
	if name := f.at("file").Text(); name != "" {
		p.File = r.source.Beside(r.file, name)
		if dot := strings.LastIndex(name, "."); dot < 0 || !slices.Contains([]string{"png", "jpg", "jpeg"}, strings.ToLower(name[dot+1:])) {
			f.at("file").Fail("save the picture as .png or .jpg", "the photo %s is neither a PNG nor a JPEG file", document.Shorten(name))
		}
	}
	if s := f.at("size"); s.Written() {
		w, h := s.pixel("[width, height]")
		p.Width, p.Height = int(w), int(h)
		if w != math.Trunc(w) || h != math.Trunc(h) || w < 1 || h < 1 {
			s.Fail("write size: [1600, 1100], as the picture viewer says", "size is [%g, %g], wanted whole numbers of pixels above 0", w, h)
		}
	}
	readFocal(f.at("focal"), &p)
	if c := f.at("centre"); c.Written() {
		x, y := c.pixel("[x, y]")
		p.Centre = &geometry.Point{X: x, Y: y}
	}
	p.Side = sideOf(f.at("side"), geometry.Left)
	p.PlusMinus = f.at("plus-minus").plusMinus(layouts.UsualPlusMinus)
	list := f.at("points")
	for _, q := range list.items("point") {
		p.Points = append(p.Points, r.photoPoint(q, p.Side, p.PlusMinus))
	}
	switch least := camera.LeastSightsNoFocal; {
	case !list.IsList():
	case len(p.Points) < camera.LeastSights:
		list.Fail("add points: up to four cameras see three points alike", "%s, wanted %d or more", geometry.Counted(len(p.Points), "point"), camera.LeastSights)
	case !f.at("focal").Written() && len(p.Points) < least:
		list.Fail("add points that are not in one plane, or give focal:", "%s and no focal: it takes %d or more to find the focal length as well", geometry.Counted(len(p.Points), "point"), least)
	}
	for _, e := range f.at("evidence").items("evidence") {
		p.Evidence = append(p.Evidence, r.evidence.refer(e))
	}
	return p
}

var pixelsText = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?)\s*(?:px|pixels)$`)

// readFocal reads the principal distance: in pixels of this picture, or as a length
// with the width of the film that the picture shows.
func readFocal(v value, p *layouts.PhotoSpec) {
	const hint = "write focal: 2400 px, or focal: {length: 6 in, film: 7 in}, the film's width as the picture shows it"
	switch {
	case !v.Written():
	case v.IsBlock():
		f := v.block("focal")
		p.Lens, p.Film = f.at("length").positive(), f.at("film").positive()
	default:
		text, ok := v.Scalar("a length in pixels")
		if !ok {
			return
		}
		m := pixelsText.FindStringSubmatch(strings.TrimSpace(text))
		if m == nil {
			v.Fail(hint, "focal: %q is not a number of pixels", document.Shorten(text))
			return
		}
		n, err := strconv.ParseFloat(m[1], 64)
		if err != nil || n < 10 || n > 100*mostPixels {
			v.Fail(hint, "focal is %s pixels, must lie between 10 and %d", document.Shorten(m[1]), 100*mostPixels)
			return
		}
		p.Focal = n
	}
}

// photoPoint reads one point of a photograph.
func (r *layoutReader) photoPoint(v value, side geometry.Side, usual float64) layouts.PhotoPoint {
	f := v.block("photo point")
	p := layouts.PhotoPoint{Place: v.Place(), PlusMinus: f.at("plus-minus").plusMinus(usual), Side: sideOf(f.at("side"), side)}
	if at := f.at("pixel"); at.Written() {
		p.Pixel.X, p.Pixel.Y = at.pixel("[x, y]")
	}
	at := f.at("at")
	if !at.IsBlock() {
		if p.Hardpoint = r.hardpoints.refer(at); p.Hardpoint == "" {
			return p
		}
		for _, h := range r.aircraft.Hardpoints {
			if h.ID == p.Hardpoint && !slices.Contains(h.Side.List(), p.Side) {
				at.Fail("write side: "+p.Side.Other().String()+" beside it", "the hardpoint %q is not on the %s side", h.ID, p.Side)
			}
		}
		return p
	}
	if !at.peek("surface").Written() {
		g := at.block("point")
		p.Position = &geometry.Position{FS: g.at("fs").station(), BL: geometry.ButtLine(g.at("bl").length()), WL: g.at("wl").waterline()}
		return p
	}
	by := []string{"fs", "wl", "-line", "-corner"}
	switch {
	case at.peek("line").Written():
		by = []string{"line", "fs", "-wl", "-corner"}
	case at.peek("corner").Written():
		by = []string{"corner", "-fs", "-wl", "-line"}
	}
	g := at.block("point of a surface", by...)
	p.Surface = r.surfaces.refer(g.at("surface"))
	spec, known := r.aircraft.Find(p.Surface)
	if g.at("fs").Written() {
		p.FS = g.at("fs").station()
	}
	if g.at("wl").Written() {
		p.WL = g.at("wl").waterline()
	}
	if known && spec.Kind == layouts.Wing {
		g.at("surface").Fail("give {fs, bl, wl}, or a hardpoint", "%q is a wing: points of it are not named by line or waterline", spec.ID)
	}
	if line := g.at("line"); line.Written() {
		p.Line = line.Text()
		all := append(slices.Clone(spec.Lines), layouts.CrownLine, layouts.KeelLine)
		if known && spec.Kind == layouts.Stringers && p.Line != "" && !slices.Contains(all, p.Line) && !slices.Contains(spec.Lines, "") {
			line.Fail("its lines: "+strings.Join(all, ", "), "%q has no line %q", spec.ID, document.Shorten(p.Line))
		}
	}
	if c := g.at("corner"); c.Written() {
		n := c.numberWithin(1, 1e6)
		p.Corner = max(1, int(n))
		switch {
		case n != math.Trunc(n):
			c.Fail("count the points of outline: from 1", "corner is %g, wanted a whole number", n)
		case known && spec.Kind != layouts.Plate:
			c.Fail("name a plate, or a line and a station", "%q is of kind %s and has no outline of corners", spec.ID, spec.Kind)
		case known && p.Corner > len(spec.Outline):
			c.Fail("count the points of outline: from 1", "%q has %s, and no corner %d", spec.ID, geometry.Counted(len(spec.Outline), "corner"), p.Corner)
		}
	}
	return p
}

// sideOf reads left or right.
func sideOf(v value, usual geometry.Side) geometry.Side {
	word := map[geometry.Side]layouts.Sides{geometry.Left: layouts.LeftSide, geometry.Right: layouts.RightSide}[usual]
	if choice(v, word, layouts.LeftSide, layouts.RightSide) == layouts.RightSide {
		return geometry.Right
	}
	return geometry.Left
}

// pixel reads two numbers of pixels.
func (v value) pixel(form string) (x, y float64) {
	two := v.items("number")
	if v.IsList() && len(two) != 2 {
		v.Fail("write "+v.Name+": "+form+", from the upper left corner", "%s holds %s, wanted %s", v.Name, geometry.Counted(len(two), "number"), form)
	}
	if len(two) != 2 {
		return 0, 0
	}
	return two[0].numberWithin(-mostPixels, mostPixels), two[1].numberWithin(-mostPixels, mostPixels)
}

// plusMinus reads a standard deviation in pixels.
func (v value) plusMinus(usual float64) float64 {
	if !v.Written() {
		return usual
	}
	n := v.numberWithin(0, 1000)
	if n < 0.01 {
		v.Fail("write what you could be off by, in pixels: 2", "%s is %g pixels, must be at least 0.01", v.Name, n)
		return usual
	}
	return n
}

// numberWithin reads a number that is no length; 0 where it was not written.
func (v value) numberWithin(lo, hi float64) float64 {
	if !v.Written() {
		return 0
	}
	text, ok := v.Scalar("a number")
	if !ok {
		return 0
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	switch {
	case err != nil || math.IsNaN(n) || math.IsInf(n, 0):
		v.Fail("write a number, 812.5", "%s: %q is not a number", v.Name, document.Shorten(text))
		return 0
	case n < lo || n > hi:
		v.Fail("is it the right number?", "%s is %g, must lie between %g and %g", v.Name, n, lo, hi)
		return 0
	}
	return n
}
