package drawing

import (
	"errors"
	"fmt"
	"io"
	"math"

	g "maskloft/geometry"
)

// mostPages bounds the pages of one document.
const mostPages = 10_000

// ReadPDF reads the outlines of every page of a PDF file, each at its true size:
// 1/72 in to the unit, times UserUnit where the page has one. The page is the
// CropBox where there is one, else the MediaBox.
//
// Read are the operators of paths, of the graphics state, colour and marked
// content, form objects, and streams that are plain or deflated. A layer is an
// optional content group, whether it is shown or not: a cutter may cut it. Outlines that a rectangular clip leaves whole are
// read; a page that is turned, text, images, shadings, other clips and encrypted
// files are errors.
func ReadPDF(r io.Reader) ([]Drawing, error) { return readPDF(r, nil) }

func readPDF(r io.Reader, notes *passedOver) ([]Drawing, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	f, err := openPDF(data)
	if err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	root, err := f.dict(f.trailer["Root"])
	if err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	w := &pdfPages{file: f, budget: wholeBudget(), notes: notes}
	if err := w.node(root["Pages"], pdfDict{}, 0); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	if len(w.out) == 0 {
		return nil, errors.New("pdf: it has no pages")
	}
	return w.out, nil
}

type pdfPages struct {
	file    *pdfFile
	out     []Drawing
	visited int
	budget  budget
	notes   *passedOver
}

// node walks the tree of pages (ISO 32000-1 clause 7.7.3); what a page does not
// say it has from the node above.
func (w *pdfPages) node(v any, above pdfDict, depth int) error {
	w.visited++
	if depth > deepest || w.visited > 2*mostPages {
		return errors.New("the tree of pages does not end: the file is damaged")
	}
	d, err := w.file.dict(v)
	if err != nil {
		return err
	}
	own := pdfDict{}
	for _, key := range []pdfName{"Resources", "MediaBox", "CropBox", "Rotate"} {
		if own[key] = above[key]; d[key] != nil {
			own[key] = d[key]
		}
	}
	switch kind, _ := w.file.get(d["Type"]); kind {
	case pdfName("Page"):
		page, err := w.page(d, own)
		if err != nil {
			return fmt.Errorf("page %d: %w", len(w.out)+1, err)
		}
		w.out = append(w.out, page)
		return nil
	case pdfName("Pages"):
		kids, err := w.file.get(d["Kids"])
		if err != nil {
			return err
		}
		list, ok := kids.([]any)
		if !ok {
			return errors.New("the tree of pages is damaged")
		}
		for _, k := range list {
			if err := w.node(k, own, depth+1); err != nil {
				return err
			}
		}
		return nil
	}
	return errors.New("the tree of pages is damaged")
}

// box reads a rectangle and sets its corners in order.
func (w *pdfPages) box(v any) (g.Rect, error) {
	n, err := w.file.numbers(v, 4)
	if err != nil {
		return g.Rect{}, err
	}
	return g.BoundsOf(g.Point{X: n[0], Y: n[1]}, g.Point{X: n[2], Y: n[3]}), nil
}

func (w *pdfPages) page(d, own pdfDict) (Drawing, error) {
	box, err := w.box(own["MediaBox"])
	if err != nil {
		return Drawing{}, fmt.Errorf("its size (MediaBox): %w", err)
	}
	if own["CropBox"] != nil {
		crop, err := w.box(own["CropBox"])
		if err != nil {
			return Drawing{}, fmt.Errorf("its CropBox: %w", err)
		}
		box.Min.X, box.Min.Y = math.Max(box.Min.X, crop.Min.X), math.Max(box.Min.Y, crop.Min.Y)
		box.Max.X, box.Max.Y = math.Min(box.Max.X, crop.Max.X), math.Min(box.Max.Y, crop.Max.Y)
	}
	scale := 1 / g.PointsPerInch
	if d["UserUnit"] != nil {
		unit, err := w.file.get(d["UserUnit"])
		if err != nil {
			return Drawing{}, err
		}
		v, ok := unit.(float64)
		if !ok || !(v > 0 && v < 1e6) {
			return Drawing{}, fmt.Errorf("its UserUnit is %v: it must be a number above 0", unit)
		}
		scale *= v
	}
	turn, err := w.file.get(own["Rotate"])
	if err == nil && turn != nil && turn != 0.0 {
		err = w.notes.pass(fmt.Errorf("it is turned by %v degrees: save it upright", turn))
	}
	if err != nil {
		return Drawing{}, err
	}
	out := Drawing{Width: box.Width() * scale, Height: box.Height() * scale}
	if !(out.Width > 0 && out.Width < g.Farthest && out.Height > 0 && out.Height < g.Farthest) {
		return Drawing{}, fmt.Errorf("its size of %g x %g in cannot be", out.Width, out.Height)
	}
	resources, err := w.file.dict(own["Resources"])
	if err != nil {
		return Drawing{}, err
	}
	content, err := w.content(d["Contents"])
	if err != nil {
		return Drawing{}, err
	}
	m := g.Affine{scale, 0, 0, scale, -box.Min.X * scale, -box.Min.Y * scale}
	// a page is shown turned clockwise (clause 7.7.3.3, Rotate)
	degrees, _ := turn.(float64)
	for left := math.Mod(math.Mod(degrees, 360)+360, 360); left >= 90; left -= 90 {
		m = g.Affine{0, -1, 1, 0, 0, out.Width}.After(m)
		out.Width, out.Height = out.Height, out.Width
	}
	run := &pdfRun{file: w.file, page: &out, budget: &w.budget, notes: w.notes}
	run.state.m, run.state.clip = m, everywhere
	if err := run.stream(content, resources, 0); err != nil {
		return Drawing{}, err
	}
	return out, nil
}

// content joins the streams of a page, a blank between two (clause 7.8.2).
func (w *pdfPages) content(v any) ([]byte, error) {
	o, err := w.file.get(v)
	if err != nil {
		return nil, err
	}
	list, ok := o.([]any)
	if !ok {
		list = []any{o}
	}
	var out []byte
	for i, one := range list {
		if one, err = w.file.get(one); err != nil {
			return nil, err
		}
		switch s := one.(type) {
		case nil:
		case pdfStream:
			data, err := w.file.unfold(s)
			if err != nil {
				return nil, err
			}
			if len(list) == 1 {
				return data, nil
			}
			if i == 0 {
				out = make([]byte, 0, len(data)+1)
			}
			out = append(append(out, data...), '\n')
		default:
			return nil, errors.New("its content is no stream: the file is damaged")
		}
	}
	return out, nil
}
