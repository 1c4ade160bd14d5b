package main

import (
	"context"
	"fmt"

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

// cutFiles draws, writes and reads back every tile of every mask, in the order
// of markings, passes and tiles.
func cutFiles(ctx context.Context, tilings []masks.Tiling, run masks.Run, marks layouts.MarkStyle, flavour sheet.Flavour, say func(string)) ([]cutFile, error) {
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
		return files[i].write()
	})
}

// sizeWord is the size of a film for the name of its file: 23x19.071in, 584.2x484.4mm.
func sizeWord(u geometry.Units, r geometry.Rect) string {
	return u.Number(geometry.Length(r.Width()), 3) + "x" + u.Number(geometry.Length(r.Height()), 3) + u.Word()
}

// runFiles draws, writes and reads back the nests of the run, in their order.
func runFiles(ctx context.Context, j *job.Whole, films []export.TicketFilm, flavour sheet.Flavour) ([]packFile, error) {
	var placed []export.RunFilm
	for _, f := range films {
		placed = append(placed, export.RunFilm{Tiling: f.Tiling, Mask: f.Mask, Piece: f.Piece})
	}
	sheets := export.RunSheets(j.Layout.Spec.Name, j.Run, placed, j.Layout.Spec.Film.Marks)
	pages := make([]cutPage, len(sheets))
	err := parallel.Each(ctx, len(sheets), func(i int) error {
		s := sheets[i]
		name := fmt.Sprintf("run/run-%d-of-%d-%s", i+1, len(sheets), sizeWord(j.Layout.Spec.Sheets.Units, geometry.Rect{Max: geometry.Point{X: s.Width, Y: s.Height}}))
		pages[i] = cutPage{name: name, flavour: flavour, sheet: s}
		return pages[i].write()
	})
	var out []packFile
	for _, p := range pages {
		out = append(out, p.files()...)
	}
	return out, err
}

// proof draws every film with what a person reads on it, in the order of the run, and
// the strain of the markings that have some.
func proof(j *job.Whole, films []export.TicketFilm) ([]packFile, error) {
	if len(films) == 0 {
		return nil, nil
	}
	var pages []sheet.Sheet
	for _, f := range films {
		pages = append(pages, export.ProofSheet(f.Tiling, f.Mask, f.Piece, j.Layout.Spec.Film.Marks))
	}
	full := views.StrainFull(j.Laid)
	for _, l := range j.Laid {
		if max(l.Strain.Compression, l.Strain.Tension) > leastShown {
			pages = append(pages, export.StrainMap(l, full))
		}
	}
	page, err := document("proof.pdf", "Proof, do not cut: "+j.Layout.Spec.Name, pages)
	return []packFile{page}, err
}

// packOptions are the choices of a pack that no layout holds.
type packOptions struct {
	SVG    sheet.Flavour       // of the cut files
	Choose func(*layouts.Spec) // puts what options say over the sheets of one of several layouts; may be nil
}

// writePack writes the whole pack or nothing.
func writePack(ctx context.Context, dir string, j *job.Whole, o packOptions, say progress) (Report, error) {
	report, files, err := drawPack(ctx, j, o, say.step("writing"))
	if err != nil {
		return Report{}, err
	}
	return report, writeFolder(dir, func() ([]packFile, error) { return files, nil })
}

// drawPack draws all files of the pack; say is called with each piece of work.
func drawPack(ctx context.Context, j *job.Whole, o packOptions, say func(string)) (Report, []packFile, error) {
	files, err := cutFiles(ctx, j.Tilings, j.Run, j.Layout.Spec.Film.Marks, o.SVG, say)
	if err != nil {
		return Report{}, nil, err
	}
	report := reportOf(j, files)
	var all []packFile
	for _, f := range files {
		all = append(all, f.files()...)
	}
	others, err := drawn(ctx, packParts(ctx, j, report, files, o))
	return report, append(all, others...), err
}

// packParts are all files of the pack but those to cut, the longest to draw first.
func packParts(ctx context.Context, j *job.Whole, report Report, files []cutFile, o packOptions) []part {
	paper, films := paperOf(j.Layout.Spec), ticketFilms(j, files)
	dossier := export.Dossier(j.Layout, j.Findings)
	parts := []part{
		one(func() (packFile, error) { return jobBook(j, report, films, dossier) }),
		func() ([]packFile, error) {
			if len(j.Tapes.Points) == 0 {
				return nil, nil // no hardpoints: a finding says what to measure
			}
			return tapeFiles(j.Layout, j.Tilings, j.Tapes, paper)
		},
		func() ([]packFile, error) { return runFiles(ctx, j, films, o.SVG) },
		func() ([]packFile, error) { return proof(j, films) },
		one(func() (packFile, error) { return passCards(j, paper) }),
		one(func() (packFile, error) { return ticket(j, films, paper) }),
		one(func() (packFile, error) {
			return document("weather-card.pdf", "Spray-day card", export.WeatherCard(paper, sprayday.Day{}))
		}),
		one(func() (packFile, error) {
			return picture("film-run.svg", export.RunPicture(j.Layout.Spec.Sheets.Units, j.Layout.Spec.Name, j.Run))
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
