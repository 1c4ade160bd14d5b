package standards

import (
	"embed"
	"errors"
	"fmt"
	"path"
	"regexp"
	"slices"
	"sort"
	"strings"
	"sync"

	"maskloft/layouts/document"
)

//go:embed documents/*.yaml nations/*.yaml
var files embed.FS

const paletteFile = "documents/colours.yaml"

type library struct {
	palette   []Colour
	documents []*Document // by family, then by date of issue
	uses      []*Use      // by nation, then in the order of the file
	paints    []Paint     // the same
}

// load reads the embedded files once. An error is a fault of the files.
var load = sync.OnceValues(func() (library, error) {
	var l library
	data, err := files.ReadFile(paletteFile)
	if err != nil {
		return l, err
	}
	if l.palette, err = ParsePalette(paletteFile, data); err != nil {
		return library{}, fmt.Errorf("%s: %w", paletteFile, err)
	}
	entries, err := files.ReadDir("documents")
	if err != nil {
		return library{}, err
	}
	for _, e := range entries { // sorted by name
		name := path.Join("documents", e.Name())
		if name == paletteFile {
			continue
		}
		data, err := files.ReadFile(name)
		if err != nil {
			return library{}, err
		}
		d, err := ParseDocument(name, data, l.palette)
		if err != nil {
			return library{}, fmt.Errorf("%s: %w", name, err)
		}
		l.documents = append(l.documents, d)
	}
	if err := l.addNations(); err != nil {
		return library{}, err
	}
	return l, l.check()
})

// sort puts documents in order of family and date of issue, those collected last.
func (l library) sort() {
	sort.SliceStable(l.documents, func(i, j int) bool {
		a, b := l.documents[i], l.documents[j]
		if a.Collected != b.Collected {
			return b.Collected
		}
		return a.Family < b.Family || a.Family == b.Family && a.Date < b.Date
	})
}

// check looks at what no single file can tell.
func (l library) check() error {
	ids := map[string]bool{}
	for _, d := range l.documents {
		if ids[d.ID] {
			return fmt.Errorf("document %s is there twice", d.ID)
		}
		ids[d.ID] = true
	}
	for _, d := range l.documents {
		if d.Supersedes != "" && !ids[d.Supersedes] {
			return fmt.Errorf("document %s supersedes %s, which is not there", d.ID, d.Supersedes)
		}
	}
	return nil
}

// The files as they are written: one Go field for each key.
type (
	documentFile struct {
		Document, Revision, Title string
		Date                      Date
		Supersedes                string
		Provenance                provenanceFile
		Rules                     []ruleFile
	}
	ruleFile struct {
		Rule, Nation, Name string
		Kind, Described    string
		NotDrawn           string
		SizesSaid          []string
		Follows            string
		SameAs             string
		Disputes, Notes    []string
		Unit               Unit
		Orientation        string
		Handed             bool
		Parts              []partFile
		Lettering          *letteringFile
		Options            []optionFile
		Clause             string
		Provenance         provenanceFile
		Errata             []erratumFile
		Sizes              []sizesFile
		Fit                *fitFile
	}
	letteringFile struct {
		Width, Stroke, Gap Formula
		Exceptions         []exceptionFile
	}
	exceptionFile struct {
		Character string
		Width     Formula
		AtMost    bool

		Provenance *provenanceFile // nil: that of the rule
	}
	optionFile struct {
		Option, Default, Why string
		Choices              []choiceFile
	}
	choiceFile struct {
		Choice, Text string
		Numbers      numbers
		Provenance   provenanceFile
	}
	erratumFile struct {
		Part, Number string
		Printed      Formula
		PrintedIn    string
		CorrectedBy  string
		Provenance   provenanceFile
	}
	provenanceFile struct {
		Kind                           Kind
		Where, Grade, Confidence, Note string
		Memory                         []memoryFile
	}
	memoryFile   struct{ What, Confidence string }
	paletteEntry struct {
		Role, Name, Standard, Hex, Picture string
		From                               Date
		Provenance                         provenanceFile
	}
)

// stringList is one word or a list of words.
type stringList []string

// Read takes one word as a list of one.
func (s *stringList) Read(v document.Value) {
	if v.IsPlain() {
		*s = stringList{v.Raw()}
		return
	}
	v.Into((*[]string)(s))
}

// numbers is a mapping of names to formulas, in the order written.
type numbers []Number

// Read reads names and formulas.
func (ns *numbers) Read(v document.Value) {
	list, _ := v.Entries()
	for _, e := range list {
		ns.add(e)
	}
}

func (ns *numbers) add(e document.Entry) {
	f, _ := e.Value.Scalar("a formula: one number or expression")
	*ns = append(*ns, Number{Name: e.Key.Name, Formula: Formula(f)})
}

// Read reads for a part two words: the class of the source, and how sure.
func (k *knownWords) Read(v document.Value) {
	s, _ := v.Scalar("the class of the source, and how sure: memory low")
	k.Known, k.Sure, _ = strings.Cut(s, " ")
}

// partFile is {part: bars, colour: insignia_white, bars: {start: 1, ...}}: the key
// beside part, colour, in, left_out, known and note is the kind.
type partFile struct{ Part }

// Read reads a part by the table of kinds; which numbers it must have is checked with
// its rule, whose unit it needs.
func (p *partFile) Read(v document.Value) {
	var known knownWords
	list, _ := v.Entries()
	for _, e := range list {
		to, ok := map[string]any{"part": &p.ID, "colour": &p.Colour, "known": &known, "note": &p.Note, "left_out": &p.LeftOut, "in": &p.In}[e.Key.Name]
		if ok {
			e.Value.Into(to)
			continue
		}
		row, ok := partKinds[PartKind(e.Key.Name)]
		if !ok || p.Kind != "" {
			e.Key.Fail("a part has one shape with its numbers", "%q is no kind of part, or a second one", e.Key.Name)
			continue
		}
		p.Kind = PartKind(e.Key.Name)
		p.shape(row, e.Value)
	}
	if known.Known != "" {
		var err error
		if p.Known, err = known.part(); err != nil {
			v.Fail("", "%v", err)
		}
	}
}

// shape reads what stands under the kind of a part.
func (p *partFile) shape(row kindRow, v document.Value) {
	own := map[string]any{row.of: &p.Of}
	if row.words {
		own = map[string]any{"text": &p.Text, "alphabet": &p.Alphabet}
	}
	list, _ := v.Entries()
	for _, e := range list {
		if to, ok := own[e.Key.Name]; ok {
			e.Value.Into(to)
			continue
		}
		(*numbers)(&p.Numbers).add(e)
	}
}

// decode reads a file into v and refuses unknown keys and what hides its meaning.
func decode(name string, data []byte, v any) error {
	doc, root, ok := document.Parse(name, data, document.Form{Kind: "standards"})
	if ok {
		root.Into(v)
	}
	if problems := doc.Problems(); len(problems) > 0 {
		return problems
	}
	return nil
}

var (
	wordText = regexp.MustCompile(`^[a-z0-9]+(?:[-.][a-z0-9]+)*$`) // of an id
	roleText = regexp.MustCompile(`^[a-z]+(?:_[a-z]+)*$`)
	hexText  = regexp.MustCompile(`^#[0-9A-F]{6}$`)
)

// ParsePalette reads a file of colours; name is said in errors.
func ParsePalette(name string, data []byte) ([]Colour, error) {
	var entries []paletteEntry
	if err := decode(name, data, &entries); err != nil {
		return nil, err
	}
	var out []Colour
	for _, e := range entries {
		p, err := e.Provenance.checked()
		switch {
		case !roleText.MatchString(e.Role):
			return nil, fmt.Errorf("colour %q: the role is lower-case words joined by _", e.Role)
		case err != nil:
			return nil, fmt.Errorf("colour %s: %w", e.Role, err)
		case e.Name == "":
			return nil, fmt.Errorf("colour %s: no name", e.Role)
		case e.Picture != "" && e.Picture != "only" || (e.Picture == "only") == (e.Standard != ""):
			return nil, fmt.Errorf("colour %s: picture: only goes with no standard, and with none it is written", e.Role)
		case e.Standard != "" && (e.From == "" || datesOK(e.From) != nil):
			return nil, fmt.Errorf("colour %s: a standard says from: when it was", e.Role)
		case !hexText.MatchString(e.Hex):
			return nil, fmt.Errorf("colour %s: hex is not #RRGGBB", e.Role)
		case slices.ContainsFunc(out, func(c Colour) bool { return c.Role == e.Role }):
			return nil, fmt.Errorf("colour %s is there twice", e.Role)
		}
		out = append(out, Colour{Role: e.Role, Name: e.Name, Standard: e.Standard, From: e.From, Hex: e.Hex, Picture: e.Picture, Provenance: p})
	}
	return out, nil
}

// checked returns the provenance, or why it is none.
func (f provenanceFile) checked() (Provenance, error) {
	p := Provenance{Kind: f.Kind, Where: strings.TrimSpace(f.Where), Grade: f.Grade, Confidence: f.Confidence, Note: f.Note}
	confident := func(s string) bool { return slices.Contains([]string{"high", "medium", "low"}, s) }
	if p.Kind == "" && p.Where == "" {
		return p, errors.New("no source: say provenance: kind and where")
	}
	if p.Where == "" && p.Kind != Memory {
		return p, fmt.Errorf("no source: provenance of kind %s says where", p.Kind)
	}
	switch p.Kind {
	case Read:
		if !slices.Contains([]string{"official", "copy", "secondary", "tertiary"}, p.Grade) {
			return p, fmt.Errorf("unknown grade %q of what was read", p.Grade)
		}
	case Memory:
		if !confident(p.Confidence) {
			return p, fmt.Errorf("unknown confidence %q of a memory", p.Confidence)
		}
	case Derived, Invented:
	default:
		return p, fmt.Errorf("unknown kind of provenance %q", p.Kind)
	}
	if p.Kind != Read && p.Grade != "" || p.Confidence != "" && !confident(p.Confidence) {
		return p, errors.New("grade goes with read; confidence is high, medium or low")
	}
	for _, m := range f.Memory {
		if m.What == "" || !confident(m.Confidence) {
			return p, fmt.Errorf("memory of %q has the unknown confidence %q", m.What, m.Confidence)
		}
		p.Memory = append(p.Memory, MemoryField(m))
	}
	return p, nil
}
