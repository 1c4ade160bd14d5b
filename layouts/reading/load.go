package reading

import (
	"errors"
	"io"
	"io/fs"
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/glyphs"
	"maskloft/layouts"
	"maskloft/layouts/document"
	"maskloft/layouts/standards"
)

// Files is where a layout and the files that it names are read from.
type Files struct {
	Open   func(name string) (io.ReadCloser, error)
	Beside func(layout, name string) string // the full name of a file that a layout names
}

// OnDisk are the files of the system.
func OnDisk() Files {
	return Files{
		Open: func(name string) (io.ReadCloser, error) { return os.Open(name) },
		Beside: func(layout, name string) string {
			if filepath.IsAbs(name) {
				return name
			}
			return filepath.Join(filepath.Dir(layout), filepath.FromSlash(name))
		},
	}
}

// InFS are the files of a file system; names are slash-separated.
func InFS(fsys fs.FS) Files {
	return Files{
		Open:   func(name string) (io.ReadCloser, error) { return fsys.Open(name) },
		Beside: func(layout, name string) string { return path.Join(path.Dir(layout), name) },
	}
}

// Load reads a layout file and the aircraft file it names, which is looked for
// beside the layout. The error is of type [layouts.Problems] and holds everything
// that is wrong, in the order of the file.
func (f Files) Load(name string) (*layouts.Spec, error) {
	data, err := f.read(name)
	if err != nil {
		return nil, layouts.Problems{{Place: layouts.Place{File: name}, Message: "cannot read the layout: " + reason(err), Hint: "check the name and the folder"}}
	}
	return f.Read(name, data)
}

// Load is [Files.Load] from the disk.
func Load(name string) (*layouts.Spec, error) { return OnDisk().Load(name) }

// LoadFS is [Files.Load] from a file system; names are slash-separated.
func LoadFS(fsys fs.FS, name string) (*layouts.Spec, error) { return InFS(fsys).Load(name) }

// read returns the file, at most one byte beyond [document.MaxSize] of it.
func (f Files) read(name string) ([]byte, error) {
	in, err := f.Open(name)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	return io.ReadAll(io.LimitReader(in, document.MaxSize+1))
}

// reason writes why a file cannot be read, without its name.
func reason(err error) string {
	var pathError *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "permission denied"
	case errors.As(err, &pathError):
		return pathError.Err.Error()
	}
	return err.Error()
}

// layoutReader holds what the markings refer to.
type layoutReader struct {
	source     Files
	file       string
	aircraft   layouts.AircraftSpec
	surfaces   *names
	date       standards.Date // of rules:, for the names of paints
	paints     *names
	evidence   *names
	markings   *names
	over       []value                 // over: of each marking, which may name one that comes later
	hardpoints *names                  // of the aircraft, for photos
	fonts      map[string]*glyphs.Font // by name, as they are met
	beside     layouts.Problems        // of alphabet files
}

// Read is [Files.Load] with the text of the layout given; name says where it would
// stand.
func (f Files) Read(file string, data []byte) (*layouts.Spec, error) {
	root, problems, ok := parseDocument(file, data)
	if !ok {
		return nil, problems
	}
	r := &layoutReader{
		source: f, file: file,
		surfaces: newNames("surface"), paints: newNames("paint"),
		evidence: newNames("evidence"), markings: newNames("marking"),
	}
	spec, aircraftProblems := r.layout(root)
	problems = append(append(root.flush(), aircraftProblems...), r.beside...)
	if len(problems) > 0 {
		return nil, problems
	}
	return spec, nil
}

// layout reads the layout. What markings refer to is read first; problems are
// put in the order of the file afterwards.
func (r *layoutReader) layout(v value) (*layouts.Spec, layouts.Problems) {
	v.readUnits()
	var need []string
	if !v.peek("stencils").Written() { // which are markings too
		need = []string{"markings"}
	}
	f := v.block("the layout", need...)
	spec := &layouts.Spec{File: r.file, Name: f.at("name").Text(), Units: v.peek("units").Raw()}
	spec.Job = f.at("job").jobID()
	var problems layouts.Problems
	spec.Aircraft, problems = r.aircraftOf(f.at("aircraft"))
	r.aircraft = spec.Aircraft
	spec.Rules = r.rules(f.at("rules"))
	r.date = standards.Date(spec.Rules.Date)
	spec.Film = r.film(f.at("film"))
	spec.Paint = r.paint(f.at("paint"), spec.Film.Field)
	spec.Sheets = f.at("sheets").sheets(spec.Units)
	spec.Aircraft.Read = spec.Sheets.Units
	spec.Tape = f.at("tape").tape(spec.Sheets.Units)
	for _, e := range f.at("evidence").items("evidence") {
		spec.Evidence = append(spec.Evidence, r.evidenceOf(e))
	}
	list := f.at("markings")
	for _, m := range list.items("marking") {
		spec.Markings = append(spec.Markings, r.marking(m))
	}
	spec.Markings = append(spec.Markings, r.stencils(f.at("stencils"))...)
	for i, v := range r.over {
		for _, id := range v.items("marking over") {
			spec.Markings[i].Over = append(spec.Markings[i].Over, r.markings.refer(id))
		}
	}
	spec.Photos = r.photos(f.at("photos"))
	if list.IsList() && len(spec.Markings) == 0 {
		list.Fail("write "+exampleOf("", "markings"), "markings is empty; a layout has at least one")
	}
	return spec, problems
}

// readUnits sets the unit of the bare numbers of the document.
func (v value) readUnits() {
	unit := choice(v.peek("units"), "", "in", "ft", "mm", "cm", "m")
	if l, ok := layouts.Units[unit]; ok {
		v.bare.unit = l
	} else if v.peek("units").Written() {
		v.bare.unit = geometry.Inch // the wrong unit is reported; bare numbers need not be
	}
}

// aircraftOf reads the aircraft where it stands or from its file.
func (r *layoutReader) aircraftOf(v value) (layouts.AircraftSpec, layouts.Problems) {
	if !v.Written() || !v.IsPlain() {
		if v.IsBlock() {
			outer := v.bare.unit
			defer func() { v.bare.unit = outer }()
			v.readUnits()
		}
		return r.aircraftBlock(v), nil
	}
	r.surfaces.partial = true // until the file is read
	name := v.Text()
	if name == "" {
		return layouts.AircraftSpec{}, nil
	}
	file := r.source.Beside(r.file, name)
	data, err := r.source.read(file)
	if err != nil {
		v.Fail("the aircraft file is looked for beside the layout; check its name", "cannot read the aircraft file %s: %s", file, reason(err))
		return layouts.AircraftSpec{}, nil
	}
	root, problems, ok := parseDocument(file, data)
	if !ok {
		return layouts.AircraftSpec{}, problems
	}
	r.surfaces.partial = false
	root.readUnits()
	a := r.aircraftBlock(root)
	return a, root.flush()
}

func (r *layoutReader) rules(v value) layouts.RulesSpec {
	if !v.Written() {
		return layouts.RulesSpec{Edge: layouts.UsualClear}
	}
	f := v.block("rules")
	s := layouts.RulesSpec{Place: v.Place(), Date: f.at("date").Text(), Nation: word(f.at("nation"), "nation"),
		Edge: f.at("edge").or(layouts.UsualClear, func(v value) geometry.Length { return v.atLeastZero("") })}
	if s.Date != "" {
		if _, _, err := standards.Date(s.Date).Span(); err != nil {
			f.at("date").Fail("write the day, 1944-06-15, the month, 1944-06, or the year, 1944", "date %q is not a date", document.Shorten(s.Date))
		}
	}
	if k := f.at("service"); k.Written() {
		s.Service = word(k, "service")
	}
	if k := f.at("finish"); k.Written() {
		s.Finish = word(k, "finish")
	}
	if k := f.at("type"); k.IsList() {
		for _, t := range k.items("type of aircraft") {
			s.Types = append(s.Types, word(t, "type"))
		}
	} else if k.Written() {
		s.Types = []string{word(k, "type")}
	}
	return s
}

// word reads a word of a closed list; another is reported with those nearest to it.
func word(v value, list string) string {
	text := v.Text()
	if text == "" {
		return ""
	}
	t, err := standards.Word(list, text)
	if err != nil {
		v.Fail("maskloft rules --terms "+list+" lists the words", "%v", err)
		return ""
	}
	return t.Term
}

// film reads the film and the cutter. The usual values are common practice, no
// source: a 24 in roll, 3/4 in under the pinch rollers, 4 ft tiles that one
// person can lay.
func (r *layoutReader) film(v value) layouts.FilmSpec {
	s := layouts.FilmSpec{
		Web: 24 * geometry.Inch, Across: 0.75 * geometry.Inch, Lead: 1 * geometry.Inch,
		Tail: 2 * geometry.Inch, Field: 1.5 * geometry.Inch, Longest: 48 * geometry.Inch,
		Least: layouts.UsualLeastField, Marks: layouts.CutMarks, Strain: layouts.UsualStrain(), Seam: layouts.UsualSeam(),
	}
	if !v.Written() {
		return s
	}
	s.Place = v.Place()
	f := v.block("film")
	s.Web = f.at("web").or(s.Web, value.positive)
	s.Field = f.at("field").or(s.Field, value.positive)
	s.Least = f.at("least-field").or(min(s.Least, s.Field), value.positive)
	if s.Least > s.Field {
		f.at("least-field").Fail("write "+f.units().Length(s.Field, 4)+" or less", "least-field is %s, more than the field of %s", s.Least, s.Field)
	}
	s.Marks = choice(f.at("marks"), s.Marks, layouts.CutMarks, layouts.DrawnMarks)
	s.Longest = f.at("longest").or(s.Longest, value.positive)
	s.Strain = f.at("strain").strain()
	s.Seam = f.seam()
	if m := f.at("margin"); m.Written() {
		margin := m.block("margin")
		read := func(key string, usual geometry.Length) geometry.Length {
			return margin.at(key).or(usual, func(v value) geometry.Length { return v.atLeastZero("") })
		}
		s.Across, s.Lead, s.Tail = read("across", s.Across), read("lead", s.Lead), read("tail", s.Tail)
	}
	if need := 2 * (s.Across + s.Field); s.Web <= need {
		at := f.at("web")
		if !at.Written() {
			at = v
		}
		at.Fail(at.units().Sprintf("write a web above %s, or a smaller margin or field", need),
			"web is %s, no more than the margins of %s and the fields of %s at both edges: no room for paint", s.Web, s.Across, s.Field)
	}
	if s.Longest <= 2*s.Field {
		at := f.at("longest")
		if !at.Written() {
			at = v
		}
		at.Fail(at.units().Sprintf("write longest above %s", 2*s.Field), "longest is %s, no more than the fields of %s at both ends: no room for paint", s.Longest, s.Field)
	}
	return s
}

var hexText = regexp.MustCompile(`^#[0-9a-fA-F]{6}$`)

// hex reads a colour for pictures.
func (v value) hex() string {
	text := v.Text()
	if text != "" && !hexText.MatchString(text) {
		v.Fail(`write "#rrggbb" in quotes, six of 0-9 and a-f: "#172035"`, "%q is not a colour", document.Shorten(text))
	}
	return text
}

// skinColours reads the colour of the skin, or that of each surface.
func (r *layoutReader) skinColours(v value) layouts.SkinColours {
	if !v.IsBlock() {
		return layouts.SkinColours{All: v.hex()}
	}
	s := layouts.SkinColours{Only: map[string]string{}}
	list, _ := v.entries()
	for _, e := range list {
		if id := r.surfaces.refer(e.key); id != "" {
			s.Only[id] = e.value.hex()
		}
	}
	return s
}

func (r *layoutReader) paint(v value, field geometry.Length) layouts.PaintSpec {
	if !v.Written() {
		return layouts.PaintSpec{Spray: r.readSpray(fields{value: v}, field)}
	}
	s := layouts.PaintSpec{Place: v.Place()}
	f := v.block("paint")
	if !f.at("colours").Written() && f.at("order").IsList() {
		for _, o := range f.at("order").items("paint") {
			s.Colours = append(s.Colours, r.colourOfRules(o))
		}
	}
	list, ok := f.at("colours").entries()
	r.paints.partial = r.paints.partial || f.at("colours").Written() && !ok
	for _, e := range list {
		id := r.paints.add(e.key)
		e.key.inFileName(id)
		c := e.value.blockNamed("colour", "paint "+document.QuoteOdd(e.key.Name))
		spec := layouts.ColourSpec{Place: e.key.Place(), ID: id, Name: id, Hex: c.at("hex").hex(), Standard: c.at("standard").Text()}
		if name := c.at("name"); name.Written() {
			spec.Name = name.Text()
		}
		if n := c.at("coats"); n.Written() {
			spec.Coats = n.coats()
		}
		s.Colours = append(s.Colours, spec)
	}
	s.Spray = r.readSpray(f, field)
	s.Skin = r.skinColours(f.at("skin"))
	for _, o := range f.at("order").items("paint") {
		id := r.paints.refer(o)
		if id != "" && slices.Contains(s.Order, id) {
			o.Fail("name each paint once", "the paint %q is in the order twice", id)
		}
		s.Order = append(s.Order, id)
	}
	for _, e := range list {
		if order := f.at("order"); order.IsList() && !slices.Contains(s.Order, e.key.Name) && !slices.Contains(s.Order, "") {
			e.key.Fail("add it to order where it is sprayed, light first", "the paint %q is not in the order of spraying", document.Shorten(e.key.Name))
		}
	}
	return s
}

func (r *layoutReader) evidenceOf(v value) layouts.EvidenceSpec {
	if !v.IsBlock() {
		r.evidence.partial = true
	}
	f := v.block("evidence")
	return layouts.EvidenceSpec{
		Place: v.Place(), ID: r.evidence.addFrom(f),
		Class: choice(f.at("class"), "", "E1", "E2", "E3", "E4", "E5", "E6", "E7"),
		What:  f.at("what").Text(),
	}
}

// addFrom adds the id of a mapping.
func (n *names) addFrom(f fields) string {
	id := f.at("id")
	if !id.Written() {
		n.partial = true
		return ""
	}
	return n.add(id)
}

// isNumber tells whether every length could be read.
func isNumber(lengths ...geometry.Length) bool {
	for _, l := range lengths {
		if math.IsNaN(l.Inches()) {
			return false
		}
	}
	return true
}

var fileNameText = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,59}$`)

// deviceText are the names that Windows keeps for devices, whatever follows a point
// (Microsoft, "Naming Files, Paths, and Namespaces").
var deviceText = regexp.MustCompile(`^(con|prn|aux|nul|(com|lpt)[0-9])$`)

// namesFile reports an id that cannot name a file on every system.
func (v value) namesFile(id string) {
	switch {
	case id == "":
	case !fileNameText.MatchString(id):
		v.Fail("write "+fileName(id), "the id %q cannot name a file: use a to z, 0 to 9 and -, at most 60", document.Shorten(id))
	case deviceText.MatchString(id):
		v.Fail("write "+id+"-1", "the id %q cannot name a file: Windows keeps it for a device", id)
	}
}

// longestPaint bounds what a paint is called, in bytes: the name of a film holds it beside
// an id and its size, and no system takes more than 255.
const longestPaint = 60

// inFileName reports the id of a paint that cannot stand in the name of a file on every
// system (Microsoft, "Naming Files, Paths, and Namespaces").
func (v value) inFileName(id string) {
	at := strings.IndexAny(id, `\/:*?"<>|`)
	switch {
	case at >= 0:
		v.Fail("write "+fileName(id)+", and the name in full after name:", "the paint %q cannot stand in the name of a film's file: %q is in it", document.Shorten(id), id[at:at+1])
	case len(id) > longestPaint:
		v.Fail("write a short word, and the name in full after name:", "the paint %q is longer than %d letters, and stands in the name of a film's file", document.Shorten(id), longestPaint)
	}
}

// fileName turns a text into one that may name a file, for hints.
func fileName(s string) string {
	s = regexp.MustCompile(`[^a-z0-9]+`).ReplaceAllString(strings.ToLower(s), "-")
	if s = strings.Trim(s[:min(len(s), 60)], "-"); s == "" {
		return "a word such as code-2"
	}
	return s
}

// LooksLikeLayout tells whether a text is meant as a layout and not as a file that
// layouts name, such as one of an aircraft or an alphabet: it has markings, stencils or
// an aircraft, or it is no YAML at all, so that its mistakes are told.
func LooksLikeLayout(text []byte) bool {
	_, root, ok := document.Parse("", text, layoutForm)
	if !ok {
		return true
	}
	for _, key := range []string{"markings", "stencils", "aircraft"} {
		if root.Peek(key).Written() {
			return true
		}
	}
	return false
}
