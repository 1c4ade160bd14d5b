package main

import (
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/geometry"
)

func diffCommand(out io.Writer) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "diff OLD-PACK NEW-PACK",
		Short: "what changed from one pack to another, and which films to cut anew",
		Long: `Hold a pack against an earlier one of the same job: markings that came, went or
moved, paint, points of the tape list that read otherwise, findings, and film by film
whether it is to be cut anew. A film is told by the outlines that the knife follows, in steps of 0.0005 in:
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
	Job         []string        `json:"job"`      // what of its head changed
	Markings    []markingDiff   `json:"markings"` // those that came, went or changed
	Paint       []paintDiff     `json:"paint"`
	Tapes       int             `json:"tape_points_changed"` // points of the tape list that read otherwise, came or went
	Points      int             `json:"tape_points"`         // of the new tape list
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
	units       geometry.Units  // of the new pack
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
		Job: []string{}, Markings: []markingDiff{}, Paint: []paintDiff{}, Found: []ReportFinding{}, Gone: []ReportFinding{},
		CutAnew: []filmDiff{}, Renamed: []filmDiff{}, Same: []filmDiff{}, NotNeeded: []filmDiff{},
		FilesOther: []string{}, FilesAdded: []string{}, FilesAbsent: []string{}, units: now.units,
	}
	d.files(old.sums, now.sums)
	if d.RunChanged { // its names and its title may be others alone
		was, err := old.runOutlines(oldDir)
		if err != nil {
			return packDiff{}, err
		}
		is, err := now.runOutlines(newDir)
		if err != nil {
			return packDiff{}, err
		}
		d.RunChanged = !slices.Equal(was, is)
	}
	d.head(old.report, now.report)
	d.films(old.films, now.films)
	d.markings(old.report.Markings, now.report.Markings)
	d.points(old.rows, now.rows)
	d.paint(old.report.Paint, now.report.Paint)
	sameUnits := old.units.Metric() == now.units.Metric()
	d.Found, d.Gone = without(now.report.Findings, old.report.Findings, sameUnits), without(old.report.Findings, now.report.Findings, sameUnits)
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
		} else if details := markingDetails(d.units, was, m); len(details) > 0 {
			d.Markings = append(d.Markings, markingDiff{m.ID, "changed", details})
		}
	}
	for _, m := range old {
		if !after[m.ID] {
			d.Markings = append(d.Markings, markingDiff{m.ID, "gone", []string{}})
		}
	}
}

// head says what changed of the head of a job.
func (d *packDiff) head(a, b Report) {
	for _, w := range [][3]string{{"name", a.Name, b.Name}, {"aircraft", a.Aircraft, b.Aircraft}, {"frame", a.Frame, b.Frame}, {"id", a.Job, b.Job}} {
		if w[1] != w[2] {
			d.Job = append(d.Job, w[0]+" "+quotedOr(w[1])+" -> "+quotedOr(w[2]))
		}
	}
}

func quotedOr(text string) string {
	if text == "" {
		return "none"
	}
	return `"` + text + `"`
}

// markingDetails says in words what of a marking changed, lengths in the unit of the
// sheets.
func markingDetails(u geometry.Units, a, b ReportMarking) []string {
	var out []string
	word := func(name, x, y string) {
		if x != y {
			out = append(out, name+" "+x+" -> "+y)
		}
	}
	number := func(name string, x, y float64, unit string) {
		if x, y := geometry.FormatNumber(x, 3), geometry.FormatNumber(y, 3); x != y {
			word(name, x, y+unit)
		}
	}
	length := func(name string, x, y float64) {
		if geometry.FormatNumber(x, 3) != geometry.FormatNumber(y, 3) {
			word(name, u.Number(geometry.Length(x), 3), u.Length(geometry.Length(y), 3))
		}
	}
	word("surface", a.Surface, b.Surface)
	word("lengths true", a.True, b.True)
	length("FS", a.Anchor.FS, b.Anchor.FS)
	length("BL", a.Anchor.BL, b.Anchor.BL)
	length("WL", a.Anchor.WL, b.Anchor.WL)
	length("height on the skin", a.SkinHeight, b.SkinHeight)
	length("height from the side", a.SideHeight, b.SideHeight)
	if geometry.FormatNumber(a.Area, 3) != geometry.FormatNumber(b.Area, 3) {
		word("area", u.SmallArea(a.Area, 2), u.SmallArea(b.Area, 2))
	}
	word("way", a.Way, b.Way)
	word("paints in order", paintsOf(a), paintsOf(b))
	length("trap", a.Trap, b.Trap)
	number("squeezed", 100*a.Strain.Compression, 100*b.Strain.Compression, " %")
	number("stretched", 100*a.Strain.Tension, 100*b.Strain.Tension, " %")
	number("passes", float64(len(a.Masks)), float64(len(b.Masks)), "")
	number("films", float64(tilesOf(a)), float64(tilesOf(b)), "")
	return out
}

// paintsOf are the paints of a marking in the order that they are sprayed in.
func paintsOf(m ReportMarking) string {
	var names []string
	for _, k := range m.Masks {
		names = append(names, k.Colour)
	}
	return strings.Join(names, ", ")
}

func tilesOf(m ReportMarking) int {
	n := 0
	for _, k := range m.Masks {
		n += len(k.Tiles)
	}
	return n
}

// points counts the points of the tape list that a person reads otherwise.
func (d *packDiff) points(old, now map[string]string) {
	d.Points = len(now)
	for id, rows := range now {
		if old[id] != rows {
			d.Tapes++
		}
	}
	for id := range old {
		if _, kept := now[id]; !kept {
			d.Tapes++
		}
	}
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

// without returns the findings of a list that another does not have. Where the sentences
// of both are in different units, they are told by their place.
func without(list, other []ReportFinding, sameUnits bool) []ReportFinding {
	out := []ReportFinding{}
	for _, f := range list {
		if !slices.ContainsFunc(other, func(o ReportFinding) bool {
			same := o.Message == f.Message
			if !sameUnits {
				same = o.Place == f.Place
			}
			return o.Level == f.Level && o.Rule == f.Rule && o.Marking == f.Marking && same
		}) {
			out = append(out, f)
		}
	}
	return out
}
