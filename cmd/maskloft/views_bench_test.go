package main

import (
	"io"
	"testing"

	"maskloft/export/sheet"
	"maskloft/export/views"
)

// The demo's four views as SVG, PNG of 100 pixels to the inch, and PDF.
func BenchmarkViews_demo_4views_100dpi(b *testing.B) {
	job := demoJob(b)
	for b.Loop() {
		if _, err := drawn(b.Context(), pictures(aircraftViews(job.Layout, job.Laid), viewChoice{dots: viewDots, paper: sheet.Letter})); err != nil {
			b.Fatal(err)
		}
	}
}

// The demo's left view as PNG: the picture that librsvg draws of its SVG in .ci/ratios.py.
func BenchmarkWritePNG_demo_left_100dpi(b *testing.B) {
	job := demoJob(b)
	left := aircraftViews(job.Layout, job.Laid)[0].draw(views.ViewOptions{})
	for b.Loop() {
		if err := sheet.WritePNG(io.Discard, left, 100); err != nil {
			b.Fatal(err)
		}
	}
}
