package main

import (
	"fmt"
	"io"
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
		words = append(words, typed(a.file))
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
	return fmt.Sprintf("%smaskloft check %s --take %d", first, typed(file), number)
}

// printDecided prints what is to be decided and the kinds of notes.
func printDecided(w io.Writer, findings []layouts.Finding, offers []job.Offer, as asked) {
	decisions, notes := job.Decided(findings, offers)
	if len(decisions) > 0 {
		fmt.Fprintln(w, "\nto decide, worst first:")
	}
	number, lines := 0, 0
	for i, d := range decisions {
		next := job.Decision{}
		if i+1 < len(decisions) {
			next = decisions[i+1]
		}
		var text strings.Builder
		if number == 0 && len(d.Offers) > 0 {
			number = d.Offers[0].Number
		}
		printDecision(&text, d, next)
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
			words = append(words, fmt.Sprintf("%s (%d)", n.Kind, n.Count))
		}
		printFolded(w, "notes, both sides as one: ", "      ", strings.Join(words, ", "), 0)
	}
	if len(decisions)+len(notes) > 0 {
		fmt.Fprintf(w, "everything that was found: %s --all\n", as.again())
	}
}

// printDecision writes a decision with what can be written into the layout, else with its hint;
// a hint that the next has too is left to that.
func printDecision(w io.Writer, d, next job.Decision) {
	printFolded(w, string(d.Level)+"  ", "      ", withHead(d.Head, d.Message), mostOfADecision)
	for _, o := range d.Offers {
		printFolded(w, fmt.Sprintf("      [%d] ", o.Number), "          ", o.Proposal.String(), mostOfADecision)
	}
	if len(d.Offers) == 0 && d.Hint != "" && d.Hint != next.Hint {
		printFolded(w, "      ", "      ", d.Hint, mostOfADecision)
	}
	if len(d.Also) > 0 {
		var heads []string
		for _, o := range d.Also {
			heads = append(heads, o.Head)
		}
		printFolded(w, "      ", "      ", "also "+strings.Join(heads, "; ")+" (--all tells by how much)", mostOfADecision)
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
		base, _ := job.OfSide(m.ID)
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
