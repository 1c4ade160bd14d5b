package export

import (
	"fmt"
	"math"
	"strings"

	"maskloft/export/sheet"
	"maskloft/export/views"

	g "maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// runWide is the width of the picture of a run and runLeft the left end of its web,
// both in inches of the sheet.
const (
	runWide = 17.0
	runLeft = 0.9
)

// Inks of the picture of a run.
var (
	inkWeb    = sheet.Ink{Stroke: "#1a1a1a", Width: 0.012, Fill: "#f4f1ea"}
	inkEdge   = sheet.Ink{Fill: "#e4ded2"} // what the cutter cannot reach
	inkFilm   = sheet.Ink{Stroke: "#1f5f7a", Width: 0.010, Fill: "#cfe0e6"}
	inkArrow  = sheet.Ink{Stroke: "#1f5f7a", Width: 0.012}
	inkRunEnd = sheet.Ink{Stroke: "#5c6b73", Width: 0.010, Dash: []float64{0.08, 0.05}}
)

// runPart is a length of the run that is drawn as one row, in inches of film.
type runPart struct{ from, to float64 }

// RunPicture draws how the films of a job lie on the web: rows of the run, read from
// the left and from the top, each film with its number along the run, its id, its
// size, and an arrow to the top of its drawing. A row ends where no film is parted, if
// it can. It is a picture, not a file to cut.
func RunPicture(u g.Units, title string, run masks.Run) sheet.Sheet {
	web, length := run.Web.Inches(), run.Length.Inches()
	scale, parts := runScale(run)
	row := float64(web*scale) + 0.75
	key := runKey(u, run, scale)
	const keyColumns, keyLine = 3, 0.16
	keyRows := (len(key) + keyColumns - 1) / keyColumns
	s := sheet.Sheet{Title: title + ", film on the web", Width: runWide, Height: 1.75 + float64(row*float64(len(parts))) + 0.55 + float64(keyLine*float64(keyRows))}
	ground, films, notes := sheet.Layer{Name: "web"}, sheet.Layer{Name: "films"}, sheet.Layer{Name: "notes"}
	head, _ := glyphs.Label(title, 0.2, true)
	notes.Items = append(notes.Items,
		sheet.Item{Path: g.Path{g.Rectangle(g.Rect{Min: g.Point{X: 0.35, Y: 0.35}, Max: g.Point{X: runWide - 0.35, Y: s.Height - 0.35}})}, Ink: sheet.Ink{Stroke: "#1a1a1a", Width: 0.012}},
		sheet.Item{Path: head.Moved(g.Vec{X: 0.6, Y: s.Height - 0.8}), Ink: sheet.InkText},
		views.TextAt(runWords(u, run), 0.11, 0.6, s.Height-1.05, 0, sheet.InkTextSoft),
		views.TextAt("film on the web, cut side up", 0.15, runWide-0.6, s.Height-0.78, 1, sheet.InkText),
		views.TextAt(fmt.Sprintf("scale 1:%s", g.FormatNumber(1/scale, 1)), 0.11, runWide-0.6, s.Height-1.05, 1, sheet.InkTextSoft),
		views.TextAt("A picture: do not scale or cut from it. x along the web from its beginning, in "+u.Name()+"; numbers run along the web.", 0.1, 0.6, 0.52, 0, sheet.InkTextSoft),
	)
	for i, line := range key {
		x := 0.6 + float64(float64(i/keyRows)*(runWide-1.2)/keyColumns)
		notes.Items = append(notes.Items, runText(line, 0.09, x, 0.75+float64(keyLine*float64(keyRows-1-i%keyRows))))
	}
	margin := (web - run.Usable.Inches()) / 2
	for i, p := range parts {
		top := s.Height - 1.4 - float64(row*float64(i))
		at := func(x, y float64) g.Point {
			return g.Point{X: runLeft + float64((x-p.from)*scale), Y: top - float64(web*scale) + float64(y*scale)}
		}
		box := func(x0, y0, x1, y1 float64) g.Path {
			return g.Path{g.Rectangle(g.Rect{Min: at(x0, y0), Max: at(x1, y1)})}
		}
		ground.Items = append(ground.Items, sheet.Item{ID: fmt.Sprintf("web-row-%d", i+1), Path: box(p.from, 0, p.to, web), Ink: inkWeb})
		if margin > 0 {
			ground.Items = append(ground.Items, sheet.Item{Path: box(p.from, 0, p.to, margin), Ink: inkEdge}, sheet.Item{Path: box(p.from, web-margin, p.to, web), Ink: inkEdge})
		}
		for _, x := range [2]float64{run.Lead.Inches(), length - run.Tail.Inches()} {
			if x >= p.from && x <= p.to {
				ground.Items = append(ground.Items, sheet.Item{Path: g.Path{g.Polyline(at(x, 0), at(x, web))}, Ink: inkRunEnd})
			}
		}
		each := 12.0
		if u.Metric() {
			each = (250 * g.Millimetre).Inches()
		}
		for x := math.Ceil(p.from/each-1e-9) * each; x <= p.to+1e-9; x += each {
			q := at(x, 0)
			notes.Items = append(notes.Items, sheet.Item{Path: g.Path{g.Polyline(q, q.Add(g.Vec{Y: -0.08}))}, Ink: views.InkStructure},
				views.TextAt(u.Number(g.Length(x), 0), 0.1, q.X, q.Y-0.22, 0.5, sheet.InkTextSoft))
		}
		notes.Items = append(notes.Items, views.TextAt(u.Length(run.Web, 3), 0.1, runLeft-0.08, top-web*scale/2-0.05, 1, sheet.InkTextSoft))
		for _, f := range run.Films {
			x0, x1 := math.Max(f.Rect.Min.X, p.from), math.Min(f.Rect.Max.X, p.to)
			if x1-x0 < g.OutlineTolerance {
				continue
			}
			id := fmt.Sprintf("film-%d", f.Number)
			if x0 > f.Rect.Min.X {
				id += "-continued"
			}
			films.Items = append(films.Items, sheet.Item{ID: id, Path: box(x0, f.Rect.Min.Y, x1, f.Rect.Max.Y), Ink: inkFilm})
			a, b := at(x0, f.Rect.Min.Y), at(x1, f.Rect.Max.Y)
			films.Items = append(films.Items, runFilmWords(u, f, g.Rect{Min: a, Max: b})...)
		}
	}
	s.Layers = []sheet.Layer{ground, films, notes}
	return s
}

// runText is a line of what is said of one film, from x to the right. It is written as
// text: its outlines took 27 KB a film. What has its end at a place stays outlines, since
// a program without the font sets it a little wider.
func runText(text string, cap, x, y float64) sheet.Item {
	return sheet.Lettering{Cap: cap, Ink: sheet.InkText}.At(text, x, y, 0)
}

// runWords says what the run comes to.
func runWords(u g.Units, run masks.Run) string {
	n := func(l g.Length) string { return u.Length(l, 3) }
	grain := "films turned where that saves film"
	if run.Grain == layouts.KeepGrain {
		grain = "grain kept: no film turned"
	}
	return fmt.Sprintf("%d films, run of %s (%s) on a web of %s, %s of it usable; waste %s %%; the least possible is %s, in plain rows %s; %s",
		len(run.Films), n(run.Length), u.Long(run.Length), n(run.Web), n(run.Usable),
		g.FormatNumber(run.Waste()*100, 0), n(run.LowerBound), n(run.Shelves), grain)
}

// runScale returns the largest scale, not over 1 to 6, at which the rows of the run
// keep to a sheet half as high again as it is wide, and the rows.
func runScale(run masks.Run) (float64, []runPart) {
	wide := runWide - runLeft - 0.6
	for n := 6.0; ; n += 2 {
		parts := runParts(run, wide*n)
		if (run.Web.Inches()/n+0.75)*float64(len(parts)) <= runWide*1.5-2.3 || n > 200 {
			return 1 / n, parts
		}
	}
}

// runParts cuts a run into rows of at most a length: where no film is parted, if there
// is such a place in the last half of the row.
func runParts(run masks.Run, most float64) []runPart {
	length := run.Length.Inches()
	var out []runPart
	for from := 0.0; ; {
		if length-from <= most {
			return append(out, runPart{from, length})
		}
		to := from + most
		for _, f := range run.Films {
			x := f.Rect.Max.X + masks.WebGap.Inches()/2
			if x <= from+most/2 || x > from+most || x <= to && to < from+most {
				continue
			}
			clear := true
			for _, o := range run.Films {
				clear = clear && (o.Rect.Max.X <= x || o.Rect.Min.X >= x)
			}
			if clear {
				to = x
			}
		}
		out = append(out, runPart{from, to})
		from = to
	}
}

// runFilmWords sets the number, id and size of a film into its rectangle, as large as
// there is room, and the arrow to the top of its drawing.
func runFilmWords(u g.Units, f masks.PlacedFilm, r g.Rect) []sheet.Item {
	var out []sheet.Item
	const pad = runPad
	up := g.Vec{Y: 1}
	if f.Across { // turned by 90 degrees, to the left
		up = g.Vec{X: -1}
	}
	tail := g.Point{X: r.Max.X - pad - 0.1, Y: r.Min.Y + pad + 0.1}
	if r.Width() > 0.6 && r.Height() > 0.35 {
		if f.Across {
			tail.X = r.Max.X - pad
		} else {
			tail.Y = r.Min.Y + pad
		}
		head := tail.Add(up.Scale(0.22))
		barb := func(side float64) g.Point {
			return head.Add(up.Scale(-0.07)).Add(up.Perp().Scale(side * 0.05))
		}
		out = append(out, sheet.Item{Path: g.Path{g.Polyline(tail, head), g.Polyline(barb(1), head, barb(-1))}, Ink: inkArrow})
	}
	lines, cap, _ := runFilmLines(u, f, r.Width(), r.Height())
	for i, l := range lines {
		out = append(out, runText(l, cap, r.Min.X+runPad, r.Max.Y-runPad-cap-float64(cap*1.6*float64(i))))
	}
	return out
}

// Letters of the picture of a run, in inches: none is smaller than the least, so that
// all is read on paper; a film too small for its name is named in the key.
const (
	runPad      = 0.06
	runLeastCap = 0.08
)

// runFilmLines returns what is written on a film of a size on the picture, and how high
// its letters are: its number, name and size as far as they have room. It tells whether
// the name is among them.
func runFilmLines(u g.Units, f masks.PlacedFilm, wide, high float64) (lines []string, cap float64, named bool) {
	size := u.Size(f.Width, f.Height, 3)
	number := fmt.Sprint(f.Number)
	middle := len(f.ID)/2 + strings.Index(f.ID[len(f.ID)/2:], "-") + 1 // a hyphen past the middle, or the middle
	for _, set := range []struct {
		lines []string
		named bool
	}{
		{[]string{number + "  " + f.ID, size}, true}, {[]string{number + "  " + f.ID + "  " + size}, true},
		{[]string{number + "  " + f.ID[:middle], f.ID[middle:], size}, true}, {[]string{number, size}, false}, {[]string{number}, false},
	} {
		for cap := 0.12; cap >= runLeastCap-1e-9; cap -= 0.01 {
			width := 0.0
			for _, l := range set.lines {
				width = math.Max(width, glyphs.LabelWidth(l, cap, false))
			}
			if width <= wide-2*runPad && float64(cap*1.6)*float64(len(set.lines)) <= high-runPad {
				return set.lines, cap, set.named
			}
		}
	}
	return []string{number}, runLeastCap, false
}

// runKey returns the films that are too small on the picture for their names, at a
// scale, as lines of the key.
func runKey(u g.Units, run masks.Run, scale float64) []string {
	var out []string
	for _, f := range run.Films {
		if _, _, named := runFilmLines(u, f, f.Rect.Width()*scale, f.Rect.Height()*scale); !named {
			out = append(out, fmt.Sprintf("%d  %s  %s", f.Number, f.ID, u.Size(f.Width, f.Height, 3)))
		}
	}
	return out
}
