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

// Ground is the role of a part that is not painted: the aircraft's own finish shows.
const Ground = "ground"

// Rule is one marking that a document lays down. It holds Parts or Lettering.
type Rule struct {
	ID          string // family/name
	Document    *Document
	Nation      string // short: us, uk, france, hcf
	Name        string
	Unit        Unit
	ValidFrom   Date // empty: not known
	ValidTo     Date // empty: still in use
	Orientation string
	Handed      bool // the right side shows the mirror image of the left
	Parts       []Part
	Lettering   *Lettering
	Options     []Option
	Clause      string
	Provenance  Provenance
	Errata      []Erratum
	Lines       []string // the successions it belongs to, such as "roundel, under surfaces"
	Dates       []OtherDate
	Sizes       []Sizes
	Fit         *Fit
	Places      []Place
}

// OtherDate is a date that another source gives for the start or end of a rule.
type OtherDate struct {
	What       string // "valid_from" or "valid_to"
	Also       Date
	Provenance Provenance
}

// Sizes are governing sizes that a document offers, in inches, ascending.
type Sizes struct {
	Inches     []float64
	Provenance Provenance
}

// Fit says how large a marking may be against the surface it stands on, and where
// it goes.
type Fit struct {
	Height     Formula // largest part of the height of the surface; empty: not said
	FromTip    Formula // distance from the wing tip, as part of that to the fuselage; empty: not said
	Provenance Provenance
}

// Place says where the marking stood on the aircraft, in a span of time.
type Place struct {
	Where      []string // of [Spots]
	From, To   Date
	Provenance Provenance
}

// Spots are the words for where a marking stands.
var Spots = []string{
	"upper left wing", "upper right wing", "lower left wing", "lower right wing", "fuselage sides", "fin sides", "rudder sides", "round the fuselage", "round both wings",
}

// Part is one shape of an insignia in one colour.
type Part struct {
	ID      string
	Colour  string // a role: see [Palette]
	Kind    PartKind
	Numbers []Number // in the order written
	Of      []string // ids of the parts a border runs around, or a stripe runs along
	In      []string // ids of earlier parts that it is cut to; empty: not cut
	LeftOut Formula  // not zero: the part is [Ground], not painted; empty: always painted
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
	Confidence string        // of a memory: high, medium or low
	Memory     []MemoryField // single values from memory within what was read
	Note       string
}

// MemoryField is a value that was not seen, such as "valid_to" or
// "stripes.centre" (part and number).
type MemoryField struct{ What, Confidence string }

// CanStop tells whether a mismatch with one value of the rule may stop a job:
// what is remembered only may warn, and so may a reading that is remembered only.
// The value is named as in [MemoryField].
func (r *Rule) CanStop(what string, picks ...Pick) bool {
	if r.Provenance.Kind == Memory || r.remembered(what, picks) {
		return false
	}
	for _, m := range r.Provenance.Memory {
		if m.What == what {
			return false
		}
	}
	return true
}

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
	Hex        string // "#RRGGBB", for pictures only; empty where none was read
	Provenance Provenance
}
