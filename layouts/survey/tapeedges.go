package survey

import (
	"fmt"
	"math"
	"strings"

	"maskloft/layouts/masks"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Common practice, no source.
const (
	onTapeEdge    = 1.0 / 8 // inches within which a paint edge lies on the edge of a tape: the depth of its pinking
	alongTape     = 1.0 / 2 // inches of that from which it runs along; less is a crossing
	warnAlongTape = 3.0     // inches that one paint edge follows a tape edge from which it is worth a shift
)

// FinishingTapeEdge is the paint edge that lies on the edges of one tape.
type FinishingTapeEdge struct {
	Tape    string
	Length  g.Length // in all
	Longest g.Length // in one stretch
	Where   g.Position
}

// tapeEdges returns the stretches of paint edge that run along the edges of tapes,
// tape by tape, and how many times a paint edge crosses one. Lengths are right to
// about a sixteenth of an inch a stretch. An edge between two paints counts once.
func (gr *surroundings) tapeEdges() ([]FinishingTapeEdge, int) {
	var outlines []g.Path
	for _, r := range gr.laid.Regions {
		outlines = append(outlines, masks.PolygonsOf(r.Outline))
	}
	var out []FinishingTapeEdge
	crossings := 0
	for _, t := range gr.obstacles {
		if t.Keeps() || len(t.runs) == 0 {
			continue
		}
		e := FinishingTapeEdge{Tape: t.ID}
		for k, region := range outlines {
			for _, c := range region {
				crossings += e.walk(gr, t, c, outlines[:k])
			}
		}
		if e.Length > 0 {
			out = append(out, e)
		}
	}
	return out, crossings
}

// edgePart is a short piece of a paint edge beside a tape.
type edgePart struct {
	at     g.Point
	length float64
	beyond bool // the tape's edge lies between it and the centre line
	on     bool
}

// walk goes round a contour and adds the stretches on the tape's edges; it returns
// how many times the contour crosses them elsewhere. Stretches that belong to an
// earlier outline are left to it.
func (e *FinishingTapeEdge) walk(gr *surroundings, t flatObstacle, c g.Contour, earlier []g.Path) int {
	var steps []edgePart
	last := c.Start
	for _, s := range c.Segments {
		length := last.Dist(s.End)
		n := g.Steps(length, masks.SampleStep)
		for i := range n {
			q := last.Lerp(s.End, (float64(i)+0.5)/float64(n))
			d := distanceToRuns(q, t.runs) - t.half()
			steps = append(steps, edgePart{at: q, length: length / float64(n), beyond: d > 0, on: math.Abs(d) <= onTapeEdge+g.SnapTolerance && !onOutline(q, earlier)})
		}
		last = s.End
	}
	first := 0
	for first < len(steps) && steps[first].on {
		first++
	}
	crossings, sum, from := 0, 0.0, 0
	for i := 1; i <= len(steps); i++ {
		k := (first + i) % len(steps)
		now := steps[k]
		if now.on {
			if sum == 0 {
				from = i
			}
			sum += now.length
			continue
		}
		if sum >= alongTape {
			e.Length += g.Length(sum)
			if g.Length(sum) > e.Longest {
				e.Longest = g.Length(sum)
				e.Where, _ = gr.laid.Map.PositionOf(steps[(first+(from+i)/2)%len(steps)].at)
			}
		} else if sum > 0 && now.beyond != steps[(first+from-1)%len(steps)].beyond {
			crossings++
		}
		sum = 0
	}
	if first == len(steps) { // all of it
		for _, s := range steps {
			e.Length += g.Length(s.length)
		}
		e.Longest = e.Length
		e.Where, _ = gr.laid.Map.PositionOf(c.Start)
	}
	return crossings
}

// onOutline tells whether q lies on one of the outlines.
func onOutline(q g.Point, outlines []g.Path) bool {
	const near = g.OutlineTolerance
	for _, o := range outlines {
		for _, c := range o {
			last := c.Start
			for _, s := range c.Segments {
				a, b := last, s.End
				last = s.End
				if q.X < math.Min(a.X, b.X)-near || q.X > math.Max(a.X, b.X)+near || q.Y < math.Min(a.Y, b.Y)-near || q.Y > math.Max(a.Y, b.Y)+near {
					continue
				}
				if g.SegmentDistance(q, a, b) < near {
					return true
				}
			}
		}
	}
	return false
}

// tapeEdgeFinding tells how much paint edge lies on the edges of tapes, where a
// pinked edge shows through it and film bridges the step.
func tapeEdgeFinding(gr *surroundings, s Surveyed) (layouts.Finding, bool) {
	u := gr.laid.Placement.Read
	tenths := func(l g.Length) string { return u.Fixed(l, 1) }
	all, longest := g.Length(0), FinishingTapeEdge{}
	var where []string
	for _, e := range s.TapeEdges {
		all += e.Length
		if e.Longest > longest.Longest {
			longest = e
		}
		where = append(where, fmt.Sprintf("%s on %s", tenths(e.Length), e.Tape))
	}
	if all == 0 {
		return layouts.Finding{}, false
	}
	f := layouts.Finding{
		Level: layouts.Note, Rule: "tape-edge", Where: longest.Where,
		Message: fmt.Sprintf("%s: %s of paint edge runs along edges of finishing tape: %s; the longest run, %s, is at %s; %s besides",
			s.ID, tenths(all), strings.Join(where, ", "), tenths(longest.Longest), u.Position(longest.Where), g.Counted(s.Crossings, "crossing")),
		Hint:     "press the film down along the tape before spraying, so that paint does not creep under",
		Measured: tenths(all), Expected: u.Length(0, 1), Tolerance: "within " + u.Fraction(onTapeEdge, 8) + " of a tape edge; one run of " + tenths(warnAlongTape) + " or more warns",
		Source: "common practice, no source",
	}
	if longest.Longest >= warnAlongTape {
		f.Level = layouts.Warn
		if aft, up, ok := gr.shift(func(v g.Vec) bool {
			return gr.clears(v, false) && gr.longestOnTape(v) < warnAlongTape
		}); ok {
			f.Proposals = append(f.Proposals, gr.move(aft, up, "leaves no such run"))
			f.Hint = hintOf(f.Proposals, f.Hint)
		}
	}
	return f, true
}

// longestOnTape returns the longest stretch of the paint's outer edge on a tape
// edge with the paint displaced by v.
func (gr *surroundings) longestOnTape(v g.Vec) float64 {
	worst := 0.0
	for _, t := range gr.obstacles {
		if t.Keeps() || len(t.runs) == 0 {
			continue
		}
		e := FinishingTapeEdge{}
		for _, c := range gr.paint {
			e.walk(gr, t, c.Map(func(q g.Point) g.Point { return q.Add(v) }), nil)
		}
		worst = math.Max(worst, e.Longest.Inches())
	}
	return worst
}
