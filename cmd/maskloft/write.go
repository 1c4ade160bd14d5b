package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"strings"
	"sync"

	"maskloft/export"
	"maskloft/export/audit"
	"maskloft/export/sheet"
	"maskloft/export/views"
	"maskloft/geometry"
	"maskloft/geometry/parallel"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
	"maskloft/layouts/sprayday"
)

// cutFile is one tile of one mask.
type cutFile struct {
	mask string
	tile masks.Tile
	cutPage
}

// cutFiles draws, writes, reads back and hands on every tile of every mask; what it
// returns is in the order of markings, passes and tiles, without drawings and bytes.
func cutFiles(ctx context.Context, tilings []masks.Tiling, run masks.Run, marks layouts.MarkStyle, flavour sheet.Flavour, say func(string), keep func(packFile) error) ([]cutFile, error) {
	var files []cutFile
	var of []masks.Tiling
	var tiles []masks.Tile
	var cut []masks.Mask
	for _, t := range tilings {
		for _, m := range t.Laid.Masks {
			parts, err := t.Tiles(m)
			if err != nil {
				return nil, err
			}
			for _, p := range parts {
				p.Number = run.Number(p.ID)
				tiles, of, cut = append(tiles, p), append(of, t), append(cut, m)
			}
		}
	}
	masks.SetSizeWindows(of, cut, tiles)
	for i, p := range tiles {
		name := "cut/" + p.ID + "-" + sizeWord(of[i].Laid.Placement.Read, p.Cell.Bounds())
		files = append(files, cutFile{mask: cut[i].ID, tile: p, cutPage: cutPage{name: name, flavour: flavour}})
	}
	return files, parallel.Each(ctx, len(files), func(i int) error {
		say(files[i].tile.ID)
		if err := audit.Hygiene(tiles[i].Film); err != nil {
			return fmt.Errorf("%s: the outline to cut is not clean: %w", tiles[i].ID, err)
		}
		files[i].sheet = export.CutSheet(of[i], cut[i], tiles[i], marks)
		return files[i].write(keep)
	})
}

// sizeWord is the size of a film for the name of its file: 23x19.071in, 584.2x484.4mm.
func sizeWord(u geometry.Units, r geometry.Rect) string {
	return strings.ReplaceAll(u.Size(geometry.Length(r.Width()), geometry.Length(r.Height()), 3), " ", "")
}

// runFiles draws, writes, reads back and hands on the nests of the run.
func runFiles(ctx context.Context, j *job.Whole, films []export.TicketFilm, flavour sheet.Flavour, keep func(packFile) error) error {
	var placed []export.RunFilm
	for _, f := range films {
		placed = append(placed, export.RunFilm{Tiling: f.Tiling, Mask: f.Mask, Tile: f.Tile})
	}
	sheets := export.RunSheets(j.Layout.Spec.Name, j.Run, placed, j.Layout.Spec.Film.Marks)
	return parallel.Each(ctx, len(sheets), func(i int) error {
		s := sheets[i]
		name := fmt.Sprintf("run/run-%d-of-%d-%s", i+1, len(sheets), sizeWord(j.Layout.Spec.Sheets.Units, geometry.Rect{Max: geometry.Point{X: s.Width, Y: s.Height}}))
		page := cutPage{name: name, flavour: flavour, sheet: s}
		return page.write(keep)
	})
}

// proof draws every film with what a person reads on it, in the order of the run, and
// the strain of the markings that have some.
func proof(ctx context.Context, j *job.Whole, films []export.TicketFilm) ([]packFile, error) {
	if len(films) == 0 {
		return nil, nil
	}
	drawn := func(yield func(sheet.Sheet) bool) {
		for _, f := range films {
			parallel.Turn()
			if ctx.Err() != nil || !yield(export.ProofSheet(f.Tiling, f.Mask, f.Tile, j.Layout.Spec.Film.Marks)) {
				return
			}
		}
		full := views.StrainFull(j.Laid)
		for _, l := range j.Laid {
			if strained(l) && !yield(export.StrainMap(l, full)) {
				return
			}
		}
	}
	var pdf bytes.Buffer
	err := sheet.WriteDrawnPDF(&pdf, drawn, sheet.PDFOptions{Title: "Proof, do not cut: " + j.Layout.Spec.Name, Compress: true})
	return []packFile{{"proof.pdf", pdf.Bytes()}}, cmp.Or(ctx.Err(), err)
}

// packOptions are the choices of a pack that no layout holds.
type packOptions struct {
	SVG    sheet.Flavour       // of the cut files
	Choose func(*layouts.Spec) // puts what options say over the sheets of one of several layouts; may be nil
}

// writePack writes the whole pack or nothing.
func writePack(ctx context.Context, dir string, j *job.Whole, o packOptions, say progress) (Report, error) {
	pack, err := audit.NewPack(dir)
	if err != nil {
		return Report{}, err
	}
	defer pack.Abort()
	report, err := drawPack(ctx, j, o, say.step("writing"), func(f packFile) error { return pack.Add(f.name, f.data) })
	if err != nil {
		return Report{}, err
	}
	return report, pack.Commit()
}

// drawPack draws all files of the pack and hands each to keep when it is drawn, one at a
// time and in no order; say is called with each piece of work.
func drawPack(ctx context.Context, j *job.Whole, o packOptions, say func(string), keep func(packFile) error) (Report, error) {
	var one sync.Mutex
	inTurn := func(f packFile) error {
		one.Lock()
		defer one.Unlock()
		return keep(f)
	}
	files, err := cutFiles(ctx, j.Tilings, j.Run, j.Layout.Spec.Film.Marks, o.SVG, say, inTurn)
	if err != nil {
		return Report{}, err
	}
	report := reportOf(j, files)
	return report, drawEach(ctx, packParts(ctx, j, report, files, o, inTurn), inTurn)
}

// packParts are all files of the pack but those to cut, the longest to draw first.
func packParts(ctx context.Context, j *job.Whole, report Report, files []cutFile, o packOptions, keep func(packFile) error) []part {
	paper, films := paperOf(j.Layout.Spec), ticketFilms(j, files)
	dossier := export.Dossier(j.Layout, j.Findings)
	parts := []part{
		one(func() (packFile, error) { return jobBook(j, report, films, dossier) }),
		func() ([]packFile, error) { return tapeFiles(j.Layout, j.Tilings, j.Tapes, paper) },
		func() ([]packFile, error) { return nil, runFiles(ctx, j, films, o.SVG, keep) },
		func() ([]packFile, error) { return proof(ctx, j, films) },
		one(func() (packFile, error) { return passCards(j, paper) }),
		one(func() (packFile, error) { return ticket(j, films, paper) }),
		one(func() (packFile, error) {
			return document("weather-card.pdf", "Weather card", export.WeatherCard(paper, j.Layout.Spec.Sheets.Units, sprayday.Day{}))
		}),
		one(func() (packFile, error) {
			return worded("film-run.svg", export.RunPicture(j.Layout.Spec.Sheets.Units, j.Layout.Spec.Name, j.Run))
		}),
		one(func() (packFile, error) {
			data, err := report.bytes()
			return packFile{"report.json", data}, err
		}),
		one(func() (packFile, error) { return packFile{"dossier.md", dossier}, nil }),
	}
	views := pictures(aircraftViews(j.Layout, j.Laid), viewChoice{dots: viewDots, paper: paper})
	return append(append(append(parts, views...), strainMaps(j.Laid)...), trials(j, paper)...)
}
