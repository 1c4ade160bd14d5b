package survey

import (
	"context"
	"fmt"
	"maskloft/geometry"
	"slices"

	"maskloft/geometry/parallel"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// Surveyed is what stands round one laid marking, and what lies under it.
type Surveyed struct {
	ID         string
	Clearances []Clearance         // what paint keeps clear of and the patch reaches, in the order of the file
	TapeEdges  []FinishingTapeEdge // stretches of paint edge on the edges of tapes, tape by tape
	Crossings  int                 // times that a paint edge crosses the edge of a tape
	Edge       *Clearance          // the nearest edge of the surface; nil where none lies as near as the patch reaches
	Fit        *Fit                // nil where no rule limits the size by the height of the side
}

// Survey looks at the places of laid markings: what they keep clear of, what tape
// lies under their edges, whether they fit the height of the side, whether left and
// right are alike, and whether their rules belong to one time. The values stand in
// the order of laid.
//
// Every distance is one along the skin, measured in the flat. Where one marking cannot
// be looked at, its value is empty, and a finding of level stop says so.
//
// What looks round one marking, as a rule [One], is called from several goroutines.
//
// Errors: ctx is done.
func Survey(ctx context.Context, l *layouts.Layout, laid []masks.Laid, look func(masks.Laid) (Surveyed, []layouts.Finding, error)) ([]Surveyed, []layouts.Finding, error) {
	out := make([]Surveyed, len(laid))
	found := make([][]layouts.Finding, len(laid))
	err := parallel.Each(ctx, len(laid), func(i int) error {
		var err error
		if out[i], found[i], err = look(laid[i]); err != nil {
			id, p := laid[i].ID(), laid[i].Placement
			out[i], found[i] = Surveyed{ID: id}, []layouts.Finding{{
				Level: layouts.Stop, Rule: "not-surveyed", Marking: id, Where: p.Anchor,
				Message: fmt.Sprintf("%s: %v: how far it is from what stands round it could not be measured: %s", id, p.Marking.Place, geometry.ErrorIn(p.Read, err)),
				Hint:    "move it a little, or measure what stands round it by hand", Measured: "nothing", Expected: "clearances", Tolerance: "none", Source: "derived",
			}}
		}
		return ctx.Err()
	})
	if err != nil {
		return nil, nil, err
	}
	findings := slices.Concat(found...)
	findings = append(findings, others(laid)...)
	findings = append(findings, equality(l, laid)...)
	return out, slices.Concat(findings, l.Dates(), l.Uses()), nil
}

// One looks round one marking.
func One(ctx context.Context, l *layouts.Layout, one masks.Laid) (Surveyed, []layouts.Finding, error) {
	s := Surveyed{ID: one.ID()}
	gr, findings, err := surroundingsOf(ctx, l, one)
	if err != nil {
		return s, nil, err
	}
	if s.Clearances, err = gr.clearances(); err != nil {
		return s, nil, err
	}
	s.Edge = gr.edgeClearance()
	s.TapeEdges, s.Crossings = gr.tapeEdges()
	s.Fit = fitOf(l, one)
	for _, c := range s.Clearances {
		if f, bad := gr.obstacleFinding(c); bad {
			findings = append(findings, f)
		}
	}
	for _, look := range []func(*surroundings, Surveyed) (layouts.Finding, bool){edgeFinding, tapeEdgeFinding, heightLimit} {
		if f, bad := look(gr, s); bad {
			findings = append(findings, f)
		}
	}
	for i := range findings {
		findings[i].Marking = s.ID
	}
	return s, findings, ctx.Err()
}
