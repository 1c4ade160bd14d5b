package standards

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"slices"
	"sort"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"
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
	if l.palette, err = ParsePalette(data); err != nil {
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
		d, err := ParseDocument(data, l.palette)
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
		NotDrawn           string   `yaml:"not_drawn"`
		SizesSaid          []string `yaml:"sizes_said"`
		Follows            string
		SameAs             string `yaml:"same_as"`
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
		AtMost    bool `yaml:"at_most"`

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
		PrintedIn    string `yaml:"printed_in"`
		CorrectedBy  string `yaml:"corrected_by"`
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

// UnmarshalYAML keeps a formula as it was written.
func (f *Formula) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		return fmt.Errorf("line %d: a formula is one number or expression", n.Line)
	}
	*f = Formula(n.Value)
	return nil
}

// numbers is a mapping of names to formulas, in the order written.
type numbers []Number

// UnmarshalYAML reads the mapping and refuses a name given twice.
func (ns *numbers) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind != yaml.MappingNode {
		return fmt.Errorf("line %d: want names and formulas", n.Line)
	}
	for i := 0; i < len(n.Content); i += 2 {
		k := n.Content[i]
		var f Formula
		if err := n.Content[i+1].Decode(&f); err != nil {
			return err
		}
		if slices.ContainsFunc(*ns, func(m Number) bool { return m.Name == k.Value }) {
			return fmt.Errorf("line %d: %s is given twice", k.Line, k.Value)
		}
		*ns = append(*ns, Number{Name: k.Value, Formula: f})
	}
	return nil
}

// stringList is one word or a list of words.
type stringList []string

// UnmarshalYAML reads a scalar as a list of one; literals stay as they are written.
func (s *stringList) UnmarshalYAML(n *yaml.Node) error {
	switch n.Kind {
	case yaml.ScalarNode:
		*s = stringList{n.Value}
		return nil
	case yaml.SequenceNode:
		for _, c := range n.Content {
			if c.Kind != yaml.ScalarNode {
				return fmt.Errorf("line %d: want words", c.Line)
			}
			*s = append(*s, c.Value)
		}
		return nil
	}
	return fmt.Errorf("line %d: want a word or a list of words", n.Line)
}

// UnmarshalYAML reads a mapping, or for a part two words: the class of the source, and
// how sure.
func (k *knownWords) UnmarshalYAML(n *yaml.Node) error {
	words := strings.Fields(n.Value)
	if n.Kind != yaml.ScalarNode || len(words) < 1 || len(words) > 2 {
		return fmt.Errorf("line %d: want the class of the source, and how sure: memory low", n.Line)
	}
	k.Known = words[0]
	if len(words) == 2 {
		k.Sure = words[1]
	}
	return nil
}

// partFile reads {part: bars, colour: insignia_white, bars: {start: 1, ...}}: the
// key beside part, colour, in, left_out and note is the kind.
type partFile struct{ Part }

// UnmarshalYAML reads a part by the table of kinds; which numbers it must have
// is checked with its rule, whose unit it needs.
func (p *partFile) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind != yaml.MappingNode {
		return fmt.Errorf("line %d: want part:, colour: and a shape", n.Line)
	}
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		var err error
		switch k.Value {
		case "part":
			err = v.Decode(&p.ID)
		case "colour":
			err = v.Decode(&p.Colour)
		case "known":
			var k knownWords
			if err = v.Decode(&k); err == nil {
				p.Known, err = k.part()
			}
		case "note":
			err = v.Decode(&p.Note)
		case "left_out":
			err = v.Decode(&p.LeftOut)
		case "in":
			err = v.Decode(&p.In)
		default:
			row, ok := partKinds[PartKind(k.Value)]
			if !ok {
				return fmt.Errorf("line %d: unknown kind of part %q", k.Line, k.Value)
			}
			if p.Kind != "" || v.Kind != yaml.MappingNode {
				return fmt.Errorf("line %d: a part has one shape with its numbers", k.Line)
			}
			p.Kind = PartKind(k.Value)
			shape := *v
			shape.Content = nil
			for j := 0; j < len(v.Content); j += 2 {
				var to any
				switch key := v.Content[j].Value; {
				case row.of != "" && key == row.of:
					to = &p.Of
				case row.words && key == "text":
					to = &p.Text
				case row.words && key == "alphabet":
					to = &p.Alphabet
				}
				if to != nil {
					if err = v.Content[j+1].Decode(to); err != nil {
						return err
					}
					continue
				}
				shape.Content = append(shape.Content, v.Content[j], v.Content[j+1])
			}
			err = (*numbers)(&p.Numbers).UnmarshalYAML(&shape)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// decode reads one YAML document into v and refuses unknown keys and anything
// that follows.
func decode(data []byte, v any) error {
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(v); err != nil {
		return err
	}
	if err := dec.Decode(new(yaml.Node)); !errors.Is(err, io.EOF) {
		return errors.New("one document a file")
	}
	return nil
}

var (
	wordText = regexp.MustCompile(`^[a-z0-9]+(?:[-.][a-z0-9]+)*$`) // of an id
	roleText = regexp.MustCompile(`^[a-z]+(?:_[a-z]+)*$`)
	hexText  = regexp.MustCompile(`^#[0-9A-F]{6}$`)
)

// ParsePalette reads a file of colours.
func ParsePalette(data []byte) ([]Colour, error) {
	var entries []paletteEntry
	if err := decode(data, &entries); err != nil {
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
