package glyphs

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	g "maskloft/geometry"
)

// measured is what .ci/outside/fonts.py prints: fonts by fonttools 4.38, shapely
// and HarfBuzz 6.0, in units of each font.
type measured struct {
	Fonts []struct {
		File    string
		Em, Cap float64
		Glyphs  map[string]struct {
			Signed  float64 // area, contours that overlap counted twice
			Merged  float64 // area of the whole, curves in chords
			Bounds  [4]float64
			Advance float64
			Points  []float64 // x and y in turn, on the curves: ends and middles
		}
		Runs []struct {
			Text   string
			Places []float64 // of the glyphs' origins, spaces included
		}
	}
}

var embedded = map[string][]byte{"Go-Regular.ttf": goregular.TTF, "Go-Bold.ttf": gobold.TTF}

// The areas, points, extents, advances and kerning of testdata/fonts.json and of the
// file that MASKLOFT_FONTS names: areas to 1e-6 of themselves, places of characters to
// a hundredth of a unit, points of the curves to 0.001 in on capitals 12 in high.
func TestFontAreas(t *testing.T) {
	files := []string{"testdata/fonts.json"}
	if fresh := os.Getenv("MASKLOFT_FONTS"); fresh != "" {
		files = append(files, fresh)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		var all measured
		require.NoError(t, json.Unmarshal(data, &all))
		require.GreaterOrEqual(t, len(all.Fonts), 2)
		for _, want := range all.Fonts {
			t.Run(filepath.Base(name)+"/"+filepath.Base(want.File), func(t *testing.T) {
				font, ok := embedded[filepath.Base(want.File)]
				if !ok {
					font, err = os.ReadFile(FontFile(want.File))
					if errors.Is(err, fs.ErrNotExist) {
						t.Skipf("%s is not there: on Debian, packages fonts-cantarell, -dejavu-core, -ebgaramond, -lato and -urw-base35 hold these fonts", want.File)
					}
					require.NoError(t, err)
				}
				f, err := ParseFont(want.File, font)
				require.NoError(t, err)
				require.InDelta(t, want.Cap, f.cap, 1e-9)
				worst, apart, off := 0.0, 0.0, 0.0
				for c, x := range want.Glyphs {
					r := []rune(c)[0]
					d := f.draw(r)
					require.NoError(t, d.err, c)
					raw, err := f.face.outline(d.glyph)
					require.NoError(t, err)
					require.NotEmpty(t, x.Points, c)
					for i := 0; i < len(x.Points); i += 2 {
						off = max(off, apartFrom(raw, g.Point{X: x.Points[i], Y: x.Points[i+1]})*12/f.cap)
					}
					require.Less(t, off, 0.001, "points of %s, in on capitals 12 in high", c)
					relative := math.Abs(math.Abs(raw.Area())/math.Abs(x.Signed) - 1)
					require.Less(t, relative, 1e-6, "area of %s", c)
					worst = max(worst, relative)
					made, err := f.Glyph(r, g.Length(f.cap))
					require.NoError(t, err)
					require.InEpsilon(t, x.Merged, made.Outline.Area(), 1e-6, "merged area of %s", c)
					if math.Abs(x.Merged/math.Abs(x.Signed)-1) < 1e-6 {
						require.InEpsilon(t, math.Abs(x.Signed), made.Outline.Area(), 1e-6, "area of %s", c)
					}
					require.InDelta(t, x.Bounds[2]-x.Bounds[0], float64(made.Width), 1e-3, "width of %s", c)
					require.InDelta(t, x.Bounds[0], d.left, 1e-3, "left side of %s", c)
					require.InDelta(t, x.Advance, d.left+d.width+d.right, 1e-9, "advance of %s", c)
				}
				kerned := 0
				for _, letters := range want.Runs {
					set, err := Set(f, letters.Text, g.Length(f.cap), SetOptions{})
					require.NoError(t, err, letters.Text)
					k := 0
					var first float64
					for i, c := range []rune(letters.Text) {
						if c == ' ' {
							continue
						}
						x := letters.Places[i] + want.Glyphs[string(c)].Bounds[0]
						if k == 0 {
							first = x
						}
						require.InDelta(t, x-first, float64(set.Glyphs[k].X), 0.01, "%q at %d", letters.Text, i)
						apart = max(apart, math.Abs(x-first-float64(set.Glyphs[k].X)))
						if k > 0 && f.pair(set.Glyphs[k-1].Rune, c) != 0 {
							kerned++
						}
						k++
					}
					require.Len(t, set.Glyphs, k)
				}
				t.Logf("%d characters, areas within %.1g, points within %.1g in at 12 in; %d strings with %d kerned pairs, places within %.1g units",
					len(want.Glyphs), worst, off, len(want.Runs), kerned, apart)
			})
		}
	}
}

// apartFrom returns the distance from p to the nearest of chords of an outline, 256 to
// a curve: far below a hundredth of a unit off the curve.
func apartFrom(path g.Path, p g.Point) float64 {
	near := math.Inf(1)
	for _, c := range path {
		from := c.Start
		for i, s := range c.Segments {
			steps := 256
			if s.Kind == g.Line {
				steps = 1
			}
			for k := 1; k <= steps; k++ {
				to := c.At(i, float64(k)/float64(steps))
				d := to.Sub(from)
				t := 0.0
				if n := d.Dot(d); n > 0 {
					t = min(1, max(0, p.Sub(from).Dot(d)/n))
				}
				near = min(near, p.Dist(from.Lerp(to, t)))
				from = to
			}
		}
	}
	return near
}

// A second reader of TrueType outlines rounds implied points to whole units: this one
// differs from it, by no more than that rounding can make.
func TestGlyfAgainstSecondReader(t *testing.T) {
	f, err := ParseFont("Go-Bold.ttf", gobold.TTF)
	require.NoError(t, err)
	second, err := sfnt.Parse(gobold.TTF)
	require.NoError(t, err)
	differ := 0
	for r := rune(33); r < 127; r++ {
		i, err := f.face.index(r)
		require.NoError(t, err)
		exact, err := f.face.outline(i)
		require.NoError(t, err)
		segments, err := second.LoadGlyph(&sfnt.Buffer{}, sfnt.GlyphIndex(i), fixed.Int26_6(second.UnitsPerEm()), nil)
		require.NoError(t, err)
		area, length := 0.0, 0.0
		var here, start g.Point
		at := func(p fixed.Point26_6) g.Point { return g.Point{X: float64(p.X), Y: -float64(p.Y)} }
		for _, s := range segments { // Green's theorem; a quadratic adds a third of the cross product of its legs
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				start = at(s.Args[0])
				here = start
			case sfnt.SegmentOpLineTo:
				end := at(s.Args[0])
				area += (here.X*end.Y - end.X*here.Y) / 2
				here = end
			case sfnt.SegmentOpQuadTo:
				q, end := at(s.Args[0]), at(s.Args[1])
				area += (here.X*end.Y-end.X*here.Y)/2 + q.Sub(here).Cross(end.Sub(q))/3
				here = end
			}
		}
		for _, c := range exact {
			length += c.Length()
		}
		require.InDelta(t, math.Abs(exact.Area()), math.Abs(area), length, "%c", r)
		if math.Abs(math.Abs(exact.Area())-math.Abs(area)) > 0.5 {
			differ++
		}
	}
	require.Greater(t, differ, 10, "else the second reader does not round")
}

// The cap height is the height of H at every size; the outline keeps its shape.
func TestFontSizes(t *testing.T) {
	f, err := ParseFont("Go-Bold.ttf", gobold.TTF)
	require.NoError(t, err)
	big, err := f.Glyph('R', 40)
	require.NoError(t, err)
	for _, h := range []g.Length{0.25, 1, 8, 12.5} {
		glyph, err := f.Glyph('H', h)
		require.NoError(t, err)
		b := glyph.Outline.Bounds()
		require.InDelta(t, float64(h), b.Height(), 1e-9)
		require.InDelta(t, 0, b.Min.X, 1e-9)
		require.InDelta(t, float64(glyph.Width), b.Width(), 1e-9)
		r, err := f.Glyph('R', h)
		require.NoError(t, err)
		require.InEpsilon(t, big.Outline.Area()*float64(h*h)/1600, r.Outline.Area(), 1e-9)
	}
	// a gap is one between extents, with a font too
	letters, err := Set(f, "VA", 8, SetOptions{Gap: length(1)})
	require.NoError(t, err)
	require.InDelta(t, float64(letters.Glyphs[0].Width)+1, float64(letters.Glyphs[1].X), 1e-12)
}

func TestFontErrors(t *testing.T) {
	f, err := ParseFont("letters.ttf", goregular.TTF)
	require.NoError(t, err)
	_, err = Set(f, "K漢4🙂", 8, SetOptions{})
	require.ErrorContains(t, err, `font letters.ttf: it has no '漢' (U+6F22)`)
	require.ErrorContains(t, err, `nor can it set '🙂'`)
	for name, data := range map[string][]byte{"empty": nil, "text": []byte("name: not a font\n"), "half": goregular.TTF[:40000], "collection": []byte("ttcf\x00\x01\x00\x00")} {
		_, err := ParseFont(name, data)
		require.Error(t, err, name)
	}
	// no damage makes it panic or hang
	for at := 0; at < len(goregular.TTF); at += 397 {
		data := slices.Clone(goregular.TTF)
		data[at] ^= 0xFF
		if f, err := ParseFont("damaged", data); err == nil {
			for _, r := range "HR8&" {
				if i, err := f.face.index(r); err == nil {
					f.face.outline(i)
				}
			}
		}
	}
}

// The licence of the Go fonts (names 0 and 13 of their files; fsType 0 is
// installable), and every word of fsType.
func TestFontLicence(t *testing.T) {
	f, err := ParseFont("Go-Regular.ttf", goregular.TTF)
	require.NoError(t, err)
	require.Equal(t, "Go", f.Licence.Family)
	require.Contains(t, f.Licence.Copyright, "Bigelow & Holmes")
	require.Contains(t, f.Licence.Text, "Redistribution and use")
	require.Equal(t, "installable", f.Licence.Embedding)
	require.Contains(t, f.Licence.String(), "; embedding: installable")
	for bits, want := range map[uint16]string{
		0: "installable", 2: "restricted: only with leave of the owner", 4: "preview and print", 8: "editable",
		0x108: "editable, no subsets", 0x204: "preview and print, bitmaps only",
	} {
		os2 := make([]byte, 78)
		binary.BigEndian.PutUint16(os2[8:], bits)
		require.Equal(t, want, embedding(os2))
	}
	require.Empty(t, embedding(nil))
}

// A font may be set at several places at once.
func TestFontConcurrent(t *testing.T) {
	f, err := ParseFont("Go-Bold.ttf", gobold.TTF)
	require.NoError(t, err)
	runs := make([]Lettering, 6)
	var wait sync.WaitGroup
	for i := range runs {
		wait.Add(1)
		go func() { defer wait.Done(); runs[i], _ = Set(f, "KITTOCK 0417", 8, SetOptions{}) }()
	}
	wait.Wait()
	for _, r := range runs {
		require.NotEmpty(t, r.Glyphs)
		require.Equal(t, runs[0], r)
	}
}
