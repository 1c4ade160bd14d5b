package drawing

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// visible is what each colour shows, each item painted over those before it.
func visible(t testing.TB, list []Shown) map[string]g.Path {
	t.Helper()
	out := map[string]g.Path{}
	var err error
	for _, s := range list {
		for colour := range out {
			if colour != s.Colour {
				out[colour], err = g.Subtract(out[colour], s.Outline)
				require.NoError(t, err)
			}
		}
		out[s.Colour], err = g.Union(out[s.Colour], s.Outline)
		require.NoError(t, err)
	}
	return out
}

func colourOf(t testing.TB, hex string) [3]float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	require.NoError(t, err, hex)
	return [3]float64{float64(n >> 16), float64(n >> 8 & 255), float64(n & 255)}
}

// Twenty drawings by other writers (cairo 1.16, matplotlib 3.6, reportlab 3.6, and by
// hand with nested transforms, styles, references and clips). areas.txt is what each
// colour covers of the page as librsvg (SVG) and poppler (PDF) paint it at 1152 dots to
// the inch, edges given to the nearest colour; white pages are left out. Each agrees
// within 0.0008 of the page.
func TestDrawingsOfOthers(t *testing.T) {
	folder := filepath.Join("testdata", "others")
	text, err := os.ReadFile(filepath.Join(folder, "areas.txt"))
	require.NoError(t, err)
	want := map[string]map[string]float64{}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		f := strings.Fields(line)
		require.Len(t, f, 3, line)
		if want[f[0]] == nil {
			want[f[0]] = map[string]float64{}
		}
		want[f[0]][f[1]], err = strconv.ParseFloat(f[2], 64)
		require.NoError(t, err)
	}
	require.Len(t, want, 20)
	for name, colours := range want {
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join(folder, name))
			require.NoError(t, err)
			format := Format(strings.TrimPrefix(filepath.Ext(name), "."))
			list, err := ReadShown(data, format)
			require.NoError(t, err)
			pages, err := readPages(data, format, &passedOver{cut: true})
			require.NoError(t, err)
			page := pages[0].Width * pages[0].Height
			got := visible(t, list)
			for hex, part := range colours {
				at, near, best := colourOf(t, hex), "", math.Inf(1)
				for have := range got {
					c := colourOf(t, have)
					if d := math.Abs(c[0]-at[0]) + math.Abs(c[1]-at[1]) + math.Abs(c[2]-at[2]); d < best {
						near, best = have, d
					}
				}
				require.Less(t, best, 8.0, "%s is drawn", hex)
				assert.InDelta(t, part, got[near].Area()/page, 8e-4, hex)
			}
		})
	}
}

// What is no plain area is refused with the element named and what to do.
func TestShownRefuses(t *testing.T) {
	svg := func(body string) []byte {
		return []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="2in" height="2in" viewBox="0 0 200 200"><defs><linearGradient id="fade"/></defs>` + body + `</svg>`)
	}
	for body, say := range map[string]string{
		`<image id="photo" width="10" height="10"/>`:                                   `image "photo": it is not an outline and cannot be measured: trace it`,
		`<text id="name">A</text>`:                                                     `text "name": it is not an outline`,
		`<rect id="sky" width="9" height="9" fill="url(#fade)"/>`:                      `rect "sky": it is painted with a gradient or a pattern`,
		`<rect id="mist" width="9" height="9" opacity="0.5"/>`:                         `rect "mist": it is painted with opacity 0.5`,
		`<path id="rail" d="M0 0H9" fill="none" stroke="red" stroke-dasharray="3 2"/>`: `path "rail": it is painted with a dashed line`,
		`<rect id="cut" width="9" height="9" clip-path="url(#gone)"/>`:                 `clip-path is "url(#gone)"`,
		`<rect id="soft" width="9" height="9" filter="url(#blur)"/>`:                   `filter`,
	} {
		_, err := ReadShown(svg(body), SVG)
		assert.ErrorContains(t, err, say, body)
	}
	list, err := ReadShown(svg(`<g id="sea"><rect id="a" x="100" width="100" height="200" fill="red" stroke="black" stroke-width="10"/></g><circle id="spot" cx="50" cy="150" r="5" fill="none"/>`), SVG)
	require.NoError(t, err)
	require.Len(t, list, 3, "a fill, its stroke, and a point that is named")
	assert.Equal(t, "sea", list[0].Group)
	assert.InDelta(t, 2, list[0].Outline.Area(), 1e-9)
	assert.InDelta(t, 1.1*2.1-0.9*1.9, list[1].Outline.Area(), 1e-6)
	assert.Empty(t, list[2].Outline)
	assert.Equal(t, "0.50 0.50", fmt.Sprintf("%.2f %.2f", list[2].Middle.X, list[2].Middle.Y))
}

// A clip path may name its outline by a reference, moved by x, y and both transforms.
func TestClipByReference(t *testing.T) {
	list, err := ReadShown([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="2in" height="2in" viewBox="0 0 200 200">
<defs><rect id="pane" width="40" height="30" transform="translate(10 0)"/><clipPath id="clip"><use href="#pane" x="20" transform="scale(2)"/></clipPath></defs>
<rect id="sky" x="100" width="100" height="200" fill="red" clip-path="url(#clip)"/></svg>`), SVG)
	require.NoError(t, err)
	require.Len(t, list, 1)
	// the pane lies from 2 (20 + 10) = 60 to 140 and from 0 to 60: 40 by 60 of it are in the sky
	assert.InDelta(t, 0.4*0.6, list[0].Outline.Area(), 1e-9)
}
