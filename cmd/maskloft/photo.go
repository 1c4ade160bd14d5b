package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"maskloft/export"
	"maskloft/geometry"
	"maskloft/glyphs"
)

func photoCommand(out io.Writer) *cobra.Command {
	var letters, dir, paper string
	var candidates []string
	var asJSON bool
	c := &cobra.Command{
		Use:   "photo",
		Short: "letters as measured on a photograph or on old paint: the nearest alphabet, and one fitted",
		Long: `Hold measures of letters, taken from a photograph or from old paint, against the
alphabets known and any files named: which is nearest, with what is left of each
character; and fit an alphabet of ratios to the measures. What was not measured is
inferred from the nearest alphabet and marked so.

A file of measures is YAML; every value carries its plus or minus:

  height: 12 in +- 1/16 in          # left out, all values are ratios to it
  widths: {A: 8 in +- 1/8 in, "4": 7.9 in +- 1/8 in}
  stroke: {vertical: 2 in +- 1/16 in, horizontal: 2 in +- 1/16 in}
  gap: 2 in +- 1/8 in
  corner: {kind: chamfer, size: 2 in +- 1/8 in}
  waists: {A: 4.5 in +- 1/8 in}     # above the baseline, to the bar's centre line`,
		Example: "  maskloft photo --letters measured.yaml\n  maskloft photo --letters measured.yaml --candidate house.ttf -o fitted",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if letters == "" {
				return errors.New("photo: give --letters FILE with the measures; see maskloft photo --help")
			}
			m, list, err := matchLetters(letters, candidates)
			if err != nil {
				return err
			}
			base, err := nearestAlphabet(list)
			if err != nil {
				return err
			}
			fitted, inferred, err := glyphs.Fit(m, base)
			if err != nil {
				return fmt.Errorf("%s: no alphabet can be fitted: %w", letters, err)
			}
			if dir != "" {
				if err := writeFitted(dir, paper, fitted); err != nil {
					return err
				}
			}
			if asJSON {
				return writeJSON(out, lettersReportOf(list, fitted.Name, inferred))
			}
			printMatches(out, list, base.Name, inferred)
			if dir != "" {
				fmt.Fprintf(out, "written to %s: %s.yaml, to be named by alphabet: in a layout beside it, and its specimen\n", dir, fitted.Name)
			}
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&letters, "letters", "", "file of measures of letters")
	f.StringArrayVar(&candidates, "candidate", nil, "alphabet (.yaml) or font (.ttf, .otf) to hold them against as well; may be repeated")
	f.StringVarP(&dir, "out", "o", "", "folder to write the fitted alphabet and its specimen to")
	f.StringVar(&paper, "paper", "letter", "paper of the specimen: letter or a4")
	f.BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
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
		switch strings.ToLower(filepath.Ext(name)) {
		case ".yaml":
			face, err = glyphs.LoadFile(name)
		case ".ttf", ".otf":
			if data, err = os.ReadFile(name); err == nil {
				face, err = glyphs.ParseFont(filepath.Base(name), data)
			}
		default:
			err = fmt.Errorf("--candidate %s: give an alphabet ending in .yaml, or a font ending in .ttf or .otf", name)
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
	on, err := export.ParsePaper(paper)
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
	pack, err := export.NewPack(dir)
	if err != nil {
		return err
	}
	defer pack.Abort()
	for _, f := range []packFile{{a.Name + ".yaml", a.YAML()}, specimen} {
		if err := pack.Add(f.name, f.data); err != nil {
			return err
		}
	}
	return pack.Commit()
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
