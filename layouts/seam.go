package layouts

import "maskloft/geometry"

// SeamSpec says how the tiles of one film meet, and which way film may lie on the
// web.
type SeamSpec struct {
	Style   SeamStyle
	Overlap geometry.Length // of two tiles, where paint is near (overlap)
	Waste   geometry.Length // of two tiles, elsewhere (overlap)
	Grain   Grain
}

// SeamStyle says how two tiles meet.
type SeamStyle string

// Values of SeamStyle.
const (
	ButtSeam    SeamStyle = "butt"    // edge to edge
	OverlapSeam SeamStyle = "overlap" // the upper and the left tile reach over the seam
)

// Grain says which way the drawing may lie on the web. Film stretches more along
// the roll than across it.
type Grain string

// Values of Grain.
const (
	KeepGrain Grain = "keep" // the drawing's x along the web, for every film
	FreeGrain Grain = "free" // turned by 90 degrees where that saves a seam or film
)

// Most that tiles may overlap: film is a step that paint creeps under (common
// practice, no source).
const (
	MostOverlap      = geometry.Inch / 8
	MostWasteOverlap = geometry.Inch / 2
)

// UsualSeam is how tiles meet in a layout that does not say.
func UsualSeam() SeamSpec { return SeamSpec{Style: ButtSeam, Grain: FreeGrain} }

// Reach is how far the upper or the left tile reaches over a seam at most.
func (s SeamSpec) Reach() geometry.Length { return max(s.Overlap, s.Waste) }
