package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
)

// What the console says without --all, so that it fits a screen of 30 lines.
const (
	consoleWidth    = 110 // characters
	mostMarkings    = 5   // rows of the table
	mostLines       = 18  // of what is to be decided
	mostOfADecision = 2   // lines of its message
)

// decision is a finding above a note, told once for both sides.
type decision struct {
	level   layouts.Level
	head    string // the marking and its sides, in words; empty: of the whole job
	message string
	hint    string
	offers  []job.Offer // what check --take can write
	kind    string      // in words
	also    []string    // other markings of which the same is to be decided, after their own hints
}

// noteKind is one kind of note and how often it is met, both sides as one.
type noteKind struct {
	kind  string
	count int
}

// decided sorts findings for a person: what is to be decided, the gravest first, and the
// kinds of the notes, the commonest first. A finding of the one side is told with that of
// the other, rule by rule and in turn. Offers are those of check.
func decided(findings []layouts.Finding, offers []job.Offer) ([]decision, []noteKind) {
	type key struct {
		level         layouts.Level
		rule, marking string
		turn          int
	}
	type seen struct{ rule, marking string }
	place, turns, sides := map[key]int{}, map[seen]int{}, map[int][]string{}
	var groups [][]layouts.Finding
	for _, f := range findings {
		base, side := ofSide(f.Marking)
		s := seen{f.Rule, f.Marking}
		k := key{f.Level, f.Rule, base, turns[s]}
		turns[s]++
		i, known := place[k]
		if !known || side == "" {
			i = len(groups)
			place[k] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], f)
		if side != "" {
			sides[i] = append(sides[i], side)
		}
	}
	var out []decision
	var notes []noteKind
	for _, level := range []layouts.Level{layouts.Stop, layouts.Warn, layouts.Note} {
		for i, group := range groups {
			f := group[0]
			if f.Level != level {
				continue
			}
			if level == layouts.Note {
				at := slices.IndexFunc(notes, func(n noteKind) bool { return n.kind == f.Kind() })
				if at < 0 {
					at = len(notes)
					notes = append(notes, noteKind{kind: f.Kind()})
				}
				notes[at].count++
				continue
			}
			out = append(out, decisionOf(group, sides[i], offers))
		}
	}
	out = gathered(out)
	slices.SortStableFunc(notes, func(a, b noteKind) int { return b.count - a.count })
	return out, notes
}

// gathered tells decisions of one kind, of which nothing can be written into the layout,
// once: the first in full, of the others the marking.
func gathered(all []decision) []decision {
	var out []decision
	for _, d := range all {
		at := slices.IndexFunc(out, func(o decision) bool {
			return o.kind == d.kind && o.level == d.level && o.head != "" && d.head != "" && len(o.offers)+len(d.offers) == 0
		})
		if at < 0 {
			out = append(out, d)
			continue
		}
		out[at].also = append(out[at].also, d.head)
	}
	return out
}

func decisionOf(group []layouts.Finding, sides []string, offers []job.Offer) decision {
	f := group[0]
	d := decision{level: f.Level, message: f.Message, hint: f.Hint, kind: f.Kind()}
	if rest, ok := strings.CutPrefix(f.Message, f.Marking+": "); ok && f.Marking != "" {
		base, _ := ofSide(f.Marking)
		d.head, d.message = base, rest
		switch len(sides) {
		case 0:
		case 1:
			d.head += ", " + sides[0]
		default:
			d.head += ", both sides"
		}
	}
	for _, f := range group {
		for _, p := range f.Proposals {
			at := slices.IndexFunc(offers, func(o job.Offer) bool {
				return o.Proposal == p && o.Finding.Rule == f.Rule && o.Finding.Marking == f.Marking
			})
			if at >= 0 && !slices.ContainsFunc(d.offers, func(o job.Offer) bool { return o.Path == p.Path && o.Value == p.Value }) {
				d.offers = append(d.offers, offers[at])
			}
		}
	}
	return d
}

// ofSide parts the id of a marking on a side; the side is empty where it has none.
func ofSide(id string) (base, side string) {
	for _, side := range []string{"left", "right"} {
		if base, ok := strings.CutSuffix(id, "-"+side); ok {
			return base, side
		}
	}
	return id, ""
}

// asked is how the verb was called: the layout as it was named, or the example.
type asked struct {
	verb, file, demo string
}

func askedOf(c *cobra.Command, args []string) asked {
	demo, _ := c.Flags().GetString(demoFlag) // none: the verb has no examples
	return asked{c.Name(), strings.Join(args, ""), demo}
}

// again is the command once more, with its layout.
func (a asked) again() string {
	words := []string{"maskloft", a.verb}
	if a.file != "" {
		words = append(words, a.file)
	}
	if a.demo != "" {
		words = append(words, "--"+demoFlag, a.demo)
	}
	return strings.Join(words, " ")
}

// taking is the command that writes a value into the layout; an example is printed to a
// file before.
func (a asked) taking(number int) string {
	file, first := a.file, ""
	if file == "" {
		file = "mine.yaml"
		first = asked{verb: "start", demo: a.demo}.again() + " > mine.yaml, then "
	}
	return fmt.Sprintf("%smaskloft check %s --take %d", first, file, number)
}

// printDecided prints what is to be decided and the kinds of notes.
func printDecided(w io.Writer, findings []layouts.Finding, offers []job.Offer, as asked) {
	decisions, notes := decided(findings, offers)
	if len(decisions) > 0 {
		fmt.Fprintln(w, "\nto decide, worst first:")
	}
	number, lines := 0, 0
	for i, d := range decisions {
		next := decision{}
		if i+1 < len(decisions) {
			next = decisions[i+1]
		}
		var text strings.Builder
		if number == 0 && len(d.offers) > 0 {
			number = d.offers[0].Number
		}
		d.print(&text, next)
		if lines += strings.Count(text.String(), "\n"); i > 0 && lines > mostLines {
			fmt.Fprintf(w, "      and %d more\n", len(decisions)-i)
			break
		}
		io.WriteString(w, text.String())
	}
	if number > 0 {
		fmt.Fprintf(w, "      to write one into the layout: %s\n", as.taking(number))
	}
	if len(notes) > 0 {
		var words []string
		for _, n := range notes {
			words = append(words, fmt.Sprintf("%s (%d)", n.kind, n.count))
		}
		printFolded(w, "notes, both sides as one: ", "      ", strings.Join(words, ", "), 0)
	}
	if len(decisions)+len(notes) > 0 {
		fmt.Fprintf(w, "everything that was found: %s --all\n", as.again())
	}
}

// print writes a decision with what can be written into the layout, else with its hint;
// a hint that the next has too is left to that.
func (d decision) print(w io.Writer, next decision) {
	printFolded(w, string(d.level)+"  ", "      ", withHead(d.head, d.message), mostOfADecision)
	for _, o := range d.offers {
		printFolded(w, fmt.Sprintf("      [%d] ", o.Number), "          ", o.Proposal.String(), mostOfADecision)
	}
	if len(d.offers) == 0 && d.hint != "" && d.hint != next.hint {
		printFolded(w, "      ", "      ", d.hint, mostOfADecision)
	}
	if len(d.also) > 0 {
		printFolded(w, "      ", "      ", "so too "+strings.Join(d.also, "; ")+" (--all tells by how much)", mostOfADecision)
	}
}

func withHead(head, message string) string {
	if head == "" {
		return message
	}
	return head + ": " + message
}

// printFolded prints a text in lines as wide as the console, at most so many of them; 0:
// all. What is left off is marked.
func printFolded(w io.Writer, first, indent, text string, most int) {
	line, lines, begun := first, 1, false
	for _, word := range strings.Fields(text) {
		if begun && len(strings.TrimLeft(line, "\n"))+1+len(word) > consoleWidth {
			if lines == most {
				line += " ..."
				break
			}
			fmt.Fprintln(w, line)
			line, begun = indent, false
			lines++
		}
		if begun {
			line += " "
		}
		line += word
		begun = true
	}
	fmt.Fprintln(w, line)
}

// printMade prints what a pack holds, a row a marking.
func printMade(w io.Writer, u geometry.Units, r Report) {
	type row struct {
		id, on, sides, at string
		films, tiles      int
		size              string
		strain            float64
		exact             bool
	}
	var rows []row
	place := map[string]int{}
	for _, m := range r.Markings {
		base, _ := ofSide(m.ID)
		at := fmt.Sprintf("%s / %s", u.Number(geometry.Length(m.Anchor.FS), 1), u.Number(geometry.Length(m.Anchor.WL), 1))
		i, known := place[base]
		if !known {
			i = len(rows)
			place[base] = i
			big := m.Masks[0]
			for _, k := range m.Masks {
				if k.Width*k.Height > big.Width*big.Height {
					big = k
				}
			}
			rows = append(rows, row{id: base, on: m.Surface, sides: m.Side, at: at, exact: true,
				size: u.Number(geometry.Length(big.Width), 1) + " x " + u.Number(geometry.Length(big.Height), 1)})
		} else {
			rows[i].sides = "both"
			if at != rows[i].at && !strings.Contains(rows[i].at, ",") {
				rows[i].at += ", " + m.Side + " " + at
			}
		}
		rows[i].films += len(m.Masks)
		for _, k := range m.Masks {
			rows[i].tiles += len(k.Tiles)
		}
		rows[i].exact = rows[i].exact && m.Exact
		rows[i].strain = max(rows[i].strain, m.Strain.Compression, m.Strain.Tension)
	}
	fmt.Fprintf(w, "%-18s %-12s %-6s %6s %6s  %-15s %-8s %s\n", "marking", "on", "side", "films", "tiles", "largest, "+u.Word(), "strain", "at FS / WL")
	for i, x := range rows {
		if i == mostMarkings && len(rows) > mostMarkings+1 {
			fmt.Fprintf(w, "and %d more markings\n", len(rows)-i)
			break
		}
		strain := "none"
		if !x.exact {
			strain = percent(x.strain)
		}
		fmt.Fprintf(w, "%-18s %-12s %-6s %6d %6d  %-15s %-8s %s\n", x.id, x.on, x.sides, x.films, x.tiles, x.size, strain, x.at)
	}
}
