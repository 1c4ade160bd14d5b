package export

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// FilmHash names a film by what is cut: ten hexadecimal digits of its id and the outlines
// of its cut layer to 0.0001 in, from the film's own corner. A film whose hash is the same
// need not be cut again, wherever it lies on the web.
func FilmHash(m masks.Mask, tile masks.Tile) string {
	r := tile.Cell.Bounds()
	var b strings.Builder
	b.WriteString(tile.ID)
	number := func(p g.Point) {
		b.WriteByte(' ')
		b.WriteString(g.FormatNumber(p.X-r.Min.X, 4))
		b.WriteByte(' ')
		b.WriteString(g.FormatNumber(p.Y-r.Min.Y, 4))
	}
	for _, it := range filmItems(m, tile, "", func(p g.Path) g.Path { return p }) {
		b.WriteString("\n" + it.ID)
		for _, c := range it.Path {
			b.WriteString(" M")
			number(c.Start)
			for _, s := range c.Segments {
				if s.Kind == g.Cubic {
					number(s.C1)
					number(s.C2)
				}
				number(s.End)
			}
		}
	}
	sum := sha256.Sum256([]byte(b.String()))
	return hex.EncodeToString(sum[:5])
}
