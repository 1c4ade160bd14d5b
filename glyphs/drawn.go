package glyphs

import (
	"sync"

	g "maskloft/geometry"
)

// drawnOf has the [drawnGlyphs] of each embedded alphabet, by its address: none of them is
// ever changed, and a copy that is has another.
var drawnOf sync.Map

// drawnGlyphs keeps the characters of an embedded alphabet that were drawn: a thousand
// stencils are set in the same few.
type drawnGlyphs struct {
	of    *Alphabet
	mu    sync.Mutex
	glyph map[sizedRune]Glyph
}

type sizedRune struct {
	r      rune
	height g.Length
}

// mostDrawn is how many characters are kept; then all are drawn anew.
const mostDrawn = 2000

func (d *drawnGlyphs) draw(r rune, height g.Length) (Glyph, error) {
	key := sizedRune{r, height}
	d.mu.Lock()
	out, known := d.glyph[key]
	d.mu.Unlock()
	if known {
		return out, nil
	}
	out, err := d.of.draw(r, height)
	if err != nil {
		return out, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.glyph == nil || len(d.glyph) >= mostDrawn {
		d.glyph = map[sizedRune]Glyph{}
	}
	d.glyph[key] = out
	return out, nil
}
