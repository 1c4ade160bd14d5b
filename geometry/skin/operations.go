package skin

import g "maskloft/geometry"

// mostOperations is how many multiplications and additions the matrices of one film may
// take, 5 to 10 s of one core: a line of 15 ft on a faired body in one piece takes 16e9, any
// film of the demos and lessons below 1e9. Film whose root mean square strain is above
// overstrained lies ill however it is laid, and may take mostOfStrained; the line has 0.0005.
// A net that is to be relaxed with a matrix of its own asks for leastMatrices of them, as a
// rule it takes more. perSample is what a sample adds to the matrix: three rows by half the
// square of its 32 unknowns.
const (
	mostOperations = 20e9
	mostOfStrained = 3e9
	overstrained   = 1e-3
	leastMatrices  = 2
	perSample      = 1536
)

// band is how many numbers of a row of the matrix lie above the diagonal.
func (n *Net) band() int { return 2*(3*min(n.nu(), n.nv())+3) + 1 }

// matrixOperations is how many multiplications and additions the matrix of a net takes.
func (n *Net) matrixOperations() float64 {
	samples, k := 4*float64(n.nu()-1)*float64(n.nv()-1), float64(n.band())
	return 2*float64(n.nodes())*k*k + perSample*samples
}

// most is how many operations the film may take.
func (f *flattening) most() float64 {
	if f.strain > overstrained {
		return mostOfStrained
	}
	return mostOperations
}

// tooLong tells that relaxing a net would take the film over its operations.
func (f *flattening) tooLong(n *Net) bool {
	return f.operations+float64(leastMatrices*n.matrixOperations()) > f.most()
}

// refused is an error of the film as a whole, told with its anchor and its size.
func (f *flattening) refused(format string, args ...any) error {
	place := []any{g.PositionOf(PointAt(f.chart.Surface, f.at.At)), f.need.Extent(2)}
	return g.Errorf("%v: film of %v: "+format, append(place, args...)...)
}

func (f *flattening) unsettled() error {
	return f.refused("the flat does not settle to %v within 20,000 nodes and %v thousand million operations: the patch is too large or its sections too rough: make the marking smaller, or paint it in pieces",
		g.Length(f.tolerance), f.most()/1e9)
}
