package job

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

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

var seed = flag.Uint64("seed", 1, "of the random layouts")

// TestTakeEach moves the insignia and the code of the demo to random places, in files
// of every unit, and takes each proposal in turn: its finding is gone, and of the file
// one value has changed, to one with its unit; or it is refused and nothing has.
func TestTakeEach(t *testing.T) {
	t.Logf("seed %d", *seed)
	random := rand.New(rand.NewPCG(*seed, 0))
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

// kindsOffered are layouts with one finding of each kind that proposes a value, by the
// rule of the finding; NUMBERS in UNITS are lengths that are drawn at random.
var kindsOffered = map[string]string{
	"size-offered": `
name: a size that is not published
units: UNITS
aircraft: {name: wall, datum: corner, surfaces: [{id: fuselage, kind: plate, thickness: 1 in, outline: [[0 in, 0 in], [120 in, 0 in], [120 in, 80 in], [0 in, 80 in]]}]}
markings:
  - id: star
    figure: {rule: us-star/disc-1942, size: SIZE}
    where: {surface: fuselage, side: left, fs: 60 in, wl: 40 in}
paint: {order: [insignia-blue, insignia-white], colours: {insignia-blue: {hex: "#172035"}, insignia-white: {hex: "#ffffff"}}}
`,
	"handedness": `
name: words in a mirror
units: UNITS
aircraft: {name: wall, datum: corner, surfaces: [{id: fuselage, kind: plate, thickness: 1 in, outline: [[0 in, 0 in], [120 in, 0 in], [120 in, 80 in], [0 in, 80 in]]}]}
markings:
  - id: code
    figure: {text: K4, alphabet: block-6x4, height: SIZE}
    handed: handed
    where: {surface: fuselage, side: both, fs: 60 in, wl: 40 in}
    colours: {text: white}
paint: {order: [white], colours: {white: {hex: "#ffffff"}}}
`,
	"side-view-stretch": `
name: too high for the side view
units: UNITS
aircraft: {name: drum, datum: fore end, surfaces: [{id: body, kind: round, sections: [{fs: 0 in, radius: 30 in, wl: 0 in}, {fs: 120 in, radius: 30 in, wl: 0 in}]}]}
markings:
  - id: disc
    figure: {discs: [{diameter: SIZE, colour: white}]}
    true: side
    where: {surface: body, side: left, fs: 60 in, wl: 15.5 in}
paint: {order: [white], colours: {white: {hex: "#ffffff"}}}
`,
	"seam-spared": `
name: a narrower field saves a seam
units: UNITS
aircraft: {name: wall, datum: corner, surfaces: [{id: fuselage, kind: plate, thickness: 1 in, outline: [[0 in, 0 in], [120 in, 0 in], [120 in, 80 in], [0 in, 80 in]]}]}
markings:
  - id: disc
    figure: {discs: [{diameter: SIZE, colour: white}]}
    where: {surface: fuselage, side: left, fs: 60 in, wl: 40 in}
film: {web: 24 in}
paint: {order: [white], colours: {white: {hex: "#ffffff"}}}
`,
}

// TestTakeEveryKind: a finding of each other kind that proposes a value, at random sizes in
// files of every unit, is gone when its value is taken, and one value of the file differs.
func TestTakeEveryKind(t *testing.T) {
	sizes := map[string][2]float64{"size-offered": {31, 33}, "handedness": {8, 12}, "side-view-stretch": {21, 22}, "seam-spared": {19.7, 20.3}}
	t.Logf("seed %d", *seed)
	random := rand.New(rand.NewPCG(*seed, 0))
	find := func(ctx context.Context, j *Job) ([]layouts.Finding, error) {
		if _, err := j.Tilings(ctx); err != nil {
			return nil, err
		}
		return findPlaces(ctx, j)
	}
	for rule, text := range kindsOffered {
		for _, units := range []string{"in", "mm", "cm", "ft"} {
			size := (&layouts.Spec{Units: units}).Write(geometry.Length(sizes[rule][0] + random.Float64()*(sizes[rule][1]-sizes[rule][0])))
			text := strings.NewReplacer("UNITS", units, "SIZE", size).Replace(text)
			f := Open("a.yaml", []byte(text), reading.InFS(fstest.MapFS{}), func(string) func(string) { return func(string) {} })
			j, err := f.Job()
			require.NoError(t, err, rule)
			findings, err := find(t.Context(), j)
			require.NoError(t, err)
			k := slices.IndexFunc(Offers(findings), func(o Offer) bool { return o.Finding.Rule == rule })
			require.GreaterOrEqual(t, k, 0, "%s is offered: %v", rule, findings)
			o := Offers(findings)[k]
			got, err := f.Take(t.Context(), []string{fmt.Sprint(o.Number)}, "", find)
			require.NoError(t, err, "%s in %s, %s", rule, units, size)
			require.Equal(t, string(got[0].Change.Apply([]byte(text))), string(f.Text()))
			if regexp.MustCompile(`^[0-9]`).MatchString(o.Value) {
				require.Regexp(t, ` (in|mm|cm|ft)$`, o.Value, "the value says its unit")
			}
		}
	}
}
