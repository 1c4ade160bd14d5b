package glyphs

import (
	"math"
	"regexp"
	"strings"

	"maskloft/layouts/document"
)

// most bounds the numbers of an alphabet file: no grid is finer.
const most = 1e6

var alphabetName = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,59}$`)

// Parse reads an alphabet file; file names it in problems. The error is of type
// [Problems] and holds everything that is wrong.
func Parse(file string, data []byte) (*Alphabet, error) {
	doc, root, ok := document.Parse(file, data, alphabetForm)
	if !ok {
		return nil, doc.Problems()
	}
	f := root.Fields("the alphabet", "name width stroke gap word corner source",
		"title height classes widths waists hook hooks pairs forms slant inferred sources")
	a := &Alphabet{Name: f.At("name").Text(), Title: f.At("title").Text(), Source: f.At("source").Text(), Height: 1}
	if a.Name != "" && !alphabetName.MatchString(a.Name) {
		f.At("name").Fail("use a to z, 0 to 9 and -", "the name %q cannot name an alphabet", a.Name)
	}
	if f.At("height").Written() {
		a.Height = positive(f.At("height"))
	}
	a.Width = positive(f.At("width"))
	a.Gap = positive(f.At("gap"))
	a.Word = positive(f.At("word"))
	a.Stroke = readStroke(f.At("stroke"))
	a.Corner = readCorner(f.At("corner"))
	a.Widths = readWidths(f.At("classes"), f.At("widths"))
	a.Waists = readCharacters(f.At("waists"), sortedCharacters(waists))
	if f.At("hook").Written() {
		a.Hook = positive(f.At("hook"))
	}
	a.Hooks = readCharacters(f.At("hooks"), hooked)
	a.Pairs = readPairs(f.At("pairs"))
	a.Forms = readForms(f.At("forms"))
	if f.At("slant").Written() {
		a.Slant = number(f.At("slant"), -30, 30)
	}
	for _, v := range f.At("inferred").Items("inferred") {
		a.Inferred = append(a.Inferred, v.Text())
	}
	for _, e := range entries(f.At("sources")) {
		k := e.Key.Name
		if !f.At(k).Written() {
			e.Key.Fail("name one of the keys of this file", "sources: there is no %q here", k)
		}
		if a.Sources == nil {
			a.Sources = map[string]string{}
		}
		a.Sources[k] = e.Value.Text()
	}
	if c, ok := a.Sources["classes"]; ok { // classes are widths of several characters
		delete(a.Sources, "classes")
		if w := a.Sources["widths"]; w != "" && w != c {
			c += "; " + w
		}
		a.Sources["widths"] = c
	}
	if len(doc.Problems()) == 0 {
		a.check(f)
	}
	if problems := doc.Problems(); len(problems) > 0 {
		return nil, problems
	}
	return a, nil
}

func readStroke(v document.Value) Stroke {
	if !v.IsBlock() {
		s := positive(v)
		return Stroke{s, s}
	}
	f := v.Fields("stroke", "vertical horizontal", "")
	return Stroke{positive(f.At("vertical")), positive(f.At("horizontal"))}
}

func readCorner(v document.Value) Corner {
	f := v.Fields("corner", "kind", "size inner")
	c := Corner{Cut: readCut(f)}
	if in := f.At("inner"); in.Written() {
		cut := readCut(in.Fields("inner", "kind", "size"))
		c.Inner = &cut
	}
	return c
}

func readCut(f document.Fields) Cut {
	size := f.At("size")
	c := Cut{Kind: document.Choice(f.At("kind"), "", SquareCut, ChamferCut, RoundCut), Size: number(size, 0, most)}
	switch {
	case c.Kind == SquareCut && c.Size != 0:
		size.Fail("take size out, or write kind: chamfer", "size %g: a square corner has size 0", c.Size)
	case (c.Kind == ChamferCut || c.Kind == RoundCut) && !size.Written():
		f.Fail("add "+examples["size"], "%s has no size", f.Name)
	}
	return c
}

// readCharacters reads a number for each of some characters.
func readCharacters(v document.Value, known string) map[string]float64 {
	var out map[string]float64
	for _, e := range entries(v) {
		k := e.Key.Name
		if len(k) != 1 || !strings.Contains(known, k) {
			e.Key.Fail("write one of "+known+"; a figure in quotes", "%s: %q has none", v.Name, k)
			continue
		}
		if out == nil {
			out = map[string]float64{}
		}
		out[k] = positive(e.Value)
	}
	return out
}

// readWidths reads the classes of width and the widths of single characters,
// which go before.
func readWidths(classes, widths document.Value) map[string]float64 {
	out := readCharacters(widths, all)
	in := map[string]string{}
	for _, e := range entries(classes) {
		f := e.Value.Fields("a class", "of width", "")
		w := positive(f.At("width"))
		for _, c := range f.At("of").Text() {
			k := string(c)
			if !strings.Contains(all, k) || in[k] != "" {
				f.At("of").Fail("write characters of "+all+", each in one class", "classes: %q is not known, or stands in %s too", k, in[k])
				continue
			}
			in[k] = e.Key.Name
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

func readPairs(v document.Value) map[string]float64 {
	var out map[string]float64
	for _, e := range entries(v) {
		k := e.Key.Name
		if len(k) != 2 || !strings.Contains(all, k[:1]) || !strings.Contains(all, k[1:]) {
			e.Key.Fail("write two characters, LT: 0.05", "pairs: %q is no pair", k)
			continue
		}
		if out == nil {
			out = map[string]float64{}
		}
		out[k] = positive(e.Value)
	}
	return out
}

func readForms(v document.Value) map[string]string {
	var out map[string]string
	for _, e := range entries(v) {
		k := e.Key.Name
		if len(forms[k]) == 0 {
			e.Key.Fail("write one of "+sortedCharacters(forms)+"; a figure in quotes", "forms: %q has but one form", k)
			continue
		}
		if out == nil {
			out = map[string]string{}
		}
		out[k] = document.Choice(e.Value, "", forms[k]...)
	}
	return out
}

func sortedCharacters[V any](m map[string]V) string { return strings.Join(sorted(m), "") }

// narrow are the characters that may be one stroke wide.
const narrow = "1I.-/"

// check reports an alphabet whose strokes would run into each other. It needs
// room for three uprights and two bars and their counters; what an outer corner
// leaves of a bend is half a stroke or more.
func (a *Alphabet) check(f document.Fields) {
	s := a.Stroke
	slack := func(x float64) float64 { return x * (1 + 1e-5) } // files hold six decimals

	if 3*s.Vertical > slack(a.Width) || 5*s.Horizontal > slack(a.Height) {
		f.At("stroke").Fail("thinner strokes, or a larger grid", "stroke %g and %g is too wide for %g x %g: the counters would close", s.Vertical, s.Horizontal, a.Width, a.Height)
	}
	if 2*a.Corner.Size > slack(a.Width) {
		f.At("corner").Fail("a smaller size", "corner size %g is above half the width, %g", a.Corner.Size, a.Width/2)
	}
	mean := (s.Vertical + s.Horizontal) / 2
	inner := Cut{a.Corner.Kind, innerSize(a.Corner.Kind, a.Corner.Size, mean)}
	if a.Corner.Inner != nil {
		inner = *a.Corner.Inner
	}
	if left := float64(math.Sqrt2*mean) + depth(inner) - depth(a.Corner.Cut); left < mean/2 {
		f.At("corner").Fail("a smaller size, or a larger inner corner", "corner: the bend keeps %.4g of a stroke of %.4g", left, mean)
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
			valueOf(f, "widths", k).Fail("a wider character, or another form", "widths: %s: %g is below %.4g: its strokes would run together", k, w, least)
		}
	}
	for _, k := range sortedCharacters(waists) {
		low, high := s.Horizontal, a.Height-s.Horizontal
		if y := a.WaistOf(k); y < low || y > high {
			valueOf(f, "waists", string(k)).Fail("a height of the bar's centre line between the two", "waists: %c: %g lies outside %.4g to %.4g", k, y, low, high)
		}
		if _, given := a.Waists[string(k)]; given && a.Form(k) == "full" {
			valueOf(f, "waists", string(k)).Fail("take it out, or write forms: {"+string(k)+": middle}", "waists: %c: its point runs the full height", k)
		}
	}
	for _, k := range hooked {
		if y := a.HookOf(k); y < s.Horizontal || y > a.Height/2 {
			hookOf(f, string(k)).Fail("an end of the hook between the two", "hook: of %c: %g lies outside %.4g to %.4g", k, y, s.Horizontal, a.Height/2)
		}
	}
}

// valueOf returns the value of a key of one of the keys of a file: the value of that
// key where it has no such key, and the file where it is not there.
func valueOf(f document.Fields, name, key string) document.Value {
	v := f.At(name)
	switch k := v.Peek(key); {
	case k.Written():
		return k
	case v.Written():
		return v
	}
	return f.Value
}

// hookOf returns where the hook of a character is given.
func hookOf(f document.Fields, key string) document.Value {
	if !f.At("hooks").Peek(key).Written() && f.At("hook").Written() {
		return f.At("hook")
	}
	return valueOf(f, "hooks", key)
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
