package audit

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/drawing"
	"maskloft/export/samples"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

// Files made to keep a reader busy are refused in a moment and in one line: groups
// that refer to ten groups each, eleven deep; forms and objects that hold themselves;
// more outlines than any cut file has. Ten seconds are far more than any takes.
func TestHostileFiles(t *testing.T) {
	var groups strings.Builder
	groups.WriteString(`<path id="a0" d="M0 0H1V1Z"/>`)
	for i := 1; i < 12; i++ {
		fmt.Fprintf(&groups, `<g id="a%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use href="#a%d"/>`, i-1), 10))
	}
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="4in" height="4in" viewBox="0 0 4 4"><defs>` + groups.String() + `</defs><use href="#a11"/></svg>`
	self := "<</Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F 5 0 R>>>>/Length 5>>\nstream\n/F Do\nendstream"
	for name, c := range map[string]struct {
		data   []byte
		format drawing.Format
		says   string
	}{
		"groups of groups":         {[]byte(svg), drawing.SVG, "more than 100000 references"},
		"a form that holds itself": {samples.PDFFrom("/F Do", "/Resources<</XObject<</F 5 0 R>>>>", self), drawing.PDF, "more than 12 deep"},
	} {
		_, err := drawing.ReadForeign(c.data, c.format)
		require.ErrorContains(t, err, c.says, name)
		require.Less(t, len(err.Error()), 160, err.Error())
	}

	var dots g.Path
	for i := range mostPieces + 1 {
		dots = append(dots, g.Circle(g.Point{X: float64(i % 100), Y: float64(i / 100)}, 0.2))
	}
	_, err := CompareReturned(sentStar(t), drawing.Drawing{Width: 100, Height: 100, Layers: []drawing.DrawnLayer{{Name: sheet.LayerCut, Items: []drawing.DrawnItem{{Path: dots}}}}}, drawing.PDF)
	require.ErrorIs(t, err, errTooMany)
}
