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

// PaintsOn returns the paints of a nation that were so called on a date. An empty
// nation means all.
//
// Errors: a date that is none.
func PaintsOn(nation string, on Date) ([]Paint, error) {
	l, err := load()
	if err != nil {
		return nil, err
	}
	if _, _, err := on.Span(); err != nil {
		return nil, err
	}
	var out []Paint
	for _, p := range l.paints {
		u := Use{From: p.From, To: p.To, Open: p.To == ""}
		if (nation == "" || p.Nation == nation) && u.At(on) != Out {
			out = append(out, p)
		}
	}
	return out, nil
}
