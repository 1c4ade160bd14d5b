package layouts

import (
	"fmt"
	"math"

	"maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/layouts/standards"
)

// largestDisc bounds the governing size: no marking is 100 ft across, and a
// length typed in the wrong unit is.
const largestDisc = 100 * geometry.Foot

// InsigniaFigure draws a rule at a governing size, the diameter of its disc.
// Lines and circles are exact to the roundness of [geometry.Circle]. Options not
// chosen take the rule's default.
//
// Errors: a rule for lettering; a size that is not above zero and at most 100 ft;
// an option or choice the rule does not have.
func InsigniaFigure(rule *standards.Rule, size geometry.Length, options []OptionChoice) (Figure, error) {
	return InsigniaWithin(rule, size, options, nil, 0)
}

// InsigniaWithin is InsigniaFigure with the outline that the rule's field has, in the
// figure's frame, such as a rudder; an empty outline leaves the rectangle that the rule
// names. Edges of bands and strips that run upright lean by lean, degrees to the
// reader's left: with the hinge line. Level ones stay level.
//
// Errors: those of InsigniaFigure; an outline for a rule that fills none.
func InsigniaWithin(rule *standards.Rule, size geometry.Length, options []OptionChoice, field geometry.Path, lean float64) (Figure, error) {
	if len(field) > 0 && !rule.FollowsField() {
		return Figure{}, fmt.Errorf("rule %s has a form of its own and fills no outline: take within: out", rule.ID)
	}
	if rule.InWords() {
		return Figure{}, fmt.Errorf("rule %s is known in words only (%s): %s; it is not drawn: draw it as drawing: from a file of your own", rule.ID, rule.NotDrawn, rule.Described)
	}
	if rule.Lettering != nil {
		return Figure{}, fmt.Errorf("rule %s is for lettering: it draws no insignia; write text:, alphabet: and height:", rule.ID)
	}
	if !(size > 0 && size <= largestDisc) {
		return Figure{}, geometry.Errorf("size is %v, must be above 0 and at most %v", size, largestDisc)
	}
	var picks []standards.Pick
	for _, o := range options {
		picks = append(picks, standards.Pick(o))
	}
	values, err := rule.ValuesAt(size.Inches(), picks)
	if err != nil {
		return Figure{}, err
	}
	painted, err := rule.Painted(picks)
	if err != nil {
		return Figure{}, err
	}
	d := ruleDrawing{rule: rule, values: map[string]float64{}, field: field, lean: lean, outlines: map[string]geometry.Path{}}
	f := Figure{ID: rule.ID, Handed: Symmetric, Rule: rule}
	if rule.Handed {
		f.Handed = Handed
	}
	for _, v := range values {
		s := v.Scaled(rule.Unit, size.Inches())
		what := v.Part + "." + v.Name
		d.values[what] = s
		if v.Dimension.IsLength() {
			f.Dimensions = append(f.Dimensions, Dimension{
				Part: v.Part, Name: v.Name, Length: geometry.Length(s), Formula: v.Formula, Unit: rule.Unit, CanStop: rule.CanStop(what, picks...),
			})
		}
	}
	for _, p := range rule.Parts {
		outline, err := d.shown(p)
		if err != nil {
			return Figure{}, fmt.Errorf("rule %s: %s: %w", rule.ID, p.ID, err)
		}
		layer := Layer{Part: p.ID, Colour: p.Colour, Outline: outline, Reads: p.Kind == standards.Letters}
		if !painted[p.ID] {
			if len(f.Layers) == 0 {
				continue // nothing under it that it could leave bare
			}
			layer.Colour = standards.Unpainted
		}
		f.Layers = append(f.Layers, layer)
	}
	return f, nil
}

// ruleDrawing is a rule with its numbers at size: inches, degrees and counts by
// "part.number".
type ruleDrawing struct {
	rule     *standards.Rule
	values   map[string]float64
	field    geometry.Path            // of the layout; empty: the rule's own
	lean     float64                  // degrees, of edges that run upright
	outlines map[string]geometry.Path // of the parts drawn, by id
}

func (d ruleDrawing) get(p standards.Part, name string) float64 { return d.values[p.ID+"."+name] }

// shown returns the outline of a part, cut to the parts that it stands in, and keeps
// it.
func (d ruleDrawing) shown(p standards.Part) (geometry.Path, error) {
	var within geometry.Path
	for _, id := range p.In {
		sum, err := geometry.Union(within, d.outlines[id])
		if err != nil {
			return nil, err
		}
		within = sum
	}
	var out geometry.Path
	var err error
	switch p.Kind {
	case standards.Band, standards.Bands, standards.Strip:
		out, err = d.strips(p, within)
	default:
		if out, err = d.outline(p); err == nil && len(p.In) > 0 {
			out, err = geometry.Intersect(out, within)
		}
	}
	d.outlines[p.ID] = out
	return out, err
}

// strips returns the strips of a part across the parts that it stands in.
func (d ruleDrawing) strips(p standards.Part, within geometry.Path) (geometry.Path, error) {
	along := d.get(p, "along")
	if math.Abs(same.Cos(along*math.Pi/180)) < math.Sqrt2/2 {
		along += d.lean
	}
	a, err := acrossOf(within, along)
	if err != nil {
		return nil, err
	}
	switch p.Kind {
	case standards.Band:
		return a.strip(d.get(p, "from")*a.extent(), d.get(p, "to")*a.extent())
	case standards.Strip:
		return a.strip(d.get(p, "start"), d.get(p, "start")+d.get(p, "width"))
	}
	var out geometry.Path
	count, every := d.get(p, "count"), d.get(p, "every")
	if d.get(p, "first") > count {
		return nil, fmt.Errorf("the first stripe is number %v of %v", d.get(p, "first"), count)
	}
	for n := d.get(p, "first"); n <= count; n += every {
		s, err := a.strip((n-1)/count*a.extent(), n/count*a.extent())
		if err != nil {
			return nil, err
		}
		if every > 1 {
			out = append(out, s...)
		} else if out, err = geometry.Union(out, s); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (d ruleDrawing) outline(p standards.Part) (geometry.Path, error) {
	at := func(x, y string) geometry.Point { return geometry.Point{X: d.get(p, x), Y: d.get(p, y)} }
	switch p.Kind {
	case standards.Disc:
		return geometry.Path{d.disc(p)}, nil
	case standards.Ring:
		outer, inner := d.get(p, "outer"), d.get(p, "inner")
		if inner >= outer {
			return nil, geometry.Errorf("the inner radius %v is not below the outer, %v", geometry.Length(inner), geometry.Length(outer))
		}
		return geometry.Path{geometry.Circle(geometry.Point{}, outer), geometry.Circle(geometry.Point{}, inner).Reversed()}, nil
	case standards.Star:
		return geometry.Path{star(int(d.get(p, "points")), d.get(p, "outer"), d.get(p, "inner"), d.get(p, "first"))}, nil
	case standards.Bars:
		return geometry.Path{geometry.Rectangle(d.bars(p))}, nil
	case standards.Stripe:
		return d.stripe(p)
	case standards.Border:
		return d.border(p)
	case standards.Box:
		r := geometry.Rect{Min: geometry.Point{X: d.get(p, "left"), Y: d.get(p, "bottom")}, Max: geometry.Point{X: d.get(p, "right"), Y: d.get(p, "top")}}
		if !(r.Width() > 0 && r.Height() > 0) {
			return nil, geometry.Errorf("the box is %v wide and %v high", geometry.Length(r.Width()), geometry.Length(r.Height()))
		}
		return geometry.Path{geometry.Rectangle(r)}, nil
	case standards.Cross:
		return cross(d.get(p, "span"), d.get(p, "width"))
	case standards.Saltire:
		c, err := cross(d.get(p, "span"), d.get(p, "width"))
		return turned(c, 45), err
	case standards.RingSector:
		return ringSector(d.get(p, "outer"), d.get(p, "inner"), d.get(p, "from"), d.get(p, "to"))
	case standards.Triangle:
		return polygon(at("x1", "y1"), at("x2", "y2"), at("x3", "y3"))
	case standards.Bar:
		return bar(at("x", "y"), d.get(p, "length"), d.get(p, "width"), d.get(p, "angle")), nil
	case standards.Letters:
		return lettersOf(p.Text, p.Alphabet, geometry.Length(d.get(p, "height")), at("x", "y"))
	case standards.Field:
		if len(d.field) > 0 {
			return d.field, nil
		}
		return bar(geometry.Point{}, d.get(p, "width"), d.get(p, "height"), 0), nil
	case standards.Sector:
		return sector(d.get(p, "radius"), d.get(p, "from"), d.get(p, "to"))
	case standards.Ngon:
		return ngon(int(d.get(p, "points")), d.get(p, "radius"), d.get(p, "first"))
	case standards.Chevron:
		return chevron(d.get(p, "apex"), d.get(p, "arm"), d.get(p, "width"), d.get(p, "angle"))
	}
	return nil, fmt.Errorf("no outline for a part of kind %s", p.Kind)
}

// radius returns the radius of a disc, which its rule gives as such or as a
// diameter.
func (d ruleDrawing) radius(p standards.Part) float64 {
	if d.rule.Unit == standards.Diameter {
		return d.get(p, "diameter")
	}
	return d.get(p, "radius")
}

// disc returns a circle. Where the rule has a star whose points lie on it, its
// nodes are those points and the middles between them, so that star and disc
// touch without a sliver of the other's colour.
func (d ruleDrawing) disc(p standards.Part) geometry.Contour {
	r := d.radius(p)
	for _, q := range d.rule.Parts {
		if q.Kind == standards.Star && math.Abs(d.get(q, "outer")-r) < geometry.SnapTolerance {
			if n := 2 * int(d.get(q, "points")); n >= geometry.CircleCubics {
				return circleFrom(d.get(q, "outer"), d.get(q, "first"), n)
			}
		}
	}
	return geometry.Circle(geometry.Point{}, r)
}

// polar returns the point at a radius and an angle in degrees, counter-clockwise
// from x.
func polar(radius, degrees float64) geometry.Point {
	sin, cos := same.Sincos(degrees * math.Pi / 180)
	return geometry.Point{X: radius * cos, Y: radius * sin}
}

// circleFrom returns the circle about the origin in n equal cubics from an angle
// in degrees; control lengths as in [geometry.Circle].
func circleFrom(radius, first float64, n int) geometry.Contour {
	step := 360 / float64(n)
	k := 4.0 / 3 * same.Tan(step*math.Pi/180/4)
	ahead := func(p geometry.Point, k float64) geometry.Point {
		return p.Add(geometry.Vec{X: -p.Y, Y: p.X}.Scale(k))
	}
	b := geometry.MoveTo(polar(radius, first))
	for i := 0; i < n; i++ {
		from, to := polar(radius, first+float64(step*float64(i))), polar(radius, first+float64(step*float64((i+1)%n)))
		b.CubicTo(ahead(from, k), ahead(to, -k), to)
	}
	return b.Close()
}

// star returns a star about the origin, one point at the angle first in degrees,
// inner corners midway between points.
func star(points int, outer, inner, first float64) geometry.Contour {
	step := 360 / float64(points)
	var corners []geometry.Point
	for i := 0; i < points; i++ {
		at := first + float64(step*float64(i))
		corners = append(corners, polar(outer, at), polar(inner, at+step/2))
	}
	return geometry.Polygon(corners...)
}

// bars returns the rectangle of a pair of bars, joined behind the disc that
// covers its middle.
func (d ruleDrawing) bars(p standards.Part) geometry.Rect {
	end, top := d.get(p, "start")+d.get(p, "length"), d.get(p, "top")
	return geometry.Rect{
		Min: geometry.Point{X: -end, Y: top - d.get(p, "width")},
		Max: geometry.Point{X: end, Y: top},
	}
}

// stripe returns the stripes along the bars it names, from end to end.
func (d ruleDrawing) stripe(p standards.Part) (geometry.Path, error) {
	var out geometry.Path
	half := d.get(p, "width") / 2
	for _, id := range p.Of {
		q, _ := d.rule.Part(id)
		r := d.bars(q)
		middle := (r.Min.Y+r.Max.Y)/2 + d.get(p, "centre")
		if middle-half < r.Min.Y || middle+half > r.Max.Y {
			return nil, fmt.Errorf("the stripe is wider than %s", id)
		}
		r.Min.Y, r.Max.Y = middle-half, middle+half
		out = append(out, geometry.Rectangle(r))
	}
	return out, nil
}

// border returns the outline around the parts it names, at the border's width:
// a disc grows to a concentric circle, anything else to an outline with mitred
// corners.
func (d ruleDrawing) border(p standards.Part) (geometry.Path, error) {
	width := d.get(p, "width")
	var out geometry.Path
	for _, id := range p.Of {
		q, _ := d.rule.Part(id)
		grown, err := d.grown(q, width)
		if err != nil {
			return nil, err
		}
		if out, err = geometry.Union(out, grown); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// grown returns a part with its outline moved out by width, corners mitred.
func (d ruleDrawing) grown(q standards.Part, width float64) (geometry.Path, error) {
	switch q.Kind {
	case standards.Disc:
		return geometry.Path{geometry.Circle(geometry.Point{}, d.radius(q)+width)}, nil
	case standards.Bars:
		return geometry.Path{geometry.Rectangle(d.bars(q).Grown(width))}, nil
	case standards.Border, standards.Stripe, standards.Field, standards.Band, standards.Bands, standards.Strip:
		return nil, fmt.Errorf("no border goes around %s, a part of kind %s", q.ID, q.Kind)
	}
	outline, err := d.outline(q)
	if err != nil {
		return nil, err
	}
	return geometry.Offset(outline, geometry.Length(width), geometry.MiterJoin, geometry.OutlineTolerance/4)
}

// chevron returns an open chevron that is symmetric about y = 0: its point at
// x = apex, two arms of constant width that open towards +x with the given angle
// in degrees between them, ends cut square. Arm is the length of the outer edge
// of an arm, from the point.
func chevron(apex, arm, width, angle float64) (geometry.Path, error) {
	if !(angle > 0 && angle < 180) {
		return nil, fmt.Errorf("the angle is %v degrees, must be between 0 and 180", angle)
	}
	sin, cos := same.Sincos(angle * math.Pi / 360)
	if arm <= width*cos/sin {
		return nil, geometry.Errorf("an arm of %v is too short for its width: the arms would be cut before they part, at %v", geometry.Length(arm), geometry.Length(width*cos/sin))
	}
	point := geometry.Point{X: apex}
	outer := point.Add(geometry.Vec{X: cos, Y: sin}.Scale(arm))
	inner := outer.Add(geometry.Vec{X: sin, Y: -cos}.Scale(width))
	below := func(p geometry.Point) geometry.Point { return geometry.Point{X: p.X, Y: -p.Y} }
	return geometry.Path{geometry.Polygon(point, below(outer), below(inner), geometry.Point{X: apex + width/sin}, inner, outer)}, nil
}
