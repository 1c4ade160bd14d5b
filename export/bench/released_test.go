package bench

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/reading"
)

// What a page asks for when a marking is let go of: the change, its outline, film and
// findings. .ci/bench-page/latency.js measures the same through the page.
func BenchmarkReleased_demo_insignia(b *testing.B) { released(b, "", "insignia", 134) }
func BenchmarkReleased_demo_code(b *testing.B)     { released(b, "", "code", 184) }
func BenchmarkReleased_sandling_roundel(b *testing.B) {
	released(b, "sandling", "roundel-side", 150)
}
func BenchmarkReleased_sandling_letter(b *testing.B) { released(b, "sandling", "letter", 178) }
func BenchmarkReleased_sandling_serial(b *testing.B) { released(b, "sandling", "serial", 208) }

func released(b *testing.B, example, id string, fs float64) {
	text, err := reading.Starter(example)
	require.NoError(b, err)
	one := openMemory(b, text)
	ask := func(q Request) (last Answer) {
		q.V, q.Of = Version, one.hash
		one.Ask(context.Background(), q, func(a Answer) { last = a })
		require.Nil(b, last.Error, "%+v", last.Error)
		return last
	}
	ask(Request{Ask: "film", Marking: id})
	for i := range b.N {
		value := fmt.Sprintf("%.4f in", fs+float64(i%200)/100)
		ask(Request{Ask: "edit", Path: "markings[" + id + "].where.fs", Value: &value})
		ask(Request{Ask: "markings"})
		ask(Request{Ask: "figure", Marking: id})
		ask(Request{Ask: "outline", Marking: id})
		ask(Request{Ask: "outline", Marking: id, Exact: true})
		ask(Request{Ask: "film", Marking: id})
		ask(Request{Ask: "findings", Marking: id})
	}
}
