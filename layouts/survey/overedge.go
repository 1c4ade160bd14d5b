package survey

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// skinEdge is an edge of a wing, or of a fin with a section, as it lies in the flat of a
// marking: the edge itself, or at the leading edge the line behind its round from which
// on film can be laid.
type skinEdge struct {
	name  string
	away  string // the way to move a marking that reaches over it
	line  []g.Point
	slant float64 // inches of movement for an inch square to the edge
}

// edgePieces is how many pieces an edge is cut into to bring it into the flat.
const edgePieces = 48

// skinEdges returns the edges of the skin under a marking, as far as its flat reaches.
func skinEdges(s *skin.LiftingSkin, l masks.Laid) []skinEdge {
	_, vs, _ := s.Breaks()
	lo, hi := vs[0], vs[len(vs)-1]
	far := same.Hypot(l.Field.Width(), l.Field.Height())
	at, _ := l.Map.ToSkin(g.Point{})
	from, to := math.Max(lo, at.V-far), math.Min(hi, at.V+far)
	line := func(of func(t float64) skin.UV) []g.Point {
		var out []g.Point
		for i := 0; i <= edgePieces; i++ {
			if q, ok := l.Map.ToFlat(of(float64(i) / edgePieces)); ok {
				out = append(out, q)
			}
		}
		return out
	}
	along := func(v float64, fore bool) float64 {
		a, b := s.Chord(v)
		if fore {
			return a
		}
		return b
	}
	lengthwise := func(name, away string, fore bool) skinEdge {
		e := skinEdge{name: name, away: away}
		e.line = line(func(t float64) skin.UV { v := from + float64(t*(to-from)); return skin.UV{U: along(v, fore), V: v} })
		e.slant = same.Hypot(1, (along(to, fore)-along(from, fore))/(to-from))
		return e
	}
	crosswise := func(name, away string, v float64) skinEdge {
		a, b := s.Chord(v)
		return skinEdge{name, away, line(func(t float64) skin.UV { return skin.UV{U: a + float64(t*(b-a)), V: v} }), 1}
	}
	low, high := [2]string{"root", "outboard"}, [2]string{"tip", "inboard"}
	switch {
	case l.Placement.Face() == layouts.NoFace:
		low, high = [2]string{"foot", "up"}, [2]string{"tip", "down"}
	case hi <= 0:
		low, high = high, low
	}
	return []skinEdge{
		lengthwise("leading edge", "aft", true), lengthwise("trailing edge", "forward", false),
		crosswise(low[0], low[1], lo), crosswise(high[0], high[1], hi),
	}
}

// over returns how far a point of the flat lies beyond the edge, seen from the anchor; 0
// where it does not.
func (e skinEdge) over(q g.Point) float64 {
	d, beyond := math.Inf(1), false
	for i := 1; i < len(e.line); i++ {
		a, b := e.line[i-1], e.line[i]
		ab := b.Sub(a)
		anchor, there := ab.Cross(g.Point{}.Sub(a)), ab.Cross(q.Sub(a))
		if near := g.SegmentDistance(q, a, b); near < d {
			d, beyond = near, (anchor < 0) != (there < 0)
		}
	}
	if !beyond {
		return 0
	}
	return d
}

// reach is how far outlines go over an edge, and where the farthest place lies.
type reach struct {
	edge skinEdge
	over float64
	at   g.Point
}

// reaches returns the edges that points of the flat lie beyond.
func reaches(edges []skinEdge, points []g.Point) []reach {
	var out []reach
	for _, e := range edges {
		r := reach{edge: e}
		for _, q := range points {
			if d := e.over(q); d > r.over+g.SnapTolerance {
				r.over, r.at = d, q
			}
		}
		if r.over > 0 {
			out = append(out, r)
		}
	}
	return out
}

// move says how far to move a marking, a tenth of an inch more than half of one.
func (r reach) move(u g.Units) string {
	key := "fs:"
	switch r.edge.away {
	case "outboard", "inboard":
		key = "bl:"
	case "up", "down":
		key = "wl:"
	}
	return fmt.Sprintf("move it %s %s with where: %s", u.Fixed(g.Length(math.Ceil(float64(r.over*r.edge.slant*10)+0.5)/10), 1), r.edge.away, key)
}

// moves joins what is to be done; where two opposite edges are overrun no move helps.
func moves(u g.Units, rs []reach) string {
	for i, a := range rs {
		for _, b := range rs[i+1:] {
			if strings.Contains(a.edge.name, "edge") == strings.Contains(b.edge.name, "edge") {
				return fmt.Sprintf("it is %s too large between the %s and the %s: make it smaller", u.Fixed(g.Length(a.over+b.over), 1), a.edge.name, b.edge.name)
			}
		}
	}
	var words []string
	for _, r := range rs {
		words = append(words, r.move(u))
	}
	return strings.Join(words, " and ")
}

// paintOverEdges says, of paint on a wing or a fin with a section, by how far it lies
// over the edges of the skin, and what to do; empty on other surfaces.
func paintOverEdges(l masks.Laid) (message, hint string) {
	s, ok := l.Placement.Surface.(*skin.LiftingSkin)
	if !ok {
		return "", ""
	}
	var points []g.Point
	eachOutlinePoint(l, runStep, func(_ layouts.Region, q g.Point, _ float64) { points = append(points, q) })
	rs := reaches(skinEdges(s, l), points)
	if len(rs) == 0 {
		return "", ""
	}
	var words []string
	for _, r := range rs {
		words = append(words, endsAt(s, l, r))
	}
	return fmt.Sprintf("%s: the paint %s of %s", l.ID(), strings.Join(words, ", and "), l.Placement.On), moves(l.Placement.Read, rs)
}

// endsAt says where outlines end that go over an edge. At the leading edge that is told in
// plan, from the edge itself: film cannot be laid out on its round.
func endsAt(s *skin.LiftingSkin, l masks.Laid, r reach) string {
	long := func(v float64) string { return l.Placement.Read.Fixed(g.Length(v), 1) }
	if r.edge.name != "leading edge" {
		return fmt.Sprintf("ends %s beyond the %s", long(r.over), r.edge.name)
	}
	at, ok := l.Map.ToSkin(r.at)
	v := at.V
	if !ok {
		near := r.edge.line[0]
		for _, q := range r.edge.line {
			if q.Dist(r.at) < near.Dist(r.at) {
				near = q
			}
		}
		at, _ = l.Map.ToSkin(near)
		v = at.V
		at.U -= r.over
	}
	fore, _ := s.Chord(v)
	le := s.LeadingEdge(v).Inches()
	if at.U < le {
		return fmt.Sprintf("runs %s past the leading edge; it can be laid out flat from %s aft of that edge", long(le-at.U), long(fore-le))
	}
	return fmt.Sprintf("ends %s aft of the leading edge; it can be laid out flat from %s aft of that edge", long(at.U-le), long(fore-le))
}

// filmOverEdge reports film whose waste reaches on to the round of the leading edge of a
// wing, or past it. Paint over the edge is told by [offSkin].
func filmOverEdge(l masks.Laid) (layouts.Finding, bool) {
	s, ok := l.Placement.Surface.(*skin.LiftingSkin)
	if !ok {
		return layouts.Finding{}, false
	}
	if _, off := offSkin(l); off {
		return layouts.Finding{}, false
	}
	var border []g.Point
	corners := [5]g.Point{l.Field.Min, {X: l.Field.Max.X, Y: l.Field.Min.Y}, l.Field.Max, {X: l.Field.Min.X, Y: l.Field.Max.Y}, l.Field.Min}
	for k := range 4 {
		for i := range edgePieces {
			border = append(border, corners[k].Lerp(corners[k+1], float64(i)/edgePieces))
		}
	}
	rs := reaches(skinEdges(s, l)[:1], border)
	if len(rs) == 0 {
		return layouts.Finding{}, false
	}
	return layouts.Finding{
		Level: layouts.Warn, Rule: "film-over-edge", Where: l.Placement.Anchor,
		Message:  fmt.Sprintf("%s: the film %s of %s", l.ID(), endsAt(s, l, rs[0]), l.Placement.On),
		Hint:     moves(l.Placement.Read, rs) + ", or trim the film there before it is laid: no paint lies on that part",
		Measured: l.Placement.Read.Fixed(g.Length(rs[0].over), 2) + " over", Expected: "0", Tolerance: "none", Source: "derived",
	}, true
}
