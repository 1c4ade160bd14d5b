package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"maskloft/geometry"
	"maskloft/layouts"
)

func (d packDiff) print(w io.Writer) {
	for _, line := range d.Job {
		fmt.Fprintf(w, "job: %s\n", printable(line))
	}
	for _, m := range d.Markings {
		fmt.Fprintf(w, "marking %s: %s\n", m.ID, strings.Join(append([]string{m.Change}, m.Details...), "; "))
	}
	for _, p := range d.Paint {
		u := d.units
		fmt.Fprintf(w, "paint %s: %s a coat, %s to mix\n", printable(p.Colour), arrow(u.Area(p.Area[0]), u.Area(p.Area[1])), arrow(u.Volume(p.Mix[0]), u.Volume(p.Mix[1])))
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
	if named := d.papers(); len(named) > 0 {
		fmt.Fprintf(w, "changed beside films: %s\n", printable(strings.Join(named, ", ")))
	}
}

// arrow writes what was and what is, once where both read the same.
func arrow(was, is string) string {
	if was == is {
		return is
	}
	return was + " -> " + is
}

// papers are the files that changed or came, those of a folder as one, without films and
// nests, which are told by their outlines.
func (d packDiff) papers() []string {
	count := map[string]int{}
	for _, name := range slices.Concat(d.FilesOther, d.FilesAdded) {
		if folder, _, deep := strings.Cut(name, "/"); deep {
			name = folder + "/"
		}
		count[name]++
	}
	delete(count, "cut/")
	delete(count, "run/")
	var out []string
	for _, name := range slices.Sorted(maps.Keys(count)) {
		if strings.HasSuffix(name, "/") {
			name = fmt.Sprintf("%s (%d)", name, count[name])
		}
		out = append(out, name)
	}
	return out
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
