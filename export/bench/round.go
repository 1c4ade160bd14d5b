package bench

import (
	"maps"
	"math"
	"slices"
	"strings"

	g "maskloft/geometry"
)

// round6 rounds to six decimals, without -0.
func round6(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }

func point2(p g.Point) Point2 { return Point2{round6(p.X), round6(p.Y)} }

func point3(p g.Vec3) Point3 { return Point3{round6(p.X), round6(p.Y), round6(p.Z)} }

func boxOf(r g.Rect) Box {
	return Box{round6(r.Min.X), round6(r.Min.Y), round6(r.Max.X), round6(r.Max.Y)}
}

// pathData writes outlines as SVG path data, y up, to ten-thousandths of an inch.
func pathData(p g.Path) string {
	var b strings.Builder
	put := func(q g.Point) {
		b.WriteString(g.FormatNumber(q.X, 4))
		b.WriteByte(' ')
		b.WriteString(g.FormatNumber(q.Y, 4))
	}
	for _, c := range p {
		b.WriteByte('M')
		put(c.Start)
		for _, s := range c.Segments {
			if s.Kind == g.Cubic {
				b.WriteByte('C')
				put(s.C1)
				b.WriteByte(' ')
				put(s.C2)
				b.WriteByte(' ')
			} else {
				b.WriteByte('L')
			}
			put(s.End)
		}
		b.WriteByte('Z')
	}
	return b.String()
}

// sortedKeys are the keys of two maps, each once.
func sortedKeys(a, b map[string]string) []string {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return slices.Sorted(maps.Keys(all))
}
