package export

import "maskloft/export/sheet"

// Term is a word of the trade with its meaning.
type Term struct{ Word, Means string }

// Glossary is what the words of a pack mean, in the order of the alphabet.
var Glossary = []Term{
	{"border", "a painted edge round a marking; not the field, which is film"},
	{"butt line, BL", "distance from the middle plane of the aircraft, positive to the pilot's right"},
	{"check mark", "the third mark of a film: it is not set, it shows whether the other two are right"},
	{"coat", "one layer of paint; a pass may take several"},
	{"field", "film kept round the paint, so that no spray reaches the skin"},
	{"film", "the mask: self-adhesive sheet that is cut, laid on the skin and pulled after spraying"},
	{"fuselage station, FS", "distance along the aircraft, positive aft; the layout says where 0 is"},
	{"girth", "a length round the body along its skin, in the plane of one station"},
	{"hardpoint", "a point of the structure where a tape hooks: a bolt, a corner of a fitting"},
	{"held point", "the point of a drawing that the layout places: its middle, or the start of a text"},
	{"keep-down film", "film that covers a paint to keep it; open film has an opening for one"},
	{"likely error", "one standard deviation (sigma): two of three lie within it, 95 of 100 within about twice"},
	{"loose piece", "film that stands free in an opening, such as the middle of an O; also called an island"},
	{"nest", "films laid side by side on the web, ready to cut in one go"},
	{"pass", "one spray of one paint, with its own film"},
	{"pounce pattern", "a drawing of small holes: chalk dabbed through carries it on to the skin"},
	{"registration mark", "a window of two triangles point to point; it goes over a cross on the tape flag below"},
	{"squeeze, stretch", "what a flat film must give to lie on a skin that is curved both ways"},
	{"tape flag", "a bit of masking tape on the skin that carries a cross; nothing is drawn on the skin"},
	{"tile", "a piece of a film that fits the web"},
	{"transfer tape", "sheet that carries the cut film from its liner to the skin"},
	{"trap", "how far a paint runs under the next one, so that no bare line shows"},
	{"waterline, WL", "height above the level of reference, positive up"},
	{"web", "the roll of film, and its width"},
	{"weed", "to take out the film where paint goes; a weed line is a cut that helps"},
}

// glossary prints what the words mean, a line each, on a page of its own.
func glossary(p *sheet.Pages, paper sheet.Paper) {
	p.Need(paper.Height)
	p.Heading("Words", 1)
	for _, t := range Glossary {
		p.Text(sheet.SetSoft, t.Word+": "+t.Means+".")
	}
}
