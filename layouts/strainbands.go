package layouts

import "maskloft/geometry"

// StrainBands say how much strain of the film asks for what. Practice, not a
// standard: no published limit for paint masks was found.
type StrainBands struct {
	Place     Place
	Squeezed  StrainLimits // compression
	Stretched StrainLimits // tension
}

// StrainLimits are the upper ends of three bands, as fractions, ascending.
type StrainLimits struct {
	Easy  float64 // up to here the film is laid cold
	Warm  float64 // up to here it is laid warm, from the centre out
	Split float64 // up to here it is slit in the waste, or split; above, laid in pieces
}

// StrainBand is one of the four bands of film strain.
type StrainBand int

// Bands, from the mildest.
const (
	EasyBand StrainBand = iota
	WarmBand
	SplitBand
	PiecesBand
)

// Band returns the band of a strain, as a fraction of zero or more; a limit
// belongs to the band below it.
func (l StrainLimits) Band(strain float64) StrainBand {
	switch {
	case strain <= l.Easy:
		return EasyBand
	case strain <= l.Warm:
		return WarmBand
	case strain <= l.Split:
		return SplitBand
	}
	return PiecesBand
}

// UsualStrain returns the bands of a layout that gives none. Squeezed film wrinkles
// at 1 to 3 % by a model of film on a soft adhesive whose inputs are guessed, and
// half of that is left for creep; stretched film is trusted to 15 % by installers
// of vehicle film (common practice). The steps between are judgement, no source.
func UsualStrain() StrainBands {
	return StrainBands{
		Squeezed:  StrainLimits{Easy: 0.005, Warm: 0.02, Split: 0.04},
		Stretched: StrainLimits{Easy: 0.02, Warm: 0.05, Split: 0.15},
	}
}

// PercentOf writes a fraction as a layout file has it: "0.5 %".
func PercentOf(fraction float64) string {
	return geometry.FormatNumber(fraction*100, 4) + " %"
}
