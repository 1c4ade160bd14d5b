package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime/debug"
	"slices"
	"strings"

	"maskloft/export/audit"
	"maskloft/export/drawing"
	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/proportions"
	"maskloft/layouts/standards"
)

// foreignMemory bounds the memory in which a file made elsewhere is read and measured, in
// bytes: near it garbage is looked for oftener. What lives is bounded by what is read.
const foreignMemory = 220 << 20

// readForeign reads a drawing made elsewhere.
func readForeign(file string) (drawing.Foreign, error) {
	if debug.SetMemoryLimit(-1) > foreignMemory {
		debug.SetMemoryLimit(foreignMemory)
	}
	data, err := readInput(file, largestDrawing)
	if err != nil {
		return drawing.Foreign{}, err
	}
	format, err := formatOf(file)
	if err != nil {
		return drawing.Foreign{}, err
	}
	f, err := drawing.ReadForeign(data, format)
	if err != nil {
		return drawing.Foreign{}, fmt.Errorf("%s: %w", file, err)
	}
	return f, nil
}

// fileOptions reads what is said of the drawing.
func fileOptions(ctx context.Context, u geometry.Units, size geometry.Length, readings []string) (proportions.Options, error) {
	o := proportions.Options{Size: size, Units: u, Until: ctx}
	for _, text := range readings {
		option, choice, ok := strings.Cut(text, "=")
		if !ok {
			return o, fmt.Errorf("--reading %q: write option=choice, such as bar-length=from-tangent", text)
		}
		o.Picks = append(o.Picks, standards.Pick{Option: option, Choice: choice})
	}
	return o, nil
}

// checkFile looks for every insignia of a rule on every page of a file.
func checkFile(ctx context.Context, sheets layouts.SheetSpec, file, as string, size geometry.Length, text string, readings []string) (checkResult, error) {
	rule, err := standards.Find(as)
	if err != nil {
		return checkResult{}, fmt.Errorf("--as: %w", err)
	}
	o, err := fileOptions(ctx, sheets.Units, size, readings)
	if err != nil {
		return checkResult{}, err
	}
	switch lettering := rule.Lettering != nil; {
	case lettering && text == "":
		return checkResult{}, fmt.Errorf("%s is a rule for lettering: say what the lettering in the file reads, such as --text N123AB", as)
	case !lettering && text != "":
		return checkResult{}, fmt.Errorf("--text: %s is no rule for lettering: leave it out", as)
	}
	f, err := readForeign(file)
	if err != nil {
		return checkResult{}, err
	}
	r := checkResult{title: file, notes: f.Notes, sheets: sheets}
	if rule.Lettering != nil {
		return checkLetters(r, f, rule, text, o)
	}
	var refused error
	for i, page := range f.Pages {
		o.Marking = fmt.Sprintf("page %d", i+1)
		if r.blank(f, i) {
			continue
		}
		drawn := drawnOf(page)
		var found *proportions.Inspection
		if film := filmOf(page); film != nil {
			one, e := proportions.InspectFilm(film, rule, o)
			if err = e; err == nil {
				r.notes, found, drawn = append(r.notes, filmNote(o.Units, o.Marking, one)), one.Inspection, film
			}
		} else {
			found, err = proportions.Inspect(drawn, rule, o)
		}
		var none *proportions.NotRecognised
		if errors.As(err, &none) {
			refused = fmt.Errorf("%s, %s: %w", file, o.Marking, err)
			r.findings = append(r.findings, layouts.Finding{
				Level: layouts.Stop, Rule: proportions.ProportionRule, Marking: o.Marking, Message: o.Marking + ": " + geometry.ErrorIn(o.Units, err), Hint: "hold it against the rule it is drawn to: leave --as out to see which",
			})
			continue
		}
		if err != nil {
			return r, fmt.Errorf("%s, %s: %w", file, o.Marking, err)
		}
		if err := r.inspected(found, drawn, rule, o); err != nil {
			return r, err
		}
	}
	if len(r.checked) == 0 && refused != nil {
		return r, refused
	}
	r.counted = true
	return r, nil
}

// blank tells whether nothing is drawn on a page of several; a file of blank pages has one
// that is looked at, and is found to lack everything.
func (r *checkResult) blank(f drawing.Foreign, page int) bool {
	drawn := slices.IndexFunc(f.Pages, func(d drawing.Drawing) bool { return len(d.Layers) > 0 })
	if len(f.Pages[page].Layers) > 0 || page == max(0, drawn) {
		return false
	}
	r.notes = append(r.notes, fmt.Sprintf("page %d: nothing is drawn on it", page+1))
	return true
}

// filmOf returns the outlines that a film of this program cuts; nil where the page is
// none: its layers are those of cut files, and nothing is filled.
func filmOf(page drawing.Drawing) []proportions.Drawn {
	var out []proportions.Drawn
	marks := false
	for _, l := range page.Layers {
		name := strings.ToLower(l.Name) // DXF knows capitals alone
		marks = marks || name == sheet.LayerRegistration
		for _, it := range l.Items {
			if it.Paint.Fill != "" {
				return nil
			}
			if name == sheet.LayerCut {
				out = append(out, proportions.Drawn{Name: it.Name, Path: it.Path})
			}
		}
	}
	if !marks {
		return nil
	}
	return out
}

// filmNote says that a page is one film of several.
func filmNote(u geometry.Units, page string, f *proportions.Film) string {
	s := fmt.Sprintf("%s: it is a film to cut: one paint of several, %s; the other paints are not checked", page, strings.ReplaceAll(f.Paint, "_", " "))
	if f.Slack > 0 {
		s += u.Sprintf("; it runs under paints sprayed later, so that its edges are held to within %v alone", f.Slack)
	}
	return s
}

// checkLetters holds the lettering of each page against a rule.
func checkLetters(r checkResult, f drawing.Foreign, rule *standards.Rule, text string, o proportions.Options) (checkResult, error) {
	for i, page := range f.Pages {
		o.Marking = fmt.Sprintf("page %d", i+1)
		drawn := drawnOf(page)
		checks, err := proportions.DrawnText(drawn, text, rule, o)
		if err != nil {
			return r, fmt.Errorf("%s, %s: %w", r.title, o.Marking, err)
		}
		var regions []layouts.Region
		for _, d := range drawn {
			regions = append(regions, layouts.Region{Colour: d.Fill, Outline: d.Path})
		}
		r.checked = append(r.checked, checkedInsignia{id: o.Marking, rule: rule, checks: checks, regions: regions, hex: func(hex string) string { return hex }})
		r.findings = append(r.findings, proportions.Findings(o.Units, checks)...)
	}
	return r, nil
}

// inspected adds the insignia found on a page.
func (r *checkResult) inspected(found *proportions.Inspection, drawn []proportions.Drawn, rule *standards.Rule, o proportions.Options) error {
	page := o.Marking
	sound := true
	for k, rec := range found.Found {
		id := page
		if len(found.Found) > 1 {
			id = fmt.Sprintf("%s, insignia %d", page, k+1)
		}
		for i := range rec.Checks {
			c := &rec.Checks[i]
			c.Marking = id
			if cause, known := audit.CauseOf(c.Ratio, c.Ratio); c.Name == "size" && c.Verdict != proportions.Conforms && known {
				c.Hint = cause.Text + ": " + cause.Fix
			}
		}
		list := proportions.Findings(o.Units, rec.Checks)
		for _, f := range list {
			sound = sound && f.Level == layouts.Note
		}
		x := checkedInsignia{id: id, rule: rule, checks: rec.Checks, hex: func(hex string) string { return hex }, over: rec}
		x.regions = drawnRegions(drawn, rec)
		r.checked = append(r.checked, x)
		r.findings = append(r.findings, list...)
	}
	for _, text := range found.Beside {
		r.findings = append(r.findings, layouts.Finding{
			Level: layouts.Stop, Rule: proportions.ProportionRule, Marking: page, Message: fmt.Sprintf("%s: also on the page: %s", page, text), Hint: "check it by itself with the rule that it follows, or take it off the page",
		})
	}
	if found.Colours {
		return nil
	}
	if found.Film {
		return nil
	}
	r.notes = append(r.notes, page+": colours not checked: the drawing has no fills that tell its parts apart")
	if !sound {
		return nil
	}
	list, _, err := proportions.Rank(drawn, proportions.Options{Until: o.Until})
	if err != nil {
		return err
	}
	var alike []string
	for _, c := range list {
		if c.Sound && c.Rule != rule && c.Claimed > 0.97*found.Found[0].Claimed {
			alike = append(alike, ruleID(c.Rule))
		}
	}
	if len(alike) > 0 {
		r.notes = append(r.notes, fmt.Sprintf("%s: by its outline alone it is as well %s", page, strings.Join(alike, ", ")))
	}
	return nil
}

// Strokes: a line so wide, of the extent of its path, is paint and no outline. So many are
// made areas; others are measured along their middle, which is told.
const (
	strokeIsArea  = 0.01
	mostStroked   = 2000 // segments of one file
	mostSelfCross = 1000 // times that one path may cross itself, by its length: n lines thrown on an area cross about (sum of lengths)^2 / (pi x area) times
)

// strokes tells which wide lines are made areas.
type strokes struct{ left int }

// take tells whether a path's line is to be made an area.
func (s *strokes) take(p geometry.Path) bool {
	box := p.Bounds()
	n, length := 0, 0.0
	for _, c := range p {
		n += len(c.Segments)
		for i, g := range c.Segments {
			length += c.From(i).Dist(g.End)
		}
	}
	if area := box.Width() * box.Height(); n > s.left || length*length > mostSelfCross*math.Pi*area && n > 8 {
		return false
	}
	s.left -= n
	return true
}

// drawnOf returns what a page paints. Wide lines on filled paths, and wide lines in a
// drawing that has fills, are areas.
func drawnOf(page drawing.Drawing) []proportions.Drawn {
	filled := false
	for _, l := range page.Layers {
		for _, it := range l.Items {
			filled = filled || it.Paint.Fill != "" && it.Paint.Stroke == ""
		}
	}
	var out []proportions.Drawn
	wide := strokes{mostStroked}
	for _, it := range page.Joined() {
		d := proportions.Drawn{Name: it.Name, Path: it.Path, Fill: it.Paint.Fill, EvenOdd: it.Paint.EvenOdd, Stroke: it.Paint.Stroke, Width: geometry.Length(it.Paint.Width)}
		box := it.Path.Bounds()
		extent := math.Max(box.Width(), box.Height())
		if d.Stroke == "" || it.Paint.Width < strokeIsArea*extent || d.Fill == "" && !filled {
			out = append(out, d)
			continue
		}
		if d.Fill != "" {
			d.Stroke, d.Width = "", 0
			out = append(out, d)
		}
		var area geometry.Path
		var err error
		small := wide.take(it.Path)
		if small {
			area, err = sheet.StrokeArea(it.Path, it.Paint.Width)
		}
		if err != nil || !small { // then it is measured along its middle, as a thin line
			out = append(out, proportions.Drawn{Name: it.Name, Path: it.Path, Stroke: it.Paint.Stroke, Width: geometry.Length(it.Paint.Width)})
			continue
		}
		out = append(out, proportions.Drawn{Name: it.Name, Path: area, Fill: it.Paint.Stroke, EvenOdd: true})
	}
	return out
}

// drawnRegions returns the outlines of a drawing at an insignia, for its picture: those
// that touch it and do not reach beyond it by more than its governing radius, as its
// neighbours, frames and grounds do.
func drawnRegions(drawn []proportions.Drawn, rec *proportions.Recognition) []layouts.Region {
	radius := rec.Radius.Inches()
	near := geometry.Rect{Min: rec.Centre, Max: rec.Centre}.Grown(radius)
	for _, l := range rec.Outlines {
		near = near.Union(geometry.BoundsOf(l...))
	}
	most := near.Grown(radius)
	var out []layouts.Region
	for _, d := range drawn {
		var path geometry.Path
		for _, c := range d.Path {
			box := c.Bounds()
			if box.Touches(near, 0) && most.Contains(box.Min) && most.Contains(box.Max) && (c.Closed() || d.Fill != "") {
				path = append(path, c)
			}
		}
		if len(path) > 0 {
			out = append(out, layouts.Region{Colour: d.Fill, Outline: path})
		}
	}
	return out
}

// whatIsThis ranks the forms that each page of a file fits.
func whatIsThis(ctx context.Context, sheets layouts.SheetSpec, file string, size geometry.Length) (checkResult, error) {
	o, err := fileOptions(ctx, sheets.Units, size, nil)
	if err != nil {
		return checkResult{}, err
	}
	f, err := readForeign(file)
	if err != nil {
		return checkResult{}, err
	}
	r := checkResult{title: file, notes: f.Notes, ranked: true, sheets: sheets}
	for i, page := range f.Pages {
		name := fmt.Sprintf("page %d", i+1)
		if r.blank(f, i) {
			continue
		}
		if filmOf(page) != nil {
			r.notes = append(r.notes, name+": it is a film to cut: one paint of several; say with --as which form it is of")
		}
		list, colours, err := proportions.Rank(drawnOf(page), o)
		if err != nil {
			return r, fmt.Errorf("%s, %s: %w", file, name, err)
		}
		if !colours {
			r.notes = append(r.notes, name+": colours not checked: the drawing has no fills that tell its parts apart")
		}
		if len(list) == 0 {
			r.findings = append(r.findings, layouts.Finding{
				Level: layouts.Stop, Rule: proportions.ProportionRule, Marking: name, Message: name + ": it is no form that is known", Hint: "`maskloft rules` lists the forms known; name one with --as to see what it lacks",
			})
		}
		for _, c := range list[:min(len(list), mostCandidates)] {
			if list[0].Sound && !c.Sound {
				continue // what fits is told, not what nearly does
			}
			r.candidates = append(r.candidates, candidate{page: name, Candidate: c})
		}
	}
	return r, nil
}

const mostCandidates = 8

// candidate is a form that a page may be of.
type candidate struct {
	page string
	proportions.Candidate
}

// fits says how well a form fits.
func (c candidate) fits() string {
	if c.Sound {
		return "fits"
	}
	var list []string
	for _, x := range c.Checks {
		if x.Verdict == proportions.Unexplained && len(list) < 3 {
			s := x.Said
			if s == "" {
				s = x.What
			}
			if x.Part != "" && !strings.Contains(s, x.Part) {
				s = x.Part + ": " + s
			}
			list = append(list, s)
		}
	}
	return strings.Join(list, "; ")
}

// inForce writes from when to when a form stood, in all its uses.
func inForce(r *standards.Rule) string {
	if s, ok := r.Stood(); ok {
		return s.Text()
	}
	return "not known"
}
