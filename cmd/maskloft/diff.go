package main

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export/audit"
	"maskloft/geometry"
	"maskloft/layouts"
)

func diffCommand(out io.Writer) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "diff OLD-PACK NEW-PACK",
		Short: "what changed from one pack to another, and which films to cut anew",
		Long: `Hold a pack against an earlier one of the same job: markings that came, went or
moved, paint, tapes that read otherwise, findings, and film by film whether it is to be
cut anew. A film is told by the outlines that the knife follows, in steps of 0.0005 in:
one that is cut already serves, also under another name or number. Both packs must be as
they were written.

Exit codes: 0 nothing changed, 1 something did, 2 could not run.`,
		Example: "  maskloft diff pack-july pack-august",
		Args:    arguments(2, 2, "the folders of two packs"),
		RunE: func(_ *cobra.Command, args []string) error {
			d, err := comparePacks(args[0], args[1])
			if err != nil {
				return err
			}
			if asJSON {
				err = writeJSON(out, d)
			} else {
				d.print(out)
			}
			if err == nil && d.changed() {
				err = errStop
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

// packDiff is what diff --json prints.
type packDiff struct {
	Markings    []markingDiff   `json:"markings"` // those that came, went or changed
	Paint       []paintDiff     `json:"paint"`
	Tapes       int             `json:"tape_points_changed"` // points whose tapes read otherwise, or that came or went
	Points      int             `json:"tape_points"`
	Found       []ReportFinding `json:"findings_new"`
	Gone        []ReportFinding `json:"findings_gone"`
	CutAnew     []filmDiff      `json:"films_to_cut"`
	Renamed     []filmDiff      `json:"films_renamed"` // cut already under another name
	Same        []filmDiff      `json:"films_same"`
	NotNeeded   []filmDiff      `json:"films_not_needed"`
	RunChanged  bool            `json:"run_changed"`
	FilesSame   int             `json:"files_same"`
	FilesOther  []string        `json:"files_changed"`
	FilesAdded  []string        `json:"files_added"`
	FilesAbsent []string        `json:"files_gone"`
}

type markingDiff struct {
	ID      string   `json:"id"`
	Change  string   `json:"change"` // new, gone or changed
	Details []string `json:"details"`
}

type paintDiff struct {
	Colour string     `json:"colour"`
	Area   [2]float64 `json:"area_ft2"`     // old, new
	Mix    [2]float64 `json:"mix_us_fl_oz"` // old, new
}

// filmDiff is one film; of the old pack where it is no longer needed.
type filmDiff struct {
	ID     string `json:"id"`
	Number int    `json:"number"` // in the run
	SVG    string `json:"svg"`
	Sum    string `json:"outlines_sha256"`
	Was    string `json:"was,omitempty"` // its name in the old pack
}

func (d packDiff) changed() bool {
	return len(d.FilesOther)+len(d.FilesAdded)+len(d.FilesAbsent) > 0
}

// packRead is a pack read for comparing.
type packRead struct {
	sums   map[string]string
	report Report
	films  []filmDiff
}

func readPack(dir string) (packRead, error) {
	p := packRead{}
	var err error
	if p.sums, err = audit.PackSums(dir); err != nil {
		return p, err
	}
	data, err := os.ReadFile(filepath.Join(dir, "report.json"))
	if err == nil {
		err = json.Unmarshal(data, &p.report)
	}
	if err != nil {
		return p, fmt.Errorf("%s: it has no report that can be read: %w", dir, err)
	}
	number := map[string]int{}
	for _, f := range p.report.Film.Placed {
		number[f.ID] = f.Number
	}
	for _, m := range p.report.Markings {
		for _, k := range m.Masks {
			for _, t := range k.Tiles {
				sum, err := audit.FilmSum(dir, t.PDF)
				if err != nil {
					return p, fmt.Errorf("%s: %w", dir, err)
				}
				p.films = append(p.films, filmDiff{ID: t.ID, Number: number[t.ID], SVG: t.SVG, Sum: sum})
			}
		}
	}
	return p, nil
}

// comparePacks reads two packs and tells them apart.
func comparePacks(oldDir, newDir string) (packDiff, error) {
	old, err := readPack(oldDir)
	if err != nil {
		return packDiff{}, err
	}
	now, err := readPack(newDir)
	if err != nil {
		return packDiff{}, err
	}
	d := packDiff{
		Markings: []markingDiff{}, Paint: []paintDiff{}, Found: []ReportFinding{}, Gone: []ReportFinding{},
		CutAnew: []filmDiff{}, Renamed: []filmDiff{}, Same: []filmDiff{}, NotNeeded: []filmDiff{},
		FilesOther: []string{}, FilesAdded: []string{}, FilesAbsent: []string{},
	}
	d.files(old.sums, now.sums)
	d.films(old.films, now.films)
	d.markings(old.report.Markings, now.report.Markings)
	d.points(old.report.Checkpoints, now.report.Checkpoints)
	d.paint(old.report.Paint, now.report.Paint)
	d.Found, d.Gone = without(now.report.Findings, old.report.Findings), without(old.report.Findings, now.report.Findings)
	return d, nil
}

func (d *packDiff) files(old, now map[string]string) {
	for _, name := range slices.Sorted(maps.Keys(now)) {
		switch sum, known := old[name]; {
		case !known:
			d.FilesAdded = append(d.FilesAdded, name)
		case sum != now[name]:
			d.FilesOther = append(d.FilesOther, name)
		default:
			d.FilesSame++
			continue
		}
		d.RunChanged = d.RunChanged || strings.HasPrefix(name, "run/")
	}
	for _, name := range slices.Sorted(maps.Keys(old)) {
		if _, kept := now[name]; !kept {
			d.FilesAbsent = append(d.FilesAbsent, name)
			d.RunChanged = d.RunChanged || strings.HasPrefix(name, "run/")
		}
	}
}

// films gives each film of the new pack the film of the old one that is cut the same:
// that of its own name first, then any that no other took.
func (d *packDiff) films(old, now []filmDiff) {
	bySum, byID := map[string][]int{}, map[string]int{}
	for i, f := range old {
		bySum[f.Sum], byID[f.ID] = append(bySum[f.Sum], i), i
	}
	used := make([]bool, len(old))
	var rest []filmDiff
	for _, f := range now {
		if i, ok := byID[f.ID]; ok && old[i].Sum == f.Sum {
			used[i] = true
			d.Same = append(d.Same, f)
			continue
		}
		rest = append(rest, f)
	}
	for _, f := range rest {
		free := slices.IndexFunc(bySum[f.Sum], func(i int) bool { return !used[i] })
		if free < 0 {
			d.CutAnew = append(d.CutAnew, f)
			continue
		}
		i := bySum[f.Sum][free]
		used[i] = true
		f.Was = old[i].ID
		d.Renamed = append(d.Renamed, f)
	}
	for i, f := range old {
		if !used[i] {
			d.NotNeeded = append(d.NotNeeded, f)
		}
	}
	for _, list := range [][]filmDiff{d.CutAnew, d.Renamed, d.Same, d.NotNeeded} {
		slices.SortStableFunc(list, func(a, b filmDiff) int { return a.Number - b.Number })
	}
}

func (d *packDiff) markings(old, now []ReportMarking) {
	before := map[string]ReportMarking{}
	for _, m := range old {
		before[m.ID] = m
	}
	after := map[string]bool{}
	for _, m := range now {
		after[m.ID] = true
		was, known := before[m.ID]
		if !known {
			d.Markings = append(d.Markings, markingDiff{m.ID, "new", []string{}})
		} else if details := markingDetails(was, m); len(details) > 0 {
			d.Markings = append(d.Markings, markingDiff{m.ID, "changed", details})
		}
	}
	for _, m := range old {
		if !after[m.ID] {
			d.Markings = append(d.Markings, markingDiff{m.ID, "gone", []string{}})
		}
	}
}

// markingDetails says in words what of a marking changed.
func markingDetails(a, b ReportMarking) []string {
	var out []string
	number := func(name string, x, y float64, unit string) {
		if x, y := geometry.FormatNumber(x, 3), geometry.FormatNumber(y, 3); x != y {
			out = append(out, name+" "+x+" -> "+y+unit)
		}
	}
	word := func(name, x, y string) {
		if x != y {
			out = append(out, name+" "+x+" -> "+y)
		}
	}
	word("surface", a.Surface, b.Surface)
	word("lengths true", a.True, b.True)
	number("FS", a.Anchor.FS, b.Anchor.FS, " in")
	number("BL", a.Anchor.BL, b.Anchor.BL, " in")
	number("WL", a.Anchor.WL, b.Anchor.WL, " in")
	number("height on the skin", a.SkinHeight, b.SkinHeight, " in")
	number("height from the side", a.SideHeight, b.SideHeight, " in")
	number("area", a.Area, b.Area, " in2")
	word("way", a.Way, b.Way)
	number("trap", a.Trap, b.Trap, " in")
	number("squeezed", 100*a.Strain.Compression, 100*b.Strain.Compression, " %")
	number("stretched", 100*a.Strain.Tension, 100*b.Strain.Tension, " %")
	number("passes", float64(len(a.Masks)), float64(len(b.Masks)), "")
	number("films", float64(tilesOf(a)), float64(tilesOf(b)), "")
	return out
}

func tilesOf(m ReportMarking) int {
	n := 0
	for _, k := range m.Masks {
		n += len(k.Tiles)
	}
	return n
}

func (d *packDiff) points(old, now []ReportCheckpoint) {
	text := func(c ReportCheckpoint) string {
		s := geometry.FormatNumber(c.Skin.FS, 3) + geometry.FormatNumber(c.Skin.WL, 3)
		for _, t := range c.Tapes {
			s += t.From + geometry.FormatNumber(t.Length, 2) + t.Kind
		}
		if c.Closure != nil {
			s += c.Closure.From + geometry.FormatNumber(c.Closure.Length, 2)
		}
		return s
	}
	before := map[string]string{}
	for _, c := range old {
		before[c.ID] = text(c)
	}
	d.Points = len(now)
	for _, c := range now {
		if before[c.ID] != text(c) {
			d.Tapes++
		}
		delete(before, c.ID)
	}
	d.Tapes += len(before)
}

func (d *packDiff) paint(old, now []ReportPaint) {
	before := map[string]ReportPaint{}
	for _, p := range old {
		before[p.Colour] = p
	}
	add := func(colour string, a, b ReportPaint) {
		if geometry.FormatNumber(a.Area, 2) != geometry.FormatNumber(b.Area, 2) || geometry.FormatNumber(a.Mix, 0) != geometry.FormatNumber(b.Mix, 0) {
			d.Paint = append(d.Paint, paintDiff{colour, [2]float64{a.Area, b.Area}, [2]float64{a.Mix, b.Mix}})
		}
	}
	for _, p := range now {
		add(p.Colour, before[p.Colour], p)
		delete(before, p.Colour)
	}
	for _, p := range old {
		if _, gone := before[p.Colour]; gone {
			add(p.Colour, p, ReportPaint{})
		}
	}
}

// without returns the findings of a list that another does not have.
func without(list, other []ReportFinding) []ReportFinding {
	out := []ReportFinding{}
	for _, f := range list {
		if !slices.ContainsFunc(other, func(o ReportFinding) bool {
			return o.Level == f.Level && o.Rule == f.Rule && o.Marking == f.Marking && o.Message == f.Message
		}) {
			out = append(out, f)
		}
	}
	return out
}

func (d packDiff) print(w io.Writer) {
	for _, m := range d.Markings {
		fmt.Fprintf(w, "marking %s: %s\n", m.ID, strings.Join(append([]string{m.Change}, m.Details...), "; "))
	}
	for _, p := range d.Paint {
		fmt.Fprintf(w, "paint %s: %.2f -> %.2f ft2 a coat, %.0f -> %.0f US fl oz to mix\n", printable(p.Colour), p.Area[0], p.Area[1], p.Mix[0], p.Mix[1])
	}
	if d.Tapes > 0 {
		fmt.Fprintf(w, "tape list: %s read otherwise, of %d: print it anew\n", geometry.Counted(d.Tapes, "point"), d.Points)
	}
	printFound(w, "new", d.Found)
	printFound(w, "gone", d.Gone)
	list := func(head string, films []filmDiff) {
		if len(films) == 0 {
			return
		}
		fmt.Fprintf(w, "\n%s\n", head)
		for _, f := range films {
			was := ""
			if f.Was != "" {
				was = ", was " + f.Was
			}
			fmt.Fprintf(w, "  %3d  %s%s\n", f.Number, f.ID, was)
		}
	}
	list("to cut anew, by number in the new run:", d.CutAnew)
	list("cut already under another name:", d.Renamed)
	list("no longer needed, by number in the old run:", d.NotNeeded)
	run := "the run is as it was"
	if d.RunChanged {
		run = "the run is laid otherwise: cut the films above one by one, or the new run whole"
	}
	fmt.Fprintf(w, "\nfilms: %d to cut anew, %d cut already; %s\n", len(d.CutAnew), len(d.Same)+len(d.Renamed), run)
	fmt.Fprintf(w, "files: %d as they were, %d changed, %d new, %d gone\n", d.FilesSame, len(d.FilesOther), len(d.FilesAdded), len(d.FilesAbsent))
}

// printFound prints findings that came or went, and counts the notes among them.
func printFound(w io.Writer, how string, findings []ReportFinding) {
	notes := 0
	for _, f := range findings {
		if f.Level == string(layouts.Note) {
			notes++
			continue
		}
		fmt.Fprintf(w, "%s %s: %s: %s\n", how, f.Level, layouts.KindOf(f.Rule), printable(f.Message))
	}
	if notes > 0 {
		fmt.Fprintf(w, "%s: %s\n", how, geometry.Counted(notes, "note"))
	}
}
