package reading

import (
	"math"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

// marking reads one marking.
func (r *layoutReader) marking(v value) layouts.MarkingSpec {
	f := v.block("marking")
	m := layouts.MarkingSpec{Place: v.Place(), ID: r.markings.addFrom(f)}
	f.at("id").namesFile(m.ID)
	m.Figure = r.figure(f.at("figure"))
	if s := m.Figure; s.FollowsSkin() {
		m.Where = r.whereOnSkin(f.at("where"), s)
	} else {
		m.Where = r.where(f.at("where"))
	}
	m.True = choice(f.at("true"), layouts.TrueSkin, layouts.TrueSkin, layouts.TrueSide)
	m.Handed = choice(f.at("handed"), layouts.UsualHandedness(m.Figure), layouts.Symmetric, layouts.Text, layouts.Handed)
	m.Colours = r.colours(f.at("colours"), m.Figure)
	for _, e := range f.at("evidence").items("evidence") {
		m.Evidence = append(m.Evidence, r.evidence.refer(e))
	}
	m.Explains = r.explains(f.at("explains"), m.Figure)
	r.over = append(r.over, f.at("over"))
	return m
}

// figure reads exactly one kind of figure.
func (r *layoutReader) figure(v value) layouts.FigureSpec {
	if !v.Written() {
		return layouts.FigureSpec{}
	}
	s := layouts.FigureSpec{Place: v.Place()}
	if !v.IsBlock() {
		v.entries() // reports
		return s
	}
	var given []string
	for _, k := range figureKinds() {
		if v.peek(k.tells).Written() {
			given = append(given, k.tells)
		}
	}
	const kinds = "write rule: with size:, or text: (or block:) with alphabet: and height:, or one of discs, shapes, drawing, stripes, band and demarcation"
	if len(given) != 1 {
		if len(given) == 0 && r.impliedFigure(v) {
			return s
		}
		v.block("figure")
		if len(given) == 0 {
			v.Fail(kinds, "the figure says none of rule, text, block, discs, shapes, drawing, stripes, band and demarcation")
		} else {
			v.Fail(kinds, "the figure says %s; a figure is of one kind", strings.Join(given, " and "))
		}
		return s
	}
	f := v.block("figure with " + given[0])
	switch given[0] {
	case "rule":
		s.Rule = f.at("rule").Text()
		if size := f.at("size"); size.Written() || !s.FollowsSkin() {
			if s.Size = size.drawn(); !size.Written() {
				v.Fail("add "+exampleOf("", "size"), "figure with rule has no size")
			}
		}
		if o := f.at("options"); o.Written() {
			list, _ := o.entries()
			for _, e := range list {
				s.Options = append(s.Options, layouts.OptionChoice{Option: e.key.Text(), Choice: e.value.Text()})
			}
		}
	case "text", "block":
		r.text(f, &s)
	case "discs":
		s.Discs = r.discs(f.at("discs"))
	case "shapes":
		s.Shapes = r.shapes(f.at("shapes"))
	case "drawing":
		s.Drawing = r.drawing(f)
	case "stripes":
		s.Stripes = r.stripesOf(f.at("stripes"))
	case "band":
		s.Band = r.band(f.at("band"))
	case "demarcation":
		s.Line = r.demarcation(f.at("demarcation"))
	}
	s.Borders, s.Shade = r.borders(f.at("border")), r.shade(f.at("shade"))
	return s
}

// impliedFigure reports the missing key of a figure whose other keys tell its
// kind, such as a height without a text.
func (r *layoutReader) impliedFigure(v value) bool {
	for _, k := range figureKinds() {
		for _, other := range k.Keys {
			if v.peek(other.Name).Written() {
				v.blockNamed(k.ID, "figure with "+other.Name)
				return true
			}
		}
	}
	return false
}

// figureKind is a kind of figure, and the key that tells it.
type figureKind struct {
	*Block
	tells string
}

func figureKinds() []figureKind {
	var out []figureKind
	for _, b := range blocks().kinds("figure") {
		if key, ok := strings.CutPrefix(b.ID, "figure with "); ok {
			out = append(out, figureKind{b, key})
		}
	}
	return out
}

func (r *layoutReader) discs(v value) []layouts.DiscSpec {
	var out []layouts.DiscSpec
	for i, d := range v.items("disc") {
		f := d.block("disc")
		s := layouts.DiscSpec{Place: d.Place(), Diameter: f.at("diameter").drawn(), Colour: r.paints.refer(f.at("colour"))}
		if i > 0 && s.Diameter >= out[i-1].Diameter {
			f.at("diameter").Fail("write the discs from the largest to the smallest", "disc %d is %s, must be below %s of disc %d", i+1, s.Diameter, out[i-1].Diameter, i)
		}
		out = append(out, s)
	}
	if v.IsList() && len(out) == 0 {
		v.Fail("write "+exampleOf("", "discs"), "discs is empty")
	}
	return out
}

// colours reads part: paint. Which parts a rule has is known only to the rule.
func (r *layoutReader) colours(v value, figure layouts.FigureSpec) []layouts.ColourUse {
	if !v.Written() {
		return nil
	}
	if len(figure.Discs) > 0 || len(figure.Shapes) > 0 || figure.Drawing != nil || figure.Stripes != nil || figure.Band != nil || figure.Line != nil {
		v.Fail("take colours out", "each part of the figure names its own paint")
		return nil
	}
	var out []layouts.ColourUse
	list, _ := v.entries()
	for _, e := range list {
		use := layouts.ColourUse{Part: e.key.Text(), Paint: r.paints.refer(e.value)}
		if figure.Text != "" && use.Part != "" && use.Part != "text" {
			e.key.Fail("write colours: {text: "+use.Paint+"}", "a text has no part %q", document.Shorten(use.Part))
		}
		out = append(out, use)
	}
	return out
}

func (r *layoutReader) where(v value) layouts.WhereSpec {
	if !v.Written() {
		return layouts.WhereSpec{}
	}
	if r.onWing(v) {
		return r.whereOnWing(v)
	}
	given := 0
	for _, key := range []string{"wl", "from", "between"} {
		if v.peek(key).Written() {
			given++
		}
	}
	var need []string
	if given == 0 {
		need = []string{"wl"}
	}
	f := v.block("where on a surface", need...)
	if given > 1 {
		v.Fail("write one of wl: 52, from: {line: S2, down: 6 in} and between: [S3, S5]", "where gives the height more than once")
	}
	w := layouts.WhereSpec{
		Place: v.Place(), Side: f.at("side").sides(), FS: r.stationOrMiddle(f.at("fs")),
		Hold: choice(f.at("hold"), layouts.HoldCentre, layouts.HoldCentre, layouts.HoldFore, layouts.HoldAft), Angle: f.at("angle").degrees(),
		Baseline: choice(f.at("baseline"), layouts.StraightBaseline, layouts.StraightBaseline, layouts.WaterlineBaseline), Align: layouts.AlignWaterline,
	}
	if align := f.at("align"); align.Written() {
		w.Align = align.Text()
	}
	r.height(f, &w)
	surface := f.at("surface")
	if !surface.IsList() {
		w.Surfaces = []string{r.surfaces.refer(surface)}
		return w
	}
	items := surface.items("surface")
	if len(items) == 0 {
		surface.Fail("write "+exampleOf("", "surface"), "surface is an empty list")
	}
	for _, s := range items {
		id := r.surfaces.refer(s)
		if id != "" && slices.Contains(w.Surfaces, id) {
			s.Fail("name each surface once", "the surface %q is listed twice", document.Shorten(id))
		}
		w.Surfaces = append(w.Surfaces, id)
	}
	r.checkPlane(items, w.Surfaces)
	return w
}

// checkPlane reports surfaces listed together that do not lie in one plane:
// plates of one thickness do, on either side.
func (r *layoutReader) checkPlane(items []value, ids []string) {
	if len(ids) < 2 {
		return
	}
	first, ok := r.aircraft.Find(ids[0])
	for i, id := range ids {
		s, known := r.aircraft.Find(id)
		switch {
		case !known || s.Kind == "":
		case s.Kind != layouts.Plate:
			items[i].Fail("list plates only (fin and rudder), or name one surface", "the surface %q is of kind %s, not flat: it does not lie in one plane with another", document.Shorten(s.ID), s.Kind)
		case ok && first.Kind == layouts.Plate && math.Abs(float64(s.Thickness-first.Thickness)) > geometry.SayDifference:
			items[i].Fail("give them one thickness, or a marking each", "%q is %s thick and %q %s: they do not lie in one plane",
				document.Shorten(s.ID), s.Thickness, document.Shorten(first.ID), first.Thickness)
		}
	}
}

// stationOrMiddle reads a station, or a list of two for the one midway.
func (r *layoutReader) stationOrMiddle(v value) geometry.Station {
	if !v.IsList() {
		return v.station()
	}
	two := v.items("station")
	if len(two) != 2 {
		v.Fail("write fs: 150, or fs: [144, 168] for the station midway", "fs lists %d stations, must be one or two", len(two))
		return 0
	}
	return (two[0].station() + two[1].station()) / 2
}

// height reads where: wl, from or between.
func (r *layoutReader) height(f fields, w *layouts.WhereSpec) {
	if from := f.at("from"); from.Written() {
		w.Height = layouts.HeightGirth
		g := from.block("from")
		w.Line = g.at("line").Text()
		down, up := g.at("down"), g.at("up")
		switch {
		case down.Written() == up.Written():
			from.Fail("write from: {line: S2, down: 6 in}, or up:", "from wants one of down and up, along the skin")
		case down.Written():
			w.Down = down.length()
		default:
			w.Down = -up.length()
		}
		return
	}
	if between := f.at("between"); between.Written() {
		w.Height = layouts.HeightBetween
		two := between.items("line")
		if len(two) != 2 {
			between.Fail("write between: [S3, S5]", "between lists %d lines, must be two", len(two))
			return
		}
		w.Line, w.LineTo = two[0].Text(), two[1].Text()
		return
	}
	w.WL = f.at("wl").waterline()
}

// onWing tells whether a place names one wing.
func (r *layoutReader) onWing(v value) bool {
	at := v.peek("surface")
	s, ok := r.aircraft.Find(at.Raw())
	return ok && s.Kind == layouts.Wing
}

// whereOnWing reads a place on a wing: a face, a station and a butt line outwards.
func (r *layoutReader) whereOnWing(v value) layouts.WhereSpec {
	f := v.block("where on a wing")
	return layouts.WhereSpec{
		Place: v.Place(), Surfaces: []string{r.surfaces.refer(f.at("surface"))}, Side: f.at("side").sides(),
		Face: choice(f.at("face"), layouts.NoFace, layouts.UpperFace, layouts.LowerFace), FS: r.stationOrMiddle(f.at("fs")), BL: f.at("bl").buttLine(),
		Hold: choice(f.at("hold"), layouts.HoldCentre, layouts.HoldCentre, layouts.HoldFore, layouts.HoldAft), Angle: f.at("angle").degrees(),
		Align: layouts.AlignForward, Baseline: layouts.StraightBaseline,
	}
}
