package audit

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"

	"maskloft/export/drawing"
	"maskloft/export/sheet"
	g "maskloft/geometry"
)

// filmStep is the step that outlines are rounded to before they are compared: what a
// cutter does not show, and more than the rounding of any form of a file.
const filmStep = 0.0005

// PackSums returns the checksum of every file of a pack by its name, each held against
// the file.
//
// Errors: the folder is no pack, or a file is not as it was written.
func PackSums(dir string) (map[string]string, error) {
	sums, err := packList(dir)
	if err != nil {
		return nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(sums)) {
		sum, err := fileChecksum(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil || sum != sums[name] {
			return nil, fmt.Errorf("%s: %s is missing or was changed since it was written: see maskloft audit %s", dir, name, dir)
		}
	}
	return sums, nil
}

// FilmSum is the checksum of what a knife does with a cut file: the outlines of the groups
// cut and registration, from the lower left corner of the film, in steps of 0.0005 in. Two
// files with the same sum are cut the same, whatever their names and pages. Outlines that
// differ by less than a step may still have two sums. It is taken of the PDF form of the
// file, whose numbers do not depend on the units that were chosen for the SVG.
//
// Errors: the file cannot be read, or has nothing to cut.
func FilmSum(dir, name string) (string, error) {
	data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		return "", err
	}
	pages, err := ReadDrawings(data, drawing.PDF)
	if err != nil {
		return "", fmt.Errorf("%s: %w", name, err)
	}
	cut, ok := pages[0].Layer(sheet.LayerCut)
	if !ok || len(cut.Path()) == 0 {
		return "", fmt.Errorf("%s: it has nothing to cut", name)
	}
	from := cut.Path().Bounds().Min
	sum := sha256.New()
	for _, layer := range []string{sheet.LayerRegistration, sheet.LayerCut} {
		l, _ := pages[0].Layer(layer)
		fmt.Fprintln(sum, layer)
		for _, c := range l.Path() {
			writeContour(sum, c, from)
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

func writeContour(w io.Writer, c g.Contour, from g.Point) {
	at := func(p g.Point) string {
		return fmt.Sprintf("%d,%d", int(math.Round((p.X-from.X)/filmStep)), int(math.Round((p.Y-from.Y)/filmStep)))
	}
	fmt.Fprint(w, "from ", at(c.Start))
	for _, s := range c.Segments {
		if s.Kind == g.Cubic {
			fmt.Fprint(w, " by ", at(s.C1), " ", at(s.C2))
		}
		fmt.Fprint(w, " to ", at(s.End))
	}
	fmt.Fprintln(w)
}
