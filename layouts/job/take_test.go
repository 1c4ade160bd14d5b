package job

import (
	"context"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
	"maskloft/layouts/reading"
)

// findPlaces is what is looked at: places and what stands round them.
func findPlaces(ctx context.Context, j *Job) ([]layouts.Finding, error) {
	_, err := j.Surveyed(ctx)
	return j.Findings(), err
}

// inUnits returns the demo, or its insignia and code, with another unit for bare
// numbers; those that it has are written as inches.
func inUnits(t testing.TB, f *File, units string) {
	t.Helper()
	for _, m := range []string{"insignia", "code", "tail-number", "number"} {
		for _, key := range []string{"where.fs", "where.wl", "figure.size", "figure.height", "figure.gap"} {
			path := "markings[" + m + "]." + key
			p, err := document.ParsePath(path)
			require.NoError(t, err)
			doc, ok := reading.Document(f.Name, f.Text())
			require.True(t, ok)
			if v, ok := doc.Value(p); ok && regexp.MustCompile(`^[0-9.]+$`).MatchString(v.Raw()) {
				_, _, err := f.Set(path, v.Raw()+" in")
				require.NoError(t, err)
			}
		}
	}
	_, _, err := f.Set("units", units)
	require.NoError(t, err)
}

// TestTakeEach moves the insignia and the code of the demo to random places, in files
// of every unit, and takes each proposal in turn: its finding is gone, and of the file
// one value has changed, to one with its unit; or it is refused and nothing has.
func TestTakeEach(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	taken, refused, kinds := 0, 0, map[string]int{}
	for _, units := range []string{"in", "mm", "cm", "ft"} {
		f := openDemo(t, func(string) {})
		inUnits(t, f, units)
		for range 2 {
			j, err := f.Job()
			require.NoError(t, err)
			set := func(path string, inches float64) {
				_, _, err := f.Set(path, j.Spec.Write(geometry.Length(inches)))
				require.NoError(t, err)
			}
			set("markings[insignia].where.fs", 118+random.Float64()*30)
			set("markings[insignia].figure.size", 18+random.Float64()*5)
			set("markings[code].where.wl", 50+random.Float64()*6)
			before := f.Text()
			j, err = f.Job()
			require.NoError(t, err)
			findings, err := findPlaces(t.Context(), j)
			require.NoError(t, err)
			for _, o := range Offers(findings) {
				got, err := f.Take(t.Context(), []string{fmt.Sprint(o.Number)}, ListMark(Offers(findings)), findPlaces)
				if err != nil {
					refused++
					t.Logf("%s: %s: %v", units, o.Proposal, err)
					require.Equal(t, string(before), string(f.Text()), "refused: nothing is written")
					continue
				}
				taken++
				kinds[o.Finding.Rule]++
				require.Len(t, got, 1)
				unit := regexp.MustCompile(` (in|mm|cm|ft)$`).FindString(o.Value)
				require.NotEmpty(t, unit, "%s says its unit", o.Value)
				require.Equal(t, string(got[0].Change.Apply(before)), string(f.Text()))
				require.Equal(t, o.Value, got[0].Change.Insert, "one value and nothing else")
				now, err := f.Job()
				require.NoError(t, err)
				after, err := findPlaces(t.Context(), now)
				require.NoError(t, err)
				require.Less(t, count(after, o.Finding), count(findings, o.Finding), "%s: %s", o.Name(), o.Proposal)
				require.NoError(t, f.Apply(got[0].Undo))
				require.Equal(t, string(before), string(f.Text()))
			}
		}
	}
	t.Logf("taken %d, refused %d, %v", taken, refused, kinds)
	require.Greater(t, taken, 3*refused, "most proposals do what they say")
	require.Positive(t, taken)
}

// TestTakeSaysWhy: what cannot be taken is refused with what there is.
func TestTakeSaysWhy(t *testing.T) {
	f := openDemo(t, func(string) {})
	before := string(f.Text())
	for _, tc := range []struct{ word, mark, says string }{
		{"9", "", "there is no number 9: there are 1 (code-left/obstacle)"},
		{"insignia/obstacle", "", `nothing is offered under "insignia/obstacle"`},
		{"1", "abcdef", "has changed since it was printed"},
	} {
		_, err := f.Take(t.Context(), []string{tc.word}, tc.mark, findPlaces)
		require.ErrorContains(t, err, tc.says)
		require.Equal(t, before, string(f.Text()))
	}
	// both proposals of the demo are for one finding: with the first it is gone, and the second with it
	_, err := f.Take(t.Context(), []string{"1", "2"}, "", findPlaces)
	require.ErrorContains(t, err, "take them one by one")
	require.Equal(t, before, string(f.Text()))
	got, err := f.Take(t.Context(), []string{"code/obstacle"}, "", findPlaces)
	require.NoError(t, err)
	require.Equal(t, strings.Replace(before, "fs: 184, wl: 53}", "fs: 184, wl: 53.125 in}", 1), string(f.Text()))
	require.Equal(t, "code-left/obstacle", got[0].Name())
}
