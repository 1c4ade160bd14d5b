package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"

	"maskloft/export"
	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// outline is an aircraft to put a proposal on, so that it loads as it stands.
const outline = `
aircraft: # a plain outline (invented): put in your own, or the name of its file
  name: outline
  datum: FS 0 is the firewall, positive aft; WL 0 is the thrust line, positive up; BL 0 the plane of symmetry, positive to the right.
  surfaces:
    - {id: fuselage, kind: round, sections: [{fs: 0, radius: 34, wl: 0}, {fs: 240, radius: 30, wl: 0}]}
    - {id: fin, kind: plate, thickness: 2, outline: [[240, 20], [240, 80], [300, 80], [300, 20]]}
    - {id: rudder, kind: plate, thickness: 2, hinge: 300.25, outline: [[300.5, 10], [300.5, 80], [350, 80], [350, 10]]}
    - {id: wing, kind: wing, leading: [[20, 0], [20, 240]], trailing: [[100, 0], [100, 240]], wl: 30, naca: 2412}
  hardpoints:
    - {id: P1, name: fore end low, side: both, fs: 0, bl: 29, wl: -17}
    - {id: P2, name: fore end high, side: both, fs: 0, bl: 29, wl: 17}
    - {id: P3, name: sternpost low, side: both, fs: 240, bl: 26, wl: -15}
    - {id: P4, name: front strut bolt, side: both, fs: 40, bl: 80, wl: 33}
    - {id: P5, name: rear strut bolt, side: both, fs: 80, bl: 80, wl: 32}
    - {id: P6, name: tip bow bolt, side: both, fs: 60, bl: 238, wl: 33}
    - {id: P7, name: fin post top, side: both, fs: 300, bl: 1, wl: 78}
    - {id: P8, name: fin leading edge, side: both, fs: 240, bl: 1, wl: 40}
`

// spots are where the proposal puts a place of the lists on that outline.
var spots = map[string]string{
	"fuselage side":    "{surface: fuselage, side: both, fs: %g, wl: 0}",
	"upper wing":       "{surface: wing, face: upper, side: both, fs: 60, bl: %g}",
	"upper wing left":  "{surface: wing, face: upper, side: left, fs: 60, bl: %g}",
	"upper wing right": "{surface: wing, face: upper, side: right, fs: 60, bl: %g}",
	"lower wing":       "{surface: wing, face: lower, side: both, fs: 60, bl: %g}",
	"lower wing left":  "{surface: wing, face: lower, side: left, fs: 60, bl: %g}",
	"lower wing right": "{surface: wing, face: lower, side: right, fs: 60, bl: %g}",
	"fin":              "{surface: fin, side: both, fs: %g, wl: 50}",
	"rudder":           "{surface: rudder, side: both, fs: %g, wl: 45}",
	"fin and rudder":   "{surface: [fin, rudder], side: both, fs: %g, wl: 50}",
}

// along is the station or butt line of a kind of marking at a place, so that insignia,
// codes and serials do not lie on one another.
func along(place, kind string) float64 {
	n := map[string]float64{"insignia": 0, "fin flash": 0, "rudder": 0, "code": 1, "serial": 2, "registration": 2, "title": 3}[kind]
	switch {
	case strings.Contains(place, "wing"):
		return 180 - float64(45*n)
	case place == "fuselage side":
		return 60 + float64(55*n)
	case place == "fin":
		return 270
	case place == "rudder":
		return 325
	}
	return 300
}

// sample is lettering of a kind, to be put right by hand, and the alphabet for it.
func sample(r *standards.Rule) (text, alphabet string) {
	text = map[string]string{"serial": "0000", "code": "AA", "registration": "N0000", "title": "TITLE", "stencil": "TEXT"}[r.Kind]
	switch {
	case r.ID == "us/army-underwing":
		return "ARMY", "block-1940s"
	case strings.HasPrefix(r.ID, "amwo-501"):
		return text, "raf-underwing-1926"
	case strings.HasPrefix(r.ID, "14-cfr"):
		return text, "cfr-45-29"
	case r.Nation == "uk":
		return text, "raf-serial"
	case r.Nation == "us":
		return text, "block-1940s"
	}
	return text, "block-6x4"
}

// propose prints a layout with what stood on the aircraft on the date; what is known in
// words only, is absent or unknown is a comment.
//
// Errors: no date or no nation.
func (k ruleQuery) propose(w io.Writer, c ruleChoice) error {
	q, err := k.question()
	if err != nil {
		return err
	}
	if k.on == "" || q.Nation == "" {
		return errors.New("--propose needs a date and a nation: write --on 1938-05 --nation us")
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# What stood on such an aircraft on %s, each line with its source. Places, and sizes that\n# nobody told, are to be put right; a photograph goes before any rule.\n", k.on)
	fmt.Fprintf(&b, "name: proposal, %s, %s\nunits: in\n%s\nrules:\n  date: %s\n  nation: %s\n", q.Nation, k.on, outline, k.on, q.Nation)
	for _, s := range [][2]string{{"service", q.Service}, {"finish", q.Finish}, {"type", strings.Join(q.Types, ", ")}} {
		if s[1] != "" {
			open, end := "", ""
			if s[0] == "type" {
				open, end = "[", "]"
			}
			fmt.Fprintf(&b, "  %s: %s%s%s\n", s[0], open, s[1], end)
		}
	}
	b.WriteString("\nmarkings:\n")
	roles, count := map[string]bool{}, 0
	for _, a := range c.answers {
		text, used, ok := proposed(a, q.Types)
		b.WriteString(text)
		if ok {
			count++
		}
		for _, r := range used {
			roles[r] = true
		}
	}
	if count == 0 {
		return fmt.Errorf("nothing is known with numbers for %s on %s: maskloft rules --on %s --nation %s tells what is", q.Nation, k.on, k.on, q.Nation)
	}
	paint, err := proposedPaint(roles, q)
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, b.String()+paint)
	return err
}

// proposed is one answer as lines of markings, with the roles of colours that it uses;
// false where all of it is a comment.
func proposed(a standards.Answer, types []string) (string, []string, bool) {
	place := a.Question.Place
	head := fmt.Sprintf("  # %s, %s: ", placeWords(a), a.Question.Kind)
	comment := func(s string) string { return head + s + "\n" }
	list, also := a.Forms, slices.Concat(a.Beside, a.Also)
	switch {
	case len(list) == 0 && len(a.Conditional) == 1:
		list = a.Conditional
	case len(list) == 0 && len(a.Conditional) > 0:
		s := ""
		for _, u := range a.Conditional {
			s += comment("by the type of aircraft: " + strings.Join(u.Types, ", ") + ": " + formName(u))
		}
		return s, nil, false
	case a.None != nil:
		return comment("none: " + a.None.What + "; " + a.None.DatesText() + "; " + export.KnownText(a.None.Provenance)), nil, false
	case len(list) == 0:
		return comment("unknown: no source was found that says; ask a photograph"), nil, false
	}
	u := list[0]
	r := u.Rule
	if r == nil {
		return comment(formName(u)), nil, false
	}
	if a.Follows != nil && r.InWords() && len(a.Follows.Forms) > 0 {
		r = a.Follows.Forms[0].Rule
	}
	said := comment(formName(u) + "; " + u.DatesText() + "; " + export.KnownText(u.Provenance))
	for _, o := range append(list[1:], also...) {
		said += head + "or " + formName(o) + "; " + o.DatesText() + "\n"
	}
	where, ok := spots[place]
	switch {
	case r.InWords():
		return said + head + "in words only: " + r.Described + "\n", nil, false
	case !ok:
		return said + head + "put it on a surface of your own\n", nil, false
	}
	size, how := proposedSize(r, place, types)
	where = fmt.Sprintf(where, along(place, r.Kind))
	id := strings.ReplaceAll(place+" "+r.Kind, " ", "-")
	if r.Lettering != nil {
		text, alphabet := sample(r)
		if text == "" {
			return said, nil, false
		}
		return said + fmt.Sprintf("  - id: %s\n    figure: {text: %q, alphabet: %s, height: %s in, as: %s} # height: %s\n    where: %s\n    colours: {text: black} # the colour depends on the finish\n",
			id, text, alphabet, size, ruleName(r), how, where), []string{"black"}, true
	}
	var roles []string
	for _, p := range r.Parts {
		roles = append(roles, p.Colour)
	}
	if r.FollowsField() {
		where, _, _ = strings.Cut(where, ", fs:")
		return said + fmt.Sprintf("  - id: %s\n    figure: {rule: %s} # as large as the surface; form: %s\n    where: %s}\n",
			id, ruleName(r), export.KnownText(r.Provenance), where), roles, true
	}
	return said + fmt.Sprintf("  - id: %s\n    figure: {rule: %s, size: %s in} # size: %s; form: %s\n    where: %s\n",
		id, ruleName(r), size, how, export.KnownText(r.Provenance), where), roles, true
}

// formName names the form of a use, or what is absent.
func formName(u *standards.Use) string {
	if u.Rule == nil {
		return "none: " + u.What
	}
	return ruleName(u.Rule) + ": " + u.Rule.Name
}

// ruleName is the shortest name by which a layout finds the rule.
func ruleName(r *standards.Rule) string {
	if found, err := standards.Find(r.ID); err == nil && found == r {
		return r.ID
	}
	return ruleID(r)
}

// proposedSize is the largest size told for the place, else one to be put right.
func proposedSize(r *standards.Rule, place string, types []string) (inches, how string) {
	sizes, known := r.OfferedAt(place, types)
	if len(sizes) == 0 {
		n := 20.0
		if r.Lettering != nil {
			n = 8
		}
		return geometry.FormatNumber(n, 2), "unknown, put in one that was measured"
	}
	best := sizes[0]
	for _, s := range sizes {
		if s <= 40 {
			best = s
		}
	}
	var list []string
	for _, s := range sizes {
		list = append(list, geometry.FormatNumber(s, 2))
	}
	return geometry.FormatNumber(best, 4), "of " + strings.Join(list, ", ") + " in; " + export.KnownText(known)
}

// proposedPaint is the order of the paints, light first, with what is known of each.
func proposedPaint(roles map[string]bool, q standards.Question) (string, error) {
	palette, err := standards.Palette()
	if err != nil {
		return "", err
	}
	var list []standards.Colour
	for _, c := range palette {
		if roles[c.Role] {
			list = append(list, c)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return lightness(list[i].Hex) > lightness(list[j].Hex) })
	var order []string
	notes := ""
	for _, c := range list {
		name := strings.ReplaceAll(c.Role, "_", "-")
		order = append(order, name)
		standard := c.StandardAt(q.On)
		if standard == "" {
			standard = "no standard known for the time"
		}
		notes += fmt.Sprintf("  # %s: %s; %s; %s\n", name, c.Name, standard, export.KnownText(c.Provenance))
	}
	return fmt.Sprintf("\npaint: # light first; colours are those of the rules where colours: is left out\n  order: [%s]\n%s", strings.Join(order, ", "), notes), nil
}

// lightness is the sum of red, green and blue of "#RRGGBB", green counted twice.
func lightness(hex string) int {
	var r, g, b int
	if _, err := fmt.Sscanf(hex, "#%02x%02x%02x", &r, &g, &b); err != nil {
		return 0
	}
	return r + 2*g + b
}
