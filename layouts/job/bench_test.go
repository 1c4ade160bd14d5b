//go:build unix

package job

import (
	"fmt"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// cpu is the seconds that all processors have worked for this program.
func cpu() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// changes moves the insignia of the demo, an eighth of an inch at a time, and asks.
func changes(b *testing.B, ask func(*Job) error) {
	f := openDemo(b, func(string) {})
	j, err := f.Job()
	require.NoError(b, err)
	require.NoError(b, ask(j))
	n, before := 0, cpu()
	for b.Loop() {
		n++
		_, _, err := f.Set("markings[insignia].where.fs", fmt.Sprintf("%g in", 130+float64(n%64)/8))
		require.NoError(b, err)
		j, err := f.Job()
		require.NoError(b, err)
		require.NoError(b, ask(j))
	}
	b.ReportMetric((cpu()-before)/float64(n)*1e3, "cpu-ms/op")
}

// One position is changed, and the outline of both sides asked for.
func BenchmarkChange_demo_preview(b *testing.B) {
	changes(b, func(j *Job) error {
		_, err := j.Preview(b.Context(), "insignia")
		return err
	})
}

// One position is changed, and the exact films of both sides and all findings of their
// places are asked for.
func BenchmarkChange_demo_film(b *testing.B) {
	changes(b, func(j *Job) error {
		_, err := j.Surveyed(b.Context())
		return err
	})
}
