package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/layouts"
)

// unitsFlag is what people read lengths in.
type unitsFlag geometry.Units

func (f *unitsFlag) String() string { return string(*f) }
func (f *unitsFlag) Type() string   { return "in|mm" }
func (f *unitsFlag) Set(s string) error {
	switch u := geometry.Units(strings.ToLower(strings.TrimSpace(s))); u {
	case geometry.ReadInches, geometry.ReadMillimetres:
		*f = unitsFlag(u)
		return nil
	}
	return fmt.Errorf("%q is no unit of sheets: write in or mm", s)
}

// paperFlag is the paper of what is printed.
type paperFlag layouts.PaperName

func (f *paperFlag) String() string { return string(*f) }
func (f *paperFlag) Type() string   { return "letter|a4" }
func (f *paperFlag) Set(s string) error {
	p, err := sheet.ParsePaper(s)
	if err == nil {
		*f = paperFlag(strings.ToLower(p.Name))
	}
	return err
}

// addUnits gives a verb the option of its units; what it says goes over the layout's.
func addUnits(c *cobra.Command) {
	c.Flags().Var(new(unitsFlag), "units", "unit of lengths, in or mm (mm goes on A4 unless a paper is given); if left out, as sheets: of the layout")
}

// addPaper gives a verb the option of its paper.
func addPaper(c *cobra.Command, of string) {
	c.Flags().Var(new(paperFlag), "paper", "paper of "+of+": letter or a4; if left out, as sheets: of the layout")
}

// chooseSheets puts what the options say in the place of what the layout says.
func chooseSheets(flags *pflag.FlagSet, spec *layouts.Spec) {
	if f := flags.Lookup("units"); f != nil && f.Changed {
		u := geometry.Units(f.Value.String())
		spec.Sheets = spec.Sheets.In(u)
		if usual := layouts.UsualTape(); u.Metric() {
			spec.Tape = spec.Tape.Metric()
		} else if spec.Tape.Units != usual.Units {
			spec.Tape.Units, spec.Tape.Reading = usual.Units, usual.Reading
		}
	}
	if f := flags.Lookup("paper"); f != nil && f.Changed {
		if _, ok := f.Value.(*paperFlag); ok {
			spec.Sheets.Paper = layouts.PaperName(f.Value.String())
		}
	}
}

// keepUnits keeps the units of the sheets of a layout for [unitsOf].
func keepUnits(c *cobra.Command, spec *layouts.Spec) {
	if f, ok := c.Flags().Lookup("units").Value.(*unitsFlag); ok {
		*f = unitsFlag(spec.Sheets.Units)
	}
}

// unitsOf are the units of the sheets that a verb worked on.
func unitsOf(c *cobra.Command) geometry.Units {
	if f := c.Flags().Lookup("units"); f != nil {
		return geometry.Units(f.Value.String())
	}
	return geometry.ReadInches
}

// sheetsOf are the sheets of a verb that reads no layout.
func sheetsOf(c *cobra.Command) layouts.SheetSpec {
	spec := layouts.Spec{Sheets: layouts.SheetsIn(geometry.ReadInches)}
	chooseSheets(c.Flags(), &spec)
	return spec.Sheets
}

// paperOf is the paper of a layout's sheets.
func paperOf(spec *layouts.Spec) sheet.Paper {
	if spec.Sheets.Paper == layouts.A4Paper {
		return sheet.A4
	}
	return sheet.Letter
}
