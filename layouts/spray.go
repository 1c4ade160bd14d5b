package layouts

import "maskloft/geometry"

// PaintWay says how the films of a marking share the work.
type PaintWay string

// Ways of painting a marking of several paints.
const (
	// OpenWay: one film for each paint, with an opening for it alone; a paint
	// sprayed before another runs under it by the trap.
	OpenWay PaintWay = "open"
	// KeepDownWay: one film with the opening of the whole marking stays to the
	// end; each paint but the last is sprayed over all that is still open, then
	// what must stay of it is covered with pieces of film.
	KeepDownWay PaintWay = "keep-down"
)

// SpraySpec is how paint is sprayed: the keys of paint: besides order: and
// colours:.
type SpraySpec struct {
	Way      PaintWay
	Trap     geometry.Length // by which a paint runs under a later one, or a keep-down film laps film that lies already
	Skirt    geometry.Length // paper beyond the film
	Coats    int             // of a paint that does not say
	Coverage float64         // square feet that a US gallon covers with one coat
	Under    []UnderSpec     // under-coats, in the order written
}

// UnderSpec is an under-coat: so many coats of it are sprayed through the film of
// a paint before that paint.
type UnderSpec struct {
	Paint string
	Coats int
}

// UsualSpray returns what holds where nothing is written. Common practice, no
// source: a trap of 1/16 in (1/16 to 1/8 is usual), 12 in of paper, three coats.
// The coverage is 1604 x volume solids x transfer efficiency / dry mils of a coat
// (a coating maker's formula) of 12 %, 50 % and 0.5 mil, which are common
// practice: 192 ft2/gal.
func UsualSpray() SpraySpec {
	return SpraySpec{Way: OpenWay, Trap: geometry.Inch / 16, Skirt: 12 * geometry.Inch, Coats: 3, Coverage: CoverageOf(0.12, 0.5, 0.5)}
}

// CoverageOf returns the square feet that a US gallon covers with one coat:
// 1604 x volume solids x transfer efficiency / dry thickness, solids and
// efficiency as fractions, thickness in thousandths of an inch. A US gallon is
// 231 in3 and 231 / 144 x 1000 is 1604 (derived).
func CoverageOf(solids, efficiency, mils float64) float64 { return 1604 * solids * efficiency / mils }

// CoatsOf returns the coats of a paint, its under-coats not counted.
func (p PaintSpec) CoatsOf(paint string) int {
	for _, c := range p.Colours {
		if c.ID == paint && c.Coats > 0 {
			return c.Coats
		}
	}
	return p.Spray.Coats
}

// UnderCoatsOf returns the coats of under-coat beneath a paint.
func (p PaintSpec) UnderCoatsOf(paint string) int {
	for _, u := range p.Spray.Under {
		if u.Paint == paint {
			return u.Coats
		}
	}
	return 0
}
