package tapelist

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/taping"
)

// expectedText says how well a film will lie, by which points, and what would help.
func expectedText(t layouts.TapeSpec, p taping.Placing, tiles int) string {
	if len(p.Tiles) == 0 {
		return "Nothing that is given in the layout finds two of its points: give frames, ribs or lines of its surface, or two hardpoints near it."
	}
	var b strings.Builder
	if len(p.Tiles) == 1 {
		k := p.Tiles[0]
		fmt.Fprintf(&b, "Lay the film with %s and %s on their crosses.", k.From, k.To)
	} else {
		b.WriteString("Lay the tiles with these points on their crosses:")
		for i, k := range p.Tiles {
			if i > 0 {
				b.WriteString(",")
			}
			fmt.Fprintf(&b, " %s by %s and %s", k.Tile, k.From, k.To)
		}
		if tiles > len(p.Tiles) {
			b.WriteString("; the others by the marks on their seams")
		}
		b.WriteString(".")
	}
	if p.Misses > 0 && !math.IsNaN(p.Misses.Inches()) {
		fmt.Fprintf(&b, " The check must then lie within %s of its cross (95 of 100), or a reading is wrong.", amount(t, p.Misses))
	}
	worst, _ := p.Worst()
	major, minor := worst.Error.Within95()
	fmt.Fprintf(&b, " Expected: the middle within %s x %s (95 of 100), the direction within %.2f deg, which is %s at the ends; most of it from %s.",
		decimals(t, major), amount(t, minor), worst.Rotation95(), amount(t, 1.96*worst.AtEnds), worst.Terms[0].Name)
	if o := p.Better; o != nil {
		fmt.Fprintf(&b, " Better: one more hardpoint at the %s (%s) brings %s to %s.", o.Where(func(f taping.Found) string { return FoundText(t, f) }), positionText(t, o.At), decimals(t, o.Before), amount(t, o.After))
	}
	return b.String()
}

// positionText writes a place in the unit of the tape.
func positionText(t layouts.TapeSpec, p g.Position) string {
	by, decimals := 1.0, 2
	if t.Units == layouts.TapeMillimetres {
		by, decimals = 25.4, 0
	}
	n := func(v float64) string { return g.FormatNumber(v*by, decimals) }
	return fmt.Sprintf("FS %s  BL %s  WL %s", n(p.FS.Inches()), n(p.BL.Inches()), n(p.WL.Inches()))
}

// filmLengths says which lengths between marks of the film to check once it is laid.
func filmLengths(list taping.TapeList, t *masks.Tiling, p taping.Placing) string {
	plain := list.Tape
	plain.Burn = false
	at := map[string]g.Point{}
	for _, q := range p.Points {
		at[q.Name] = q.Point.Mark.Film
	}
	var parts []string
	for _, k := range p.Tiles {
		length := g.Length(at[k.From].Dist(at[k.To]))
		parts = append(parts, fmt.Sprintf("%s to %s %s (%s)", k.From, k.To, Reading(plain, length), decimals(plain, length)))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Along the film as laid: " + strings.Join(parts, "; ") + ". Film that reads " + limitText(plain, g.Inch/16) + " longer was stretched: lay it again (common practice, no source)."
}

// rowTexts says which texts share one string line.
func rowTexts(list taping.TapeList) []string {
	var out []string
	for _, r := range list.Rows {
		at := taping.Found{Plane: r.Plane, At: r.At}
		out = append(out, fmt.Sprintf("One string line for %s (%s, %s side): stretch it along %s past all of them, and check each text against it before it grips.",
			strings.Join(r.Markings, ", "), r.On, r.Side, placeText(list.Tape, at)))
	}
	return out
}
