package main

import (
	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/survey"
	"maskloft/layouts/taping"
)

// Job is everything computed from one layout file.
type Job struct {
	Layout   *layouts.Layout
	Laid     []masks.Laid
	Surveyed []survey.Surveyed // in the order of Laid
	Tilings  []masks.Tiling
	Run      masks.Run
	Tapes    taping.TapeList
	Figures  survey.PaintFigures
	Findings []layouts.Finding
}

// plan is the whole main path, from a layout as written to what is cut and
// taped. Each stage takes the value of the one before and returns a new one.
// Writing is in write.go; start reading here.
func plan(spec *layouts.Spec, say progress) (*Job, error) {
	layout, findings, err := layouts.Resolve(spec) // surfaces, figures, places
	if err != nil {
		return nil, err
	}
	laid, err := masks.Lay(layout, geometry.NetTolerance, say.step("laying flat")) // skin to film
	if err != nil {
		return nil, err
	}
	findings = append(findings, survey.Inspect(laid)...)
	surveyed, more, err := survey.Survey(layout, laid) // what stands round each marking and lies under it
	if err != nil {
		return nil, err
	}
	findings = append(findings, more...)
	tilings, more, err := masks.Tile(layout, laid) // film to the web, with registration marks
	if err != nil {
		return nil, err
	}
	findings = append(findings, more...)
	run := masks.Nest(masks.Films(tilings), spec.Film)                       // all films on the web
	tapes, more, err := taping.Tapes(layout, tilings, geometry.NetTolerance) // points to tapes
	if err != nil {
		return nil, err
	}
	findings = append(findings, more...)
	figures, more, err := survey.FiguresOf(layout, laid) // areas to paint and weights
	if err != nil {
		return nil, err
	}
	findings = append(findings, more...)
	return &Job{Layout: layout, Laid: laid, Surveyed: surveyed, Tilings: tilings, Run: run, Tapes: tapes, Figures: figures, Findings: findings}, nil
}
