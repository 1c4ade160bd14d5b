package reading

import (
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// mostPoints bounds a list of points; the crossing test below grows with its
// square.
const mostPoints = 2000

// readPair reads [a, b].
func readPair(v value, form string) (a, b value, ok bool) {
	if !v.IsList() {
		if v.Written() {
			v.Fail("write "+form, "%s is %s, wanted %s", v.Name, v.Kind(), form)
		}
		return value{}, value{}, false
	}
	two := v.items(v.Name + ", number")
	if len(two) != 2 {
		v.Fail("write "+form, "%s holds %s, wanted %s", v.Name, geometry.Counted(len(two), "number"), form)
		return value{}, value{}, false
	}
	return two[0], two[1], true
}

// readSidePoint reads [fs, wl]; not a number when it cannot be read.
func readSidePoint(v value) geometry.SidePosition {
	a, b, _ := readPair(v, "[fs, wl]")
	a.Name, b.Name = v.Name+" fs", v.Name+" wl"
	return geometry.SidePosition{FS: a.station(), WL: b.waterline()}
}

// readSections reads a list of sections and checks their order along FS.
func readSections(v value, read func(value) layouts.SectionSpec) []layouts.SectionSpec {
	var out []layouts.SectionSpec
	for _, s := range v.items("section") {
		out = append(out, read(s))
	}
	if v.IsList() && len(out) < 2 {
		v.Fail("add the next frame: the skin is drawn from section to section", "%s, wanted 2 or more", geometry.Counted(len(out), "section"))
	}
	for i := 1; i < len(out); i++ {
		at := v.items("section")[i].peek("fs")
		a, b := out[i-1].FS, out[i].FS
		fs := func(s geometry.Station) string { return geometry.Length(s).String() }
		switch {
		case a == b:
			at.Fail("take one of them out, or correct its fs", "section %d stands at FS %s, like section %d", i+1, fs(b), i)
		case b < a:
			at.Fail("write the sections from nose to tail", "section %d stands at FS %s, ahead of section %d at FS %s", i+1, fs(b), i, fs(a))
		}
	}
	return out
}

// stringerSection reads the points of one section, crown to keel.
func stringerSection(v value, lines []string) layouts.SectionSpec {
	f := v.block("section of stringers")
	s := layouts.SectionSpec{Place: v.Place(), FS: f.at("fs").station()}
	list := f.at("points")
	items := list.items("point")
	for i, p := range items {
		if i < len(lines) && lines[i] != "" {
			p.Name = "point " + lines[i]
		}
		items[i] = p
		a, b, _ := readPair(p, "[bl, wl]")
		a.Name, b.Name = p.Name+" bl", p.Name+" wl"
		s.Points = append(s.Points, layouts.SectionPoint{BL: a.buttLine(), WL: b.waterline()})
	}
	if list.IsList() && len(lines) >= 2 && len(s.Points) != len(lines) {
		list.Fail("give one [bl, wl] for each line, in the order of lines", "%s for %s: %s",
			geometry.Counted(len(s.Points), "point"), geometry.Counted(len(lines), "line"), document.Shorten(strings.Join(lines, ", ")))
	}
	for i := 1; i < len(s.Points); i++ {
		p, q := s.Points[i-1], s.Points[i]
		gap := geometry.Point{X: p.BL.Inches(), Y: p.WL.Inches()}.Dist(geometry.Point{X: q.BL.Inches(), Y: q.WL.Inches()})
		if gap <= geometry.SnapTolerance {
			items[i].Fail("correct one of them, or take the line out of lines and of every section",
				"%s and %s are the same point: the bay between them has no width", items[i-1].Name, items[i].Name)
		}
	}
	return s
}

// roundSection reads one circle.
func roundSection(v value) layouts.SectionSpec {
	f := v.block("section round")
	return layouts.SectionSpec{Place: v.Place(), FS: f.at("fs").station(), Radius: f.at("radius").positive(), WL: f.at("wl").waterline()}
}

// readOutline reads the outline of a plate and checks that it is one: three
// points or more, none twice, no edge across another. It closes by itself.
func readOutline(v value) []geometry.SidePosition {
	items := v.items("point")
	var out []geometry.SidePosition
	var pts []geometry.Point
	whole := true
	for _, p := range items {
		s := readSidePoint(p)
		whole = whole && isNumber(geometry.Length(s.FS), geometry.Length(s.WL))
		out = append(out, s)
		pts = append(pts, geometry.Point{X: s.FS.Inches(), Y: s.WL.Inches()})
	}
	switch n := len(pts); {
	case !v.IsList() || !whole:
	case n < 3:
		v.Fail("write [fs, wl] for each corner, going round", "the outline has %s, wanted 3 or more", geometry.Counted(n, "point"))
	case n > mostPoints:
		v.Fail("leave out points on nearly straight runs", "the outline has %d points, wanted at most %d", n, mostPoints)
	case pts[0].Dist(pts[n-1]) <= geometry.SnapTolerance:
		items[n-1].Fail("take the last point out: the outline closes by itself", "point %d repeats point 1", n)
	default:
		checkOutline(items, pts)
	}
	return out
}

// checkOutline reports the first repeated point; if there is none, the first
// point where the outline runs back along itself; if there is none, the first
// two edges that cross or touch.
func checkOutline(items []value, pts []geometry.Point) {
	n := len(pts)
	for i := range pts {
		for j := i + 1; j < n; j++ {
			if pts[i].Dist(pts[j]) <= geometry.SnapTolerance {
				items[j].Fail("take one of them out", "point %d repeats point %d", j+1, i+1)
				return
			}
		}
	}
	for i := range pts {
		a, b, c := pts[(i+n-1)%n], pts[i], pts[(i+1)%n]
		if u, w := b.Sub(a), c.Sub(b); u.Cross(w) == 0 && u.Dot(w) < 0 {
			items[i].Fail("correct the point", "the outline turns back on itself at point %d", i+1)
			return
		}
	}
	for i := range pts {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if edgesMeet(pts[i], pts[i+1], pts[j], pts[(j+1)%n]) {
				items[j].Fail("go round the outline in one direction", "the edge from point %d crosses the edge from point %d", j+1, i+1)
				return
			}
		}
	}
}

// edgesMeet tells whether the segments ab and cd share a point, by the signs of
// the four turns (Cormen et al., Introduction to Algorithms, section 33.1; from
// memory).
func edgesMeet(a, b, c, d geometry.Point) bool {
	turn := func(p, q, r geometry.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	on := func(p, q, r geometry.Point) bool { return geometry.BoundsOf(p, q).Contains(r) }
	d1, d2, d3, d4 := turn(c, d, a), turn(c, d, b), turn(a, b, c), turn(a, b, d)
	if (d1 > 0 && d2 < 0 || d1 < 0 && d2 > 0) && (d3 > 0 && d4 < 0 || d3 < 0 && d4 > 0) {
		return true
	}
	return d1 == 0 && on(c, d, a) || d2 == 0 && on(c, d, b) || d3 == 0 && on(a, b, c) || d4 == 0 && on(a, b, d)
}
