package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/glyphs"
)

// listAlphabets prints the embedded alphabets with their key ratios and sources.
func listAlphabets(w io.Writer) error {
	for _, name := range glyphs.Names() {
		a, err := glyphs.Load(name)
		if err != nil {
			return err
		}
		s, err := a.Specimen(1)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "%s: %s\n", s.Name, s.Title)
		for _, r := range s.Rows[:min(5, len(s.Rows))] {
			fmt.Fprintf(w, "  %-20s %s\n", r.What, r.Value)
		}
		fmt.Fprintf(w, "  %-20s %s\n", "source", s.Source)
	}
	fmt.Fprintln(w, "\nSee one with: maskloft rules --specimen NAME -o DIR; a file of your own ends in .yaml, a font in .ttf, .otf or .ttc#1.")
	return nil
}

// drawSpecimen writes the specimen sheet of an embedded alphabet, of a file of ratios
// or of a font.
func drawSpecimen(w io.Writer, name, dir, paper string) error {
	on, err := sheet.ParsePaper(paper)
	if err != nil {
		return fmt.Errorf("--paper: %w", err)
	}
	if dir == "" {
		return fmt.Errorf("--specimen %s: say where to write it: -o DIR", name)
	}
	var sheets []sheet.Sheet
	switch {
	case glyphs.IsFontFile(name):
		data, err := readInput(glyphs.FontFile(name), largestFont)
		if err != nil {
			return err
		}
		f, err := glyphs.ParseFont(filepath.Base(name), data)
		if err != nil {
			return err
		}
		sheets = export.SpecimenOfFont(on, filepath.Base(name), f)
	default:
		var a *glyphs.Alphabet
		if strings.EqualFold(filepath.Ext(name), ".yaml") {
			a, err = glyphs.LoadFile(name)
		} else {
			a, err = glyphs.Load(name)
		}
		if err != nil {
			return err
		}
		if sheets, err = export.SpecimenSheet(on, a); err != nil {
			return err
		}
	}
	file := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)) + "-specimen.pdf"
	f, err := document(file, "Specimen of "+filepath.Base(name), sheets)
	if err != nil {
		return err
	}
	if err := writeFolder(dir, func() ([]packFile, error) { return []packFile{f}, nil }); err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "written to %s: %s\n", printable(dir), file)
	return err
}
