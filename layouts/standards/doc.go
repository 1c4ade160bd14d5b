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
// # How we know
//
// No rule, part or reading loads without a [Provenance]. What was read in a text
// may stop a job; what is only remembered may warn and no more (see
// [Rule.CanStop]). Names of colours are roles; what is known of the paints stands in
// documents/colours.yaml.
//
// Where a document can be read in more than one way, or none was found, the rule
// has an option: its choices are the readings, each with its own source, and the
// default says why. A part with left_out: that is not zero is not painted; the
// aircraft's own finish shows there (see [Ground]).
//
// # When, how large and where
//
// A rule stands in lines of succession ([Timeline] looks along them on a date), and
// dates: lists what other sources give for its start or end. Marks outlived their
// orders by months: see [TransitionMonths]. sizes: are the standard sizes, fit: how
// much of the height of the surface a marking may take and how far from the wing tip
// it stands, places: where it stood and when, orientation: where its top points; the
// drawing's up is forward on a wing. Each has its own source.
//
// # The files
//
// documents/*.yaml are embedded, one document a file. The loader takes nothing
// it does not know: an unknown key, an unknown role, a number that cannot be
// computed or a missing source is an error. A new kind of part is one row of
// partKinds, and its outline in package layouts.
package standards
