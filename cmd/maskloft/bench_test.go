package main

import (
	"testing"

	"maskloft/export/sheet"
	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// The demo from its layout file to the bytes of every cut file.
func BenchmarkDemo_6markings_tol0p001(b *testing.B) {
	for i := 0; i < b.N; i++ {
		spec, err := reading.LoadFS(reading.DemoFiles(), reading.DemoName)
		if err != nil {
			b.Fatal(err)
		}
		say := newProgress(nil)
		job, err := job.New(spec, nil).Whole(b.Context())
		if err != nil {
			b.Fatal(err)
		}
		if _, err := cutFiles(b.Context(), job.Tilings, job.Run, layouts.CutMarks, sheet.Px96, say.step(""), func(packFile) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}
