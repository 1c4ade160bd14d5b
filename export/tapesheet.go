package export

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// TapeSheets draws the tape list for the shop: a cover with the hardpoints and how to
// read the sheets, then for each marking a picture of its tapes and its points in
// working order, with readings that are read at arm's length and boxes to write into.
func TapeSheets(paper Paper, l *layouts.Layout, laid []masks.Laid, list masks.TapeList) []Sheet {
	p := newPages(paper, "Tape checklist: "+l.Spec.Name)
	w := tapeSheets{pages: p, l: l, list: list}
	w.cover()
	for _, one := range laid {
		p.turn()
		w.marking(one)
	}
	p.turn()
	w.attitude()
	p.cautions()
	return p.Sheets()
}

type tapeSheets struct {
	*pages
	l    *layouts.Layout
	list masks.TapeList
}

func (w *tapeSheets) cover() {
	w.text(setTitle, "Tape checklist")
	w.text(setSoft, w.l.Spec.Name)
	w.text(setBody, w.l.Airframe.Spec.Datum)
	t := w.list.Tape
	w.text(setBody, fmt.Sprintf("Tape: class %s, read to %s%s. Use one tape for the whole job. The aircraft need not stand level.", t.Class, readTo(t), inches(t)))
	if t.Burn {
		start := "1 IN"
		if t.Units == layouts.TapeMillimetres {
			start = "100 MM"
		}
		w.text(setHeading, "START AT THE "+start+" MARK: hold it, not the hook, at the hardpoint. Readings include it.")
	}
	w.heading("How to read these sheets", 1)
	for _, s := range []string{
		"Find the points in the order of their numbers. Two tapes, each from its hardpoint: swing both lengths, the point stands where they meet.",
		"ON SKIN: press the tape along the skin. STRAIGHT: pull it through the air; none is given that would run through the skin.",
		"CHECK: measure from the third hardpoint. It must read its length within " + limitText(t, masks.ClosureLimit) + " (common practice, no source); else one tape is on the wrong point: stop, and begin that point again.",
		"Mark with a flag of masking tape and a fine line. No graphite and no hard point on fabric or aluminium.",
		"Crossing of the two tapes: good from 60 to 120 degrees, acceptable from 40 to 140, else poor. Within: 95 points of 100 lie in an ellipse of those half axes, by tape, reading, marking and hardpoints.",
		"NOSE points forward. Left and right are the pilot's.",
	} {
		w.bullet(setBody, "–", s, 0.14)
	}
	w.hardpoints()
	w.structure()
}

func (w *tapeSheets) hardpoints() {
	w.heading("Hardpoints", 0.8)
	t := table{columns: []column{{"point", 2.6, 0}, {"side", 0.7, 0}, {"FS", 0.8, 1}, {"BL", 0.8, 1}, {"WL", 0.8, 1}, {"", 1, 0}}}
	for _, side := range []g.Side{g.Left, g.Right} {
		for _, h := range w.l.Airframe.Hardpoints(side) {
			t.rows = append(t.rows, []cell{{text: h.ID + ": " + h.Name, set: setStrong}, {text: side.String()}, {text: fmt.Sprintf("%.3f", float64(h.At.FS))},
				{text: fmt.Sprintf("%.3f", float64(h.At.BL))}, {text: fmt.Sprintf("%.3f", float64(h.At.WL))}, {text: drawnOrMeasured(h)}})
		}
	}
	w.table(t)
}

// structure prints how the measured hardpoints lie to the drawing, and which looks
// wrong.
func (w *tapeSheets) structure() {
	for _, f := range w.list.Structure {
		w.heading(fmt.Sprintf("Structure against the drawing, %s", f.Which), 0.8)
		w.text(setBody, fmt.Sprintf("moved %s aft, %s right, %s up; %.3f in left over", signed(f.Moved.X), signed(f.Moved.Y), signed(f.Moved.Z), f.RMS.Inches()))
		t := table{columns: []column{{"point", 1, 0}, {"side", 1, 0}, {"left over, in", 1.2, 1}, {"from where the others say, in", 2, 1}, {"", 2, 0}}}
		for _, q := range f.Points {
			alone, word := "too few to say", ""
			if !math.IsNaN(q.Alone.Inches()) {
				alone = fmt.Sprintf("%.3f", q.Alone.Inches())
			}
			fill := ""
			if q.Suspect {
				word, fill = "SUSPECT: measure again", levelFill[layouts.Stop]
			}
			t.rows = append(t.rows, []cell{{text: q.ID}, {text: q.Side.String()}, {text: fmt.Sprintf("%.3f", q.Left.Norm())}, {text: alone}, {text: word, fill: fill}})
		}
		w.table(t)
	}
}

func (w *tapeSheets) marking(l masks.Laid) {
	points := w.of(l.ID())
	p := l.Placement
	w.text(setTitle, fmt.Sprintf("%s, %s %s", p.Marking.ID, p.Side, wingWord(p)))
	w.text(setSoft, fmt.Sprintf("on %s, anchor FS %.2f BL %.2f WL %.2f", p.On, float64(p.Anchor.FS), float64(p.Anchor.BL), float64(p.Anchor.WL)))
	w.picture(l, points)
	for _, b := range w.list.Budgets {
		if b.Marking == l.ID() {
			w.expected(b, points)
		}
	}
	w.points(points)
	w.otherWays(points)
	w.checkLengths(l.ID())
	w.passes(l)
}

// of returns the points of a marking, in working order.
func (w *tapeSheets) of(id string) []masks.Checkpoint {
	var out []masks.Checkpoint
	for _, c := range w.list.Points {
		if c.Marking == id {
			out = append(out, c)
		}
	}
	return out
}

// expected says how well the tapes place the film, and what would help most.
func (w *tapeSheets) expected(b masks.MaskBudget, points []masks.Checkpoint) {
	t := w.list.Tape
	major, minor := b.Position.Within95()
	s := fmt.Sprintf("Expected: 95 films of 100 lie within %s x %s of their place and within %.2f degrees.", decimals(t, major), amount(t, minor), b.Rotation95())
	for _, c := range points {
		if c.Role == masks.Centre {
			worst := c.Error.Dominant()
			s += fmt.Sprintf(" Most of it comes from: %s (%s); to better it, %s.", worst.Name, amount(t, worst.Sigma), worst.Help)
		}
	}
	w.text(setBody, s)
	w.space(0.06)
}

// passes draws boxes for what was done when.
func (w *tapeSheets) passes(l masks.Laid) {
	w.heading("Passes", 0.7)
	t := table{columns: []column{{"pass", 2.2, 0}, {"film laid, date", 1.4, 0}, {"sprayed, coats", 1.4, 0}, {"pulled, time", 1.2, 0}, {"by", 0.8, 0}}, height: 0.32}
	for _, m := range l.Masks {
		t.rows = append(t.rows, []cell{{text: fmt.Sprintf("%d %s", m.Pass, m.Paint), set: setStrong}, {box: true}, {box: true}, {box: true}, {box: true}})
	}
	w.table(t)
}

func (w *tapeSheets) checkLengths(id string) {
	t := table{columns: []column{{"from", 1.4, 0}, {"to", 1.4, 0}, {"tile", 0.8, 0}, {"length", 1.6, 1}, {"within", 0.8, 1}, {"measured", 1.2, 0}}, height: 0.32}
	plain := w.list.Tape
	plain.Burn = false
	for _, c := range w.list.Checks {
		if c.Marking != id {
			continue
		}
		tile := c.Tile
		if tile == "" {
			tile = "whole"
		}
		t.rows = append(t.rows, []cell{{text: c.From}, {text: c.To}, {text: tile}, {text: Reading(plain, c.Length), set: setNumber}, {text: limitText(plain, c.Limit)}, {box: true}})
	}
	if len(t.rows) == 0 {
		return
	}
	w.heading("Once it is laid: tick to tick along the film", 0.8)
	w.text(setSoft, "Film that reads longer was stretched: lift it and lay it again.")
	w.table(t)
}

// otherWays prints string and girth for the points that tapes place badly, or whose
// place no third tape can check.
func (w *tapeSheets) otherWays(points []masks.Checkpoint) {
	t := table{columns: []column{{"no.", 0.4, 0}, {"by string", 3.2, 0}, {"by girth", 3, 0}}}
	unit := w.list.Tape
	for _, c := range points {
		if len(c.Tapes) == 2 && c.Grade != masks.Poor && c.Closure != nil {
			continue
		}
		by, girth := "none runs clear of the skin", "none"
		if s := c.Baseline; s != nil {
			by = fmt.Sprintf("%s to %s: %s along, then %s %s", s.From.ID, s.To.ID, amount(unit, s.Along), amount(unit, s.Offset), s.Towards)
		}
		if r := c.Girth; r != nil {
			girth = fmt.Sprintf("%s %s: %s %s from %s", r.Plane, g.FormatNumber(r.At, 3), amount(unit, r.Length), r.Towards, lineName(r.Line))
		}
		t.rows = append(t.rows, []cell{{text: fmt.Sprint(c.Step), set: setStrong}, {text: by}, {text: girth}})
	}
	if len(t.rows) == 0 {
		return
	}
	w.heading("Other ways, where tapes cross badly or cannot be checked", 0.8)
	w.text(setSoft, "String: stretched between the two hardpoints; measure along it, then square from it, as seen square to the side (on wings from above). Girth: along the skin in the plane of that station.")
	w.table(t)
}

func (w *tapeSheets) attitude() {
	a := w.list.Attitude
	if a == nil {
		return
	}
	t := w.list.Tape
	w.text(setTitle, "By level and floor")
	w.text(setBody, fmt.Sprintf("The other way, for whoever levels the aircraft. On its wheels it stands %.3f degrees nose up; raise the tail wheel %s to level it. An inclinometer along a waterline shows %.2f degrees parked, 0 levelled; a tenth of a degree is %s over 126 in.",
		a.Ground, amount(t, a.TailStand), a.Waterline, amount(t, g.Length(126*math.Sin(0.1*math.Pi/180)))))
	for _, p := range a.Pegs {
		w.bullet(setBody, "–", fmt.Sprintf("level pegs %s and %s, %s apart: levelled, %s; parked, %s", p.From, p.To, amount(t, p.Length), block(t, p.Block, p.Under), block(t, p.ParkedBlock, p.ParkedUnder)), 0.14)
	}
	w.heading("Heights above the floor", 0.8)
	tab := table{columns: []column{{"point", 3, 0}, {"parked", 1.2, 1}, {"levelled", 1.2, 1}}}
	for _, h := range a.Heights {
		if strings.HasSuffix(h.ID, "-centre") || strings.Contains(h.ID, "-level-") {
			tab.rows = append(tab.rows, []cell{{text: h.ID}, {text: amount(t, h.Parked)}, {text: amount(t, h.Level)}})
		}
	}
	w.table(tab)
}
