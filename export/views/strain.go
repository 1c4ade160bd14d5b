package views

import (
	"fmt"
	"math"

	g "maskloft/geometry"
	"maskloft/geometry/same"
	"maskloft/glyphs"
	"maskloft/layouts/masks"
)

// StrainLadder are the colours of strain everywhere, from most squeezed to most stretched:
// dark where film is squeezed and light where it is stretched, so that they are told apart
// in grey as well (L* 14 30 48 64 74 83 94). The one in the middle is no strain.
var StrainLadder = [7]string{"#10233d", "#23486b", "#4a7893", "#8e9f99", "#bdb88c", "#dccf93", "#f8efc4"}

// StrainColour is the colour of a strain as a part of the most that is shown, -1 to 1.
func StrainColour(part float64) string {
	at := float64((math.Max(-1, math.Min(1, part)) + 1) * 3)
	i := min(5, int(at))
	t := at - float64(i)
	out := "#"
	for k := 1; k < 7; k += 2 {
		var a, b int
		fmt.Sscanf(StrainLadder[i][k:k+2], "%02x", &a)
		fmt.Sscanf(StrainLadder[i+1][k:k+2], "%02x", &b)
		out += fmt.Sprintf("%02x", int(math.Floor(float64(a)+float64(float64(b-a)*t)+0.5)))
	}
	return out
}

// StrainLine is the ink of contours: it shows on every colour of the ladder but the darkest,
// which the next colour borders.
const StrainLine = "#1a1a1a"

// leastFull is the least strain at the ends of the ladder: below it film lies cold
// everywhere (common practice, no source), and strong colours would alarm for nothing.
const leastFull = 0.0005

// StrainFull is the strain that the ends of the ladder stand for in every picture of a job:
// the most of all markings, rounded up so that quarters of it read easily.
func StrainFull(laid []masks.Laid) float64 {
	most := leastFull
	for _, l := range laid {
		most = math.Max(most, math.Max(l.Strain.Compression, l.Strain.Tension))
	}
	unit := same.Pow(10, math.Floor(same.Log10(most)+1e-9))
	for _, n := range []float64{1, 1.2, 1.6, 2, 2.4, 2.8, 3.2, 4, 4.8, 5, 6, 8} {
		if most <= n*unit*(1+1e-9) {
			return n * unit
		}
	}
	return 10 * unit
}

// StrainPart is which strain a picture shows.
type StrainPart int

// What is shown: at each place the larger by size, squeeze alone, or stretch alone.
const (
	BothStrains StrainPart = iota
	SqueezeAlone
	StretchAlone
)

// StrainArea is where a film is strained by a level and more, in the flat.
type StrainArea struct {
	Level  float64 // below zero: squeezed
	Region g.Path
	Colour string
	Labels []StrainLabel
}

// StrainLabel is the level written on the contour of its area: Box is where it stands.
type StrainLabel struct {
	Text string
	Box  g.Rect
}

// Cells of the grid on which strain is taken: along the longer side of a film, and at least
// along the shorter one.
const (
	strainCells      = 56
	strainLeastCells = 12
)

// strainLevels are the steps of the contours of a film: round numbers, three to seven up to
// its peak; none where the peak is too small for a picture.
func strainLevels(peak float64) (out []float64) {
	if peak < leastFull/2.5 {
		return nil
	}
	unit := same.Pow(10, math.Floor(same.Log10(peak/3)))
	step := unit
	for _, n := range []float64{2, 2.5, 5} {
		if n*unit <= peak/3*(1+1e-9) {
			step = n * unit
		}
	}
	for k := 1.0; k*step < peak*(1-1e-6); k++ {
		out = append(out, k*step)
	}
	return out
}

// StrainAreas are the areas of strain of a film, to be drawn one over the other in their
// order on the colour of no strain: full is what the ends of the ladder stand for, cap the
// height of labels in inches of the film, which stand clear of what is taken.
func StrainAreas(l masks.Laid, part StrainPart, full, cap float64, taken ...g.Rect) []StrainArea {
	levels := strainLevels(math.Max(l.Strain.Compression, l.Strain.Tension))
	if len(levels) == 0 {
		return nil
	}
	field := l.Field
	size := math.Max(field.Width(), field.Height()) / strainCells
	nodes := func(length float64) int { return max(strainLeastCells, int(math.Round(length/size))) + 1 }
	nx, ny := nodes(field.Width()), nodes(field.Height())
	squeeze, stretch := make([]float64, nx*ny), make([]float64, nx*ny)
	for j := range ny {
		for i := range nx {
			q := g.Point{X: field.Min.X + float64(field.Width()*float64(i)/float64(nx-1)), Y: field.Min.Y + float64(field.Height()*float64(j)/float64(ny-1))}
			if at, ok := l.Map.StrainAt(q); ok { // on a grid, so that every processor rounds alike
				squeeze[j*nx+i], stretch[j*nx+i] = g.OnGrid(-at.Least, 1e-8), g.OnGrid(at.Most, 1e-8)
			}
		}
	}
	var out []StrainArea
	add := func(level, colour float64, own, other []float64) {
		region := g.AtLeastZero(field, nx, ny, func(i, j int) float64 {
			v := own[j*nx+i] - math.Abs(level)
			if part == BothStrains {
				v = math.Min(v, own[j*nx+i]-other[j*nx+i])
			}
			return v
		})
		if len(region) == 0 {
			return
		}
		a := StrainArea{Level: level, Region: region, Colour: StrainColour(colour / full)}
		a.label(l, cap, &taken)
		out = append(out, a)
	}
	half := levels[0] / 2
	for _, v := range levels {
		if part != StretchAlone {
			add(-v, -v-half, squeeze, stretch)
		}
		if part != SqueezeAlone {
			add(v, v+half, stretch, squeeze)
		}
	}
	return out
}

// StrainPercent writes a level of strain: "-0.25 %".
func StrainPercent(level float64) string {
	return fmt.Sprintf("%+g %%", math.Round(level*1e6)/1e4)
}

// label writes the level on the longest contour of the area, within the paint's box if it
// can, off the edges of the film and of other labels; not where there is no such place.
func (a *StrainArea) label(l masks.Laid, cap float64, taken *[]g.Rect) {
	text := StrainPercent(a.Level)
	w := glyphs.LabelWidth(text, cap, false)
	long := a.Region[0]
	for _, c := range a.Region[1:] {
		if c.Length() > long.Length() {
			long = c
		}
	}
	free := func(b, in g.Rect) bool {
		if !in.Contains(b.Min) || !in.Contains(b.Max) {
			return false
		}
		for _, o := range *taken {
			if b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y && o.Min.Y < b.Max.Y {
				return false
			}
		}
		return true
	}
	n := len(long.Segments)
	for _, in := range []g.Rect{l.Painted.Bounds(), l.Field.Grown(-0.3 * cap)} {
		for _, part := range []int{8, 4, 12, 2, 6, 10, 14, 0, 1, 3, 5, 7, 9, 11, 13, 15} {
			p := long.Segments[(n*part/16)%n].End
			if !l.Field.Grown(-0.2 * cap).Contains(p) {
				continue // the edge of the film is no contour
			}
			// about the contour, or beside it where the edge is near
			room := l.Field.Grown(-0.55 * cap)
			x := math.Max(room.Min.X+w/2, math.Min(room.Max.X-w/2, p.X))
			y := math.Max(room.Min.Y+cap/2, math.Min(room.Max.Y-cap/2, p.Y))
			b := g.Rect{Min: g.Point{X: x - w/2, Y: y - cap/2}, Max: g.Point{X: x + w/2, Y: y + cap/2}}
			if !b.Grown(0.5 * cap).Contains(p) {
				continue
			}
			if free(b.Grown(0.2*cap), in) {
				a.Labels = append(a.Labels, StrainLabel{text, b})
				*taken = append(*taken, b.Grown(0.3*cap))
				return
			}
		}
	}
}
