package standards

// Force is what a mismatch with something known may do.
type Force int

// Forces, in order: told beside the number and no more; a warning; a stop.
const (
	MayNote Force = iota
	MayWarn
	MayStop
)

// Force of a source: a document, or a copy of its text, may stop a job where the words
// are plain, and warn where they are not; a secondary work may warn, and so may what
// was carried over from a neighbouring text; a tertiary page and memory are notes.
func (p Provenance) Force() Force {
	low, high := p.Confidence == "low", p.Confidence == "" || p.Confidence == "high"
	switch {
	case p.Kind == Invented:
		return MayStop
	case p.Kind == Read && (p.Grade == "official" || p.Grade == "copy") && high:
		return MayStop
	case p.Kind == Read && p.Grade != "tertiary" && !low, p.Kind == Derived && !low:
		return MayWarn
	}
	return MayNote
}

// Known returns how one value of the rule is known, named as in [MemoryField], under
// the readings taken.
func (r *Rule) Known(what string, picks ...Pick) Provenance {
	for _, m := range r.Provenance.Memory {
		if m.What == what {
			return Provenance{Kind: Memory, Confidence: m.Confidence}
		}
	}
	if p, ok := r.reading(what, picks); ok {
		return p
	}
	if p, ok := r.partOf(what); ok && p.Known.Kind != "" {
		return p.Known
	}
	return r.Provenance
}

// Force is what a mismatch with one value of the rule may do.
func (r *Rule) Force(what string, picks ...Pick) Force { return r.Known(what, picks...).Force() }

// CanStop tells whether a mismatch with one value may stop a job.
func (r *Rule) CanStop(what string, picks ...Pick) bool { return r.Force(what, picks...) == MayStop }

// Text says the force in words.
func (f Force) Text() string {
	return map[Force]string{MayNote: "a mismatch is a note", MayWarn: "a mismatch warns", MayStop: "a mismatch stops"}[f]
}
