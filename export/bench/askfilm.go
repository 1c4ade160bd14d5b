package bench

import (
	"context"
	"math"

	"maskloft/export/views"
	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/masks"
)

// askFilm returns the films of a marking, one a side.
func askFilm(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	j, l, _, err := b.placements(ctx, q.Marking)
	if err != nil {
		return nil, err
	}
	ones, err := j.Of(ctx, q.Marking)
	if err != nil {
		return nil, err
	}
	out := Films{Films: []Film{}}
	for _, one := range ones {
		film, err := job.Keep(j, "film", one.Laid.Placement, func() (Film, error) { return filmOf(l.Spec.Paint, one) })
		if err != nil {
			return nil, err
		}
		out.Films = append(out.Films, film)
	}
	return out, nil
}

func filmOf(paint layouts.PaintSpec, one job.One) (Film, error) {
	laid := one.Laid
	f := Film{
		ID: laid.ID(), Side: laid.Placement.Side.String(), Exact: laid.Exact, Field: boxOf(laid.Field), Regions: regionsOf(paint, laid.Regions),
		Strain:       Strain{Least: round6(0 - laid.Strain.Compression), Most: round6(laid.Strain.Tension), Advice: string(laid.Advice), Grid: strainGrid(laid)},
		OutlineError: round6(laid.Outline.PlusMinus().Inches()), Passes: []Pass{}, Marks: []FilmMark{}, Clearances: []Clearance{},
	}
	along, side := laid.Heights()
	f.Height, f.SideHeight = round6(along), round6(side)
	for i, m := range laid.Masks {
		tiled := one.Tiling.Films[i]
		p := Pass{
			ID: m.ID, Paint: m.Paint, Hex: views.HexOf(paint, m.Paint), Keeps: m.Keeps, Polarity: string(m.Polarity), Role: m.Role, Coats: m.Coats,
			D: pathData(m.Film), Field: boxOf(m.Field), Area: round6(m.Area()), Opening: round6(m.Opening.Area()), Islands: m.Islands(), Tiles: []FilmTile{}, Paper: []Box{}, Seams: []FilmSeam{},
		}
		tiles, err := one.Tiling.Tiles(m)
		if err != nil {
			return f, err
		}
		for _, tile := range tiles {
			p.Tiles = append(p.Tiles, FilmTile{tile.ID, boxOf(tile.Cell.Bounds()), pathData(tile.Film)})
		}
		for _, r := range tiled.Paper {
			p.Paper = append(p.Paper, boxOf(r))
		}
		for _, s := range tiled.Seams {
			p.Seams = append(p.Seams, FilmSeam{s.Upright, round6(s.At)})
		}
		f.Passes = append(f.Passes, p)
	}
	for _, m := range one.Tiling.Marks {
		f.Marks = append(f.Marks, FilmMark{m.ID, point2(m.Film), point3(m.Skin.Vec())})
	}
	for _, c := range one.Surveyed.Clearances {
		f.Clearances = append(f.Clearances, Clearance{c.Obstacle, round6(c.Distance.Inches()), round6(c.Limit.Inches()), point3(c.Where.Vec())})
	}
	if e := one.Surveyed.Edge; e != nil {
		f.Clearances = append(f.Clearances, Clearance{"edge", round6(e.Distance.Inches()), round6(e.Limit.Inches()), point3(e.Where.Vec())})
	}
	return f, nil
}

// strainNodes is how many points the grid of strains has along the longer side.
const strainNodes = 25

// strainGrid is the larger principal strain over the field, fractions; nil where the film
// unrolls.
func strainGrid(l masks.Laid) *StrainGrid {
	if l.Exact {
		return nil
	}
	step := math.Max(l.Field.Width(), l.Field.Height()) / (strainNodes - 1)
	s := &StrainGrid{
		X0: round6(l.Field.Min.X), Y0: round6(l.Field.Min.Y), DX: round6(step), DY: round6(step),
		Columns: int(l.Field.Width()/step+0.5) + 1, Rows: int(l.Field.Height()/step+0.5) + 1,
	}
	for r := range s.Rows {
		for c := range s.Columns {
			at, ok := l.Map.StrainAt(g.Point{X: s.X0 + float64(s.DX*float64(c)), Y: s.Y0 + float64(s.DY*float64(r))})
			if !ok {
				s.Values = append(s.Values, nil)
				continue
			}
			v := at.Most
			if -at.Least > at.Most {
				v = at.Least
			}
			v = round6(v)
			s.Values = append(s.Values, &v)
		}
	}
	return s
}

// askRun returns all films on the web.
func askRun(b *Bench, ctx context.Context, _ Request, _ func(Answer)) (any, error) {
	j, err := b.job()
	if err != nil {
		return nil, err
	}
	run, err := j.Run(ctx)
	if err != nil {
		return nil, err
	}
	out := Run{Web: round6(run.Web.Inches()), Usable: round6(run.Usable.Inches()), Length: round6(run.Length.Inches()), Waste: round6(run.Waste()), Films: []RunFilm{}, Stretches: []Point2{}}
	for _, f := range run.Films {
		out.Films = append(out.Films, RunFilm{f.ID, f.Number, boxOf(f.Rect), f.Across})
	}
	for _, s := range run.Stretches {
		out.Stretches = append(out.Stretches, Point2{round6(s.From.Inches()), round6(s.To.Inches())})
	}
	return out, nil
}
