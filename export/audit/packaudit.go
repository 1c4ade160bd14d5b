package audit

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"maskloft/export/drawing"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// PackAudit is what was measured in a pack as it stands in its folder.
type PackAudit struct {
	Files    int
	Cut      []CutAudit // by name
	Problems []string   // what is not as it was written; none: the pack is whole
}

// CutAudit is what was measured in one cut file, from its three forms. Lengths
// are in inches, areas in square inches.
type CutAudit struct {
	Name          string // without the ending
	Width, Height float64
	Contours      int // of the film and its frame
	Windows       int // of registration marks
	Nodes         int
	Area          float64 // within the frames
	SizeAlong     float64 // measured distance of the windows that check the size along x; 0: it has none
	SizeUp        float64
	Apart         float64 // largest distance between the SVG and the PDF
	Arcs          float64 // largest distance of the DXF from the SVG
}

// filesApart is how far the two forms of a cut file may be from each other: four
// times what rounding gives.
const filesApart = 4e-6

// AuditPack measures a pack: every file against its checksum, every cut file and every
// nest of the run in its three forms, its outlines closed, none crossing another, the
// windows that check the size as far apart as they should be.
//
// Errors: the folder is no pack.
func AuditPack(dir string) (PackAudit, error) {
	sums, err := packList(dir)
	if err != nil {
		return PackAudit{}, err
	}
	a := PackAudit{Files: len(sums)}
	var names []string
	for name := range sums {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		sum, err := fileChecksum(filepath.Join(dir, filepath.FromSlash(name)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			a.Problems = append(a.Problems, fmt.Sprintf("%s: it is missing", name))
			continue
		case err != nil:
			a.Problems = append(a.Problems, fmt.Sprintf("%s: it cannot be read: %v", name, err))
			continue
		case sum != sums[name]:
			a.Problems = append(a.Problems, fmt.Sprintf("%s: it was changed since it was written", name))
		}
		if base, ok := strings.CutSuffix(name, ".svg"); ok && (path.Dir(name) == "cut" || path.Dir(name) == "run") {
			cut, problems := auditCut(dir, base)
			a.Cut, a.Problems = append(a.Cut, cut), append(a.Problems, problems...)
		}
	}
	strays, err := strangers(dir, sums)
	a.Problems = append(a.Problems, strays...)
	return a, err
}

// packList reads the list of files of a pack.
func packList(dir string) (map[string]string, error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such folder: check the name", dir)
	case err == nil && !info.IsDir():
		return nil, fmt.Errorf("%s: it is a file: give the folder of a pack", dir)
	}
	text, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: it holds no %s: it is no pack of this tool", dir, ManifestName)
	} else if err != nil {
		return nil, err
	}
	sums, err := readManifest(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(dir, ManifestName), err)
	}
	return sums, nil
}

// strangers names the files of a folder that its list does not: one put there, or one
// whose line was taken out.
func strangers(dir string, sums map[string]string) (problems []string, err error) {
	err = filepath.WalkDir(dir, func(file string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, file)
		if name := filepath.ToSlash(rel); err == nil && name != ManifestName && sums[name] == "" {
			problems = append(problems, fmt.Sprintf("%s: %s does not list it: it was put there, or its line taken out", name, ManifestName))
		}
		return err
	})
	return problems, err
}

// auditCut reads the three forms of a cut file and measures them.
func auditCut(dir, base string) (CutAudit, []string) {
	c := CutAudit{Name: base}
	var problems []string
	var pages [3]drawing.Drawing
	var dxf []byte
	for i, format := range []drawing.Format{drawing.SVG, drawing.PDF, drawing.DXF} {
		name := base + "." + string(format)
		data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		var drawn []drawing.Drawing
		if err == nil {
			drawn, err = ReadDrawings(data, format)
		}
		if err != nil || len(drawn) != 1 {
			return c, append(problems, fmt.Sprintf("%s: it cannot be measured: %v", name, err))
		}
		pages[i], dxf = drawn[0], data
	}
	d := pages[0]
	c.Width, c.Height = d.Width, d.Height
	film, _ := d.Layer(sheet.LayerCut)
	p := film.Path()
	c.Contours, c.Nodes = len(p), p.Nodes()
	for _, it := range film.Items {
		if strings.HasPrefix(it.ID, "frame") {
			c.Area += math.Abs(it.Path.Area())
		}
	}
	if len(p) == 0 {
		problems = append(problems, base+".svg: it has nothing to cut")
	} else if err := Uncrossed(p); err != nil {
		problems = append(problems, fmt.Sprintf("%s.svg: %v", base, err))
	}
	problems = append(problems, c.auditForms(d, pages[1], dxf)...)
	if windows, ok := d.Layer(sheet.LayerRegistration); ok {
		c.Windows, c.SizeAlong, c.SizeUp = auditWindows(windows)
	}
	for _, size := range []float64{c.SizeAlong, c.SizeUp} {
		if size != 0 && math.Abs(size-math.Round(size)) > 1e-5 {
			problems = append(problems, fmt.Sprintf("%s.svg: the windows that check the size are %.5f in apart, which is no whole number of inches", base, size))
		}
	}
	for _, l := range d.Layers {
		if l.Name != sheet.LayerCut && l.Name != sheet.LayerRegistration {
			problems = append(problems, fmt.Sprintf("%s.svg: the group %q is none of those that are cut", base, l.Name))
		}
	}
	return c, problems
}

// auditForms holds the PDF and the DXF of a cut file against the SVG.
func (c *CutAudit) auditForms(svg, pdf drawing.Drawing, dxf []byte) (problems []string) {
	var a Audited
	a.off(math.Max(math.Abs(pdf.Width-svg.Width), math.Abs(pdf.Height-svg.Height)), "page")
	sent := sheet.Sheet{Title: c.Name, Width: svg.Width, Height: svg.Height}
	for _, l := range svg.Layers {
		other, _ := pdf.Layer(l.Name)
		if err := a.compare(l.Name, l.Path(), other.Path()); err != nil {
			problems = append(problems, fmt.Sprintf("%s: the SVG and the PDF differ: %v", c.Name, err))
		}
		sent.Layers = append(sent.Layers, sheet.Layer{Name: l.Name, Items: []sheet.Item{{Path: l.Path()}}})
	}
	if c.Apart = a.Deviation; a.Deviation > filesApart {
		problems = append(problems, fmt.Sprintf("%s: the SVG and the PDF are %.2g in apart at %s", c.Name, a.Deviation, a.Where))
	}
	arcs, err := AuditDXF(sent, dxf, sheet.DXFTolerance+filesApart)
	if err != nil {
		problems = append(problems, fmt.Sprintf("%s: the SVG and the DXF differ: %v", c.Name, err))
	}
	c.Arcs = arcs.Deviation
	return problems
}

// auditWindows counts the windows of registration marks and measures how far apart the
// windows that check the size are.
func auditWindows(l drawing.DrawnLayer) (windows int, along, up float64) {
	at := map[string]g.Point{}
	for _, it := range l.Items {
		if name, size := strings.CutPrefix(it.ID, "size-"); size {
			name, _, _ = strings.Cut(name, "-") // of a nest the number of the film follows
			at[name] = it.Path.Bounds().Centre()
		} else {
			windows++
		}
	}
	if corner, ok := at["corner"]; ok {
		along, up = at["along"].Dist(corner), at["up"].Dist(corner)
	}
	return windows, along, up
}

// BestSent returns the cut file of a pack that a drawing resembles most, by name
// without the ending, and how it compares. Only is the name of one tile, or empty
// for all.
//
// Errors: no such tile; the drawing resembles none.
func BestSent(dir, only string, got drawing.Drawing, format drawing.Format) (string, Returned, error) {
	names, err := filepath.Glob(filepath.Join(dir, "cut", "*.svg"))
	if err != nil {
		return "", Returned{}, err
	}
	var best Returned
	found, tiles := "", []string{}
	var last error
	for _, name := range names {
		tile := strings.TrimSuffix(filepath.Base(name), ".svg")
		tiles = append(tiles, tile)
		if only != "" && tile != only && tile[:max(0, strings.LastIndex(tile, "-"))] != only { // with or without its size
			continue
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return "", Returned{}, err
		}
		sent, err := ReadDrawings(data, drawing.SVG)
		if err != nil {
			return "", Returned{}, fmt.Errorf("%s: %w", name, err)
		}
		r, err := CompareReturned(sent[0], got, format)
		switch {
		case errors.Is(err, errNothingToCut), errors.Is(err, errTooMany): // whatever the tile
			return "", Returned{}, err
		case err != nil:
			last = err
		case found == "" || r.better(best):
			best, found = r, tile
		}
	}
	switch {
	case len(names) == 0:
		return "", Returned{}, fmt.Errorf("%s: it holds no cut files: give the folder of a pack", dir)
	case only != "" && found == "" && last == nil:
		return "", Returned{}, fmt.Errorf("tile %q is not in the pack: write one of %s", only, strings.Join(tiles, ", "))
	case found == "":
		return "", Returned{}, last
	}
	return found, best, nil
}

// better tells whether r explains the drawing better than s: less is left over,
// then it is the less deformed.
func (r Returned) better(s Returned) bool {
	if math.Abs(r.unexplained-s.unexplained) > 1e-3 {
		return r.unexplained < s.unexplained
	}
	if r.Mirrored != s.Mirrored {
		return s.Mirrored
	}
	return r.Deviation < s.Deviation
}
