package tapelist

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// What the job book saves is read as a list is: the unit turned, the mark held taken off,
// readings taken back left out.
func TestReadJobState(t *testing.T) {
	data := []byte(`{"format": "maskloft job state", "version": 1, "job": "j", "ticks": {}, "readings": {
		"b1": {"value": 100, "unit": "mm", "point": "q", "from": "P2", "kind": "on skin", "printed_in": 3.9},
		"a1": {"value": 21.5, "unit": "in", "point": "p", "from": "P4", "kind": "on skin", "printed_in": 20.5, "starts_at_in": 1},
		"c1": {"value": null, "unit": "in", "point": "p", "from": "P1"}, "d1": {"value": 3, "unit": "in"}}}`)
	require.True(t, IsJobState(data))
	got, job, err := ReadJobState("s.json", data)
	require.NoError(t, err)
	assert.Equal(t, "j", job)
	require.Len(t, got, 2)
	assert.Equal(t, "p", got[0].Point)
	assert.InDelta(t, 20.5, got[0].Measured.Inches(), 1e-12)
	assert.InDelta(t, 20.5, got[0].Printed.Inches(), 1e-12)
	assert.InDelta(t, 100.0/25.4, got[1].Measured.Inches(), 1e-12)
	assert.InDelta(t, 100, got[1].Typed, 1e-12)
	assert.Equal(t, g.Millimetre, got[1].Unit)
	for _, bad := range []string{"{", `{"a": 1}`, `{"format": "maskloft job state", "version": 2}`, `{"format": "maskloft job state", "version": 1}`} {
		_, _, err := ReadJobState("s.json", []byte(bad))
		assert.ErrorContains(t, err, "s.json: ", bad)
	}
}
