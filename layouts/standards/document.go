package standards

// Document is one revision of a published document.
type Document struct {
	ID         string // family@revision, or the family where there is one revision
	Family     string
	Revision   string // as the document has it; may be empty
	Title      string
	Date       Date   // of issue
	Supersedes string // id of the revision it replaces; may be empty
	Provenance Provenance
	Rules      []*Rule // in the order of the file
	Collected  bool    // no document of its own: the forms of a nation, from several works
}

// Unit is what the numbers of a rule are multiples of.
type Unit string

// Units.
const (
	Radius   Unit = "R"  // of the governing disc
	Diameter Unit = "D"  // of the governing disc
	Height   Unit = "H"  // of a character
	Inches   Unit = "in" // one inch, whatever the governing size
)

// Unpainted is the role of a part that is not painted: the aircraft's own finish shows.
const Unpainted = "ground"

// Rule is one form of marking: its geometry and colours, as a document or several
// works have it. It holds Parts or Lettering, or is only described in words. Where
// and when it stood is said by each [Use].
type Rule struct {
	ID          string // family/name
	Document    *Document
	Nation      string // short: us, uk, france, hcf
	Kind        string // of marking, a term
	Name        string
	Described   string   // the form in words; of a rule without numbers, all that is known
	NotDrawn    string   // why it is not drawn
	SizesSaid   []string // what is said of sizes without a number to check
	Follows     string   // the nation whose form of the day it is
	SameAs      string   // id of the rule with the same numbers
	Disputes    []string // where sources differ
	Notes       []string
	Unit        Unit
	Orientation string
	Handed      bool // the right side shows the mirror image of the left
	Parts       []Part
	Lettering   *Lettering
	Options     []Option
	Clause      string
	Provenance  Provenance
	Errata      []Erratum
	Sizes       []Sizes
	Fit         *Fit
}

// Sizes are governing sizes that a document offers, in inches, ascending.
type Sizes struct {
	Inches     []float64
	Places     []string // where on the aircraft; empty: anywhere
	Types      []string // of which aircraft; empty: all
	Provenance Provenance
}

// Fit says how large a marking may be against the surface it stands on, and where
// it goes.
type Fit struct {
	Height     Formula // largest part of the height of the surface; empty: not said
	FromTip    Formula // distance from the wing tip, as part of that to the fuselage; empty: not said
	Provenance Provenance
}

// Part is one shape of an insignia in one colour.
type Part struct {
	ID      string
	Colour  string // a role: see [Palette]
	Kind    PartKind
	Numbers []Number   // in the order written
	Of      []string   // ids of the parts a border runs around, or a stripe runs along
	In      []string   // ids of earlier parts that it is cut to; empty: not cut
	Known   Provenance // of this part; no kind: that of the rule
	LeftOut Formula    // not zero: the part is [Unpainted]; empty: always painted
	Note    string

	Text, Alphabet string // of letters
}

// Number is one named number of a part.
type Number struct {
	Name    string
	Formula Formula
}

// Option is a place where a rule has more than one reading.
type Option struct {
	Name    string
	Default string
	Why     string // why the default is the default
	Choices []Choice
}

// Choice is one reading. Its numbers may be named in the formulas of the parts;
// every choice of an option gives the same names.
type Choice struct {
	Name       string
	Text       string // what the reading is, in words
	Numbers    []Number
	Provenance Provenance
}

// Pick names the choice taken for an option.
type Pick struct{ Option, Choice string }

// Lettering is a rule for the proportions of characters, in multiples of their
// height.
type Lettering struct {
	Width      Formula // of a character
	Stroke     Formula
	Gap        Formula // least space between characters, as a fraction of the width
	Exceptions []WidthException
}

// WidthException is a character with another width.
type WidthException struct {
	Character  string
	Width      Formula // in heights
	AtMost     bool    // any width up to Width
	Provenance Provenance
}

// Erratum is a misprint of a number: files and drawings that carry it are known
// by it.
type Erratum struct {
	Part, Number string
	Printed      Formula // what was printed; the rule has what was meant
	PrintedIn    string
	CorrectedBy  string
	Provenance   Provenance
}

// Kind says how a value is known.
type Kind string

// Kinds of knowledge.
const (
	Read     Kind = "read"     // the statement was seen at Where
	Memory   Kind = "memory"   // not seen: may warn, never stop
	Derived  Kind = "derived"  // plain geometry from what was read
	Invented Kind = "invented" // made up for demonstration
)

// Provenance says how we know. Where is the document or page that says so.
type Provenance struct {
	Kind       Kind
	Where      string
	Grade      string        // of a text read: official, copy, secondary or tertiary
	Confidence string        // high, medium or low; empty: high
	Memory     []MemoryField // single values from memory within what was read
	Note       string
}

// MemoryField is a value that was not seen, such as "stripes.centre" (part and
// number).
type MemoryField struct{ What, Confidence string }

// Part returns the part of that id.
func (r *Rule) Part(id string) (Part, bool) {
	for _, p := range r.Parts {
		if p.ID == id {
			return p, true
		}
	}
	return Part{}, false
}

// Number returns the formula of that name, empty where there is none.
func (p Part) Number(name string) Formula {
	for _, n := range p.Numbers {
		if n.Name == name {
			return n.Formula
		}
	}
	return ""
}

// Colour is what is known of the paint of a role.
type Colour struct {
	Role       string
	Name       string
	Standard   string // numbers of colour standards; empty where none is known
	From       Date   // the first day of that standard
	Hex        string // "#RRGGBB", for pictures only
	Picture    string // "only": no standard is known, the hex value was chosen here
	Provenance Provenance
}

// StandardAt returns the numbers of the colour standards that existed by a date; empty
// where none did or none is known. An empty date is today.
func (c Colour) StandardAt(d Date) string {
	if c.Standard == "" || d == "" {
		return c.Standard
	}
	_, last, err := d.Span()
	from, _, err2 := c.From.Span()
	if err != nil || err2 != nil || last.Before(from) {
		return ""
	}
	return c.Standard
}
