package main

import (
	"bytes"
	"fmt"
	"runtime"

	"golang.org/x/sync/errgroup"

	"maskloft/export"
	"maskloft/geometry"
	"maskloft/layouts/masks"
)

// auditTolerance is how far a written file may differ from its sheet when it is
// read back, in inches: the files keep six decimals of an inch, so a hundredth
// of the outline tolerance is generous.
const auditTolerance = geometry.OutlineTolerance / 100

// cutFile is one tile of one mask, written as SVG and as PDF.
type cutFile struct {
	mask     string
	piece    masks.Piece
	sheet    export.Sheet
	svg, pdf string // names in the pack
	data     [2][]byte
	audited  float64 // inches: largest deviation of the files read back
}

// cutFiles draws, writes and reads back every tile of every mask, in the order
// of markings, passes and tiles.
func cutFiles(tilings []masks.Tiling, run masks.Run, say func(string)) ([]cutFile, error) {
	var files []cutFile
	for _, t := range tilings {
		for _, m := range t.Laid.Masks {
			pieces, err := t.Pieces(m)
			if err != nil {
				return nil, err
			}
			for _, p := range pieces {
				p.Number = run.Number(p.ID)
				sheet := export.CutSheet(t, m, p)
				files = append(files, cutFile{mask: m.ID, piece: p, sheet: sheet, svg: "cut/" + p.ID + ".svg", pdf: "cut/" + p.ID + ".pdf"})
			}
		}
	}
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range files {
		group.Go(func() error {
			say(files[i].piece.ID)
			return files[i].write()
		})
	}
	return files, group.Wait()
}

// write fills in the bytes of both files and measures them again.
func (f *cutFile) write() error {
	if err := export.Hygiene(f.piece.Film); err != nil {
		return fmt.Errorf("%s: the outline to cut is not clean: %w", f.piece.ID, err)
	}
	var svg, pdf bytes.Buffer
	if err := export.WriteSVG(&svg, f.sheet, export.Px96); err != nil {
		return fmt.Errorf("%s: %w", f.svg, err)
	}
	if err := export.WritePDF(&pdf, []export.Sheet{f.sheet}, export.PDFOptions{Title: f.sheet.Title}); err != nil {
		return fmt.Errorf("%s: %w", f.pdf, err)
	}
	f.data = [2][]byte{svg.Bytes(), pdf.Bytes()}
	return f.audit()
}

// writePack writes the whole pack or nothing.
func writePack(dir string, j *Job, paper export.Paper, say progress) (Report, error) {
	files, err := cutFiles(j.Tilings, j.Run, say.step("writing"))
	if err != nil {
		return Report{}, err
	}
	report := reportOf(j, files)
	pack, err := export.NewPack(dir)
	if err != nil {
		return Report{}, err
	}
	defer pack.Abort()
	for _, f := range files {
		for k, name := range []string{f.svg, f.pdf} {
			if err := pack.Add(name, f.data[k]); err != nil {
				return Report{}, err
			}
		}
	}
	drawn, err := pictures(j.Layout, j.Laid)
	if err != nil {
		return Report{}, err
	}
	strain, err := strainMaps(j.Laid)
	if err != nil {
		return Report{}, err
	}
	paperwork, err := trials(j, paper)
	if err != nil {
		return Report{}, err
	}
	order, err := ticket(j, files, paper)
	if err != nil {
		return Report{}, err
	}
	drawn = append(append(drawn, paperwork...), order, packFile{"dossier.md", export.Dossier(j.Layout, j.Findings)})
	run, err := picture("film-run.svg", export.RunPicture(j.Layout.Spec.Name, j.Run))
	if err != nil {
		return Report{}, err
	}
	tapes, err := tapeFiles(j, paper)
	if err != nil {
		return Report{}, err
	}
	data, err := report.bytes()
	if err != nil {
		return Report{}, err
	}
	drawn = append(append(append(drawn, strain...), tapes...), run, packFile{"report.json", data})
	for _, f := range drawn {
		if err := pack.Add(f.name, f.data); err != nil {
			return Report{}, err
		}
	}
	return report, pack.Commit()
}
