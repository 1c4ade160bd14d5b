package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export/audit"
	"maskloft/export/drawing"
	"maskloft/geometry"
)

func auditCommand(out io.Writer) *cobra.Command {
	var against, tile string
	var asJSON bool
	c := &cobra.Command{
		Use:   "audit DIR | audit FILE --against DIR",
		Short: "measure a pack, or a file that the sign shop sent back",
		Long: `Measure a pack as it stands in its folder: every file against its checksum, every
cut file and nest in its three forms, outlines closed, none crossing another, the
windows that check the size as far apart as they should be.

With --against, measure a file that the shop sent back (SVG, PDF or DXF) against the cut
file it was made from, in this order: size along and up with the likely cause, mirror,
turn, an offset all round, outlines simplified, pieces moved, missing, added, doubled,
opened or welded. The cut file is found by its outlines; --tile names it. Lengths are in
the unit that the pack was written in.

Exit codes: 0 the same, 1 it differs, 2 could not run.`,
		Example: "  maskloft audit maskloft-pack\n  maskloft audit from-the-shop.pdf --against maskloft-pack",
		Args:    arguments(1, 1, "a folder or a file"),
		RunE: func(_ *cobra.Command, args []string) error {
			if against == "" {
				if tile != "" {
					return errors.New("--tile goes with --against DIR")
				}
				return auditPack(out, args[0], asJSON)
			}
			return auditReturned(out, args[0], against, tile, asJSON)
		},
	}
	c.Flags().StringVar(&against, "against", "", "folder of the pack that was sent")
	c.Flags().StringVar(&tile, "tile", "", "name of the tile that the file is of; else the one it resembles most")
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

// packReport is what audit DIR --json prints.
type packReport struct {
	Files    int               `json:"files"`
	Cut      []packReportEntry `json:"cut"`
	Problems []string          `json:"problems"`
}

type packReportEntry struct {
	Name     string  `json:"name"`
	Width    float64 `json:"page_width_in"`
	Height   float64 `json:"page_height_in"`
	Contours int     `json:"contours"`
	Nodes    int     `json:"nodes"`
	Area     float64 `json:"sheet_in2"`
	Windows  int     `json:"registration_windows"`
	SizeX    float64 `json:"size_along_in"` // of the windows that check the size; 0: it has none
	SizeY    float64 `json:"size_up_in"`
	Apart    float64 `json:"svg_to_pdf_in"`
	Arcs     float64 `json:"svg_to_dxf_in"`
}

func auditPack(out io.Writer, dir string, asJSON bool) error {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return fmt.Errorf("%s: it is a file: write audit %s --against DIR, with the folder of the pack", dir, dir)
	}
	a, err := audit.AuditPack(dir)
	if err != nil {
		return err
	}
	if asJSON {
		r := packReport{Files: a.Files, Cut: []packReportEntry{}, Problems: append([]string{}, a.Problems...)}
		for _, c := range a.Cut {
			r.Cut = append(r.Cut, packReportEntry{c.Name, round6(c.Width), round6(c.Height), c.Contours, c.Nodes, round6(c.Area), c.Windows, round6(c.SizeAlong), round6(c.SizeUp), round9(c.Apart), round9(c.Arcs)})
		}
		if err := writeJSON(out, r); err != nil {
			return err
		}
	} else {
		wide, u := len("cut file"), geometry.ReadInches
		for _, c := range a.Cut {
			u = packUnits(c.Name)
			wide = max(wide, len(strings.TrimPrefix(c.Name, "cut/")))
		}
		fmt.Fprintf(out, "%-*s %15s %8s %7s %6s %10s %9s\n", wide, "cut file", "page, "+u.Word(), "outlines", "windows", "nodes", "sheet, "+u.SmallAreaWord(), "size, "+u.Word())
		for _, c := range a.Cut {
			size := "-"
			if c.SizeAlong > 0 {
				size = u.FixedNumber(geometry.Length(c.SizeAlong), 3) + " " + u.FixedNumber(geometry.Length(c.SizeUp), 3)
			}
			fmt.Fprintf(out, "%-*s %15s %8d %7d %6d %10s %9s\n", wide, strings.TrimPrefix(c.Name, "cut/"), u.FixedNumber(geometry.Length(c.Width), 3)+" x "+u.FixedNumber(geometry.Length(c.Height), 3), c.Contours, c.Windows, c.Nodes, u.FixedSmallArea(c.Area, 2), size)
		}
		for _, p := range a.Problems {
			fmt.Fprintf(out, "problem: %s\n", p)
		}
		fmt.Fprintf(out, "%s, %s measured in SVG, PDF and DXF: %s\n", geometry.Counted(a.Files, "file"), geometry.Counted(len(a.Cut), "cut file"), wholeOr(len(a.Problems)))
	}
	if len(a.Problems) > 0 {
		return errStop
	}
	return nil
}

func wholeOr(problems int) string {
	if problems == 0 {
		return "all as they were written"
	}
	return geometry.Counted(problems, "problem")
}

// returnedReport is what audit FILE --json prints, a page.
type returnedReport struct {
	Page      int           `json:"page"`
	Tile      string        `json:"tile"`
	Along     float64       `json:"size_along"`
	Up        float64       `json:"size_up"`
	Turned    float64       `json:"turned_deg"`
	Mirrored  bool          `json:"mirrored"`
	Offset    float64       `json:"offset_in"`
	Outlines  int           `json:"outlines_found"`
	Deviation float64       `json:"deviation_in"`
	Faults    []faultReport `json:"faults"`
	Notes     []string      `json:"notes"`
}

type faultReport struct {
	Kind     string `json:"kind"`
	Message  string `json:"message"`
	Hint     string `json:"hint"`
	Harmless bool   `json:"harmless,omitempty"`
	fault    audit.Fault
}

// packUnits are the units that a pack was written in, as the names of its cut files say.
func packUnits(cutFile string) geometry.Units {
	if strings.HasSuffix(cutFile, "mm") {
		return geometry.ReadMillimetres
	}
	return geometry.ReadInches
}

func auditReturned(out io.Writer, file, dir, tile string, asJSON bool) error {
	f, err := readForeign(file)
	if err != nil {
		return err
	}
	format, err := formatOf(file)
	if err != nil {
		return err
	}
	var pages []returnedReport
	faults := 0
	for i, d := range f.Pages {
		name, r, err := audit.BestSent(dir, tile, d, format)
		if err != nil {
			return fmt.Errorf("%s, page %d: %w", file, i+1, err)
		}
		one := returnedReport{Page: i + 1, Tile: name, Along: round6(r.Along), Up: round6(r.Up), Turned: round6(r.Turned), Mirrored: r.Mirrored, Offset: round6(r.Offset),
			Outlines: r.Matched, Deviation: round6(r.Deviation), Faults: []faultReport{}, Notes: append([]string{}, f.Notes...)}
		for _, x := range r.Faults {
			one.Faults = append(one.Faults, faultReport{x.Kind, x.Message, x.Hint, x.Harmless, x})
		}
		if r.Harmed() {
			faults++
		}
		pages = append(pages, one)
	}
	if asJSON {
		if err := writeJSON(out, pages); err != nil {
			return err
		}
	} else {
		for _, p := range pages {
			u := packUnits(p.Tile)
			fmt.Fprintf(out, "page %d is of %s: %s found, %.4f x %.4f of the size sent, off by %s at most\n", p.Page, p.Tile, geometry.Counted(p.Outlines, "outline"), p.Along, p.Up, u.Fixed(geometry.Length(p.Deviation), 4))
			for _, x := range p.Faults {
				note := ""
				if x.Harmless {
					note = "note: "
				}
				fmt.Fprintf(out, "%s%s: %s\n      hint: %s\n", note, x.Kind, x.fault.In(u), x.Hint)
			}
			if len(p.Faults) == 0 {
				fmt.Fprintln(out, "it is what was sent")
			}
		}
		for _, n := range f.Notes {
			fmt.Fprintf(out, "passed over: %s\n", n)
		}
	}
	if faults > 0 {
		return errStop
	}
	return nil
}

// formatOf tells the format of a file by its ending.
func formatOf(file string) (drawing.Format, error) {
	switch ext := strings.ToLower(filepath.Ext(file)); ext {
	case ".svg":
		return drawing.SVG, nil
	case ".pdf":
		return drawing.PDF, nil
	case ".dxf":
		return drawing.DXF, nil
	default:
		return "", fmt.Errorf("%s: the ending %q is none of .svg, .pdf and .dxf: export the drawing as one of them", file, ext)
	}
}
