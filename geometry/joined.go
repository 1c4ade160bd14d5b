package geometry

// Joined returns the outlines without the segments that are shorter than
// [SnapTolerance], such as a boolean leaves where points of its operands nearly
// coincide; what follows such a segment begins where it began.
func (p Path) Joined() Path {
	var out Path
	for _, c := range p {
		from := c.Start
		var kept []Segment
		for i, s := range c.Segments {
			if c.From(i).Dist(s.End) < SnapTolerance && (s.Kind == Line || c.From(i).Dist(s.C1) < SnapTolerance && s.End.Dist(s.C2) < SnapTolerance) {
				continue
			}
			kept = append(kept, s)
		}
		if len(kept) < len(c.Segments) && c.Closed() && len(kept) > 0 {
			from = kept[len(kept)-1].End
		}
		if len(kept) > 1 {
			out = append(out, Contour{Start: from, Segments: kept})
		}
	}
	return out
}
