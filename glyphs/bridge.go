package glyphs

import (
	"fmt"
	"sort"

	g "maskloft/geometry"
)

// IslandWay says what becomes of the film inside a closed counter, which falls
// out when the film is weeded.
type IslandWay string

// Values of IslandWay.
const (
	IslandsTape    IslandWay = "tape"    // transfer tape carries them; the paint is whole
	IslandsTies    IslandWay = "ties"    // bars of film tie them to the field; cut away once the film is laid
	IslandsBridges IslandWay = "bridges" // bridges that stay, as in a stencil: the paint is interrupted
)

// BridgeDirection says the direction of bridges from a counter.
type BridgeDirection string

// Values of BridgeDirection.
const (
	BridgesUpright BridgeDirection = "upright" // up and down from its middle
	BridgesLevel   BridgeDirection = "level"   // to both sides
	BridgesBoth    BridgeDirection = "both"
)

// Bridging says how islands are held.
type Bridging struct {
	Way       IslandWay
	Width     g.Length        // of a tie or bridge
	Direction BridgeDirection // empty: upright
	Least     g.Length        // no piece of paint or film is left narrower; 0: [SmallestFeature]
}

// Bridge is one strip of film across the paint.
type Bridge struct {
	Across g.Path   // the paint that it takes the place of
	Length g.Length // from film to film, along its middle
	Moved  g.Length // from the counter's middle, square to its run; positive to the right or up
}

// Bridged is a figure whose islands are held.
type Bridged struct {
	Outline   g.Path // the paint
	Islands   int    // of film, before
	Left      int    // after
	Bridges   []Bridge
	Unbridged []string // why an island has no bridge, or fewer than asked; in order
	Thin      bool     // the paint is narrower than the least feature even without bridges
}

// CountIslands returns the number of islands of film within a region of paint.
func CountIslands(paint g.Path) int {
	n := 0
	for _, c := range paint {
		if c.Area() < 0 {
			n++
		}
	}
	return n
}

// HoldIslands ties or bridges every island of film within a region of paint. A
// bridge runs from the middle of a counter, its centre of area, through the stroke
// to the next film. Where it would leave paint or film narrower than the least feature
// it is moved across the counter, to the nearest of eight places on either side
// that will do; where none will, one end alone is tried; what then remains
// without is said.
//
// Errors: a width below the least feature, outlines that cannot be combined.
func HoldIslands(paint g.Path, b Bridging) (Bridged, error) {
	paint = g.Nest(paint)
	out := Bridged{Outline: paint, Islands: CountIslands(paint)}
	out.Left = out.Islands
	if b.Way == IslandsTape {
		return out, nil
	}
	if b.Least == 0 {
		b.Least = SmallestFeature
	}
	if b.Width < b.Least-g.SnapTolerance {
		return Bridged{}, fmt.Errorf("%s %v: film narrower than %v tears: write %s: %v or more", b.Way, b.Width, b.Least, b.Way, ceil(b.Least))
	}
	out.Outline = nil
	for i := 0; i < len(paint); {
		k := i + 1
		for k < len(paint) && paint[k].Area() < 0 {
			k++
		}
		h := holder{Bridging: b, paint: paint[i:k:k], out: &out}
		if err := h.holdAll(); err != nil {
			return Bridged{}, err
		}
		out.Outline = append(out.Outline, h.paint...)
		i = k
	}
	out.Left = CountIslands(out.Outline)
	return out, nil
}

// HoldIslands is [HoldIslands] for every character of a text, each upright on its
// own baseline. It returns the text with the outlines that remain to be painted.
func (r Lettering) HoldIslands(b Bridging) (Lettering, Bridged, error) {
	var all Bridged
	placed := make([]PlacedGlyph, len(r.Glyphs))
	known := map[rune]Bridged{} // a character of one text has one outline
	for i, p := range r.Glyphs {
		one, ok := known[p.Rune]
		if !ok {
			var err error
			if one, err = HoldIslands(p.Outline, b); err != nil {
				return Lettering{}, Bridged{}, fmt.Errorf("%q: %w", p.Rune, err)
			}
			known[p.Rune] = one
		}
		for _, x := range one.Bridges {
			x.Across = x.Across.Map(p.At)
			all.Bridges = append(all.Bridges, x)
		}
		for _, why := range one.Unbridged {
			all.Unbridged = append(all.Unbridged, fmt.Sprintf("%q: %s", p.Rune, why))
		}
		all.Islands, all.Left, all.Thin = all.Islands+one.Islands, all.Left+one.Left, all.Thin || one.Thin
		p.Outline = one.Outline
		placed[i] = p
	}
	r.Glyphs = placed
	all.Outline = r.Outline()
	return r, all, nil
}

// holder bridges the islands of one outer contour.
type holder struct {
	Bridging
	paint g.Path
	out   *Bridged
	body  features // of paint as it now is
}

// island is a counter of the outer contour and the ways from it that are open.
type island struct {
	box    g.Rect
	ring   g.Path
	middle g.Point // centre of area
	open   [4]bool // by direction
}

// The directions of bridges.
const (
	up = iota
	down
	right
	left
)

// opposite returns the direction back.
func opposite(d int) int { return d ^ 1 }

func (h *holder) holdAll() error {
	if len(h.paint) < 2 {
		return nil
	}
	var islands []*island
	for _, c := range h.paint[1:] {
		middle, _ := g.Centroid(c.Flattened(g.FlattenTolerance))
		islands = append(islands, &island{box: c.Bounds(), ring: g.Path{c}, middle: middle})
	}
	sort.SliceStable(islands, func(i, j int) bool { // from the top, then from the left
		a, b := islands[i].middle, islands[j].middle
		return a.Y > b.Y+g.SnapTolerance || (a.Y > b.Y-g.SnapTolerance && a.X < b.X)
	})
	for try := 0; ; try++ { // a letter of thin strokes cannot keep what it has not
		if err := h.body.measure(h.paint, h.Least); err != nil {
			return err
		}
		if h.body.thick >= h.body.pieces || try == 4 {
			break
		}
		h.out.Thin = true
		h.Least /= 2
	}
	ways := map[BridgeDirection][][2]int{
		BridgesLevel: {{right, left}}, BridgesBoth: {{up, down}, {right, left}},
	}[h.Direction]
	if ways == nil {
		ways = [][2]int{{up, down}}
	}
	for _, s := range islands {
		for _, ends := range ways {
			if err := h.hold(s, ends, islands); err != nil {
				return err
			}
		}
	}
	return nil
}

// hold bridges one island in two opposite directions.
func (h *holder) hold(s *island, ends [2]int, all []*island) error {
	var want []int
	for _, d := range ends {
		if !s.open[d] {
			want = append(want, d)
		}
	}
	tries := [][]int{want}
	if len(want) == 2 {
		tries = append(tries, want[:1], want[1:])
	}
	low, high, at := s.box.Min.X, s.box.Max.X, s.middle.X // across the run
	if ends[0] == right {
		low, high, at = s.box.Min.Y, s.box.Max.Y, s.middle.Y
	}
	half := h.Width.Inches() / 2
	step := max(0, (high-low)/2-half) / 8
	var why error
	for _, dirs := range tries {
		if len(dirs) == 0 {
			return nil
		}
		for k := 0; k <= 16; k++ { // 0, 1, -1, 2, -2 steps from the middle
			shift := step * float64((k+1)/2)
			if k%2 == 0 {
				shift = -shift
			}
			if k > 0 && (step == 0 || at+shift-half < low-g.SnapTolerance || at+shift+half > high+g.SnapTolerance) {
				continue
			}
			c, err := h.cut(s, dirs, shift)
			if err != nil {
				return err
			}
			if c.why == nil {
				h.paint, h.body = c.paint, c.body
				for i, x := range c.bridges {
					h.out.Bridges = append(h.out.Bridges, x)
					s.open[dirs[i]] = true
					for _, o := range all { // a bridge between two counters serves both
						if o != s && o.ring.Contains(c.ends[i], g.FlattenTolerance) {
							o.open[opposite(dirs[i])] = true
						}
					}
				}
				if len(dirs) < len(want) {
					h.out.Unbridged = append(h.out.Unbridged, fmt.Sprintf("one bridge of two: %v", why))
				}
				return nil
			}
			if why == nil {
				why = c.why
			}
		}
	}
	h.out.Unbridged = append(h.out.Unbridged, fmt.Sprintf("no bridge: %v", why))
	return nil
}
