package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/geometry"
	"maskloft/glyphs"
)

// lettersJob is photo --letters.
type lettersJob struct {
	file, dir, paper string
	candidates       []string
	asJSON           bool
}

func (j lettersJob) run(out io.Writer) error {
	m, list, err := matchLetters(j.file, j.candidates)
	if err != nil {
		return err
	}
	base, err := nearestAlphabet(list)
	if err != nil {
		return err
	}
	fitted, inferred, err := glyphs.Fit(m, base)
	if err != nil {
		return fmt.Errorf("%s: no alphabet can be fitted: %w", j.file, err)
	}
	if j.dir != "" {
		if err := writeFitted(j.dir, j.paper, fitted); err != nil {
			return err
		}
	}
	if j.asJSON {
		return writeJSON(out, lettersReportOf(list, fitted.Name, inferred))
	}
	printMatches(out, list, base.Name, inferred)
	if j.dir != "" {
		fmt.Fprintf(out, "written to %s: %s.yaml, to be named by alphabet: in a layout beside it, and its specimen\n", printable(j.dir), fitted.Name)
	}
	return nil
}

// matchLetters reads the measures and holds them against all candidates.
func matchLetters(file string, more []string) (glyphs.Measured, []glyphs.Match, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return glyphs.Measured{}, nil, err
	}
	m, err := glyphs.ReadMeasured(filepath.Base(file), data)
	if err != nil {
		return m, nil, err
	}
	candidates, err := glyphs.Embedded()
	if err != nil {
		return m, nil, err
	}
	for _, name := range more {
		var face glyphs.Letters
		switch {
		case strings.EqualFold(filepath.Ext(name), ".yaml"):
			face, err = glyphs.LoadFile(name)
		case glyphs.IsFontFile(name):
			if data, err = readInput(glyphs.FontFile(name), largestFont); err == nil {
				face, err = glyphs.ParseFont(filepath.Base(name), data)
			}
		default:
			err = fmt.Errorf("--candidate %s: give an alphabet ending in .yaml, or a font ending in .ttf, .otf or .ttc#1", name)
		}
		if err != nil {
			return m, nil, err
		}
		candidates = append(candidates, glyphs.NewCandidate(name, face))
	}
	return m, glyphs.Nearest(m, candidates), nil
}

// nearestAlphabet returns the best match that is an alphabet of ratios, to fit from.
func nearestAlphabet(list []glyphs.Match) (*glyphs.Alphabet, error) {
	for _, m := range list {
		if strings.HasSuffix(m.Name, ".yaml") {
			return glyphs.LoadFile(m.Name)
		}
		if !strings.Contains(m.Name, ".") {
			return glyphs.Load(m.Name)
		}
	}
	return nil, errors.New("there is no alphabet of ratios to fit from")
}

func writeFitted(dir, paper string, a *glyphs.Alphabet) error {
	on, err := sheet.ParsePaper(paper)
	if err != nil {
		return fmt.Errorf("--paper: %w", err)
	}
	sheets, err := export.SpecimenSheet(on, a)
	if err != nil {
		return err
	}
	specimen, err := document(a.Name+"-specimen.pdf", "Specimen of "+a.Name, sheets)
	if err != nil {
		return err
	}
	return writeFolder(dir, func() ([]packFile, error) { return []packFile{{a.Name + ".yaml", a.YAML()}, specimen}, nil })
}

func printMatches(w io.Writer, list []glyphs.Match, base string, inferred []string) {
	fmt.Fprintf(w, "%-24s %10s  %s\n", "alphabet", "misfit", "furthest off, in plus-or-minus of its measure")
	for _, m := range list {
		if len(m.Residuals) == 0 {
			fmt.Fprintf(w, "%-24s %10s  has nothing that was measured\n", m.Name, "-")
			continue
		}
		fmt.Fprintf(w, "%-24s %10.2f  %s\n", m.Name, m.ChiSquare, worstResiduals(m, 3))
	}
	best := list[0]
	switch {
	case len(best.Residuals) == 0:
	case best.ChiSquare < 2:
		fmt.Fprintf(w, "\n%s fits as well as the measures are (about 1 is as good as they can tell)\n", best.Name)
	case best.ChiSquare < 4:
		fmt.Fprintf(w, "\n%s is nearest, and some measures speak against it\n", best.Name)
	default:
		fmt.Fprintf(w, "\nnone fits (4 and more is another set); %s is nearest\n", best.Name)
	}
	for _, r := range best.Residuals {
		fmt.Fprintf(w, "  %-22s measured %s, %s has %s: %+.1f\n", strings.TrimSpace(r.Of+" "+runeWord(r.Rune)), geometry.FormatNumber(r.Measured, 4), best.Name, geometry.FormatNumber(r.Candidate, 4), r.Sigma)
	}
	fmt.Fprintf(w, "fitted from %s; inferred, not measured: %s\n", base, strings.Join(inferred, " "))
}

func runeWord(r rune) string {
	if r == 0 {
		return ""
	}
	return "of " + string(r)
}

// worstResiduals names the measures furthest off.
func worstResiduals(m glyphs.Match, n int) string {
	list := append([]glyphs.Residual(nil), m.Residuals...)
	for i := range list {
		for k := i + 1; k < len(list); k++ {
			if list[k].Sigma*list[k].Sigma > list[i].Sigma*list[i].Sigma {
				list[i], list[k] = list[k], list[i]
			}
		}
	}
	var out []string
	for _, r := range list[:min(n, len(list))] {
		out = append(out, fmt.Sprintf("%s %+.1f", strings.TrimSpace(r.Of+" "+runeWord(r.Rune)), r.Sigma))
	}
	return strings.Join(out, ", ")
}

// lettersReport is what photo --json prints.
type lettersReport struct {
	Matches  []matchReport `json:"matches"`
	Fitted   string        `json:"fitted"`
	Inferred []string      `json:"inferred"`
}

type matchReport struct {
	Name      string           `json:"name"`
	ChiSquare *float64         `json:"misfit,omitempty"` // about 1: as good as the measures
	Residuals []residualReport `json:"residuals"`
}

type residualReport struct {
	Of        string  `json:"of"`
	Character string  `json:"character,omitempty"`
	Measured  float64 `json:"measured"`
	Candidate float64 `json:"candidate"`
	Sigma     float64 `json:"sigma"`
}

func lettersReportOf(list []glyphs.Match, fitted string, inferred []string) lettersReport {
	out := lettersReport{Matches: []matchReport{}, Fitted: fitted, Inferred: append([]string{}, inferred...)}
	for _, m := range list {
		one := matchReport{Name: m.Name, Residuals: []residualReport{}}
		if len(m.Residuals) > 0 {
			chi := round6(m.ChiSquare)
			one.ChiSquare = &chi
		}
		for _, r := range m.Residuals {
			x := residualReport{Of: r.Of, Measured: round6(r.Measured), Candidate: round6(r.Candidate), Sigma: round6(r.Sigma)}
			if r.Rune != 0 {
				x.Character = string(r.Rune)
			}
			one.Residuals = append(one.Residuals, x)
		}
		out.Matches = append(out.Matches, one)
	}
	return out
}
