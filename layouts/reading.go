package layouts

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/geometry/skin"
	"maskloft/glyphs"
)

// TextReading is how a text stands on one side of the aircraft, measured on the
// drawing that is cut for that side and on the direction of the skin there.
type TextReading struct {
	ID       string // of the placement
	Side     geometry.Side
	Text     string   // as written, lines parted by " / "
	Along    string   // the way in which Order was read, "from nose to tail"
	Order    []string // the characters of each line met on that way
	Mirrored bool     // each character is the mirror image of itself
	Right    bool     // it reads as written, and no character is mirrored
}

// String says it in one line, for a proof.
func (t TextReading) String() string {
	how := "not mirrored"
	if t.Mirrored {
		how = "MIRRORED"
	}
	return fmt.Sprintf("%s: %s side, %s: %s; %s", t.ID, t.Side, t.Along, strings.Join(t.Order, " / "), how)
}

// Readings returns how every text of a layout stands: on the left side read from
// nose to tail, on the right from tail to nose, on a wing from the reader's left
// to his right.
func Readings(l *Layout) []TextReading {
	var out []TextReading
	for _, p := range l.Placed {
		if p.Figure.Setting != nil && len(p.Figure.Layers) > 0 {
			out = append(out, reading(p))
		}
	}
	return out
}

func reading(p Placement) TextReading {
	t := TextReading{ID: p.ID(), Side: p.Side, Text: p.Figure.ID}
	run, placed := p.Figure.Setting.Lettering, p.Figure.lettering()
	t.Mirrored = mirrored(run.Outline(), placed)

	right, words := drawingRight(p.Surface, p.Frame), [2]string{"from the reader's left to his right", "from the reader's left to his right"}
	sign := 1.0
	if p.Face() == NoFace {
		words = [2]string{"from nose to tail", "from tail to nose"}
		if right.X*p.Side.Reading() < 0 { // the drawing's x runs against the side's reading direction
			sign = -1
		}
	}
	t.Along = words[0]
	if p.Side == geometry.Right {
		t.Along = words[1]
	}

	type met struct {
		r    rune
		at   float64
		line int
	}
	var all []met
	first := 0
	for _, g := range run.Glyphs {
		box := placed[first : first+len(g.Outline)].Bounds().Centre()
		first += len(g.Outline)
		all = append(all, met{g.Rune, sign * along(p, box, t.Mirrored), g.Line})
	}
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].line != all[j].line {
			return all[i].line < all[j].line
		}
		return all[i].at < all[j].at
	})
	for i, m := range all {
		if i == 0 || m.line != all[i-1].line {
			t.Order = append(t.Order, "")
		}
		t.Order[len(t.Order)-1] += string(m.r)
	}
	written := strings.ReplaceAll(p.Marking.Figure.Text, " ", "")
	t.Right = !t.Mirrored && strings.Join(t.Order, "\n") == written
	return t
}

// along returns how far a point of the placed drawing lies along its line: x, or
// round an arc the angle from its middle.
func along(p Placement, q geometry.Point, mirrored bool) float64 {
	arc := p.Marking.Figure.Setting.Arc
	if arc == nil {
		return q.X
	}
	run := p.Figure.Setting.Lettering
	drawn, placed := run.Outline().Bounds(), p.Figure.lettering().Bounds()
	up := 1.0
	if arc.Reads == glyphs.ReadsUnder {
		up = -1
	}
	x := run.Width.Inches() / 2
	at := placed.Min.X + x - drawn.Min.X
	if mirrored {
		at = placed.Max.X - x + drawn.Min.X
	}
	centre := geometry.Point{X: at, Y: placed.Min.Y - drawn.Min.Y - float64(up*arc.Radius.Inches())}
	d := q.Sub(centre)
	return same.Atan2(d.X, up*d.Y)
}

// drawingRight returns the direction of a drawing's x at its anchor.
func drawingRight(s skin.Surface, f skin.Frame) geometry.Vec3 {
	_, n := s.At(f.At, f.At)
	return f.Up.Cross(n).Unit()
}

// mirrored tells whether placed is the mirror image of drawn, moved, and not drawn
// itself. Both have the same contours in the same order.
func mirrored(drawn, placed geometry.Path) bool {
	a, b := drawn.Bounds(), placed.Bounds()
	same, image := true, true
	near := func(u, v float64) bool { return math.Abs(u-v) <= geometry.SnapTolerance*10 }
	for i, c := range placed {
		back := drawn[i].Reversed()
		for k, s := range c.Segments {
			q := s.End
			x, y := q.X-b.Min.X, q.Y-b.Min.Y
			d := drawn[i].Segments[k].End
			same = same && near(x, d.X-a.Min.X) && near(y, d.Y-a.Min.Y)
			r := back.Segments[k].End
			image = image && near(x, a.Max.X-r.X) && near(y, r.Y-a.Min.Y)
		}
	}
	return image && !same
}
