package glyphs

import (
	"fmt"
	"math"

	g "maskloft/geometry"
)

// fit brings the widest line to the asked width: every gap of every line is
// widened or narrowed by one length, a word space by more in its proportion. It
// changes the lines and returns the squeeze of their letters.
func fit(face Typeface, lines []line, height g.Length, o SetOptions) (float64, error) {
	if o.Fit < 0 {
		return 0, fmt.Errorf("fit %v: a width is above 0", o.Fit)
	}
	floor := LeastGap(face, height)
	if o.Least != nil {
		floor = *o.Least
	}
	add, most := math.Inf(1), math.Inf(-1) // to a gap of one share; the most that can be taken away
	widest := g.Length(0)
	for _, l := range lines {
		w := l.width()
		widest = max(widest, w)
		switch {
		case len(l.gaps) > 0:
			add = min(add, float64(o.Fit-w)/l.allShares())
		case w > o.Fit+g.SnapTolerance:
			add = math.Inf(-1) // no gap to close up
		}
		for i, x := range l.gaps {
			most = max(most, float64(floor-x)/l.shares[i])
		}
	}
	most = min(most, 0)
	switch {
	case math.IsInf(add, 1) && math.Abs(float64(widest-o.Fit)) <= g.SnapTolerance:
		return 1, nil
	case math.IsInf(add, 1):
		return 0, fmt.Errorf("fit %v: a line of one character is %v wide and has no gap to widen: take out fit", o.Fit, widest)
	case add >= most-g.SnapTolerance:
		for _, l := range lines {
			for k := range l.gaps {
				l.gaps[k] += g.Length(add * l.shares[k])
			}
		}
		return 1, nil
	case !o.Squeeze:
		need := g.Length(0)
		for _, l := range lines {
			w := l.width()
			if len(l.gaps) > 0 {
				w += g.Length(most * l.allShares())
			}
			need = max(need, w)
		}
		return 0, fmt.Errorf("fit %v: with no gap below the least of %v the text is %v wide: write fit: %v or more, height: %v or less, a smaller least:, or squeeze: yes to narrow the letters",
			o.Fit, floor, need, ceil(need), floorTo(height*o.Fit/need))
	}
	k := float64(o.Fit / widest)
	for _, l := range lines {
		for j, x := range l.glyphs {
			x.Width *= g.Length(k)
			x.Outline = x.Outline.Map(func(p g.Point) g.Point { return g.Point{X: p.X * k, Y: p.Y} })
			l.glyphs[j] = x
		}
		for j := range l.gaps {
			l.gaps[j] *= g.Length(k)
		}
	}
	return k, nil
}

func (l line) allShares() float64 {
	sum := 0.0
	for _, s := range l.shares {
		sum += s
	}
	return sum
}

// ceil and floorTo round to a hundredth of an inch, for what to type.
func ceil(l g.Length) g.Length    { return g.Length(math.Ceil(float64(float64(l)*100)-1e-6) / 100) }
func floorTo(l g.Length) g.Length { return g.Length(math.Floor(float64(float64(l)*100)+1e-6) / 100) }
