package proportions

import (
	"math"
	"slices"

	"maskloft/geometry"
	"maskloft/layouts/standards"
)

// A rule of one disc, one box or one polygon has next to nothing that could tell it
// from another drawing: any circle is a disc.
const (
	besides = 0.2 // of what is the rule's: so much else of its kind, and it is not by itself
	aLot    = 0.2 // of the governing radius: shorter outlines are lettering and register marks
)

// byItself tells whether a rule that one circle or one box would meet is met by all
// of its kind that there is: circles for a disc, edges for a box or a polygon, and
// either within it. True for any other rule.
func (m *matched) byItself(runs []run) bool {
	if len(m.rule.Parts) != 1 {
		return true
	}
	kind := m.rule.Parts[0].Kind
	if kind != standards.Disc && kind != standards.Box && kind != standards.Ngon {
		return true
	}
	all := 0.0
	for _, r := range runs {
		length := r.length / m.scale
		within := slices.ContainsFunc(r.nodes, func(q geometry.Point) bool { return m.covers(m.unit(q)) })
		if length > aLot && (r.arc == (kind == standards.Disc) || within) {
			all += length
		}
	}
	return all-m.claimed <= besides*math.Max(m.claimed, 1e-12)
}
