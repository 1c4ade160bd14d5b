package standards

// Paint is what a paint was called at a time, with its number in a standard where
// one existed then.
type Paint struct {
	Nation     string
	Names      []string
	Use        string // what it was for
	From, To   Date   // first day, first day no longer; To empty: the end is not known
	Standard   string // empty: none is known
	Provenance Provenance
}
