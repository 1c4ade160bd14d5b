package reading

import (
	"io"
	"strings"
	"unicode/utf8"

	"maskloft/glyphs"
	"maskloft/layouts"
)

// textExamples are the examples of the keys of figures that are made of characters.
var textExamples = map[string]string{
	"block":                     "block: [FUEL, 91 OCTANE], one text for each line",
	"figure with block align":   "align: centre (or left, right)",
	"figure with block leading": "leading: 3 in, from baseline to baseline",
	"as":                        "as: 14-cfr-45/29 (a rule for lettering; several as a list)",
	"fit":                       "fit: 40 in",
	"least":                     "least: 1/2 in",
	"squeeze":                   "squeeze: yes",
	"arc":                       "arc: {radius: 20 in, reads: over}",
	"reads":                     "reads: over (or under)",
	"islands":                   "islands: tape (or {ties: 1/8 in}, or {bridges: 1/4 in, run: both})",
	"ties":                      "ties: 1/8 in",
	"bridges":                   "bridges: 1/4 in",
	"stencils list":             "list: and below it one - {id: fuel, text: FUEL, where: {fs: 66, wl: 84}} for each",
	"run":                       "run: upright (or level, both)",
}

// maxFontSize bounds a font file: the largest of a Latin alphabet are below 2 MB.
const maxFontSize = 32 << 20

// mostCharacters bounds a text: a placard of a whole instruction has fewer. 400 of them
// take seconds, and the time grows faster than their number.
const mostCharacters = 400

// text reads a text, or a block of lines, and how it is set.
func (r *layoutReader) text(f fields, s *layouts.FigureSpec) {
	lines := 1
	if block := f.at("block"); block.Written() {
		var all []string
		for _, l := range block.items("line") {
			all = append(all, l.Text())
		}
		if lines = len(all); block.IsList() && lines == 0 {
			block.Fail("write "+exampleOf("", "block"), "block is empty")
		}
		s.Text = strings.Join(all, "\n")
	} else {
		s.Text = f.at("text").Text()
	}
	if n := utf8.RuneCountInString(s.Text); n > mostCharacters {
		f.Fail("split it into several markings", "the text has %d characters, wanted at most %d", n, mostCharacters)
	}
	s.Alphabet, s.Letters = r.alphabet(f.at("alphabet"))
	s.Setting.Font = r.font(f.at("alphabet"), s.Alphabet)
	s.Height = f.at("height").drawn()
	if g := f.at("gap"); g.Written() {
		gap := g.atLeastZero("")
		s.Gap = &gap
	}
	s.As = r.letteringAs(f.at("as"))
	t := &s.Setting
	t.Align = choice(f.at("align"), "", glyphs.AlignLeft, glyphs.AlignCentre, glyphs.AlignRight)
	t.Leading = f.at("leading").or(0, value.positive)
	for _, key := range []string{"align", "leading"} {
		if at := f.at(key); at.Written() && lines == 1 {
			at.Fail("take out "+key+", or give the block a second line", "%s is for several lines, and the block has one", key)
		}
	}
	t.Fit = f.at("fit").or(0, value.positive)
	t.Squeeze = f.at("squeeze").yesNo()
	if least := f.at("least"); least.Written() {
		l := least.positive()
		t.Least = &l
	}
	for _, key := range []string{"least", "squeeze"} {
		if at := f.at(key); at.Written() && !f.at("fit").Written() {
			at.Fail("add fit: and the width that the text is to have, or take out "+key, "%s says how a text is fitted to a width, and no fit: is given", key)
		}
	}
	if arc := f.at("arc"); arc.Written() {
		g := arc.block("arc")
		t.Arc = &glyphs.Arc{Radius: g.at("radius").positive(), Reads: choice(g.at("reads"), glyphs.ReadsOver, glyphs.ReadsOver, glyphs.ReadsUnder)}
		if at := f.at("align"); at.Written() && t.Align != glyphs.AlignCentre {
			at.Fail("take out align", "lines along an arc are centred")
		}
	}
	t.Islands = f.at("islands").islands()
}

// yesNo reads yes or no; true and false are taken too.
func (v value) yesNo() bool {
	word := choice(v, "no", "yes", "no", "true", "false")
	return word == "yes" || word == "true"
}

// islands reads tape, or the width of ties or bridges and which way they run.
func (v value) islands() glyphs.Bridging {
	if !v.Written() {
		return glyphs.Bridging{}
	}
	if v.IsPlain() {
		return glyphs.Bridging{Way: choice(v, "", glyphs.IslandsTape)}
	}
	f := v.block("islands")
	ties, bridges := f.at("ties"), f.at("bridges")
	if ties.Written() == bridges.Written() {
		v.Fail("write "+exampleOf("", "islands"), "islands wants one of ties and bridges, with a width")
		return glyphs.Bridging{}
	}
	b := glyphs.Bridging{Way: glyphs.IslandsTies, Direction: choice(f.at("run"), glyphs.BridgesUpright, glyphs.BridgesUpright, glyphs.BridgesLevel, glyphs.BridgesBoth)}
	at := ties
	if bridges.Written() {
		b.Way, at = glyphs.IslandsBridges, bridges
	}
	if b.Width = at.positive(); b.Width < glyphs.SmallestFeature {
		at.Fail("write "+at.Name+": 1/8 in, or 2 mm at the least", "%s is %v wide: film narrower than %v tears", at.Name, b.Width, glyphs.SmallestFeature)
	}
	return b
}

// font reads the font file that alphabet: names, beside the layout; nil for the
// name of an alphabet. Each is read once.
func (r *layoutReader) font(v value, name string) *glyphs.Font {
	if !glyphs.IsFontFile(name) {
		return nil
	}
	file := r.source.Beside(v.Doc.File, glyphs.FontFile(name))
	if f, known := r.fonts[name]; known {
		return f
	}
	in, err := r.source.Open(file)
	if err != nil {
		v.Fail("the font is looked for beside the layout; check its name", "cannot read the font %s: %s", file, reason(err))
		return nil
	}
	defer in.Close()
	data, err := io.ReadAll(io.LimitReader(in, maxFontSize+1))
	switch {
	case err != nil:
		v.Fail("check the file", "cannot read the font %s: %s", file, reason(err))
		return nil
	case len(data) > maxFontSize:
		v.Fail("give a font of one alphabet", "the font %s is larger than %d MB", file, maxFontSize>>20)
		return nil
	}
	f, err := glyphs.ParseFont(name, data)
	if err != nil {
		v.Fail("give a TrueType or OpenType font: .ttf, .otf, or .ttc with a number, as letters.ttc#1", "font %s: %v", file, err)
		return nil
	}
	if r.fonts == nil {
		r.fonts = map[string]*glyphs.Font{}
	}
	r.fonts[name] = f
	return f
}
