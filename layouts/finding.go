package layouts

import (
	"fmt"

	"maskloft/geometry"
)

// Level says how much a finding matters.
type Level string

// Levels, from the mildest.
const (
	Note Level = "note" // for the record
	Warn Level = "warn" // look at it before the film is cut
	Stop Level = "stop" // do not cut
)

// Finding is an answer with its number: the work was done, look here. Tests and
// scripts go by Rule, never by wording.
type Finding struct {
	Level     Level
	Rule      string // id of what was looked at, such as "off-skin"
	Marking   string
	Where     geometry.Position
	Message   string     // one line, lower case, place first
	Hint      string     // what to change in the layout file, in words
	Proposals []Proposal // values that make it go away, each on its own; none: nothing that can be taken
	Measured  string     // with its unit
	Expected  string
	Tolerance string
	Source    string // document and clause, or "common practice, no source", or "derived"
}

func (f Finding) String() string {
	s := fmt.Sprintf("%s: %s: %s", f.Level, f.Kind(), f.Message)
	if f.Hint != "" {
		s += "\n      hint: " + f.Hint
	}
	return s
}

// MissingRule is the rule of the findings that say which marking could not be made.
const MissingRule = "marking-missing"

// Missing returns the finding of a marking that could not be made, by its id with the
// side, for a reason that says what to change.
func Missing(u geometry.Units, id string, at Place, where geometry.Position, err error) Finding {
	return Finding{
		Level: Stop, Rule: MissingRule, Marking: id, Where: where,
		Message:  fmt.Sprintf("%s: left out of everything: %v: %s", id, at, geometry.ErrorIn(u, err)),
		Hint:     fmt.Sprintf("mend it at line %d, or take it out of markings:", at.Line),
		Measured: "not made", Expected: "made", Tolerance: "none", Source: "derived",
	}
}
