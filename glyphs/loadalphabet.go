package glyphs

import (
	"math"
	"regexp"
	"strings"
)

// most bounds the numbers of an alphabet file: no grid is finer.
const most = 1e6

var alphabetName = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,59}$`)

// Parse reads an alphabet file; file names it in problems. The error is of type
// [Problems] and holds everything that is wrong.
func Parse(file string, data []byte) (*Alphabet, error) {
	r, root := readDocument(file, data)
	if len(r.problems) > 0 {
		return nil, r.flush()
	}
	f := root.fields("name: my-letters, and the ratios", "name", "title", "height", "width", "stroke", "gap", "word", "corner",
		"classes", "widths", "waists", "hook", "hooks", "pairs", "forms", "slant", "inferred", "source", "sources")
	a := &Alphabet{
		Name: f["name"].need(root, "name: my-letters").text(), Title: f["title"].text(),
		Source: f["source"].need(root, "source: the document or the photograph, or: common practice, no source").text(),
		Height: 1,
	}
	if a.Name != "" && !alphabetName.MatchString(a.Name) {
		f["name"].fail("use a to z, 0 to 9 and -", "the name %q cannot name an alphabet", a.Name)
	}
	length := func(key, example string) float64 {
		return f[key].need(root, key+": "+example).positive(key + ": " + example)
	}
	if f["height"].written() {
		a.Height = length("height", "6, the units of the grid in the cap height")
	}
	a.Width = length("width", "2/3, of most characters")
	a.Gap = length("gap", "1/6, between the extents of two characters")
	a.Word = length("word", "2/3, the width of a space")
	a.Stroke = readStroke(f["stroke"].need(root, "stroke: 1/6, or stroke: {vertical: 1/6, horizontal: 1/7}"))
	a.Corner = readCorner(f["corner"].need(root, "corner: {kind: chamfer, size: 1/6}"))
	a.Widths = readWidths(f["classes"], f["widths"])
	a.Waists = readCharacters(f["waists"], sortedCharacters(waists), "waists: {A: 0.4}, the height of the bar's centre line")
	if f["hook"].written() {
		a.Hook = length("hook", "0.29, from the cap line or the baseline to the end of a hook")
	}
	a.Hooks = readCharacters(f["hooks"], hooked, "hooks: {J: 0.35}")
	a.Pairs = readPairs(f["pairs"])
	a.Forms = readForms(f["forms"])
	if f["slant"].written() {
		a.Slant = f["slant"].number(-30, 30, "slant: 12, in degrees to the right")
	}
	a.Inferred = f["inferred"].texts("inferred: [B, gap]")
	for _, e := range f["sources"].entries("sources: {width: the document and its clause}") {
		if k := e.key.node.Value; !f[k].written() {
			e.key.fail("name one of the keys of this file", "sources: there is no %q here", k)
		}
		if a.Sources == nil {
			a.Sources = map[string]string{}
		}
		a.Sources[e.key.node.Value] = e.value.text()
	}
	if c, ok := a.Sources["classes"]; ok { // classes are widths of several characters
		delete(a.Sources, "classes")
		if w := a.Sources["widths"]; w != "" && w != c {
			c += "; " + w
		}
		a.Sources["widths"] = c
	}
	if len(r.problems) == 0 {
		a.check(root, f)
	}
	if err := r.flush(); err != nil {
		return nil, err
	}
	return a, nil
}

// positive reads a number above 0.
func (v item) positive(example string) float64 {
	x := v.number(0, most, example)
	if v.written() && x == 0 {
		v.fail("write "+example, "%s is 0, must be above 0", v.name)
	}
	return x
}

func readStroke(v item) Stroke {
	const example = "stroke: 1/6, or stroke: {vertical: 1/6, horizontal: 1/7}"
	if !v.isBlock() {
		s := v.positive(example)
		return Stroke{s, s}
	}
	f := v.fields(example, "vertical", "horizontal")
	return Stroke{
		f["vertical"].need(v, "vertical: 1/6, the width of uprights").positive("vertical: 1/6"),
		f["horizontal"].need(v, "horizontal: 1/7, the width of bars").positive("horizontal: 1/7"),
	}
}

func readCorner(v item) Corner {
	const example = "corner: {kind: chamfer, size: 1/6}"
	f := v.fields(example, "kind", "size", "inner")
	c := Corner{Cut: readCut(v, f)}
	if in := f["inner"]; in.written() {
		cut := readCut(in, in.fields("inner: {kind: square}", "kind", "size"))
		c.Inner = &cut
	}
	return c
}

func readCut(v item, f map[string]item) Cut {
	c := Cut{Kind: CutKind(f["kind"].need(v, "kind: square, chamfer or round").choice(string(SquareCut), string(ChamferCut), string(RoundCut)))}
	switch {
	case c.Kind == SquareCut && f["size"].written():
		if c.Size = f["size"].number(0, most, "size: 0"); c.Size != 0 {
			f["size"].fail("take size out, or write kind: chamfer", "size %g: a square corner has size 0", c.Size)
		}
	case c.Kind == ChamferCut || c.Kind == RoundCut:
		c.Size = f["size"].need(v, "size: 1/6, the legs of a chamfer or the radius").number(0, most, "size: 1/6")
	}
	return c
}

// readCharacters reads a number for each of some characters.
func readCharacters(v item, known, example string) map[string]float64 {
	var out map[string]float64
	for _, e := range v.entries(example) {
		k := e.key.node.Value
		if len(k) != 1 || !strings.Contains(known, k) {
			e.key.fail("write one of "+known+"; a figure in quotes", "%s: %q has none", v.name, k)
			continue
		}
		if out == nil {
			out = map[string]float64{}
		}
		out[k] = e.value.positive(example)
	}
	return out
}

// readWidths reads the classes of width and the widths of single characters,
// which go before.
func readWidths(classes, widths item) map[string]float64 {
	out := readCharacters(widths, all, "widths: {M: 5/6}")
	in := map[string]string{}
	for _, e := range classes.entries("classes: {wide: {of: MW, width: 5/6}}") {
		f := e.value.fields("{of: MW, width: 5/6}", "of", "width")
		w := f["width"].need(e.value, "width: 5/6").positive("width: 5/6")
		for _, c := range f["of"].need(e.value, "of: MW").text() {
			k := string(c)
			if !strings.Contains(all, k) || in[k] != "" {
				f["of"].fail("write characters of "+all+", each in one class", "classes: %q is not known, or stands in %s too", k, in[k])
				continue
			}
			in[k] = e.key.node.Value
			if out == nil {
				out = map[string]float64{}
			}
			if _, single := out[k]; !single {
				out[k] = w
			}
		}
	}
	return out
}

func readPairs(v item) map[string]float64 {
	var out map[string]float64
	for _, e := range v.entries("pairs: {LT: 0.05}") {
		k := e.key.node.Value
		if len(k) != 2 || !strings.Contains(all, k[:1]) || !strings.Contains(all, k[1:]) {
			e.key.fail("write two characters, LT: 0.05", "pairs: %q is no pair", k)
			continue
		}
		if out == nil {
			out = map[string]float64{}
		}
		out[k] = e.value.positive("the gap of the pair, 0.05")
	}
	return out
}

func readForms(v item) map[string]string {
	var out map[string]string
	for _, e := range v.entries(`forms: {"4": open}`) {
		k := e.key.node.Value
		if len(forms[k]) == 0 {
			e.key.fail("write one of "+sortedCharacters(forms)+"; a figure in quotes", "forms: %q has but one form", k)
			continue
		}
		if out == nil {
			out = map[string]string{}
		}
		out[k] = e.value.choice(forms[k]...)
	}
	return out
}

func sortedCharacters[V any](m map[string]V) string { return strings.Join(sorted(m), "") }

// narrow are the characters that may be one stroke wide.
const narrow = "1I.-/"

// check reports an alphabet whose strokes would run into each other. It needs
// room for three uprights and two bars and their counters; what an outer corner
// leaves of a bend is half a stroke or more.
func (a *Alphabet) check(root item, f map[string]item) {
	s := a.Stroke
	slack := func(x float64) float64 { return x * (1 + 1e-5) } // files hold six decimals

	if 3*s.Vertical > slack(a.Width) || 5*s.Horizontal > slack(a.Height) {
		f["stroke"].fail("thinner strokes, or a larger grid", "stroke %g and %g is too wide for %g x %g: the counters would close", s.Vertical, s.Horizontal, a.Width, a.Height)
	}
	if 2*a.Corner.Size > slack(a.Width) {
		f["corner"].fail("a smaller size", "corner size %g is above half the width, %g", a.Corner.Size, a.Width/2)
	}
	mean := (s.Vertical + s.Horizontal) / 2
	inner := Cut{a.Corner.Kind, innerSize(a.Corner.Kind, a.Corner.Size, mean)}
	if a.Corner.Inner != nil {
		inner = *a.Corner.Inner
	}
	if left := math.Sqrt2*mean + depth(inner) - depth(a.Corner.Cut); left < mean/2 {
		f["corner"].fail("a smaller size, or a larger inner corner", "corner: the bend keeps %.4g of a stroke of %.4g", left, mean)
	}
	for _, k := range sorted(a.Widths) {
		least := 2.5 * s.Vertical
		if strings.Contains(narrow, k) || strings.Contains("MW", k) {
			least = map[bool]float64{true: s.Vertical, false: 3 * s.Vertical}[strings.Contains(narrow, k)]
		}
		if k == "1" && a.Form('1') == "flagged" {
			least = 1.5 * s.Vertical
		}
		if k == "I" && a.Form('I') == "barred" {
			least = 3 * s.Vertical
		}
		if w := a.Widths[k]; slack(w) < least {
			f["widths"].within(k, root).fail("a wider character, or another form", "widths: %s: %g is below %.4g: its strokes would run together", k, w, least)
		}
	}
	for _, k := range sortedCharacters(waists) {
		low, high := s.Horizontal, a.Height-s.Horizontal
		if y := a.WaistOf(k); y < low || y > high {
			f["waists"].within(string(k), root).fail("a height of the bar's centre line between the two", "waists: %c: %g lies outside %.4g to %.4g", k, y, low, high)
		}
		if _, given := a.Waists[string(k)]; given && a.Form(k) == "full" {
			f["waists"].within(string(k), root).fail("take it out, or write forms: {"+string(k)+": middle}", "waists: %c: its point runs the full height", k)
		}
	}
	for _, k := range hooked {
		if y := a.HookOf(k); y < s.Horizontal || y > a.Height/2 {
			f["hooks"].within(string(k), f["hook"].within("", root)).fail("an end of the hook between the two", "hook: of %c: %g lies outside %.4g to %.4g", k, y, s.Horizontal, a.Height/2)
		}
	}
}

// within returns the value of a key of v, v where it has no such key, and other
// where v is not written.
func (v item) within(key string, other item) item {
	if !v.written() {
		return other
	}
	if v.isBlock() {
		for i := 0; i+1 < len(v.node.Content); i += 2 {
			if v.node.Content[i].Value == key {
				return item{v.r, v.node.Content[i+1], v.name}
			}
		}
	}
	return v
}

// depth returns how far along its bisector a corner is cut back.
func depth(c Cut) float64 {
	switch c.Kind {
	case ChamferCut:
		return c.Size / math.Sqrt2
	case RoundCut:
		return c.Size * (math.Sqrt2 - 1)
	}
	return 0
}
