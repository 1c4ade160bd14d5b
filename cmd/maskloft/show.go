package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

// stages are what --show prints.
var stages = []string{"spec", "layout", "masks", "flats", "survey", "tiles", "run", "checklist"}

// checkStage refuses a stage that --show does not know; none is fine.
func checkStage(stage string) error {
	if stage != "" && !slices.Contains(stages, stage) {
		return fmt.Errorf("--show %s: unknown stage: write one of %s", stage, strings.Join(stages, ", "))
	}
	return nil
}

// show prints one stage as stable text, and computes no more than that needs: the
// newcomer's window, and what golden files hold.
func show(ctx context.Context, w io.Writer, stage string, j *job.Job) error {
	if err := checkStage(stage); err != nil {
		return err
	}
	switch stage {
	case "spec":
		showSpec(w, j.Spec)
		return nil
	case "layout":
		layout, err := j.Layout(ctx)
		if err == nil {
			showLayout(w, layout)
		}
		return err
	case "masks":
		laid, err := j.Laid(ctx)
		showMasks(w, laid)
		return err
	case "flats":
		laid, err := j.Laid(ctx)
		showFlats(w, laid)
		return err
	case "survey":
		surveyed, err := j.Surveyed(ctx)
		showSurvey(w, surveyed)
		return err
	case "tiles":
		tilings, err := j.Tilings(ctx)
		showTiles(w, tilings)
		return err
	case "run":
		run, err := j.Run(ctx)
		if err == nil {
			showRun(w, run)
		}
		return err
	}
	tapes, err := j.Tapes(ctx)
	showChecklist(w, tapes.Points)
	return err
}

// n writes a number of a stage.
func n(v float64) string { return g.FormatNumber(v, 4) }

func rect(r g.Rect) string {
	return fmt.Sprintf("%s %s to %s %s", n(r.Min.X), n(r.Min.Y), n(r.Max.X), n(r.Max.Y))
}

func showSpec(w io.Writer, s *layouts.Spec) {
	fmt.Fprintf(w, "spec %s\naircraft %s\n", s.Name, s.Aircraft.Name)
	for _, x := range s.Aircraft.Surfaces {
		fmt.Fprintf(w, "surface %s %s sections %d outline %d lines %s\n", x.ID, x.Kind, len(x.Sections), len(x.Outline), strings.Join(x.Lines, " "))
	}
	for _, h := range s.Aircraft.Hardpoints {
		fmt.Fprintf(w, "hardpoint %s %s FS %s BL %s WL %s\n", h.ID, h.Side, n(h.FS.Inches()), n(h.At.BL.Inches()), n(h.At.WL.Inches()))
	}
	for _, m := range s.Markings {
		fmt.Fprintf(w, "marking %s on %s side %s at FS %s WL %s hold %s true %s handed %s\n", m.ID, strings.Join(m.Where.Surfaces, "+"), m.Where.Side,
			n(m.Where.FS.Inches()), n(m.Where.WL.Inches()), m.Where.Hold, m.True, m.Handed)
	}
	fmt.Fprintf(w, "film web %v across %v field %v longest %v\n", s.Film.Web, s.Film.Across, s.Film.Field, s.Film.Longest)
	fmt.Fprintf(w, "seam %s overlap %v waste %v grain %s\n", s.Film.Seam.Style, s.Film.Seam.Overlap, s.Film.Seam.Waste, s.Film.Seam.Grain)
	for _, p := range s.Photos {
		fmt.Fprintf(w, "photo %s side %s points %d\n", p.ID, p.Side, len(p.Points))
	}
	fmt.Fprintf(w, "strain squeezed %v stretched %v\n", s.Film.Strain.Squeezed, s.Film.Strain.Stretched)
}

func showLayout(w io.Writer, l *layouts.Layout) {
	for _, p := range l.Placed {
		fmt.Fprintf(w, "placed %s on %s at %v\n", p.ID(), p.On, p.Anchor)
		for _, layer := range p.Figure.Layers {
			fmt.Fprintf(w, "  layer %s %s %s\n", layer.Part, layer.Colour, layer.Outline)
		}
	}
}

func showMasks(w io.Writer, laid []masks.Laid) {
	for _, l := range laid {
		fmt.Fprintf(w, "laid %s exact %v field %s way %s trap %v\n", l.ID(), l.Exact, rect(l.Field), l.Plan.Way, l.Plan.Trap)
		for _, e := range l.Plan.Edges {
			fmt.Fprintf(w, "  edge %s\n", describeEdge(e))
		}
		for _, c := range l.Slits {
			fmt.Fprintf(w, "  slit from %s %s to %s %s\n", n(c.From.X), n(c.From.Y), n(c.To.X), n(c.To.Y))
		}
		for _, m := range l.Masks {
			fmt.Fprintf(w, "  mask %s %s opening %s in2 shows %s in2 film %s in2 pieces %d coats %d sprays %d\n    %s\n", m.ID, m.Polarity,
				n(m.Opening.Area()), n(m.Shows.Area()), n(m.Area()), m.Pieces, m.Coats+m.Under, m.Sprays, m.Opening)
		}
	}
}

func showTiles(w io.Writer, tilings []masks.Tiling) {
	for _, t := range tilings {
		fmt.Fprintf(w, "tiling %s\n", t.Laid.ID())
		for _, m := range t.Marks {
			fmt.Fprintf(w, "  mark %s film %s %s skin %v\n", m.ID, n(m.Film.X), n(m.Film.Y), m.Skin)
		}
		for k, f := range t.Films {
			fmt.Fprintf(w, "  pass %d rows %d columns %d turned %v paper %d\n", k+1, f.Rows, f.Columns, f.Turned, len(f.Paper))
			for _, s := range f.Seams {
				fmt.Fprintf(w, "    seam %s at %s broken %v crossings %d flat %d tape %s cost %s\n", seamWord(s), n(s.At), s.Broken, s.Crossings, s.Flat, n(s.OnTape), n(s.Cost))
			}
			for _, k := range f.Ticks {
				fmt.Fprintf(w, "    tick %s at %s %s\n", k.ID, n(k.At.X), n(k.At.Y))
			}
			for _, c := range f.Cells {
				var names []string
				for _, i := range c.Marks {
					names = append(names, t.Marks[i].ID)
				}
				fmt.Fprintf(w, "    tile %d-%d %s marks %s\n", c.Row, c.Column, rect(c.Rect), strings.Join(names, " "))
				for _, a := range c.Arms {
					fmt.Fprintf(w, "      arm %s\n", rect(a))
				}
			}
		}
	}
}

func showRun(w io.Writer, r masks.Run) {
	fmt.Fprintf(w, "run %s shelves %s bound %s web %s usable %s waste %s\n", n(r.Length.Inches()), n(r.Shelves.Inches()), n(r.LowerBound.Inches()), n(r.Web.Inches()), n(r.Usable.Inches()), n(r.Waste()))
	for _, f := range r.Films {
		fmt.Fprintf(w, "film %d %s %s across %v\n", f.Number, f.ID, rect(f.Rect), f.Across)
	}
}

func showChecklist(w io.Writer, points []taping.Checkpoint) {
	for _, c := range points {
		fmt.Fprintf(w, "point %s at %v crossing %s deg %s, error %s in\n", c.ID, c.Mark.Skin, g.FormatNumber(c.Crossing, 1), c.Grade, n(c.Error.Ellipse.RMS().Inches()))
		for _, t := range c.Tapes {
			fmt.Fprintf(w, "  %s %s %s (%s)\n", t.From.ID, t.Kind, n(t.Length.Inches()), t.Length.Fraction(16))
		}
		showClosure(w, c.Closure)
	}
}

// showFlats prints every film as it lies in the flat and on the skin: what a relaxation
// by other means is held against.
func showFlats(w io.Writer, laid []masks.Laid) {
	n := func(v float64) string { return g.FormatNumber(v, 6) }
	for _, l := range laid {
		s, r := l.Strain, l.Range
		fmt.Fprintf(w, "flat %s exact %v field %s %s to %s %s anchor %s %s %s\n", l.ID(), l.Exact, n(l.Field.Min.X), n(l.Field.Min.Y), n(l.Field.Max.X), n(l.Field.Max.Y),
			n(l.Placement.Anchor.FS.Inches()), n(l.Placement.Anchor.BL.Inches()), n(l.Placement.Anchor.WL.Inches()))
		if !l.Exact {
			fmt.Fprintf(w, "  energy %s in2 squeezed %s %s to %s stretched %s %s to %s outline net %s holding %s\n", n(l.Map.Energy()), n(s.Compression), n(r.CompressionLeast), n(r.CompressionMost),
				n(s.Tension), n(r.TensionLeast), n(r.TensionMost), n(l.Outline.Net), n(l.Outline.Holding))
		}
		for _, o := range l.Map.FilmOutline() {
			five := func(v float64) string { return g.FormatNumber(v, 5) }
			fmt.Fprintf(w, "  outline %s %s skin %s %s %s\n", n(o.Flat.X), n(o.Flat.Y), five(o.Skin.FS.Inches()), five(o.Skin.BL.Inches()), five(o.Skin.WL.Inches()))
		}
	}
}

// describeEdge says how many coats lie on both sides of an edge.
func describeEdge(e masks.Edge) string {
	if e.Later == "" {
		return fmt.Sprintf("%s to bare skin, %.2f in: %d coats", e.Earlier, e.Length.Inches(), e.On)
	}
	s := fmt.Sprintf("%s to %s, %.2f in: %d coats against %d", e.Earlier, e.Later, e.Length.Inches(), e.On, e.Over)
	if e.Beyond != e.Over {
		s += fmt.Sprintf(", %d beyond the trap", e.Beyond)
	}
	return s
}

func showClosure(w io.Writer, t *taping.Taping) {
	if t != nil {
		fmt.Fprintf(w, "  check %s %s %s (%s)\n", t.From.ID, t.Kind, g.FormatNumber(t.Length.Inches(), 4), t.Length.Fraction(16))
	}
}
