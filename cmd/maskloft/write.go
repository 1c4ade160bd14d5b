package main

import (
	"bytes"
	"context"
	"fmt"

	"maskloft/export"
	"maskloft/export/audit"
	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/geometry/parallel"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
	"maskloft/layouts/sprayday"
)

// auditTolerance is how far a written file may differ from its sheet when it is
// read back, in inches: the files keep six decimals of an inch, so a hundredth
// of the outline tolerance is generous.
const auditTolerance = geometry.OutlineTolerance / 100

// cutFile is one tile of one mask, written as SVG and as PDF.
type cutFile struct {
	mask     string
	piece    masks.Piece
	sheet    sheet.Sheet
	flavour  sheet.Flavour
	svg, pdf string // names in the pack
	data     [2][]byte
	audited  float64 // inches: largest deviation of the files read back
}

// cutFiles draws, writes and reads back every tile of every mask, in the order
// of markings, passes and tiles.
func cutFiles(ctx context.Context, tilings []masks.Tiling, run masks.Run, flavour sheet.Flavour, say func(string)) ([]cutFile, error) {
	var files []cutFile
	var draw []func() sheet.Sheet
	for _, t := range tilings {
		for _, m := range t.Laid.Masks {
			pieces, err := t.Pieces(m)
			if err != nil {
				return nil, err
			}
			for _, p := range pieces {
				if len(p.Film) == 0 {
					continue // a keep-down film with no piece in this cell
				}
				p.Number = run.Number(p.ID)
				name := "cut/" + p.ID + "-" + sizeWord(p.Cell.Bounds())
				files = append(files, cutFile{mask: m.ID, piece: p, flavour: flavour, svg: name + ".svg", pdf: name + ".pdf"})
				draw = append(draw, func() sheet.Sheet { return export.CutSheet(t, m, p) })
			}
		}
	}
	return files, parallel.Each(ctx, len(files), func(i int) error {
		say(files[i].piece.ID)
		files[i].sheet = draw[i]()
		return files[i].write()
	})
}

// sizeWord is the size of a film for the name of its file: 23x19.071in.
func sizeWord(r geometry.Rect) string {
	return geometry.FormatNumber(r.Width(), 3) + "x" + geometry.FormatNumber(r.Height(), 3) + "in"
}

// write fills in the bytes of both files and measures them again.
func (f *cutFile) write() error {
	if err := audit.Hygiene(f.piece.Film); err != nil {
		return fmt.Errorf("%s: the outline to cut is not clean: %w", f.piece.ID, err)
	}
	var svg, pdf bytes.Buffer
	if err := sheet.WriteSVG(&svg, f.sheet, f.flavour); err != nil {
		return fmt.Errorf("%s: %w", f.svg, err)
	}
	if err := sheet.WritePDF(&pdf, []sheet.Sheet{f.sheet}, sheet.PDFOptions{Title: f.sheet.Title}); err != nil {
		return fmt.Errorf("%s: %w", f.pdf, err)
	}
	f.data = [2][]byte{svg.Bytes(), pdf.Bytes()}
	return f.audit()
}

// packOptions are the choices of a pack that no layout holds.
type packOptions struct {
	Paper sheet.Paper
	SVG   sheet.Flavour // of the cut files
}

// writePack writes the whole pack or nothing.
func writePack(ctx context.Context, dir string, j *job.Whole, o packOptions, say progress) (Report, error) {
	files, err := cutFiles(ctx, j.Tilings, j.Run, o.SVG, say.step("writing"))
	if err != nil {
		return Report{}, err
	}
	report := reportOf(j, files)
	return report, writeFolder(dir, func() ([]packFile, error) {
		var all []packFile
		for _, f := range files {
			all = append(all, packFile{f.svg, f.data[0]}, packFile{f.pdf, f.data[1]})
		}
		others, err := drawn(ctx, packParts(j, report, files, o.Paper))
		return append(all, others...), err
	})
}

// packParts are all files of the pack but those to cut, the longest to draw first.
func packParts(j *job.Whole, report Report, files []cutFile, paper sheet.Paper) []part {
	films := ticketFilms(j, files)
	dossier := export.Dossier(j.Layout, j.Findings)
	parts := []part{
		one(func() (packFile, error) { return book(j, report, films, dossier) }),
		func() ([]packFile, error) {
			if len(j.Tapes.Points) == 0 {
				return nil, nil // no hardpoints: a finding says what to measure
			}
			return tapeFiles(j.Layout, j.Tilings, j.Tapes, paper)
		},
		one(func() (packFile, error) { return ticket(j, films, paper) }),
		one(func() (packFile, error) {
			return document("weather-card.pdf", "Spray-day card", export.WeatherCard(paper, sprayday.Day{}))
		}),
		one(func() (packFile, error) { return picture("film-run.svg", export.RunPicture(j.Layout.Spec.Name, j.Run)) }),
		one(func() (packFile, error) {
			data, err := report.bytes()
			return packFile{"report.json", data}, err
		}),
		one(func() (packFile, error) { return packFile{"dossier.md", dossier}, nil }),
	}
	views := pictures(aircraftViews(j.Layout, j.Laid), viewChoice{dots: viewDots, paper: paper})
	return append(append(append(parts, views...), strainMaps(j.Laid)...), trials(j, paper)...)
}
