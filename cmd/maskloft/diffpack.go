package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"maskloft/export/audit"
	"maskloft/geometry"
)

// packRead is a pack read for comparing.
type packRead struct {
	sums   map[string]string
	report Report
	films  []filmDiff
	rows   map[string]string // of the tape list, what a person reads, by point
	units  geometry.Units
}

func readPack(dir string) (packRead, error) {
	p := packRead{}
	var err error
	if p.sums, err = audit.PackSums(dir); err != nil {
		return p, err
	}
	data, err := os.ReadFile(filepath.Join(dir, "report.json"))
	if err == nil {
		err = json.Unmarshal(data, &p.report)
	}
	if err != nil {
		return p, fmt.Errorf("%s: it has no report that can be read: %w", dir, err)
	}
	number := map[string]int{}
	for _, f := range p.report.Film.Placed {
		number[f.ID] = f.Number
	}
	for _, m := range p.report.Markings {
		for _, k := range m.Masks {
			for _, t := range k.Tiles {
				sum, err := audit.FilmSum(dir, t.PDF)
				if err != nil {
					return p, fmt.Errorf("%s: %w", dir, err)
				}
				p.films = append(p.films, filmDiff{ID: t.ID, Number: number[t.ID], SVG: t.SVG, Sum: sum})
				p.units = packUnits(strings.TrimSuffix(t.SVG, ".svg"))
			}
		}
	}
	if p.rows, err = listRows(filepath.Join(dir, "tape-checklist.csv")); err != nil {
		return p, fmt.Errorf("%s: %w", dir, err)
	}
	return p, nil
}

// readColumns are the columns of the tape list that a person works by; the others are
// figures behind them, and errors to expect.
var readColumns = []string{"mark", "use", "method", "from", "kind", "towards", "words", "reading"}

// listRows are the rows of a tape list by point, their columns that are read; nothing
// where the pack has no list.
func listRows(file string) (map[string]string, error) {
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	lines, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s is no tape list: %w", filepath.Base(file), err)
	}
	rows, point := map[string]string{}, -1
	if len(lines) > 0 {
		point = slices.Index(lines[0], "point")
	}
	if point < 0 {
		return nil, fmt.Errorf("%s has no column point", filepath.Base(file))
	}
	for _, line := range lines[1:] {
		for _, c := range readColumns {
			if i := slices.Index(lines[0], c); i >= 0 {
				rows[line[point]] += line[i] + "\n"
			}
		}
	}
	return rows, nil
}

// runOutlines are the sums of the nests of a pack, in their order.
func (p packRead) runOutlines(dir string) ([]string, error) {
	nests := map[int]string{}
	for name := range p.sums {
		n, of := 0, 0
		if _, err := fmt.Sscanf(name, "run/run-%d-of-%d-", &n, &of); err != nil || !strings.HasSuffix(name, ".pdf") {
			continue
		}
		sum, err := audit.FilmSum(dir, name)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", dir, err)
		}
		nests[n] = sum
	}
	var out []string
	for _, n := range slices.Sorted(maps.Keys(nests)) {
		out = append(out, nests[n])
	}
	return out, nil
}
