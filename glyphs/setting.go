package glyphs

import (
	"fmt"
	"math"
	"strings"

	g "maskloft/geometry"
)

// SetOptions changes how a text is set. The zero value sets lines at the face's
// own spacing, from a common left edge.
type SetOptions struct {
	Gap     *g.Length // between the extents of two characters; nil: the face's own, kerned
	Fit     g.Length  // width that the widest line is to have; 0: its own
	Least   *g.Length // with Fit: no gap is made smaller than this; nil: see [LeastGap]
	Squeeze bool      // with Fit: where spacing alone cannot do, narrow letters and gaps alike
	Align   Align
	Leading g.Length // from baseline to baseline; 0: [UsualLeading] times the height
	Arc     *Arc
}

// Align says how the lines of a text stand to each other.
type Align string

// Values of Align; the empty one is AlignLeft.
const (
	AlignLeft   Align = "left"
	AlignCentre Align = "centre"
	AlignRight  Align = "right"
)

// UsualLeading is the distance of two baselines over the height of the
// characters: half a height is left between lines (common practice, no source).
const UsualLeading = 1.5

// SmallestFeature is the least width that film and paint keep: 2 mm, sign shops'
// least for weeding (trade notes of two shops, read).
const SmallestFeature = 2 * g.Millimetre

// LeastGap returns the gap below which fitting does not close up a face: half of
// its own between upright strokes (common practice, no source), but not less
// than [SmallestFeature].
func LeastGap(face Typeface, height g.Length) g.Length {
	return max(SmallestFeature, face.Space('H', 'H', 0, height)/2)
}

// line is a line being set: gaps[i] stands before glyphs[i+1] and takes shares[i]
// of what fitting adds to one gap: more for a word space, as it is wider.
type line struct {
	glyphs []Glyph
	gaps   []g.Length
	shares []float64
}

func (l line) width() g.Length {
	w := g.Length(0)
	for _, x := range l.glyphs {
		w += x.Width
	}
	for _, x := range l.gaps {
		w += x
	}
	return w
}

// Set sets a text; a line break ends a line. Neighbours stand a gap apart,
// measured between their extents; spaces widen it as the face says, spaces at
// either end of a line count nothing.
//
// Errors: a line without a character, characters the face lacks (all of them
// are named), a gap that is not above 0, lines that run into each other, a
// width that the gaps cannot make, letters that run into each other on an arc.
func Set(face Typeface, text string, height g.Length, o SetOptions) (Lettering, error) {
	if o.Gap != nil && *o.Gap <= 0 {
		return Lettering{}, fmt.Errorf("gap %v: characters need a gap above 0", *o.Gap)
	}
	if height <= 0 {
		return Lettering{}, fmt.Errorf("character height %v: it must be above 0", height)
	}
	if o.Arc != nil && o.Align != "" && o.Align != AlignCentre {
		return Lettering{}, fmt.Errorf("align %s: lines along an arc are centred: take out align", o.Align)
	}
	texts := strings.Split(text, "\n")
	drawn, err := drawAll(face, texts, height)
	if err != nil {
		return Lettering{}, err
	}
	lines := make([]line, len(texts))
	for i, t := range texts {
		if lines[i], err = setLine(face, drawn, t, height, o.Gap); err != nil {
			return Lettering{}, err
		}
	}
	letters := Lettering{Squeeze: 1}
	if o.Fit != 0 {
		if letters.Squeeze, err = fit(face, lines, height, o); err != nil {
			return Lettering{}, err
		}
	}
	leading := o.Leading
	if leading == 0 {
		leading = UsualLeading * height
	}
	for _, l := range lines {
		letters.Width = max(letters.Width, l.width())
	}
	letters.Height = height + g.Length(leading*g.Length(len(lines)-1))
	letters.Gap = least(lines)
	if o.Arc != nil {
		err := letters.bend(lines, leading, *o.Arc)
		return letters, err
	}
	for i, l := range lines {
		x := g.Length(0)
		switch o.Align {
		case AlignCentre:
			x = (letters.Width - l.width()) / 2
		case AlignRight:
			x = letters.Width - l.width()
		}
		y := leading * g.Length(len(lines)-1-i)
		for k, glyph := range l.glyphs {
			letters.Glyphs = append(letters.Glyphs, PlacedGlyph{Glyph: glyph, X: x, Y: y, Line: i})
			if x += glyph.Width; k < len(l.gaps) {
				x += l.gaps[k]
			}
		}
	}
	return letters, apartLines(letters, texts, leading)
}

// drawAll draws every character of the texts but the space, each once. The error
// names all that the face lacks.
func drawAll(face Typeface, texts []string, height g.Length) (map[rune]Glyph, error) {
	var first error
	var also []string
	drawn := map[rune]Glyph{}
	for _, r := range strings.Join(texts, "") {
		if _, again := drawn[r]; again || r == ' ' {
			continue
		}
		glyph, err := face.Glyph(r, height)
		if err != nil && first == nil {
			first = err
		} else if err != nil {
			also = append(also, fmt.Sprintf("%q", r))
		}
		drawn[r] = glyph
	}
	if first != nil && len(also) > 0 {
		return nil, fmt.Errorf("%w; nor can it set %s", first, strings.Join(also, ", "))
	}
	return drawn, first
}

// setLine sets one line of characters that were drawn.
func setLine(face Typeface, drawn map[rune]Glyph, text string, height g.Length, gap *g.Length) (line, error) {
	var l line
	var last rune
	spaces := 0
	for _, r := range text {
		if r == ' ' {
			spaces++
			continue
		}
		if len(l.glyphs) > 0 {
			between := face.Space(last, r, spaces, height)
			switch {
			case gap != nil && spaces == 0:
				between = *gap
			case spaces == 0:
				between += face.Kern(last, r, height)
			}
			l.gaps = append(l.gaps, between)
			l.shares = append(l.shares, 1)
			if own := face.Space('H', 'H', 0, height); spaces > 0 && own > 0 {
				l.shares[len(l.shares)-1] = max(1, float64(between/own))
			}
		}
		l.glyphs = append(l.glyphs, drawn[r])
		last, spaces = r, 0
	}
	if len(l.glyphs) == 0 {
		return line{}, fmt.Errorf("the text %q has no character to set", text)
	}
	return l, nil
}

// least returns the least gap of all lines; 0 where there is none.
func least(lines []line) g.Length {
	out := g.Length(math.Inf(1))
	for _, l := range lines {
		for _, x := range l.gaps {
			out = min(out, x)
		}
	}
	if math.IsInf(float64(out), 1) {
		return 0
	}
	return out
}

// apartLines reports lines whose paint leaves less than the smallest feature
// between them.
func apartLines(letters Lettering, texts []string, leading g.Length) error {
	if len(texts) < 2 {
		return nil
	}
	boxes := make([]g.Rect, len(texts))
	known := make([]bool, len(texts))
	for _, p := range letters.Glyphs {
		b := p.Placed().Bounds()
		if known[p.Line] {
			b = b.Union(boxes[p.Line])
		}
		boxes[p.Line], known[p.Line] = b, true
	}
	for i := 1; i < len(boxes); i++ {
		if gap := g.Length(boxes[i-1].Min.Y - boxes[i].Max.Y); gap < SmallestFeature-g.SnapTolerance {
			return fmt.Errorf("leading %v: lines %d and %d leave %v between them, below %v: write leading: %v or more",
				leading, i, i+1, gap, SmallestFeature, ceil(leading+SmallestFeature-gap))
		}
	}
	return nil
}
