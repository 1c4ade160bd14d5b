package skin

import (
	"context"
	"encoding/binary"
	"math"

	g "maskloft/geometry"
)

// twoSided is a skin whose two sides are mirror images in BL 0 by how it is made: the
// point at U and V has its image at U and opposite(V). A grid line has its image on a
// grid line, and the skin's own parameters are those of its nets (see [charted]).
type twoSided interface {
	opposite(v float64) float64
}

func (s *FairedSkin) opposite(v float64) float64   { return -v }
func (s *RoundSkin) opposite(v float64) float64    { return -v }
func (s *StringerSkin) opposite(v float64) float64 { return float64(s.loop) - v }

// Keep returns the flat that is kept under a key, or computes and keeps it. The key tells
// flats of one skin apart; whoever keeps those of several skins adds what tells the skins
// apart. Nil keeps nothing.
type Keep func(key string, flatten func() (*FlatMap, error)) (*FlatMap, error)

// TwoSided tells whether both sides of a skin are mirror images by how it is made.
func TwoSided(s Surface) bool {
	_, ok := s.(twoSided)
	return ok
}

// FlattenKept is [Flatten] for work on both sides of a body. The flat of a mirror image
// in BL 0 is the mirror image of the flat: where the skin is [TwoSided], film on the right
// is laid as its image on the left, and one flat is kept for both. It is that of the film
// asked for first, from which its mirror image may differ by rounding; so that the same
// comes out each time, the left is to be asked for before the right.
func FlattenKept(ctx context.Context, s Surface, frame Frame, film, need g.Rect, tolerance float64, keep Keep) (*FlatMap, error) {
	both, ok := s.(twoSided)
	if !ok || keep == nil {
		return Flatten(ctx, s, frame, film, need, tolerance)
	}
	left := sheet{frame, film, need}
	right := PointAt(s, frame.At).Y > g.SnapTolerance
	if right {
		left = left.mirrored(both)
	}
	m, err := keep(left.key(tolerance), func() (*FlatMap, error) {
		return Flatten(ctx, s, left.at, left.film, left.need, tolerance)
	})
	switch {
	case !right || ctx.Err() != nil:
		return m, err
	case err != nil:
		return nil, g.MirroredError(err)
	}
	return m.mirrored(both), nil
}

// sheet is film to be laid flat: see [Flatten].
type sheet struct {
	at         Frame
	film, need g.Rect
}

// mirrored is the sheet on the other side.
func (t sheet) mirrored(s twoSided) sheet {
	t.at.At.V = s.opposite(t.at.At.V)
	t.at.Up.Y = -t.at.Up.Y
	t.film, t.need = mirroredRect(t.film), mirroredRect(t.need)
	return t
}

func mirroredRect(r g.Rect) g.Rect {
	return g.Rect{Min: g.Point{X: 0 - r.Max.X, Y: r.Min.Y}, Max: g.Point{X: 0 - r.Min.X, Y: r.Max.Y}}
}

// keySteps is how many steps an inch, and a unit of V and of a direction, is rounded to
// in a key: fine beside every tolerance, and coarse beside the 1e-12 in by which mirror
// images of a drawing differ.
const keySteps = 1 << 30

// key are the numbers of a sheet, rounded, and the tolerance of its flat.
func (t sheet) key(tolerance float64) string {
	key := binary.LittleEndian.AppendUint64(nil, math.Float64bits(tolerance))
	for _, x := range []float64{
		t.at.At.U, t.at.At.V, t.at.Up.X, t.at.Up.Y, t.at.Up.Z,
		t.film.Min.X, t.film.Min.Y, t.film.Max.X, t.film.Max.Y, t.need.Min.X, t.need.Min.Y, t.need.Max.X, t.need.Max.Y,
	} {
		key = binary.LittleEndian.AppendUint64(key, uint64(int64(math.Round(x*keySteps))))
	}
	return string(key)
}

// mirrored is the flat of the mirror image of the film on the other side.
func (m *FlatMap) mirrored(s twoSided) *FlatMap {
	of := m.net
	last := of.nv() - 1
	net := &Net{s: of.s, us: of.us, uPanel: of.uPanel}
	for j := last; j >= 0; j-- {
		net.vs = append(net.vs, s.opposite(of.vs[j]))
	}
	for c := last - 1; c >= 0; c-- {
		p := of.vPanel[c]
		net.vPanel = append(net.vPanel, [2]int{last - p[1], last - p[0]})
	}
	net.uInverse, net.vInverse = of.uInverse, inversesOf(net.vs)
	on := func(m *FlatMap) *FlatMap {
		out := *m
		out.net, out.film, out.laws = net, mirroredRect(m.film), nil
		out.flat = make([]g.Point, len(m.flat))
		for k := range out.flat {
			i, j := net.lines(k)
			q := m.flat[of.node(i, last-j)]
			out.flat[k] = g.Point{X: 0 - q.X, Y: q.Y}
		}
		out.bins = newBins(&out)
		return &out
	}
	out := on(m)
	for _, l := range m.laws {
		out.laws = append(out.laws, law{on(l.other)})
	}
	return out
}
