package reading

import "maskloft/layouts"

// seam reads how tiles meet: seam: butt or overlap, overlap: and waste-overlap: of
// an overlap, and grain:. A waste-overlap: that is not written is the overlap:.
func (f fields) seam() layouts.SeamSpec {
	s := layouts.UsualSeam()
	s.Style = choice(f.at("seam"), s.Style, layouts.ButtSeam, layouts.OverlapSeam)
	s.Grain = choice(f.at("grain"), s.Grain, layouts.KeepGrain, layouts.FreeGrain)
	if s.Style == layouts.ButtSeam {
		for _, key := range []string{"overlap", "waste-overlap"} {
			if at := f.at(key); at.Written() {
				at.Fail("write seam: overlap as well, or take it out", "%s is given, but the seam is %s", key, layouts.ButtSeam)
			}
		}
		return s
	}
	s.Overlap = f.at("overlap").or(layouts.MostOverlap, value.positive)
	if s.Overlap > layouts.MostOverlap {
		f.at("overlap").Fail("write "+f.units().Length(layouts.MostOverlap, 4)+" or less; waste-overlap: is for film away from paint",
			"overlap is %s, at most %s where paint is near: it creeps under the step", s.Overlap, layouts.MostOverlap)
	}
	s.Waste = f.at("waste-overlap").or(s.Overlap, value.positive)
	switch {
	case s.Waste > layouts.MostWasteOverlap:
		f.at("waste-overlap").Fail("write "+f.units().Length(layouts.MostWasteOverlap, 4)+" or less", "waste-overlap is %s, at most %s", s.Waste, layouts.MostWasteOverlap)
	case s.Waste < s.Overlap:
		f.at("waste-overlap").Fail("write the overlap: or more", "waste-overlap is %s, below the overlap of %s", s.Waste, s.Overlap)
	}
	return s
}
