package layouts

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts/standards"
)

// Layout is an aircraft and every marking placed on it: what [Resolve] makes of
// a Spec. Nothing in it changes afterwards.
type Layout struct {
	Spec     *Spec
	Airframe *Airframe
	Placed   []Placement // markings in the order of the file, left before right
}

// Placement is one marking on one side.
type Placement struct {
	Marking *MarkingSpec
	Side    geometry.Side
	Surface skin.Surface
	On      string // the surfaces' names, joined by "+"
	Frame   skin.Frame
	Anchor  geometry.Position // the point of the skin where the held point of the figure stands
	// Figure is the drawing for this side, in its paints, moved so that its held
	// point is the origin. Of what is drawn on the skin it has the parts, and takes
	// about as much room.
	Figure Figure
	Drawn  SkinDrawing // what follows lines of the skin; nil: Figure is drawn in a plane
	ToEdge bool        // it is cut to the edges of its surface

	Read geometry.Units // what findings of it are written in
}

// Face is the face of the wing that the marking is on; empty for what is seen from
// the side.
func (p Placement) Face() Face { return p.Marking.Where.Face }

// ID is the marking's id and side, fit for a file name. An id that ends in its
// side already stays as it is.
func (p Placement) ID() string { return sided(p.Marking.ID, p.Side) }

func sided(id string, side geometry.Side) string {
	end := "-" + side.String()
	return strings.TrimSuffix(id, end) + end
}

// Resolve computes the layout of a spec: surfaces, figures and the place of each on
// each side. A marking that cannot be placed is left out, and is a finding under
// [MissingRule].
//
// Errors: an aircraft that cannot be built.
func Resolve(spec *Spec) (*Layout, []Finding, error) {
	frame, err := NewAirframe(context.Background(), spec.Aircraft)
	if err != nil {
		return nil, nil, err
	}
	l, findings := ResolveOn(frame, spec, FigureOf)
	return l, findings, nil
}

// ResolveOn is [Resolve] on an aircraft that is built already, from the aircraft of
// spec. figureOf is [FigureOf], or keeps what that returned.
func ResolveOn(frame *Airframe, spec *Spec, figureOf func(*MarkingSpec) (Figure, error)) (*Layout, []Finding) {
	l := &Layout{Spec: spec, Airframe: frame}
	findings := slices.Clone(frame.Notes)
	for i := range spec.Markings {
		m := &spec.Markings[i]
		fig, err := figureOf(m)
		if err == nil {
			fig, err = inPaints(fig, m.Colours, spec.Paint)
		}
		if err != nil {
			findings = append(findings, Missing(m.ID, m.Figure.Place, geometry.Position{}, err))
			continue
		}
		for i, side := range m.Where.Side.List() {
			placed, err := placeAll(frame, m, fig, side)
			if err != nil {
				findings = append(findings, Missing(sided(m.ID, side), m.Where.Place, geometry.Position{}, err))
				continue
			}
			for _, p := range placed {
				if k := slices.IndexFunc(l.Placed, func(q Placement) bool { return q.ID() == p.ID() }); k >= 0 {
					findings = append(findings, Missing(p.ID(), m.Place, p.Anchor, fmt.Errorf("%s on the %s side would be called %s, as %s of line %d is: give one of the two another id",
						m.ID, side, p.ID(), l.Placed[k].Marking.ID, l.Placed[k].Marking.Place.Line)))
					continue
				}
				p.Read = spec.Sheets.Units
				l.Placed = append(l.Placed, p)
			}
			if i == 0 {
				findings = append(findings, textFindings(m, fig.Setting, placed[0].Anchor)...)
				findings = append(findings, handednessFindings(m, fig)...)
				findings = append(findings, softFindings(m, placed[0].Anchor)...)
			}
		}
	}
	return l, findings
}

// Of returns the placements of a marking of the file, by its id there: on each of its
// sides, and of a band or a line each of its pieces.
func (l *Layout) Of(id string) []Placement {
	k := slices.IndexFunc(l.Spec.Markings, func(m MarkingSpec) bool { return m.ID == id })
	if k < 0 {
		return nil
	}
	var out []Placement
	for _, p := range l.Placed {
		if p.Marking.Place == l.Spec.Markings[k].Place {
			out = append(out, p)
		}
	}
	return out
}

// placeAll places a marking on one side: in one piece, or a band or a line in several.
func placeAll(a *Airframe, m *MarkingSpec, fig Figure, side geometry.Side) ([]Placement, error) {
	one := func(p Placement, err error) ([]Placement, error) { return []Placement{p}, err }
	switch f := m.Figure; {
	case f.Band != nil:
		return placeBand(a, m, fig, side)
	case f.Stripes != nil && len(f.Stripes.Between) > 0:
		return placeRing(a, m, fig, side)
	case f.Stripes != nil, fig.Rule != nil && fig.Rule.FollowsField():
		return one(placeStripes(a, m, fig, side))
	case f.Line != nil:
		return placeLine(a, m, fig, side)
	}
	return one(place(a, m, fig, side))
}

// FigureOf builds the drawing of a marking, as on the left side, from its figure and the
// way it is handed.
func FigureOf(m *MarkingSpec) (Figure, error) {
	f := m.Figure
	var fig Figure
	var err error
	switch {
	case f.Rule != "":
		rule, e := standards.Find(f.Rule)
		if e != nil {
			return Figure{}, e
		}
		size := f.Size
		if size == 0 && rule.FollowsField() { // its size is that of the surface
			size = standards.NominalSize
		}
		fig, err = InsigniaFigure(rule, size, f.Options)
	case f.Text != "":
		if fig, err = setText(f); err == nil {
			fig.Lettering, err = LetteringRules(f.As)
		}
	case len(f.Shapes) > 0:
		fig, err = ShapesFigure(f.Shapes)
	case f.Drawing != nil:
		fig, err = DrawingFigure(*f.Drawing)
	case f.Stripes != nil:
		fig = Figure{ID: "stripes", Layers: stripLayers(f.Stripes.Strips)}
	case f.Band != nil:
		fig = Figure{ID: "band", Layers: stripLayers(f.Band.Strips)}
	case f.Line != nil:
		fig = Figure{ID: "line", Layers: stripLayers(f.Line.Strips)}
	default:
		fig, err = DiscsFigure(f.Discs)
	}
	if err != nil {
		return Figure{}, err
	}
	if fig, err = Bordered(fig, f.Borders, f.Shade); err != nil {
		return Figure{}, err
	}
	fig.Handed = m.Handed
	return fig, nil
}

// inPaints replaces the colour roles of a figure by paints: those the marking
// names, or the paint that bears the role's name.
func inPaints(f Figure, uses []ColourUse, paint PaintSpec) (Figure, error) {
	known := map[string]bool{}
	var names []string
	for _, c := range paint.Colours {
		known[c.ID] = true
		names = append(names, c.ID)
	}
	layers := append([]Layer(nil), f.Layers...)
	used := make([]bool, len(uses))
	for i, l := range layers {
		if l.Colour == standards.Unpainted {
			continue
		}
		name := l.Colour
		if !known[name] { // a role of a rule: insignia_blue is painted with insignia-blue
			name = strings.ReplaceAll(name, "_", "-")
		}
		for k, u := range uses {
			if u.Part == l.Part || strings.ReplaceAll(u.Part, "_", "-") == strings.ReplaceAll(l.Colour, "_", "-") {
				name, used[k] = u.Paint, true
			}
		}
		if !known[name] {
			return Figure{}, fmt.Errorf("part %q wants a paint %q, and paint: colours: has %s: add it, or write colours: {%s: one of them}",
				l.Part, name, strings.Join(names, ", "), l.Part)
		}
		layers[i].Colour = name
	}
	for k, u := range uses {
		if !used[k] {
			var parts []string
			for _, l := range f.Layers {
				parts = append(parts, l.Part)
			}
			return Figure{}, fmt.Errorf("colours: %q is no part of the figure: it has %s", u.Part, strings.Join(parts, ", "))
		}
	}
	f.Layers = layers
	return f, nil
}
