package proportions

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// How the outlines of a text in a drawing made elsewhere are told apart.
const (
	sameColumn  = 0.5  // of the narrower extent: outlines above one another are one character
	mostCounted = 2    // holes of one character; an outline round more is a frame
	mostTurned  = 1e-3 // radians: less is taken for level
)

// DrawnText holds the characters of one level line of text in a drawing made elsewhere
// against a rule for lettering, as [OfLettering] does. The characters are the areas of one
// paint, or the outlines where nothing is filled, from left to right; text says which
// they are, without its blanks. A frame round them is passed over. A line turned by up
// to 45 degrees is turned back; the lines of the checks are in the drawing's own frame.
//
// Errors: no paint shows as many characters as the text has.
func DrawnText(drawing []Drawn, text string, rule *standards.Rule, o Options) ([]Check, error) {
	if err := traceable(drawing); err != nil {
		return nil, err
	}
	letters := []rune(strings.Join(strings.Fields(text), ""))
	turn := levelTurn(outlines(drawing))
	level := turnedBy(drawing, -turn)
	var counts []string
	for _, fill := range paintsOf(level) {
		area, err := paintedWith(level, fill)
		if err != nil {
			return nil, err
		}
		found := charactersIn(area)
		if len(found) != len(letters) {
			what := "outlines"
			if fill != "" {
				what = fill
			}
			counts = append(counts, fmt.Sprintf("%d in %s", len(found), what))
			continue
		}
		for i := range found {
			found[i].rune = letters[i]
		}
		checks, err := heldToLettering(found, rule, o)
		for i := range checks {
			for k, q := range checks[i].Line {
				checks[i].Line[k] = turnedPoint(q, turn)
			}
		}
		return checks, err
	}
	return nil, fmt.Errorf("%q has %d characters, but those that stand side by side in the drawing are %s: say with --text what it reads, one line of it", text, len(letters), cmp.Or(strings.Join(counts, ", "), "none"))
}

// paintsOf returns the fills of a drawing in the order met, or one empty where nothing
// is filled.
func paintsOf(list []Drawn) []string {
	var out []string
	for _, d := range list {
		if d.Fill != "" && !slices.Contains(out, d.Fill) {
			out = append(out, d.Fill)
		}
	}
	if len(out) == 0 {
		return []string{""}
	}
	return out
}

// paintedWith returns the area that shows a fill: what is painted later covers what was
// before. Without fills, every outline within another is a hole in it.
func paintedWith(list []Drawn, fill string) (geometry.Path, error) {
	var out geometry.Path
	for _, d := range list {
		var closed geometry.Path
		for _, c := range d.Path {
			if len(c.Segments) == 0 || fill == "" && !c.Closed() {
				continue
			}
			if !c.Closed() {
				c.Segments = append(slices.Clone(c.Segments), geometry.Segment{Kind: geometry.Line, End: c.Start})
			}
			closed = append(closed, c)
		}
		if fill == "" {
			out = append(out, closed...)
			continue
		}
		if d.Fill == "" || len(closed) == 0 {
			continue
		}
		area, err := geometry.Filled(closed)
		if d.EvenOdd {
			area, err = geometry.Settle(closed)
		}
		if err == nil && d.Fill == fill {
			out, err = geometry.Union(out, area)
		} else if err == nil && len(out) > 0 {
			out, err = geometry.Subtract(out, area)
		}
		if err != nil {
			return nil, err
		}
	}
	if fill == "" {
		return geometry.Settle(framesOff(out))
	}
	return framesOff(out), nil
}

// framesOff leaves out outlines that stand round more others than a character has holes.
func framesOff(p geometry.Path) geometry.Path {
	boxes := make([]geometry.Rect, len(p))
	for i, c := range p {
		boxes[i] = c.Bounds()
	}
	var out geometry.Path
	for i, c := range p {
		within := 0
		for k, b := range boxes {
			if k != i && boxes[i].Contains(b.Min) && boxes[i].Contains(b.Max) && boxes[i] != b {
				within++
			}
		}
		if within <= mostCounted {
			out = append(out, c)
		}
	}
	return out
}

// charactersIn gathers outlines above one another into characters, from left to right.
func charactersIn(area geometry.Path) []lettered {
	var out []lettered
	sorted := slices.Clone(area)
	slices.SortStableFunc(sorted, func(a, b geometry.Contour) int { return cmp.Compare(a.Bounds().Min.X, b.Bounds().Min.X) })
	for _, c := range sorted {
		box := c.Bounds()
		if n := len(out); n > 0 {
			l := &out[n-1]
			over := math.Min(l.box.Max.X, box.Max.X) - math.Max(l.box.Min.X, box.Min.X)
			if over > sameColumn*math.Min(l.box.Width(), box.Width()) {
				l.paint = append(l.paint, c)
				l.box = geometry.BoundsOf(l.box.Min, l.box.Max, box.Min, box.Max)
				continue
			}
		}
		out = append(out, lettered{paint: geometry.Path{c}, box: box})
	}
	return out
}

// levelTurn returns the turn in radians, -45 to 45 degrees, at which most length of straight edge
// is level or upright; 0 where that is hardly any.
func levelTurn(p geometry.Path) float64 {
	const bins = 900 // of 0.1 degree
	var lengths, sums [bins]float64
	for _, c := range p {
		for i, s := range c.Segments {
			if v := s.End.Sub(c.From(i)); s.Kind == geometry.Line && v.Norm() > 0 {
				a := math.Mod(same.Atan2(v.Y, v.X)+4*math.Pi, math.Pi/2)
				k := int(math.Round(a/(math.Pi/2)*bins)) % bins
				lengths[k] += v.Norm()
				sums[k] += float64(v.Norm() * math.Remainder(a-float64(k)*math.Pi/2/bins, math.Pi/2))
			}
		}
	}
	best := 0
	for k, l := range lengths {
		if l > lengths[best]*(1+1e-9) {
			best = k
		}
	}
	if lengths[best] == 0 {
		return 0
	}
	turn := math.Remainder(float64(best)*math.Pi/2/bins+sums[best]/lengths[best], math.Pi/2)
	if math.Abs(turn) < mostTurned {
		return 0
	}
	return turn
}

func turnedPoint(p geometry.Point, by float64) geometry.Point {
	sin, cos := same.Sincos(by)
	return geometry.Point{X: float64(p.X*cos) - float64(p.Y*sin), Y: float64(p.X*sin) + float64(p.Y*cos)}
}

// turnedBy turns a drawing about the origin.
func turnedBy(list []Drawn, by float64) []Drawn {
	if by == 0 {
		return list
	}
	out := slices.Clone(list)
	for i := range out {
		out[i].Path = out[i].Path.Map(func(p geometry.Point) geometry.Point { return turnedPoint(p, by) })
	}
	return out
}
