package main

import (
	"testing"

	"maskloft/export/sheet"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// The demo's four views as SVG, PNG of 100 pixels to the inch, and PDF.
func BenchmarkViews_demo_4views_100dpi(b *testing.B) {
	spec, err := reading.Demo()
	if err != nil {
		b.Fatal(err)
	}
	job, err := job.New(spec, nil).Whole(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := drawn(b.Context(), pictures(aircraftViews(job.Layout, job.Laid), viewChoice{dots: viewDots, paper: sheet.Letter})); err != nil {
			b.Fatal(err)
		}
	}
}
