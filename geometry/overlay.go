package geometry

import "maskloft/geometry/same"

// Overlay is some regions laid over one another: their outlines are cut where they meet,
// once, and any region that is told by which of them a point is in can be read from it.
// Regions read from one Overlay share their borders to the last bit.
type Overlay struct {
	in       fill
	operands int
	clusters []cluster
}

// cluster is a group of contours whose boxes hang together.
type cluster struct {
	contours []operandContour
	has      []bool // which operands have a contour in it
	plane    *plane // nil: not cut yet
}

// Overlaid lays regions under the even-odd rule over one another; see [Union] for what
// they may be.
func Overlaid(operands ...Path) (*Overlay, error) { return overlaid(evenOdd, operands) }

func overlaid(in fill, operands []Path) (*Overlay, error) {
	groups, err := clusters(operands)
	if err != nil {
		return nil, err
	}
	o := &Overlay{in: in, operands: len(operands), clusters: make([]cluster, len(groups))}
	for i, g := range groups {
		c := &o.clusters[i]
		c.contours, c.has = g, make([]bool, len(operands))
		for _, x := range g {
			c.has[x.operand] = true
		}
	}
	return o, nil
}

// Region returns the region of those points for which the rule holds: it is told for each
// operand whether the point is in it, and must not hold where it is in none.
func (o *Overlay) Region(rule func(in []bool) bool) (Path, error) {
	in := make([]bool, o.operands)
	of := func(winds []int) bool {
		for i, w := range winds {
			in[i] = o.in(w)
		}
		return rule(in)
	}
	var all []ring
	for i := range o.clusters {
		c := &o.clusters[i]
		if !mayHold(rule, in, c.has, 0) {
			continue
		}
		rings, err := c.rings(o.operands, of)
		if err != nil {
			return nil, err
		}
		all = append(all, rings...)
	}
	if len(all) == 0 {
		return nil, nil
	}
	return orderRings(all)
}

// rings returns the outlines of a region. Where it cannot be told how contours cross that
// run too near to one another, each is moved by its own part of 1e-6 in.
func (c *cluster) rings(operands int, rule func(winds []int) bool) ([]ring, error) {
	contours := c.contours
	for try := 0; ; try++ {
		var err error
		if c.plane == nil {
			c.plane, err = newPlane(operands, contours)
		}
		if err == nil {
			var rings []ring
			if rings, err = c.plane.rings(rule); err == nil {
				return rings, nil
			}
		}
		if try == 3 {
			return nil, err
		}
		c.plane, contours = nil, nudged(c.contours, try+1)
	}
}

// nudged returns contours moved by less than 1e-6 in, each by another way.
func nudged(contours []operandContour, try int) []operandContour {
	out := make([]operandContour, len(contours))
	for i, c := range contours {
		s, cos := same.Sincos(float64(2.4 * float64(i))) // no two of many alike
		v := Vec{cos, s}.Scale(3e-7 * float64(try))
		out[i] = operandContour{c.Map(func(p Point) Point { return p.Add(v) }), c.operand}
	}
	return out
}

// fewOperands are tried in all combinations: two of three clusters of a boolean drop out.
const fewOperands = 4

// mayHold tells whether a rule may hold for a point that is in some of the operands that
// a cluster has, from the k-th on.
func mayHold(rule func(in []bool) bool, in, has []bool, k int) bool {
	if len(has) > fewOperands {
		return true
	}
	if k == len(has) {
		return rule(in)
	}
	in[k] = false
	if mayHold(rule, in, has, k+1) {
		return true
	}
	in[k] = has[k]
	return has[k] && mayHold(rule, in, has, k+1)
}
