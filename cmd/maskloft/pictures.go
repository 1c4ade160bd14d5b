package main

import (
	"bytes"
	"fmt"
	"slices"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/export/tapelist"
	"maskloft/export/views"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
	"maskloft/layouts/taping"
)

// strainMaps draws the strain of every marking that has some to look at.
func strainMaps(laid []masks.Laid) []part {
	var out []part
	full := views.StrainFull(laid)
	for _, l := range laid {
		if strained(l) {
			out = append(out, one(func() (packFile, error) { return picture("strain/"+l.ID()+".svg", export.StrainMap(l, full)) }))
		}
	}
	return out
}

// picture writes a sheet as an SVG file of the pack.
func picture(name string, s sheet.Sheet) (packFile, error) {
	var svg bytes.Buffer
	err := sheet.WriteSVG(&svg, s, sheet.Px96)
	return packFile{name, svg.Bytes()}, err
}

// worded writes a sheet as an SVG file of the pack, its words as text.
func worded(name string, s sheet.Sheet) (packFile, error) {
	var svg bytes.Buffer
	err := sheet.WriteWordedSVG(&svg, s)
	return packFile{name, svg.Bytes()}, err
}

// document writes sheets as one PDF file of the pack, for people to print.
func document(name, title string, sheets []sheet.Sheet) (packFile, error) {
	var pdf bytes.Buffer
	err := sheet.WritePDF(&pdf, sheets, sheet.PDFOptions{Title: title, Compress: true})
	return packFile{name, pdf.Bytes()}, err
}

// trials draws every marking on paper, and as a pounce pattern: small ones together.
func trials(j *job.Whole, paper sheet.Paper) []part {
	var out []part
	shared, own := export.ShareTrials(j.Tilings, paper, j.Layout.Spec)
	if shared.Len() > 0 {
		out = append(out, one(func() (packFile, error) {
			var pdf bytes.Buffer
			err := sheet.WriteDrawnPDF(&pdf, shared.Prints(), sheet.PDFOptions{Title: "Trial prints of small markings: " + j.Layout.Spec.Name, Compress: true})
			return packFile{"trial/small.pdf", pdf.Bytes()}, err
		}))
	}
	for k := range shared.Len() {
		name := fmt.Sprintf("trial/small-%d-of-%d-pounce.svg", k+1, shared.Len())
		out = append(out, one(func() (packFile, error) { return worded(name, shared.Pounce(k)) }))
	}
	for _, t := range own {
		name := "trial/" + t.Laid.ID()
		out = append(out, one(func() (packFile, error) {
			return document(name+".pdf", t.Laid.ID()+", trial print", export.TrialPrint(t, paper, j.Layout.Spec))
		}), one(func() (packFile, error) { return worded(name+"-pounce.svg", export.PouncePattern(t)) }))
	}
	return out
}

// ticketFilms returns the files to cut as the shop sees them, in the order of the run.
func ticketFilms(j *job.Whole, files []cutFile) []export.TicketFilm {
	masksBy := map[string]masks.Mask{}
	tilingBy := map[string]masks.Tiling{}
	for _, t := range j.Tilings {
		for _, m := range t.Laid.Masks {
			masksBy[m.ID], tilingBy[m.ID] = m, t
		}
	}
	var films []export.TicketFilm
	for _, f := range files {
		films = append(films, export.TicketFilm{
			Number: j.Run.Number(f.tile.ID), Tiling: tilingBy[f.mask], Mask: masksBy[f.mask], Tile: f.tile, Cut: f.tile.Film, Outline: f.tile.Film.Bounds(),
		})
	}
	slices.SortStableFunc(films, func(a, b export.TicketFilm) int { return a.Number - b.Number })
	return films
}

// ticket draws the shop ticket of the films to cut.
func ticket(j *job.Whole, films []export.TicketFilm, paper sheet.Paper) (packFile, error) {
	title := "Shop ticket: " + j.Layout.Spec.Name
	return document("shop-ticket.pdf", title, export.Ticket(paper, j.Layout, films, j.Run, j.Findings))
}

// tapeFiles are the tape list: to print, to read and as a table.
func tapeFiles(l *layouts.Layout, tilings []masks.Tiling, tapes taping.TapeList, paper sheet.Paper) ([]packFile, error) {
	list, err := tapelist.TapeCSV(tapes)
	if err != nil {
		return nil, err
	}
	sheets, err := document("tape-checklist.pdf", "Tape checklist: "+l.Spec.Name, tapelist.TapeSheets(paper, l, tilings, tapes))
	if err != nil {
		return nil, err
	}
	return []packFile{{"tape-checklist.csv", list}, {"tape-checklist.md", tapelist.TapeText(l, tapes)}, sheets}, nil
}

// passCards draws the card of each spray.
func passCards(j *job.Whole, paper sheet.Paper) (packFile, error) {
	passes := export.SprayPasses(j.Layout, j.Tilings, j.Run)
	return document("pass-cards.pdf", "Pass cards: "+j.Layout.Spec.Name, export.PassCards(paper, j.Layout, passes, j.Figures))
}
