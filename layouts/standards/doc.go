// Package standards holds published marking rules as data: which document says
// it, in which revision and clause, from when to when, and how we know.
//
// # Documents and rules
//
// A [Document] is one revision of one document; documents of one family are
// its revisions. A [Rule] is one marking it lays down. A rule is named
// family/name, such as an-i-9b/star-and-bars, which means the newest revision
// that has it; family@revision/name means that revision and no other.
//
// # Geometry
//
// Every number of a rule is a ratio: in R, the radius of the governing disc
// (D/2), or in D, its diameter, or in H, the height of a character. In unit in it
// is inches, whatever the size. D is also the span of a cross and the side of a
// checker; of flashes and bands the governing size is the height. Formulas may name
// it: size, in inches, so that a surround of 75 mm is 75 / 25.4 / (size / 2) in R.
// x runs to the reader's right and y up, the
// origin is the centre of the disc, and the drawing is that of the left side,
// whose reader has the nose at his left hand. Numbers are written as the document
// has them, 1/6 and not 0.1667, and as exact expressions where they follow from
// plain geometry (see [Formula]). Parts stand in painter's order: each covers
// those before it. A part with in: is cut to the parts it names. A [Field] takes the
// outline that a layout gives, such as a rudder, and bands and strips run across it by
// parts of its extent, by count, or at true width.
//
// # Forms and uses
//
// A rule is a form: geometry and colours, or words where no numbers are known
// ([Rule.InWords]). A [Use] says where and when it stood: nation, service, place,
// finish, types of aircraft, from the first day to the first day no longer. A use
// without a rule is an absence. [Ask] finds the form at a place: what does not fit is
// dropped, sure goes before possible, the nearer type, place and finish before the
// farther, an absence before a use; [PlaceByPlace] asks for every place. Unknown is
// not none. Words of the lists stand in terms.yaml ([Word] knows adjectives too).
//
// A date known to the month or the year makes a use possible, not sure, in that time;
// an end that is not known makes it possible after the horizon, the day to which the
// references looked. Marks outlived their orders by months: see [TransitionMonths].
//
// # How we know
//
// No rule, part, reading or use loads without a [Provenance]. [Provenance.Force] says
// what it may do: a document or a copy of it may stop a job, a secondary work may warn,
// a tertiary page and memory are notes. Names of colours are roles; what is known of
// the paints stands in documents/colours.yaml, a hex value is for pictures only, and a
// standard is named only for its time ([Colour.StandardAt]).
//
// Where a document can be read in more than one way, or none was found, the rule
// has an option: its choices are the readings, each with its own source, and the
// default says why. A part with left_out: that is not zero is not painted; the
// aircraft's own finish shows there (see [Unpainted]).
//
// # How large
//
// sizes: are the sizes told, each for a place and types of aircraft where the source
// names them; a card is drawn at [Rule.OwnSize]. fit: is how much of the height of the
// surface a marking may take and how far from the wing tip it stands. orientation: is
// where its top points; the drawing's up is forward on a wing.
//
// # The files
//
// documents/*.yaml are embedded, one document a file; nations/*.yaml hold the forms that
// no single document lays down, and all uses, one nation a file, each source named once.
// The loader takes nothing it does not know: an unknown key, word or role, a number that
// cannot be computed or a missing source is an error. A new kind of part is one row of
// partKinds, and its outline in package layouts.
package standards
