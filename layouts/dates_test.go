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
		date  string
		rules []string
		level Level // empty: no finding
		apart string
	}{
		{"", []string{"us-star/disc-1942", "an-i-9b/star-and-bars"}, Warn, "42 months"},
		{"1944-06", []string{"us-star/disc-1942"}, Warn, "11 months"},
		{"1943-09", []string{"us-star/disc-1942"}, Note, "2 months"},
		{"1943-12-28", []string{"us-star/disc-1942"}, Note, "6 months"},
		{"1943-12-29", []string{"us-star/disc-1942"}, Warn, "6 months"},
		{"1943-06-29", []string{"us-star/disc-1942"}, Note, "1 day"},
		{"1943-06", []string{"us-star/disc-1942"}, "", ""},
		{"1942-07", []string{"raf-roundel/a1", "raf-roundel/c"}, "", ""},
		{"", []string{"raf-roundel/a1", "raf-roundel/c"}, "", ""},
		{"1943-01", []string{"hcf-order-12@issue-2/insignia"}, Note, "3 months"},
		{"1941-10", []string{"hcf-order-12@issue-2/insignia"}, Warn, "18 months"},
		{"1944-06", []string{"hcf-order-12/insignia"}, "", ""},
	} {
		l := &Layout{Spec: &Spec{Rules: RulesSpec{Date: tc.date}}}
		for _, id := range tc.rules {
			r, err := standards.Find(id)
			require.NoError(t, err)
			for range 2 { // both sides: looked at once
				l.Placed = append(l.Placed, Placement{Marking: &MarkingSpec{ID: id}, Figure: Figure{Rule: r}})
			}
		}
		found := l.Dates()
		if tc.level == "" {
			assert.Empty(t, found, "%s %v", tc.date, tc.rules)
			continue
		}
		require.Len(t, found, 1, "%s %v", tc.date, tc.rules)
		assert.Equal(t, "date-window", found[0].Rule)
		assert.Equal(t, tc.level, found[0].Level, "%s %v", tc.date, tc.rules)
		assert.Equal(t, tc.apart, found[0].Measured, "%s %v", tc.date, tc.rules)
		assert.Contains(t, found[0].Message, tc.rules[0])
		assert.NotEmpty(t, found[0].Hint)
	}
}

// A day of a window that is from memory says so.
func TestDatesFromMemory(t *testing.T) {
	r, err := standards.Find("uk/fin-1940-free")
	require.NoError(t, err)
	l := &Layout{Spec: &Spec{Rules: RulesSpec{Date: "1950"}}, Placed: []Placement{{Marking: &MarkingSpec{ID: "insignia"}, Figure: Figure{Rule: r}}}}
	found := l.Dates()
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "from memory")
	assert.Equal(t, Warn, found[0].Level)
}
