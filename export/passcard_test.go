package export

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/sheet"
	"maskloft/layouts/masks"
	"maskloft/layouts/reading"
	"maskloft/layouts/survey"
	"maskloft/layouts/worked"
)

// Every spray of the examples has one page, on either paper: each film of
// its paint is named on it, as is what must be done in any pass.
func TestPassCardsAreOnePageEach(t *testing.T) {
	for _, file := range []string{reading.DemoName, "sandling.yaml"} {
		w := worked.Worked(t, file, worked.Resolved(t, reading.DemoFiles(), file))
		run := masks.Nest(masks.Films(w.Tilings), w.Layout.Spec.Film)
		passes := SprayPasses(w.Layout, w.Tilings, run)
		figures, _, err := survey.FiguresOf(w.Layout, w.Laid)
		require.NoError(t, err)
		films := 0
		for _, paper := range []sheet.Paper{sheet.Letter, sheet.A4} {
			cards := PassCards(paper, w.Layout, passes, figures)
			require.Equal(t, len(passes), len(cards), w.Name)
			for i, pass := range passes {
				text := pageText(cards[i])
				named := map[string]bool{}
				for _, f := range pass.Films {
					marking, _ := sideOf(f.Marking)
					if named[marking] = true; len(named) <= mostCardFilms {
						require.Contains(t, text, marking+" (", w.Name)
					}
					require.Equal(t, f.First, len(f.Marks) == 0, f.Marking)
					if !f.First {
						require.Contains(t, text, ": "+strings.Join(f.Marks, " "), "the marks it is laid by")
					}
				}
				for _, want := range []string{"Paint underneath dry", "Tape over the registration windows", "While soft", "no blade on fabric", "Product", "not approved data"} {
					require.Contains(t, text, want)
				}
			}
		}
		for _, pass := range passes {
			films += len(pass.Films)
		}
		all := 0
		for _, l := range w.Laid {
			all += len(l.Masks)
		}
		require.Equal(t, all, films, "%s: every mask is sprayed in one pass", w.Name)
	}
}

// pageText is everything a page says.
func pageText(s sheet.Sheet) string {
	var b strings.Builder
	for _, l := range s.Layers {
		for _, it := range l.Items {
			if it.Says != nil {
				b.WriteString(it.Says.Text + " ")
			}
		}
	}
	return b.String()
}
