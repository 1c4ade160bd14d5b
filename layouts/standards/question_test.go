package standards

import (
	"math"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asked is one row of testdata/questions.yaml.
type asked struct {
	ID                                 string
	On                                 Date
	Nation, Finish, Ask, Known, Source string
	Service, Place, Type, Kind, Form   stringList
	Beside, Also, Not                  stringList
	Size                               []struct {
		Rule, Place string
		Inches      float64
	}
	Measured struct {
		Rule, Part, Number string
		Is                 Formula
		Verdict            string // agrees, differs
	}
}

// held tells whether a rule agrees with what was measured: with a number of a part, in
// the rule's unit, or with a height of letters that it offers, inches.
func (a asked) held(t *testing.T) bool {
	is, err := a.Measured.Is.Eval(nil)
	require.NoError(t, err)
	r, err := Find(a.Measured.Rule)
	require.NoError(t, err)
	if r.Lettering != nil {
		require.Equal(t, "height", a.Measured.Number)
		return slices.Contains(r.Offered(math.Inf(1)), is)
	}
	values, err := r.Values(nil)
	require.NoError(t, err)
	k := slices.IndexFunc(values, func(v Value) bool { return v.Part == a.Measured.Part && v.Name == a.Measured.Number })
	require.GreaterOrEqual(t, k, 0, "%s has no %s.%s", r.ID, a.Measured.Part, a.Measured.Number)
	return math.Abs(values[k].Value-is) < 1e-9
}

// TestQuestions asks what stood where, and holds the answers against their sources.
func TestQuestions(t *testing.T) {
	data, err := os.ReadFile("testdata/questions.yaml")
	require.NoError(t, err)
	var rows []asked
	require.NoError(t, decode("questions.yaml", data, &rows))
	require.GreaterOrEqual(t, len(rows), 92)
	none, unknown, measured := 0, 0, 0
	for _, row := range rows {
		t.Run(row.ID, func(t *testing.T) {
			var forms, also []string
			absent := false
			for _, kind := range row.Kind {
				for _, place := range row.Place {
					q := Question{Nation: row.Nation, On: row.On, Place: place, Finish: row.Finish, Kind: kind, Types: row.Type}
					if len(row.Service) > 0 {
						q.Service = row.Service[0]
					}
					a, err := Ask(q)
					require.NoError(t, err)
					absent = absent || a.None != nil
					for _, u := range a.Forms {
						if !slices.Contains(forms, u.Rule.ID) {
							forms = append(forms, u.Rule.ID)
						}
					}
					for _, u := range append(append(a.Beside, a.Also...), a.Conditional...) {
						also = append(also, u.Rule.ID)
					}
				}
			}
			switch {
			case slices.Equal(row.Form, stringList{"unknown"}):
				unknown++
				assert.Empty(t, forms, row.Ask)
				assert.False(t, absent, "unknown is not none: %s", row.Ask)
			case slices.Equal(row.Form, stringList{"none"}):
				none++
				assert.True(t, absent, "an absence says so: %s", row.Ask)
				assert.Empty(t, forms, row.Ask)
			default:
				for _, f := range row.Form {
					assert.Contains(t, forms, f, row.Ask)
				}
				for _, f := range forms {
					assert.True(t, slices.Contains(row.Form, f) || slices.Contains(row.Also, f), "%s: %s is not in the answer", row.Ask, f)
				}
			}
			for _, s := range row.Size {
				r, err := Find(s.Rule)
				require.NoError(t, err)
				sizes, _ := r.OfferedAt(s.Place, row.Type)
				assert.Contains(t, sizes, s.Inches, "%s: %s on the %s", row.Ask, s.Rule, s.Place)
			}
			if row.Measured.Rule != "" {
				measured++
				assert.Equal(t, row.Measured.Verdict == "agrees", row.held(t), row.Ask)
				assert.Contains(t, []string{"agrees", "differs"}, row.Measured.Verdict)
			}
			for _, f := range row.Beside {
				assert.Contains(t, also, f, row.Ask)
			}
			for _, f := range row.Not {
				assert.NotContains(t, forms, f, row.Ask)
			}
			assert.NotEmpty(t, row.Source)
		})
	}
	require.Equal(t, 6, measured)
	t.Logf("%d questions, %d answered none, %d unknown", len(rows), none, unknown)
}
