package layouts

import (
	"fmt"

	"maskloft/layouts/standards"
)

// UsualHandedness is what a figure does from side to side where the layout does not
// say: text reads on both, shapes point forward on both, a rule does as its document
// says, the rest is the same either way.
func UsualHandedness(f FigureSpec) Handedness {
	if f.Text != "" {
		return Text
	}
	if len(f.Shapes) > 0 {
		return Handed
	}
	if f.Rule != "" {
		if rule, err := standards.Find(f.Rule); err == nil && rule.Handed {
			return Handed
		}
	}
	return Symmetric
}

// handednessFindings looks whether the layout turns a handed device the wrong way
// round on the right side, or mirrors words there.
func handednessFindings(m *MarkingSpec, fig Figure) []Finding {
	f := Finding{Level: Warn, Rule: "handedness", Marking: m.ID, Measured: "handed: " + string(m.Handed), Source: "common practice, no source"}
	switch {
	case fig.Rule != nil && fig.Rule.Handed && m.Handed != Handed:
		f.Expected = "handed: handed"
		f.Message = fmt.Sprintf("%s: handed: %s draws the right side like the left; by rule %s it is mirrored there", m.ID, m.Handed, fig.Rule.ID)
		if fig.Rule.Orientation != "" {
			f.Message += ": " + fig.Rule.Orientation
		}
		f.Proposals = []Proposal{{Path: m.Path("handed"), Value: string(Handed)}}
		f.Source = fig.Rule.Document.Title
	case m.Figure.Text != "" && m.Handed == Handed:
		f.Expected = "handed: text"
		f.Message = m.ID + ": handed: handed mirrors the words on the right side"
		f.Proposals = []Proposal{{Path: m.Path("handed"), Value: string(Text)}}
	default:
		return nil
	}
	f.Hint = f.Proposals[0].String() + "; or take handed: out"
	return []Finding{f}
}
