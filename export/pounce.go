package export

import (
	"fmt"
	"math"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// A pounce pattern carries a drawing on with chalk through small holes along its
// edges. Distances in inches: holes every quarter of an inch (common practice, no
// source).
const (
	pounceStep = 0.25
	pounceHole = 0.04 // diameter

	pounceCorner = 10 * math.Pi / 180 // the least turn that takes a hole of its own
)

// PouncePattern returns a marking as holes along its paint edges, at true size on
// one sheet: a hole on every corner, and between corners at equal steps no longer
// than a quarter of an inch. The layer of the holes is what is cut.
func PouncePattern(t masks.Tiling) sheet.Sheet {
	r := t.Laid.Field
	for _, m := range t.Marks { // some stand on arms of film
		r = r.Union(g.BoundsOf(m.Film).Grown(masks.MarkRadius + 0.3))
	}
	shift := g.Vec{X: sheetMargin - r.Min.X, Y: sheetMargin - r.Min.Y}
	var marks []sheet.Item
	for _, m := range t.Marks {
		marks = append(marks, drawMark("mark-"+m.ID, m.Film.Add(shift), m.ID, inside(r, m.Film))...)
	}
	up, sideways, side := directions(t.Laid.Placement)
	label := sheet.SetBody.At(fmt.Sprintf("%s, pounce pattern: true size, seen from outside, %s at the top", t.Laid.ID(), up), 0.4, 0.4, 0)
	notes := pounceChecks(t.Laid.Placement.Read, r.Width(), r.Height()+sheetMargin, sideways, side)
	edge := sheet.DrawRect(g.Rect{Min: r.Min.Add(shift), Max: r.Max.Add(shift)}, sheet.InkNote)
	return sheet.Sheet{
		Title: t.Laid.ID() + ", pounce pattern", Width: r.Width() + 2*sheetMargin, Height: r.Height() + 2*sheetMargin,
		Layers: []sheet.Layer{
			{Name: sheet.LayerCut, Items: []sheet.Item{{ID: "holes", Path: pounceHoles(t.Laid, shift), Ink: inkCut}}},
			{Name: "registration marks", Items: marks},
			{Name: LayerNotes, Items: append(notes, edge, label)},
		},
	}
}

// pounceHoles returns the holes along the paint edges of a marking, moved by shift. Which
// they are is told in the flat, so that it does not depend on the sheet.
func pounceHoles(l masks.Laid, shift g.Vec) g.Path {
	var at []g.Point
	var holes g.Path
	for _, region := range l.Regions {
		for _, c := range region.Outline {
			for _, p := range pouncePoints(c) {
				if !crowded(at, p) {
					at, holes = append(at, p), append(holes, pounced(p.Add(shift)))
				}
			}
		}
	}
	return holes
}

// pounced returns a hole about p: four cubics, round to 2.7e-4 of its radius (see
// [g.CircleCubics]), 5e-6 in, where a hole is pricked by a needle or a wheel.
func pounced(p g.Point) g.Contour {
	const r = pounceHole / 2
	k := 4.0 / 3 * math.Tan(math.Pi/8) * r
	b := g.MoveTo(p.Add(g.Vec{X: r}))
	for from, quarter := (g.Vec{X: r}), 0; quarter < 4; quarter++ {
		to := from.Perp()
		b.CubicTo(p.Add(from).Add(to.Scale(k/r)), p.Add(to).Add(from.Scale(k/r)), p.Add(to))
		from = to
	}
	return b.Close()
}

// pounceChecks returns what shows a pattern of the wrong size, or one that is turned:
// the longest scale bar that has room along the upper edge of a field as wide, at y top,
// and an arrow beside it where both have room.
func pounceChecks(u g.Units, wide, top float64, word string, side g.Vec) []sheet.Item {
	const left, gap, arrowWide = 0.2, 0.3, 1.35
	var out []sheet.Item
	at := g.Vec{X: sheetMargin + left, Y: top - 0.5}
	beside := gap + arrowWide // what the arrow needs; given up where the field is too short
	if least := bars(u); 2*left+least[len(least)-1].Inches()+beside > wide {
		beside = 0
	}
	for _, long := range bars(u) {
		l := long.Inches()
		if 2*left+l+beside > wide {
			continue
		}
		for _, it := range bar(u, long, false) {
			out = append(out, sheet.Item{ID: it.ID, Path: it.Path.Moved(at), Ink: it.Ink})
		}
		at.X += l + gap
		break
	}
	if beside > 0 {
		for _, it := range arrow(word, side) {
			out = append(out, sheet.Item{ID: it.ID, Path: it.Path.Moved(at), Ink: it.Ink})
		}
	}
	return out
}

// crowded tells whether a hole would run into another: regions share their borders,
// and those shall not be perforated twice.
func crowded(holes []g.Point, p g.Point) bool {
	for _, h := range holes {
		if math.Abs(h.X-p.X) < pounceStep/2 && h.Dist(p) < pounceStep/2 {
			return true
		}
	}
	return false
}

// pouncePoints returns points along a contour: its corners, and equal steps between.
func pouncePoints(c g.Contour) []g.Point {
	var out []g.Point
	run := []g.Point{c.Start} // chords from the last corner on
	flush := func() {
		length := 0.0
		for i := 1; i < len(run); i++ {
			length += run[i-1].Dist(run[i])
		}
		n := max(1, int(math.Ceil(length/pounceStep-1e-9)))
		step, at, next := length/float64(n), 0.0, 0
		for i := 1; i < len(run) && next < n; i++ {
			d := run[i-1].Dist(run[i])
			for next < n && float64(next)*step <= at+d+1e-12 {
				t := 0.0
				if d > 0 {
					t = (float64(float64(next)*step) - at) / d
				}
				out = append(out, run[i-1].Lerp(run[i], math.Max(0, math.Min(1, t))))
				next++
			}
			at += d
		}
		run = run[len(run)-1:]
	}
	const chords = 64 // of a segment: an eighth of a circle of 25 in leaves them by 0.0005 in
	for i := range c.Segments {
		for k := 1; k <= chords; k++ {
			run = append(run, c.At(i, float64(k)/chords))
		}
		if math.Abs(c.Turn(i)) > pounceCorner {
			flush()
		}
	}
	flush()
	return out
}
