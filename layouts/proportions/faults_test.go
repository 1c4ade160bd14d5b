package proportions

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/standards"
)

// faultForms are the forms that faults are tried on: discs, stars, bars, crosses,
// boxes, sectors, chevrons, triangles.
var faultForms = []string{
	"an-i-9b/star-and-bars", "an-i-9a@amendment-1/blue-border", "us-star/disc-1942", "us-star/disc-1919", "raf-roundel/a1", "raf-roundel/c1", "raf-roundel/b", "raf-fin-flash/1942",
	"french-roundel/thirds", "belgian-roundel/thirds", "german-cross/wide", "german-cross/narrow", "dutch-markings/sectors", "dutch-markings/triangle", "hcf-order-12/insignia", "us-star/star-1915",
}

// faultLayer is a layer as it is drawn: its outline, and what it is filled with.
type faultLayer struct {
	part, role, fill string
	outline          geometry.Path
}

// inks are fills for roles by the colour in their names, as drawings have them.
var inks = map[Hue]string{Red: "#c8102e", Orange: "#ff8200", Yellow: "#ffcd00", Green: "#007a33", Blue: "#1d3a8a", White: "#ffffff", Grey: "#8a8d8f", Black: "#101010"}

func inkOf(role string) string {
	if h := roleHues(role); len(h) > 0 {
		return inks[h[0]]
	}
	return inks[Grey]
}

func faultLayers(t testing.TB, rule *standards.Rule) []faultLayer {
	t.Helper()
	layers, err := unitFigure(rule, nil, standards.NominalSize)
	require.NoError(t, err)
	var out []faultLayer
	for _, l := range layers {
		out = append(out, faultLayer{l.Part, l.Colour, inkOf(l.Colour), l.Outline})
	}
	return out
}

// faultKinds are the ways in which a drawing is made wrong. Each returns the layers
// changed, words that the answer must have, and the part that it must name; ok false
// where the form has nothing to be made wrong in that way.
type faulty func(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) (out []faultLayer, fault wantedFault, ok bool)

// wantedFault is what must be named: a part, or several that come to the same; and
// any of some words in the name or text of a check.
type wantedFault struct {
	about string
	parts []string
	words []string
	// unchecked: that colours were not checked is the right answer
	unchecked bool
}

var faultKinds = []struct {
	name string
	make faulty
}{
	{"a part left out", leaveOut}, {"a part cut off", cutOff}, {"a part in another colour", recolour}, {"a number wrong", wrongNumber}, {"stretched", stretchAll},
	{"skewed", skewAll}, {"a part moved", movePart}, {"a part turned", turnPart}, {"an edge moved", moveEdge}, {"something added", addShape},
}

// shownLayers returns the indices of layers of which enough is seen.
func shownLayers(layers []faultLayer, rule *standards.Rule) []int {
	s, err := drawingOf(rule, nil, standards.NominalSize)
	if err != nil {
		return nil
	}
	var out []int
	for i := range layers {
		sight := 0.0
		for _, b := range s.borders {
			if rule.Parts[b.part].ID == layers[i].part {
				sight += s.sight(b)
			}
		}
		if sight > 0.4 {
			out = append(out, i)
		}
	}
	return out
}

func pick(rng *rand.Rand, list []int) int { return list[rng.IntN(len(list))] }

// mapLayer changes the outline of one layer.
func mapLayer(layers []faultLayer, i int, m func(geometry.Point) geometry.Point) []faultLayer {
	out := slices.Clone(layers)
	out[i].outline = out[i].outline.Map(m)
	return out
}

func leaveOut(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	if len(layers) < 2 {
		return nil, wantedFault{}, false
	}
	i := pick(rng, shownLayers(layers, rule))
	return slices.Delete(slices.Clone(layers), i, i+1), wantedFault{about: "without " + layers[i].part, parts: []string{layers[i].part}, words: []string{"not in the drawing", "not there", "of its area", "does not go round", "must be"}}, true
}

// cutOff takes away what lies on one side of a line through a part.
func cutOff(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	i := pick(rng, shownLayers(layers, rule))
	box := layers[i].outline.Bounds()
	a := 2 * math.Pi * rng.Float64()
	if rng.IntN(2) == 0 {
		a = math.Pi / 2 * float64(rng.IntN(4))
	}
	sin, cos := math.Sincos(a)
	c := box.Centre().Add(geometry.Vec{X: cos * box.Width(), Y: sin * box.Height()}.Scale(0.1 * rng.Float64()))
	u, v := geometry.Vec{X: cos, Y: sin}.Scale(20), geometry.Vec{X: -sin, Y: cos}.Scale(20)
	half := geometry.Polygon(c.Add(v), c.Add(v.Scale(-1)), c.Add(v.Scale(-1)).Add(u), c.Add(v).Add(u))
	rest, err := geometry.Subtract(layers[i].outline, geometry.Path{half})
	if err != nil || len(rest) == 0 {
		return nil, wantedFault{}, false
	}
	if len(rule.Parts) == 1 && len(rest) == 1 && len(rest[0].Segments) == 3 {
		return nil, wantedFault{}, false // of a triangle: what is left is one, stretched or smaller
	}
	out := slices.Clone(layers)
	out[i].outline = rest
	words := []string{"not there", "of its area", "not in the drawing"}
	if p, _ := rule.Part(layers[i].part); p.Kind == standards.Box && math.Abs(math.Remainder(a, math.Pi/2)) < 1e-9 {
		words = append(words, "edge", "left", "right", "top", "bottom", "width") // what is left is a box with one edge moved
	}
	return out, wantedFault{about: fmt.Sprintf("%s cut off towards %.0f deg", layers[i].part, a*180/math.Pi), parts: []string{layers[i].part}, words: words}, true
}

func recolour(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	i := pick(rng, shownLayers(layers, rule))
	if layers[i].role == standards.Unpainted {
		return nil, wantedFault{}, false
	}
	var others []string
	for _, h := range []Hue{Red, Yellow, Green, Blue, White, Black} {
		if !agrees(inks[h], layers[i].role) && !slices.ContainsFunc(layers, func(l faultLayer) bool { return l.fill == inks[h] }) {
			others = append(others, inks[h])
		}
	}
	if len(others) == 0 {
		return nil, wantedFault{}, false
	}
	out := slices.Clone(layers)
	out[i].fill = others[rng.IntN(len(others))]
	fault := wantedFault{about: layers[i].part + " filled " + out[i].fill, parts: []string{layers[i].part}, words: []string{"must be"}}
	// Black alone is what programs fill with where nothing was chosen: then the answer is
	// that colours were not checked.
	fault.unchecked = !slices.ContainsFunc(out, func(l faultLayer) bool { return !neutral(l.fill) || l.fill != out[i].fill })
	return out, fault, true
}

func wrongNumber(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	s, err := drawingOf(rule, nil, standards.NominalSize)
	if err != nil {
		return nil, wantedFault{}, false
	}
	all := s.numberSlips()
	all = slices.DeleteFunc(all, func(x slip) bool {
		most, n := 0.0, 0.0
		for k, v := range x.columns[0] {
			if math.Abs(v) > 0.2 {
				n += s.samples[k].weight
			}
			most = math.Max(most, math.Abs(v))
		}
		return most < 0.2 || n < 0.15
	})
	if len(all) == 0 || len(rule.Parts) == 1 {
		return nil, wantedFault{}, false
	}
	x := all[rng.IntN(len(all))]
	p := rule.Parts[x.part]
	factor := 1 + (0.02+0.04*rng.Float64())*float64(1-2*rng.IntN(2))
	wrong := *rule
	wrong.Parts = slices.Clone(rule.Parts)
	wrong.Parts[x.part].Numbers = slices.Clone(p.Numbers)
	for k, n := range p.Numbers {
		if n.Name == x.number {
			wrong.Parts[x.part].Numbers[k].Formula = standards.Formula(fmt.Sprintf("(%s) * %.5f", n.Formula, factor))
		}
	}
	list, err := unitFigure(&wrong, nil, standards.NominalSize)
	if err != nil || len(list) != len(layers) {
		return nil, wantedFault{}, false
	}
	far := 0.0
	for _, v := range x.columns[0] {
		values, _ := rule.Values(nil)
		for _, w := range values {
			if w.Part == p.ID && w.Name == x.number {
				far = math.Max(far, math.Abs(v*inUnit(w, rule.Unit, standards.NominalSize)*(factor-1)))
			}
		}
	}
	if far < 0.008 {
		return nil, wantedFault{}, false
	}
	out := slices.Clone(layers)
	for i := range out {
		out[i].outline = list[i].Outline
	}
	parts := []string{p.ID}
	if n := p.Number(x.number); len(rule.Parts) == 2 && n == "1" { // the size itself: the other is wrong against it
		parts = []string{rule.Parts[0].ID, rule.Parts[1].ID}
	}
	return out, wantedFault{about: fmt.Sprintf("%s.%s times %.4f", p.ID, x.number, factor), parts: parts}, true
}

func stretchAll(layers []faultLayer, _ *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	k := 1 + (0.01+0.02*rng.Float64())*float64(1-2*rng.IntN(2))
	out := slices.Clone(layers)
	for i := range out {
		out = mapLayer(out, i, func(p geometry.Point) geometry.Point { return geometry.Point{X: k * p.X, Y: p.Y} })
	}
	return out, wantedFault{about: fmt.Sprintf("%.4f as wide", k), words: []string{"wider than high", "higher than wide"}}, true
}

func skewAll(layers []faultLayer, _ *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	k := math.Tan((1+2*rng.Float64())*math.Pi/180) * float64(1-2*rng.IntN(2))
	out := slices.Clone(layers)
	for i := range out {
		out = mapLayer(out, i, func(p geometry.Point) geometry.Point { return geometry.Point{X: p.X + k*p.Y, Y: p.Y} })
	}
	return out, wantedFault{about: fmt.Sprintf("skewed by %.2f deg", math.Atan(k)*180/math.Pi), words: []string{"skewed", "oval", "stretched"}}, true
}

func movePart(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	list := shownLayers(layers, rule)
	if len(list) < 2 {
		return nil, wantedFault{}, false
	}
	i := pick(rng, list)
	a := 2 * math.Pi * rng.Float64()
	sin, cos := math.Sincos(a)
	far := 0.01 + 0.03*rng.Float64()
	v := geometry.Vec{X: cos, Y: sin}.Scale(far)
	parts := []string{layers[i].part}
	if len(list) == 2 { // either lies off the other
		parts = []string{layers[list[0]].part, layers[list[1]].part}
	}
	return mapLayer(layers, i, func(p geometry.Point) geometry.Point { return p.Add(v) }), wantedFault{about: fmt.Sprintf("%s moved by %.4f at %.0f deg", layers[i].part, far, a*180/math.Pi), parts: parts, words: []string{"off its place", "too far", "too high", "too low"}}, true
}

func turnPart(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	list := slices.DeleteFunc(shownLayers(layers, rule), func(i int) bool {
		return !slices.ContainsFunc(layers[i].outline, func(c geometry.Contour) bool {
			return slices.ContainsFunc(c.Segments, func(s geometry.Segment) bool { return s.Kind == geometry.Line })
		})
	})
	if len(list) == 0 || len(shownLayers(layers, rule)) < 2 {
		return nil, wantedFault{}, false
	}
	if len(list) == 1 && !slices.ContainsFunc(rule.Parts, func(p standards.Part) bool { return p.Kind == standards.Box || p.Kind == standards.Bars }) {
		return nil, wantedFault{}, false // in discs, a turn of all of it
	}
	i := pick(rng, list)
	a := (0.8 + 2*rng.Float64()) * math.Pi / 180 * float64(1-2*rng.IntN(2))
	sin, cos := math.Sincos(a)
	c := layers[i].outline.Bounds().Centre()
	parts := []string{layers[i].part}
	if len(list) == 2 {
		parts = []string{layers[list[0]].part, layers[list[1]].part}
	}
	return mapLayer(layers, i, func(p geometry.Point) geometry.Point {
		d := p.Sub(c)
		return c.Add(geometry.Vec{X: d.X*cos - d.Y*sin, Y: d.X*sin + d.Y*cos})
	}), wantedFault{about: fmt.Sprintf("%s turned by %.2f deg", layers[i].part, a*180/math.Pi), parts: parts, words: []string{"turned", "direction"}}, true
}

// moveEdge moves one straight edge of a part by 2 to 4 % of the part.
func moveEdge(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	s, err := drawingOf(rule, nil, standards.NominalSize)
	if err != nil {
		return nil, wantedFault{}, false
	}
	var list []border
	for _, b := range s.borders {
		if !b.arc && b.radius == 0 && s.sight(b) > 0.6*b.length && b.length > 0.15 {
			list = append(list, b)
		}
	}
	if len(list) == 0 {
		return nil, wantedFault{}, false
	}
	b := list[rng.IntN(len(list))]
	out := s.samples[b.samples[0]].out
	far := (0.02 + 0.02*rng.Float64()) * float64(1-2*rng.IntN(2)) * math.Max(0.5, math.Min(1, s.boxOf(b.part).Width()/2))
	layers = slices.Clone(layers)
	for i, l := range layers {
		if l.part != rule.Parts[b.part].ID {
			continue
		}
		var path geometry.Path
		for _, c := range l.outline {
			path = append(path, c.Map(func(p geometry.Point) geometry.Point {
				if geometry.SegmentDistance(p, b.a, b.b) < 1e-9 {
					return p.Add(out.Scale(far))
				}
				return p
			}))
		}
		layers[i].outline = path
	}
	parts := []string{rule.Parts[b.part].ID}
	if len(rule.Parts) == 1 { // of a triangle it is a stretch of all
		parts = append(parts, "")
	}
	return layers, wantedFault{about: fmt.Sprintf("%s: edge %v %v moved by %.4f", rule.Parts[b.part].ID, b.a, b.b, far), parts: parts}, true
}

// addShape paints something into the figure that is not the rule's.
func addShape(layers []faultLayer, rule *standards.Rule, rng *rand.Rand) ([]faultLayer, wantedFault, bool) {
	s, err := drawingOf(rule, nil, standards.NominalSize)
	if err != nil {
		return nil, wantedFault{}, false
	}
	for range 200 {
		q := geometry.Point{X: s.box.Min.X + s.box.Width()*rng.Float64(), Y: s.box.Min.Y + s.box.Height()*rng.Float64()}
		r := 0.05 + 0.06*rng.Float64()
		if top := s.top(q); top >= 0 && !newPlaces(s).any(q, r+0.02) {
			fill := ""
			for _, h := range []Hue{Green, Black, Yellow, Red} {
				if !sameHue(inks[h], inkOf(s.paints[top])) && fill == "" {
					fill = inks[h]
				}
			}
			c := geometry.Circle(q, r)
			if rng.IntN(2) == 0 {
				c = geometry.Rectangle(geometry.Rect{Min: q, Max: q}.Grown(r * 0.7))
			}
			return append(slices.Clone(layers), faultLayer{"", "", fill, geometry.Path{c}}), wantedFault{about: fmt.Sprintf("added at %v, %.3f", q, r), parts: []string{""}, words: []string{"not part of the rule"}}, true
		}
	}
	return nil, wantedFault{}, false
}

// faultWriters are the ways in which drawings are written down: layers one over the
// other, what each colour shows, curves as chords, outlines alone, and a fill with a
// thin line along it; each at a size, a turn and a place of its own.
var faultWriters = []struct {
	name    string
	colours bool
	write   func(layers []faultLayer) ([]Drawn, error)
}{
	{"layers", true, func(layers []faultLayer) (out []Drawn, err error) {
		for _, l := range layers {
			out = append(out, Drawn{Path: l.outline, Fill: l.fill, EvenOdd: true})
		}
		return out, nil
	}},
	{"regions", true, func(layers []faultLayer) (out []Drawn, err error) {
		var fig layouts.Figure
		for _, l := range layers {
			fig.Layers = append(fig.Layers, layouts.Layer{Part: l.part, Colour: l.fill, Outline: l.outline})
		}
		regions, err := fig.Regions()
		for _, r := range regions {
			out = append(out, Drawn{Path: r.Outline, Fill: r.Colour, EvenOdd: true})
		}
		return out, err
	}},
	{"chords", true, func(layers []faultLayer) (out []Drawn, err error) {
		for _, l := range layers {
			d := Drawn{Fill: l.fill, EvenOdd: true}
			for _, c := range l.outline {
				pts := c.Flattened(1e-4)
				if pts[0] == pts[len(pts)-1] {
					pts = pts[1:]
				}
				d.Path = append(d.Path, geometry.Polygon(pts...))
			}
			out = append(out, d)
		}
		return out, nil
	}},
	{"outlines", false, func(layers []faultLayer) (out []Drawn, err error) {
		for _, l := range layers {
			out = append(out, Drawn{Path: l.outline, Stroke: "#000000", Width: 1e-4})
		}
		return out, nil
	}},
	{"fill and line", true, func(layers []faultLayer) (out []Drawn, err error) {
		for _, l := range layers {
			out = append(out, Drawn{Path: l.outline, Fill: l.fill, EvenOdd: true, Stroke: "#000000", Width: 1e-4}, Drawn{Path: l.outline, Stroke: "#000000", Width: 1e-4})
		}
		return out, nil
	}},
}

// placedAt grows, turns and moves a drawing.
func placedAt(list []Drawn, scale, turn float64, v geometry.Vec) []Drawn {
	sin, cos := math.Sincos(turn)
	out := slices.Clone(list)
	for i := range out {
		out[i].Path = out[i].Path.Map(func(p geometry.Point) geometry.Point {
			return geometry.Point{X: scale*(p.X*cos-p.Y*sin) + v.X, Y: scale*(p.X*sin+p.Y*cos) + v.Y}
		})
		out[i].Width *= geometry.Length(scale)
	}
	return out
}

// namedFault tells whether an answer names a fault.
func namedFault(in *Inspection, err error, want wantedFault) (bool, []string) {
	if err != nil {
		var none *NotRecognised
		ok := errors.As(err, &none) && (none.Better != nil && slices.Contains(want.words, "not in the drawing") ||
			slices.ContainsFunc(none.Missing, func(m string) bool { part, _, _ := strings.Cut(m, "."); return slices.Contains(want.parts, part) }))
		return ok, []string{err.Error()}
	}
	var said []string
	ok := false
	for _, r := range in.Found {
		for _, c := range r.Checks {
			if !c.deviates() && (c.Verdict != Conforms || c.Other == "") {
				continue // another published text is told as that
			}
			text := c.Said
			if text == "" {
				text = c.What
			}
			said = append(said, c.Dimension()+": "+text)
			part := want.parts == nil || slices.Contains(want.parts, c.Part)
			word := want.words == nil || slices.ContainsFunc(want.words, func(w string) bool { return strings.Contains(text, w) })
			ok = ok || part && word
		}
	}
	if want.unchecked {
		return len(said) == 0 && !in.Colours, append(said, "colours not checked")
	}
	if len(in.Found) != 1 {
		said = append(said, fmt.Sprintf("%d found", len(in.Found)))
		ok = false
	}
	return ok && len(said) <= 3, said
}

// seenApart tells whether two drawings show other paints anywhere, on a grid: a part moved
// beneath another is no fault of what is seen.
func seenApart(t testing.TB, a, b []faultLayer) bool {
	t.Helper()
	var scenes [2]*scene
	for i, layers := range [][]faultLayer{a, b} {
		list, err := faultWriters[0].write(layers)
		require.NoError(t, err)
		scenes[i], err = newScene(list)
		require.NoError(t, err)
	}
	box := outlines(scenes[0].items).Bounds().Grown(0.1)
	const n = 200
	apart := 0
	for i := range n {
		for k := range n {
			q := geometry.Point{X: box.Min.X + box.Width()*(float64(i)+0.5)/n, Y: box.Min.Y + box.Height()*(float64(k)+0.5)/n}
			if scenes[0].at(q) != scenes[1].at(q) {
				apart++
			}
		}
	}
	return apart > 10 // 0.03 % of the box: less is a sliver where two outlines end
}

// faultTrials is how many faults are tried: a tenth, unless MASKLOFT_LONG is set.
func faultTrials(all int) int {
	if os.Getenv("MASKLOFT_LONG") != "" {
		return all
	}
	return all / 10
}

// 300 faults of ten kinds over 16 forms and 5 writers: named rightly in 97 %; the same
// drawings right: none is blamed. The forms are the program's own drawings; the
// faults are made on their outlines.
func TestFaults(t *testing.T) {
	n := faultTrials(300)
	named := 0
	byKind := map[string][2]int{}
	var misses []string
	from := 0
	if text := os.Getenv("MASKLOFT_FAULT"); text != "" { // one by its number, or so many from it on: 120:60
		first, many, _ := strings.Cut(text, ":")
		k, err := strconv.Atoi(first)
		require.NoError(t, err)
		from, n = k, 1
		if many != "" {
			n, err = strconv.Atoi(many)
			require.NoError(t, err)
		}
	}
	for i, k := 0, from; i < n; k++ {
		require.Less(t, k, from+20*n+20)
		rng := rand.New(rand.NewPCG(*seed, uint64(1000+k)))
		rule := ruleOf(t, faultForms[rng.IntN(len(faultForms))])
		kind := faultKinds[k%len(faultKinds)]
		writer := faultWriters[rng.IntN(len(faultWriters))]
		if kind.name == "a part in another colour" && !writer.colours {
			continue
		}
		right := faultLayers(t, rule)
		wrong, want, ok := kind.make(right, rule, rng)
		if !ok || writer.colours && !seenApart(t, right, wrong) {
			continue
		}
		i++
		scale, turn, move := math.Exp(1+2*rng.Float64()), 2*math.Pi*rng.Float64(), geometry.Vec{X: 30 * rng.Float64(), Y: 30 * rng.Float64()}
		if kind.name == "stretched" || rule.Unit == standards.Inches || !writer.colours {
			turn = 0
		}
		if hangs, err := hangsOnSize(rule, nil); hangs || err != nil {
			scale = standards.NominalSize / 2
		}
		about := fmt.Sprintf("%d: %s: %s, written as %s: %s", k, rule.ID, kind.name, writer.name, want.about)
		for _, layers := range [][]faultLayer{right, wrong} {
			list, err := writer.write(layers)
			require.NoError(t, err, about)
			in, err := Inspect(placedAt(list, scale, turn, move), rule, Options{})
			if &layers[0] == &right[0] {
				_, said := namedFault(in, err, wantedFault{})
				if err != nil || len(said) > 0 {
					t.Errorf("seed %d: %s: a right drawing is blamed: %v", *seed, about, said)
				}
				continue
			}
			ok, said := namedFault(in, err, want)
			tally := byKind[kind.name]
			tally[1]++
			if ok {
				named++
				tally[0]++
			} else {
				misses = append(misses, fmt.Sprintf("%s: %v", about, said))
				t.Log(misses[len(misses)-1])
			}
			byKind[kind.name] = tally
		}
	}
	t.Logf("seed %d: %d of %d named; %v\n%s", *seed, named, n, byKind, strings.Join(misses, "\n"))
	require.GreaterOrEqual(t, named, int(0.97*float64(n)), "seed %d: %s", *seed, strings.Join(misses, "\n"))
}
