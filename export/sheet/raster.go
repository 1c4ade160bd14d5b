package sheet

import (
	"image"
	"image/color"
	"math"

	g "maskloft/geometry"
)

// raster finds how much of every pixel a region covers, exactly for polygons whose
// corners lie on a grid of 1/256 pixel, to which all corners are rounded. It counts in
// whole numbers, so that every machine gets the same picture. Each edge adds to the
// pixels it passes the area to its right within the pixel's row; the sum along a row
// is then the winding number times the area covered (the accumulation buffer of
// scan converters, as in FreeType's smooth rasterizer; from memory).
type raster struct {
	box    image.Rectangle // the pixels being counted
	stride int
	sums   []int32 // all 0 between two regions
	rows   []touched
}

// touched are the first and the last sum of a row that edges were counted in; none where
// last is below first.
type touched struct{ first, last int }

// Fractions of a pixel: a corner lies on a grid of subPixels, and a pixel that is
// covered once sums to fullPixel.
const (
	subBits   = 8
	subPixels = 1 << subBits
	fullPixel = subPixels * 2 * subPixels
)

// fillRule says which winding numbers are inside.
type fillRule int

const (
	evenOdd fillRule = iota // regions of a sheet
	nonZero                 // strokes, whose pieces may overlap
)

// fill lays the region of closed polygons over the picture in one colour. Points are
// in pixels from the picture's upper left corner, y down.
func (r *raster) fill(dst *image.RGBA, polygons [][]g.Point, rule fillRule, ink color.RGBA) {
	if !r.begin(dst.Rect, polygons) {
		return
	}
	origin := dst.Rect.Min
	for _, pts := range polygons {
		last := r.spot(pts[len(pts)-1], origin)
		for _, p := range pts {
			at := r.spot(p, origin)
			r.edge(last, at)
			last = at
		}
	}
	for y, at := range r.rows {
		row := r.sums[y*r.stride : (y+1)*r.stride]
		pix := dst.Pix[dst.PixOffset(r.box.Min.X, r.box.Min.Y+y):]
		sum, width := int32(0), r.box.Dx()
		if at.last < at.first {
			width = 0
		}
		for x := at.first; x < width; {
			sum += row[x]
			next := x + 1 // as many pixels are covered alike
			for next <= at.last && row[next] == 0 {
				next++
			}
			if next = min(next, width); next > at.last {
				next = width
			}
			switch share := rule.covered(sum); share {
			case 0:
			case 255:
				for p := pix[4*x : 4*next]; len(p) >= 4; p = p[4:] {
					p[0], p[1], p[2], p[3] = ink.R, ink.G, ink.B, ink.A
				}
			default:
				for ; x < next; x++ {
					blend(pix[4*x:4*x+4], ink, share)
				}
			}
			x = next
		}
		if at.first <= at.last {
			clear(row[at.first : at.last+1])
		}
	}
}

// begin makes room for the pixels that polygons touch; false where there are none.
func (r *raster) begin(within image.Rectangle, polygons [][]g.Point) bool {
	lo, hi := g.Point{X: math.Inf(1), Y: math.Inf(1)}, g.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, pts := range polygons {
		for _, p := range pts {
			lo = g.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
			hi = g.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
	}
	cell := func(v float64, most int) int { return int(max(-1, min(v, float64(most)+1))) }
	w, h := within.Dx(), within.Dy()
	r.box = image.Rect(cell(math.Floor(lo.X), w), cell(math.Floor(lo.Y), h), cell(math.Floor(hi.X)+1, w), cell(math.Floor(hi.Y)+1, h)).
		Intersect(image.Rect(0, 0, w, h)).Add(within.Min)
	if lo.X > hi.X || r.box.Empty() {
		return false
	}
	r.stride = r.box.Dx() + 2
	if n := r.stride * r.box.Dy(); cap(r.sums) < n {
		r.sums = make([]int32, n)
	} else {
		r.sums = r.sums[:n]
	}
	r.rows = r.rows[:0]
	for range r.box.Dy() {
		r.rows = append(r.rows, touched{r.stride, -1})
	}
	return true
}

// spot returns a point on the grid, from the upper left corner of the box.
func (r *raster) spot(p g.Point, origin image.Point) image.Point {
	const far = 1 << 30 // keeps the products below within 64 bits
	at := func(v float64) int { return int(math.Round(max(-far, min(far, v*subPixels)))) }
	return image.Point{X: at(p.X) - (r.box.Min.X-origin.X)*subPixels, Y: at(p.Y) - (r.box.Min.Y-origin.Y)*subPixels}
}

// edge counts the edge from a to b, row by row.
func (r *raster) edge(a, b image.Point) {
	if a.Y == b.Y {
		return
	}
	way := 1
	if a.Y > b.Y {
		a, b, way = b, a, -1
	}
	end := min(b.Y, r.box.Dy()*subPixels)
	across := func(y int) int { return a.X + divided((b.X-a.X)*(y-a.Y), b.Y-a.Y) }
	y := max(a.Y, 0)
	for x := across(y); y < end; {
		row := y >> subBits
		next := min((row+1)<<subBits, end)
		to := across(next)
		r.span(row, x, to, way*(next-y))
		x, y = to, next
	}
}

// span counts the part of an edge within a row: it runs from xa to xb while it rises
// by d, both in fractions of a pixel.
func (r *raster) span(row, xa, xb, d int) {
	most := r.box.Dx() * subPixels
	xa, xb = max(0, min(xa, most)), max(0, min(xb, most))
	if xa > xb {
		xa, xb = xb, xa
	}
	sums, at := r.sums[row*r.stride:(row+1)*r.stride], &r.rows[row]
	at.first, at.last = min(at.first, xa>>subBits), max(at.last, xb>>subBits+1)
	put := func(cell, from, to, d int) {
		m := from + to - 2*cell*subPixels // twice the mean distance from the pixel's left edge
		sums[cell] += int32(d * (2*subPixels - m))
		sums[cell+1] += int32(d * m)
	}
	if xa>>subBits == xb>>subBits {
		put(xa>>subBits, xa, xb, d)
		return
	}
	done := 0
	for x := xa; x < xb; {
		cell := x >> subBits
		next := min((cell+1)<<subBits, xb)
		upTo := divided(d*(next-xa), xb-xa)
		put(cell, x, next, upTo-done)
		x, done = next, upTo
	}
}

// divided returns a/b to the nearest whole number, b > 0.
func divided(a, b int) int {
	if a < 0 {
		return -((-a + b/2) / b)
	}
	return (a + b/2) / b
}

// covered returns how much of a pixel is inside, 0 to 255.
func (rule fillRule) covered(sum int32) uint32 {
	if sum < 0 {
		sum = -sum
	}
	if rule == evenOdd {
		if sum &= 2*fullPixel - 1; sum > fullPixel {
			sum = 2*fullPixel - sum
		}
	}
	return (uint32(min(sum, fullPixel))*255 + fullPixel/2) / fullPixel
}

// blend lays an opaque colour over a pixel, a of 255 parts of it. Values are blended
// as they stand in the file, as the programs do that show a sheet's SVG and PDF.
func blend(pix []uint8, ink color.RGBA, a uint32) {
	mix := func(under, over uint8) uint8 { return uint8((uint32(under)*(255-a) + uint32(over)*a + 127) / 255) }
	pix[0], pix[1], pix[2], pix[3] = mix(pix[0], ink.R), mix(pix[1], ink.G), mix(pix[2], ink.B), mix(pix[3], ink.A)
}
