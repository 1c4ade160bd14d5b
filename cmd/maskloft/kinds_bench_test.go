//go:build unix

package main

import (
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export"
	"maskloft/export/sheet"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
	"maskloft/layouts/sprayday"
)

// What each kind of file of the demo's pack costs to draw, write and read back, in
// milliseconds of all processors together (cpu-ms/op), and how many files and KB. The first
// is what all of them need: the layout laid flat, tiled, nested, taped and surveyed.
func BenchmarkKind_demo(b *testing.B) {
	ctx, j := b.Context(), demoJob(b)
	paper, units := paperOf(j.Layout.Spec), j.Layout.Spec.Sheets.Units
	cut := func(keep func(packFile) error) ([]cutFile, error) {
		return cutFiles(ctx, j.Tilings, j.Run, j.Layout.Spec.Film.Marks, sheet.Px96, func(string) {}, keep)
	}
	files, err := cut(func(packFile) error { return nil })
	require.NoError(b, err)
	report, films, dossier := reportOf(j, files), ticketFilms(j, files), export.Dossier(j.Layout, j.Findings)
	for _, kind := range []struct {
		name string
		draw func(keep func(packFile) error) ([]part, error)
	}{
		{"the_job_itself", func(func(packFile) error) ([]part, error) {
			spec, err := reading.LoadFS(reading.DemoFiles(), reading.DemoName)
			if err == nil {
				_, err = job.New(spec, nil).Whole(ctx)
			}
			return nil, err
		}},
		{"cut", func(keep func(packFile) error) ([]part, error) { _, err := cut(keep); return nil, err }},
		{"run", func(keep func(packFile) error) ([]part, error) { return nil, runFiles(ctx, j, films, sheet.Px96, keep) }},
		{"index.html", func(func(packFile) error) ([]part, error) {
			return []part{one(func() (packFile, error) { return jobBook(j, report, films, dossier) })}, nil
		}},
		{"shop-ticket.pdf", func(func(packFile) error) ([]part, error) {
			return []part{one(func() (packFile, error) { return ticket(j, films, paper) })}, nil
		}},
		{"proof.pdf", func(func(packFile) error) ([]part, error) {
			return []part{func() ([]packFile, error) { return proof(ctx, j, films) }}, nil
		}},
		{"tape-checklist", func(func(packFile) error) ([]part, error) {
			return []part{func() ([]packFile, error) { return tapeFiles(j.Layout, j.Tilings, j.Tapes, paper) }}, nil
		}},
		{"pass-cards.pdf", func(func(packFile) error) ([]part, error) {
			return []part{one(func() (packFile, error) { return passCards(j, paper) })}, nil
		}},
		{"weather-card.pdf", func(func(packFile) error) ([]part, error) {
			return []part{one(func() (packFile, error) {
				return document("weather-card.pdf", "", export.WeatherCard(paper, units, sprayday.Day{}))
			})}, nil
		}},
		{"views", func(func(packFile) error) ([]part, error) {
			return pictures(aircraftViews(j.Layout, j.Laid), viewChoice{dots: viewDots, paper: paper}), nil
		}},
		{"trial", func(func(packFile) error) ([]part, error) { return trials(j, paper), nil }},
		{"words_and_figures", func(func(packFile) error) ([]part, error) {
			return []part{
				one(func() (packFile, error) {
					return worded("film-run.svg", export.RunPicture(units, j.Layout.Spec.Name, j.Run))
				}),
				one(func() (packFile, error) { data, err := report.bytes(); return packFile{"report.json", data}, err }),
				one(func() (packFile, error) { return packFile{"dossier.md", export.Dossier(j.Layout, j.Findings)}, nil }),
			}, nil
		}},
	} {
		b.Run(kind.name, func(b *testing.B) {
			n, before := 0, cpuMilliseconds()
			bytes, count := 0, 0
			var mu sync.Mutex
			keep := func(f packFile) error {
				mu.Lock()
				defer mu.Unlock()
				bytes, count = bytes+len(f.data), count+1
				return nil
			}
			for b.Loop() {
				n++
				parts, err := kind.draw(keep)
				require.NoError(b, err)
				require.NoError(b, drawEach(ctx, parts, keep))
			}
			b.ReportMetric((cpuMilliseconds()-before)/float64(n), "cpu-ms/op")
			b.ReportMetric(float64(count)/float64(n), "files")
			b.ReportMetric(float64(bytes)/float64(n)/1e3, "KB")
		})
	}
}

// cpuMilliseconds is what all processors have worked for this program.
func cpuMilliseconds() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e6
}
