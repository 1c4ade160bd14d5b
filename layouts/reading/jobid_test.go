package reading

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A new layout has an id of its own, and what is read of it is what was written.
func TestJobID(t *testing.T) {
	text, err := Starter("")
	require.NoError(t, err)
	seen := map[string]bool{}
	for range 1000 {
		id := NewJobID()
		require.Regexp(t, jobForm, id)
		require.False(t, seen[id])
		seen[id] = true
	}
	with := WithJobID(text, "k7f3-9q2m-x4vd")
	spec, err := InFS(nil).Read("a.yaml", []byte(with))
	require.NoError(t, err)
	assert.Equal(t, "k7f3-9q2m-x4vd", spec.Job)
	assert.Equal(t, with, WithJobID(with, "other"), "an id stays")
	_, err = InFS(nil).Read("a.yaml", []byte(WithJobID(text, "no blanks here")))
	assert.ErrorContains(t, err, `is no id of a job`)
}
