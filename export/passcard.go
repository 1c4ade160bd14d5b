package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"maskloft/export/sheet"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/survey"
)

// SprayPass is one spray of one paint over all markings that carry it.
type SprayPass struct {
	Paint string
	Films []PassFilm
}

// PassFilm is the film of one marking that lies while a pass is sprayed.
type PassFilm struct {
	Marking string
	Mask    masks.Mask
	First   bool     // no earlier pass of the marking lies to register it by
	Marks   []string // that it shares with the film before it
	Paper   []string // what paper covers in its place, in words
	Numbers []int
}

// SprayPasses returns the passes of a job in the order of its paints; of films the
// numbers along the run, where they have any.
func SprayPasses(l *layouts.Layout, tilings []masks.Tiling, run masks.Run) []SprayPass {
	var out []SprayPass
	for _, paint := range l.Spec.Paint.Order {
		p := SprayPass{Paint: paint}
		for _, t := range tilings {
			for k, m := range t.Laid.Masks {
				if m.Paint != paint {
					continue
				}
				f := PassFilm{Marking: t.Laid.ID(), Mask: m, First: k == 0, Paper: paperOf(t, t.Films[k], l.Spec.Sheets.Units)}
				for _, i := range t.Common(k) {
					f.Marks = append(f.Marks, t.Marks[i].ID)
				}
				for _, id := range t.TileIDs(m) {
					if n := run.Number(id); n > 0 {
						f.Numbers = append(f.Numbers, n)
					}
				}
				p.Films = append(p.Films, f)
			}
		}
		if len(p.Films) > 0 {
			out = append(out, p)
		}
	}
	return out
}

// paperOf says where paper covers what no film does: cells of the field without a paint
// edge.
func paperOf(t masks.Tiling, f masks.TiledFilm, u g.Units) []string {
	var out []string
	middle := f.Field.Centre()
	for _, r := range f.Paper {
		var where []string
		if d := r.Centre().Y - middle.Y; math.Abs(d) > r.Height()/4 {
			where = append(where, masks.UpDown(t.Laid, d))
		}
		if d := r.Centre().X - middle.X; math.Abs(d) > r.Width()/4 {
			where = append(where, masks.Sideways(t.Laid, d))
		}
		place := "in the middle"
		if len(where) > 0 {
			place = strings.Join(where, " and ") + " of the middle"
		}
		out = append(out, u.Size(g.Length(r.Width()), g.Length(r.Height()), 1)+" "+place)
	}
	return out
}

// mostCardFilms is how many markings a card lists with their films, both sides as one; more
// stand on the ticket.
const mostCardFilms = 8

// mostCardRows is how many different sets of marks, or places for paper, a card names.
const mostCardRows = 6

// PassCards draws one page for each spray: what to do in order, each figure with its
// source, and lines to write on. The figures hold where the maker's sheet says nothing.
func PassCards(paper sheet.Paper, l *layouts.Layout, passes []SprayPass, figures survey.PaintFigures) []sheet.Sheet {
	p := sheet.NewPages(paper, "Pass cards: "+l.Spec.Name)
	for i, pass := range passes {
		p.Need(paper.Height) // each on a page of its own
		card{p, l, pass, i + 1, len(passes)}.draw(figures)
	}
	return p.Sheets()
}

// card is one page of the pass cards.
type card struct {
	*sheet.Pages
	layout *layouts.Layout
	pass   SprayPass
	n, of  int
}

func (c card) draw(figures survey.PaintFigures) {
	c.Text(sheet.SetTitle, fmt.Sprintf("Pass %d of %d: %s", c.n, c.of, c.paintName()))
	c.Text(sheet.SetSoft, c.layout.Spec.Name+". The makers' sheets for this paint, thinner and film come first, then the trial panel, then this card. * common practice, no source: the maker's sheet governs.")
	c.films()
	c.step("1  Paint underneath dry", c.underneath()...)
	c.step("2  Lay the film", c.lay()...)
	c.step("3  Cover", c.cover()...)
	c.step("4  Spray", c.spray(figures)...)
	c.step("5  Pull", c.pull()...)
	c.lines()
}

// paintName is the name of the paint, with its id where that reads otherwise: films and files
// have the id.
func (c card) paintName() string {
	for _, k := range c.layout.Spec.Paint.Colours {
		if k.ID != c.pass.Paint || k.Name == "" {
			continue
		}
		if id := strings.ReplaceAll(k.ID, "-", " "); !strings.EqualFold(k.Name, id) {
			return k.Name + " (" + k.ID + ")"
		}
		return k.Name
	}
	return c.pass.Paint
}

func (c card) units() g.Units { return c.layout.Spec.Sheets.Units }

// each lists what films of the pass have, those alike on one line: insignia-left,
// insignia-right: A B C; empty where none has anything.
func (c card) each(of func(PassFilm) string) string {
	var order []string
	who := map[string][]string{}
	for _, f := range c.pass.Films {
		s := of(f)
		if s == "" {
			continue
		}
		if who[s] == nil {
			order = append(order, s)
		}
		who[s] = append(who[s], f.Marking)
	}
	var out []string
	for _, s := range order {
		who[s] = bothSides(who[s])
		if n := len(who[s]); n > 4 {
			who[s] = append(who[s][:3:3], fmt.Sprintf("%d more", n-3))
		}
		out = append(out, strings.Join(who[s], ", ")+": "+s)
	}
	if n := len(out) - mostCardRows; n > 0 {
		out = append(out[:mostCardRows], fmt.Sprintf("%d more: see the proof", n))
	}
	return strings.Join(out, "; ")
}

// sideOf parts the name of a film's marking from its side: roundel, left.
func sideOf(name string) (marking, side string) {
	for _, side := range []string{"left", "right"} {
		if marking, ok := strings.CutSuffix(name, "-"+side); ok {
			return marking, side
		}
	}
	return name, ""
}

// bothSides names a marking once where both its sides are there.
func bothSides(names []string) []string {
	var out []string
	for _, name := range names {
		marking, side := sideOf(name)
		switch other := map[string]string{"left": "right", "right": "left"}[side]; {
		case side == "" || !slices.Contains(names, marking+"-"+other):
			out = append(out, name)
		case !slices.Contains(out, marking):
			out = append(out, marking)
		}
	}
	return out
}

// films lists the films of the pass: roundel (left 1, 5; right 33).
func (c card) films() {
	var order []string
	parts := map[string][]string{}
	for _, f := range c.pass.Films {
		numbers := strings.Trim(strings.ReplaceAll(fmt.Sprint(f.Numbers), " ", ", "), "[]")
		if numbers == "" {
			numbers = "-"
		}
		marking, side := sideOf(f.Marking)
		if parts[marking] == nil {
			order = append(order, marking)
		}
		parts[marking] = append(parts[marking], strings.TrimSpace(side+" "+numbers))
	}
	var rows []string
	for _, marking := range order {
		rows = append(rows, marking+" ("+strings.Join(parts[marking], "; ")+")")
	}
	more := ""
	if n := len(rows) - mostCardFilms; n > 0 {
		rows, more = rows[:mostCardFilms], fmt.Sprintf(", %d more: see the shop ticket", n)
	}
	c.Text(sheet.SetBody, "Films, with their numbers: "+strings.Join(rows, ", ")+more+".")
}

// step prints a heading and boxes to tick.
func (c card) step(head string, lines ...string) {
	c.Space(0.07)
	c.Text(sheet.SetStrong, head)
	for _, line := range lines {
		c.Tick(sheet.SetSoft, line)
	}
}

func (c card) underneath() []string {
	since := "the last coat"
	if c.n > 1 {
		since = "the pass before"
	}
	return []string{
		"Dry to tape, counted from " + since + ": dope 24 h, enamel 72 h, two-part paint as its sheet says *.",
		"Back of a finger: no drag, no smell of thinner. Thumbnail 5 s: no dent after 1 min *.",
		"Trial strip of this film, " + c.units().About(1) + " x " + c.units().About(4) + ", left on as long as the film will be, pulled back on itself: nothing lifts, no print *.",
	}
}

func (c card) lay() []string {
	place := "By the three points of the tape list; the third is the check."
	later := 0
	for _, f := range c.pass.Films {
		if !f.First {
			later++
		}
	}
	switch {
	case later == len(c.pass.Films):
		place = "By the registration marks: each mark of the film over its cross on the tape flag of the pass before."
	case later > 0:
		place = fmt.Sprintf("%s follow an earlier pass: by their registration marks, over the crosses on the tape flags. The others by the three points of the tape list.", g.Counted(later, "film"))
	}
	if names := c.each(func(f PassFilm) string { return strings.Join(f.Marks, " ") }); names != "" {
		place += " Marks: " + names + "."
	}
	return []string{
		place + " Crosses are drawn on flags of masking tape, never on the skin.",
		"Dry, from the middle outwards, never stretched. Wet only where the film's maker says so, never on open weave *.",
		"Press every paint edge twice, again within 30 min of spraying; on fabric lightly, over the structure first *.",
		"Count: pieces laid ______ of ______ on the ticket. Measure the check lengths of the tape list.",
	}
}

func (c card) cover() []string {
	instead := "A marking without film in this pass: paper over it."
	if names := c.each(func(f PassFilm) string { return strings.Join(f.Paper, ", ") }); names != "" {
		instead = "Paper instead of film, lapped onto the film round it: " + names + ". " + instead
	}
	return []string{
		"Tape over the registration windows before spraying.",
		fmt.Sprintf("Paper %s wide all round, taped to the film; the far side in a draught *. %s", c.skirt(), instead),
		"Hinges, drains, static ports and placards covered; control surfaces locked in neutral while film spans a gap.",
	}
}

// skirt is how wide the paper beyond the film is: the layout's own width, or the usual one.
func (c card) skirt() string {
	if wide := c.layout.Spec.Paint.Spray.Skirt; wide != layouts.UsualSpray().Skirt {
		return c.units().Length(wide, 2)
	}
	return c.units().About(layouts.UsualSpray().Skirt)
}

func (c card) spray(figures survey.PaintFigures) []string {
	coats := map[string]bool{}
	var words []string
	for _, f := range c.pass.Films {
		w := g.Counted(f.Mask.Coats, "coat")
		if f.Mask.Under > 0 {
			w += " over " + g.Counted(f.Mask.Under, "under-coat")
		}
		if !coats[w] {
			coats[w] = true
			words = append(words, w)
		}
	}
	mix := ""
	for _, t := range figures.Totals {
		if t.Paint == c.pass.Paint {
			mix = fmt.Sprintf(" %s a coat, mix %s with waste.", c.units().Area(t.Sprayed), c.units().Volume(t.Ounces))
		}
	}
	return []string{
		"Seal the edges: one or two thin coats of the colour underneath, or clear; wait until it does not print on a knuckle: dope 10 to 20 min, enamel 30 to 60 min *.",
		fmt.Sprintf("%s, thin, crossed at 90 deg, strokes overlapping by half (AC 43.13-1B 2-20, read in a copy); between coats dope 10 to 20 min, enamel 15 to 30 min *.%s", strings.Join(words, "; "), mix),
		"Gun at 90 deg to the edge, never under it. Inside the windows of the weather card before, during and after.",
	}
}

func (c card) pull() []string {
	next := "Last pass: when cured, rub down the ridge with 600 to 1000 paper, wet, on a block; never over lacing or screw heads (AC 43.13-1B 2-21, read in a copy)."
	if c.n < c.of {
		next = "Leave the tape flags with their crosses for the next pass."
	}
	return []string{
		"While soft, when a finger on the paper's edge leaves a print but pulls no thread: dope 10 to 30 min after the last coat, enamel 30 to 90, two-part 20 to 60 *.",
		"Back on itself at 135 to 180 deg, slowly, away from the paint, never into a point; film laid last comes off first. If the paint is hard: wait until it is dry through, warm the room; no blade on fabric *.",
		"Touch up with tape and a brush. " + next,
		"Count: pieces pulled ______, as many as were laid.",
	}
}

// lines are what is written by hand.
func (c card) lines() {
	c.Space(0.08)
	for _, line := range []string{
		"Product __________________  batch ____________  thinner __________________  film roll ____________",
		"Paint underneath sprayed: date __________ hour ______   film on: date __________ hour ______   trial strip: ________",
		"Coats at ________  ________  ________  ________   pulled at ________   air ______  humidity ______  surface ______",
	} {
		c.Space(0.06)
		c.Text(sheet.SetBody, line)
	}
	if s := c.balance(); s != "" {
		c.Space(0.06)
		c.Text(sheet.SetStrong, s)
	}
	c.Space(0.06)
	c.Text(sheet.SetBody, "Done by ____________________  initials ________   checked by ____________________  initials ________")
	c.Space(0.06)
	c.Text(sheet.SetSoft, strings.Join(sheet.WorkCautions, " "))
}

// balance asks for a signature where a surface that moves was painted.
func (c card) balance() string {
	moves := map[string]bool{}
	for _, s := range c.layout.Spec.Aircraft.Surfaces {
		moves[s.ID] = s.Hinge != nil
	}
	painted := map[string]bool{}
	for _, p := range c.layout.Placed {
		for _, f := range c.pass.Films {
			if f.Marking == p.ID() {
				for _, s := range p.Marking.Where.Surfaces {
					if moves[s] {
						painted[s] = true
					}
				}
			}
		}
	}
	if len(painted) == 0 {
		return ""
	}
	return "Control surface painted. Balance checked by ________________  certificate ____________  date ________"
}
