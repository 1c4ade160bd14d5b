package standards

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFind(t *testing.T) {
	tests := []struct{ id, document string }{
		{"hcf-order-12/insignia", "hcf-order-12@issue-2"}, // the newest
		{"hcf-order-12@issue-1/insignia", "hcf-order-12@issue-1"},
		{"an-i-9a/red-border", "an-i-9a"}, // the newest that has it
		{"an-i-9a/blue-border", "an-i-9a@amendment-1"},
		{"raf-roundel/c1", "raf-roundel"},
	}
	for _, tc := range tests {
		r, err := Find(tc.id)
		require.NoError(t, err, tc.id)
		assert.Equal(t, tc.document, r.Document.ID)
	}
	for _, id := range []string{"", "insignia", "hcf-order-12", "hcf-order-12@issue-3/insignia", "an-i-9a@amendment-1/red-border", "/"} {
		_, err := Find(id)
		assert.Error(t, err, "%q", id)
	}
	_, err := Find("hcf-order-21/insigna")
	assert.ErrorContains(t, err, "write one of hcf-order-12/insignia,")
}

// A document or a copy of it may stop, a secondary work or a number carried over from a
// neighbouring text may warn, a tertiary page and memory are notes: the classes are
// those of the sources named in the files.
func TestForce(t *testing.T) {
	tests := []struct {
		rule, what string
		want       Force
	}{
		{"an-i-9b/star-and-bars", "bars.length", MayStop},
		{"an-i-9b/star-and-bars", "stripe.width", MayStop},
		{"an-i-9b/star-and-bars", "stripe.centre", MayNote},
		{"an-i-9a/blue-border", "bars.length", MayWarn},
		{"an-i-9a/red-border", "bars.top", MayNote},
		{"raf-roundel/a", "white.diameter", MayWarn},
		{"raf-roundel/c1", "white.diameter", MayNote},
		{"raf-roundel/d", "white.diameter", MayNote},
		{"german-cross/wide", "core.width", MayNote},
		{"amwo-501-1926/underwing", "stroke", MayStop},
		{"14-cfr-45/29", "stroke", MayStop},
		{"14-cfr-45/22b", "height", MayNote},
		{"hcf-order-12/insignia", "chevron.arm", MayStop},
	}
	for _, tc := range tests {
		r, err := Find(tc.rule)
		require.NoError(t, err)
		assert.Equal(t, tc.want, r.Force(tc.what), "%s %s", tc.rule, tc.what)
		assert.Equal(t, tc.want == MayStop, r.CanStop(tc.what))
	}
	r, err := Find("french-roundel/ww1")
	require.NoError(t, err)
	sizes, known := r.OfferedAt("lower wing", nil)
	assert.InDeltaSlice(t, []float64{100 / 2.54}, sizes, 1e-12, "1 m under each wing: Annales des Mines 1913, p. 902")
	assert.Equal(t, MayStop, known.Force())
	assert.Equal(t, MayWarn, Provenance{Kind: Read, Grade: "copy", Confidence: "medium"}.Force())
	assert.Equal(t, MayNote, Provenance{Kind: Read, Grade: "secondary", Confidence: "low"}.Force())
}

// A drawing after T.O. 07-1-1 of 25 April 1944 has bars of 1/2 R; T.O. 07-1-1A of
// 29 May 1944 gives 1 R (ourairports.biz/?p=6064).
func TestErrata(t *testing.T) {
	for _, id := range []string{"an-i-9a/blue-border", "an-i-9b/star-and-bars", "hcf-order-12/insignia"} {
		r, err := Find(id)
		require.NoError(t, err)
		require.Len(t, r.Errata, 1)
		e := r.Errata[0]
		printed, err := e.Printed.Eval(nil)
		require.NoError(t, err)
		assert.Equal(t, 0.5, printed)
		p, _ := r.Part(e.Part)
		meant, err := p.Number(e.Number).Eval(nil)
		require.NoError(t, err)
		assert.Equal(t, 1.0, meant)
	}
}

// 14 CFR 45.29(c) to (e), FAA test supplement p. 1-122: width 2/3 of the height,
// 1 one sixth, M and W up to the height, stroke 1/6, gap at least 1/4 width.
func TestLettering(t *testing.T) {
	r, err := Find("14-cfr-45/29")
	require.NoError(t, err)
	l := r.Lettering
	require.NotNil(t, l)
	for _, tc := range []struct {
		f    Formula
		want float64
	}{{l.Width, 2.0 / 3}, {l.Stroke, 1.0 / 6}, {l.Gap, 0.25}, {l.Exceptions[0].Width, 1.0 / 6}, {l.Exceptions[1].Width, 1}} {
		v, err := tc.f.Eval(nil)
		require.NoError(t, err)
		assert.InDelta(t, tc.want, v, 1e-15)
	}
	assert.Equal(t, "1", l.Exceptions[0].Character)
	assert.False(t, l.Exceptions[0].AtMost)
	assert.True(t, l.Exceptions[1].AtMost)
}
