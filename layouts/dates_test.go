package layouts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/standards"
)

// Windows as the documents of package standards have them: the US star in a disc
// without red 1942-05-15 to 1943-06-28, star and bars of AN-I-9b from 1947-01-16,
// the RAF types A1 to 1942-07 and C from 1942-07, the invented order from
// 1943-05-10. Six months of transition: Bowers (read). Months counted by hand.
func TestDates(t *testing.T) {
	for _, tc := range []struct {
		rules []string
		level Level // empty: no finding
		apart string
	}{
		{[]string{"us-star/disc-1942", "an-i-9b/star-and-bars"}, Warn, "42 months"},
		{[]string{"us-star/roundel-1918", "us-star/disc-1942-yellow"}, Warn, "277 months"},
		{[]string{"raf-roundel/a1", "raf-roundel/c"}, "", ""},
		{[]string{"hcf-order-12/insignia", "an-i-9a/blue-border"}, "", ""},
	} {
		l := &Layout{Spec: &Spec{}}
		for _, id := range tc.rules {
			r, err := standards.Find(id)
			require.NoError(t, err)
			for range 2 { // both sides: looked at once
				l.Placed = append(l.Placed, Placement{Marking: &MarkingSpec{ID: id}, Figure: Figure{Rule: r}})
			}
		}
		found := l.Dates()
		if tc.level == "" {
			assert.Empty(t, found, "%v", tc.rules)
			continue
		}
		require.Len(t, found, 1, "%v", tc.rules)
		assert.Equal(t, "date-window", found[0].Rule)
		assert.Equal(t, tc.level, found[0].Level, "%v", tc.rules)
		assert.Equal(t, tc.apart, found[0].Measured, "%v", tc.rules)
		assert.Contains(t, found[0].Message, tc.rules[0])
		assert.NotEmpty(t, found[0].Hint)
	}
}

// A day of a window that is from memory says so.
func TestDatesFromMemory(t *testing.T) {
	l := &Layout{Spec: &Spec{}}
	for _, id := range []string{"uk/fin-1940-free", "an-i-9a/red-border"} {
		r, err := standards.Find(id)
		require.NoError(t, err)
		l.Placed = append(l.Placed, Placement{Marking: &MarkingSpec{ID: id}, Figure: Figure{Rule: r}})
	}
	found := l.Dates()
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "from memory")
}
