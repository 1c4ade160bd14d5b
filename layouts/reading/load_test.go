package reading

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/document"
)

var update = flag.Bool("update", false, "write the golden files anew")

var badLayouts = filepath.Join("..", "..", "testdata", "bad")

// loadText loads a layout given as text.
func loadText(t testing.TB, text string) (*layouts.Spec, error) {
	t.Helper()
	return LoadFS(fstest.MapFS{"a.yaml": {Data: []byte(text)}}, "a.yaml")
}

// problemsOf loads a layout that must be refused.
func problemsOf(t testing.TB, text string) layouts.Problems {
	t.Helper()
	spec, err := loadText(t, text)
	require.Nil(t, spec)
	var problems layouts.Problems
	require.True(t, errors.As(err, &problems), "%v", err)
	require.NotEmpty(t, problems)
	return problems
}

// TestBad holds the whole message for each bad layout against its golden file.
func TestBad(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(badLayouts, "*.yaml"))
	require.NoError(t, err)
	require.Greater(t, len(files), 15)
	for _, file := range files {
		name := filepath.Base(file)
		if name == "hack.yaml" { // the aircraft of the others
			continue
		}
		t.Run(name, func(t *testing.T) {
			spec, err := LoadFS(os.DirFS(badLayouts), name)
			require.Error(t, err)
			require.Nil(t, spec)
			golden := strings.TrimSuffix(file, ".yaml") + ".txt"
			if *update {
				require.NoError(t, os.WriteFile(golden, []byte(err.Error()+"\n"), 0o644))
			}
			want, readErr := os.ReadFile(golden)
			require.NoError(t, readErr)
			require.Equal(t, string(want), err.Error()+"\n")
		})
	}
}

// TestDemo reads every kind of value of the demo back.
func TestDemo(t *testing.T) {
	s, err := LoadFS(DemoFiles(), DemoName)
	require.NoError(t, err)
	require.Equal(t, "Kittock TV-0417, Harbour Coast Courier Flight (invented)", s.Name)
	require.Equal(t, layouts.RulesSpec{Place: placeIn(t, "demo.yaml", "date: 1944-06"), Date: "1944-06", Nation: "hcf", Edge: layouts.UsualClear}, s.Rules)

	a := s.Aircraft
	require.Equal(t, `Tarrow & Velling Model 31 "Kittock" (invented)`, a.Name)
	require.Equal(t, "kittock.yaml", a.Place.File)
	require.Contains(t, a.Datum, "positive aft. WL 0")
	require.Len(t, a.Surfaces, 3)
	body := a.Surfaces[0]
	require.Equal(t, []string{"T", "S1", "S2", "S3", "S4", "S5", "S6", "B"}, body.Lines)
	require.Equal(t, []string{"S2", "S6"}, body.Hard)
	require.Len(t, body.Sections, 2)
	require.Equal(t, geometry.Station(240), body.Sections[1].FS)
	require.Equal(t, layouts.SectionPoint{BL: 1.625, WL: 57.5}, body.Sections[1].Points[3])
	require.Equal(t, layouts.Plate, a.Surfaces[2].Kind)
	require.Equal(t, 1.6*geometry.Inch, a.Surfaces[2].Thickness)
	require.Equal(t, geometry.SidePosition{FS: 240.375, WL: 49}, a.Surfaces[2].Outline[13])
	require.Equal(t, []geometry.Waterline{70, 78, 86}, a.Surfaces[1].Ribs)
	require.Equal(t, layouts.HardpointSpec{Place: placeIn(t, "kittock.yaml", "{id: P2"), ID: "P2", Name: "rear door-post lower bolt", Side: layouts.BothSides, FS: 120, At: layouts.SectionPoint{BL: 12.5, WL: 36}}, a.Hardpoints[1])
	require.Len(t, a.Obstacles, 13)
	require.Equal(t, layouts.Around, a.Obstacles[6].Kind)
	require.Equal(t, geometry.Station(120), a.Obstacles[6].At.FS)
	require.Equal(t, geometry.Station(240.375), a.Obstacles[11].To)
	require.Equal(t, geometry.Length(0.25), a.Obstacles[11].Clear, "what is usual at a hinge")
	require.Equal(t, geometry.Length(0.5), a.Obstacles[7].Clear)
	require.Equal(t, layouts.Opening, a.Obstacles[12].Kind)
	require.Len(t, a.Obstacles[12].Points, 4)
	require.Equal(t, geometry.Length(2), a.Obstacles[12].Clear)
	require.Equal(t, geometry.SidePosition{FS: 246, WL: 43}, a.Ground.Tail)
	require.Len(t, a.Profile, 3)
	require.False(t, a.Profile[0].Closed)
	require.True(t, a.Profile[1].Closed)

	require.Len(t, s.Markings, 4)
	m := s.Markings[0]
	require.Equal(t, "hcf-order-12/insignia", m.Figure.Rule)
	require.Equal(t, 20*geometry.Inch, m.Figure.Size)
	require.Equal(t, layouts.Handed, m.Handed)
	require.Nil(t, m.Figure.Gap)
	m = s.Markings[2]
	require.Equal(t, "0417", m.Figure.Text)
	require.InDelta(t, 1.3333, m.Figure.Gap.Inches(), 1e-12)
	require.Equal(t, layouts.WhereSpec{Place: placeIn(t, "demo.yaml", "{surface: [fin, rudder], side: left"), Surfaces: []string{"fin", "rudder"}, Side: layouts.LeftSide, FS: 227.521, WL: 78, Hold: layouts.HoldFore, Align: layouts.AlignWaterline, Baseline: layouts.StraightBaseline}, m.Where)
	require.Equal(t, []layouts.ColourUse{{Part: "text", Paint: "orange-yellow"}}, m.Colours)
	require.Equal(t, []string{"E-2"}, m.Evidence)
	require.Equal(t, []string{"insignia-white", "orange-yellow", "insignia-blue"}, s.Paint.Order)
	require.Equal(t, "#F8A300", s.Paint.Colours[1].Hex)
	require.Equal(t, "ANA 506 / FS 13538", s.Paint.Colours[1].Standard)
	require.Equal(t, "E3", s.Evidence[1].Class)
}

// placeIn returns where a text stands in a demo file.
func placeIn(t testing.TB, file, text string) layouts.Place {
	t.Helper()
	data, err := fs.ReadFile(DemoFiles(), file)
	require.NoError(t, err)
	before, _, found := strings.Cut(string(data), text)
	require.True(t, found, text)
	return layouts.Place{File: file, Line: 1 + strings.Count(before, "\n"), Column: len(before) - strings.LastIndex(before, "\n")}
}

// TestLoadIsLoadFS reads the demo from the disk and finds the same, but for the
// names of the files; the aircraft is found beside the layout.
func TestLoadIsLoadFS(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, DemoFiles()))
	file := filepath.Join(dir, DemoName)
	got, err := Load(file)
	require.NoError(t, err)
	require.Equal(t, file, got.File)
	require.Equal(t, filepath.Join(dir, "kittock.yaml"), got.Aircraft.Place.File)
	want, err := LoadFS(DemoFiles(), DemoName)
	require.NoError(t, err)
	text := strings.ReplaceAll(fmt.Sprintf("%+v", got.Markings), dir+string(filepath.Separator), "")
	require.Equal(t, stripPointers(fmt.Sprintf("%+v", want.Markings)), stripPointers(text))

	_, err = Load(filepath.Join(dir, "nothing.yaml"))
	require.ErrorContains(t, err, "there is no such file")
	_, err = Load(dir)
	require.ErrorContains(t, err, "cannot read the layout")
}

// stripPointers blanks addresses of printed pointers.
func stripPointers(s string) string {
	parts := strings.Split(s, "0xc")
	for i := range parts[1:] {
		parts[i+1] = strings.TrimLeft(parts[i+1], "0123456789abcdef")
	}
	return strings.Join(parts, "&")
}

const aircraftText = `
aircraft:
  name: Hack
  datum: FS 0 is the firewall
  units: mm
  surfaces:
    - id: boom
      kind: round
      sections: [{fs: 0, radius: 254, wl: 508}, {fs: 2540, radius: 127, wl: 20 in}]
`

// TestAsWritten: what looks like a number, a date or a truth value stays text.
func TestAsWritten(t *testing.T) {
	for _, text := range []string{"0123", "0417", "0x1F", "1_000", "12.50", "yes", "NO", "null", "~", "1944-06-01", "1e3", "0o17", "3:25"} {
		s, err := loadText(t, "name: "+text+aircraftText+"markings:\n  - id: a\n    figure: {text: "+text+", alphabet: 007, height: 3 in}\n    where: {surface: boom, fs: 1 m, wl: 20 in}\n")
		require.NoError(t, err, text)
		require.Equal(t, text, s.Name)
		require.Equal(t, text, s.Markings[0].Figure.Text)
		require.Equal(t, "007", s.Markings[0].Figure.Alphabet)
	}
}

// TestInline reads the aircraft in the layout with units of its own, options in
// the order written, discs, and what is usual when nothing is written.
func TestInline(t *testing.T) {
	s, err := loadText(t, "name: Hack\r\nunits: ft"+aircraftText+`markings:
  - id: rule
    figure: {rule: some/rule, size: 2, options: {zeta: one, alpha: two}}
    where: {surface: boom, fs: 4, wl: 1 ft 8 in, angle: -3.5 deg}
  - id: discs
    figure: {discs: [{diameter: 2, colour: white}, {diameter: 1, colour: blue}]}
    where: {surface: [boom], fs: 4, wl: 1.5, side: right, hold: aft}
    true: side
  - id: text
    figure: {text: K4, alphabet: block-6x4, height: 1}
    where: {surface: boom, fs: 4, wl: 1.5}
paint:
  order: [white, blue]
  colours: {blue: {hex: "#172035"}, white: {hex: "#F0E9EE", name: insignia white}}
`)
	require.NoError(t, err)
	require.InDelta(t, 10, s.Aircraft.Surfaces[0].Sections[0].Radius.Inches(), 1e-12)
	require.InDelta(t, 100, s.Aircraft.Surfaces[0].Sections[1].FS.Inches(), 1e-12)
	require.InDelta(t, 20, s.Aircraft.Surfaces[0].Sections[1].WL.Inches(), 1e-12)

	m := s.Markings[0]
	require.Equal(t, 24*geometry.Inch, m.Figure.Size)
	require.Equal(t, []layouts.OptionChoice{{Option: "zeta", Choice: "one"}, {Option: "alpha", Choice: "two"}}, m.Figure.Options)
	require.InDelta(t, -3.5, m.Where.Angle, 1e-12)
	require.InDelta(t, 20, m.Where.WL.Inches(), 1e-12)
	require.Equal(t, []any{layouts.TrueSkin, layouts.Symmetric, layouts.BothSides, layouts.HoldCentre}, []any{m.True, m.Handed, m.Where.Side, m.Where.Hold})
	m = s.Markings[1]
	require.Equal(t, []any{layouts.TrueSide, layouts.Symmetric, layouts.RightSide, layouts.HoldAft}, []any{m.True, m.Handed, m.Where.Side, m.Where.Hold})
	require.Equal(t, 12*geometry.Inch, m.Figure.Discs[1].Diameter)
	require.Equal(t, "blue", m.Figure.Discs[1].Colour)
	require.Equal(t, layouts.Text, s.Markings[2].Handed)
	require.Equal(t, layouts.FilmSpec{Web: 24, Across: 0.75, Lead: 1, Tail: 2, Field: 1.5, Least: 1, Marks: layouts.CutMarks, Longest: 48, Strain: layouts.UsualStrain(), Seam: layouts.UsualSeam()}, s.Film)
	require.Equal(t, []string{"blue", "white"}, []string{s.Paint.Colours[0].ID, s.Paint.Colours[1].ID})
	require.Equal(t, "blue", s.Paint.Colours[0].Name)
}

// TestFileForms: files that are hardly text still get a place and a hint.
func TestFileForms(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		line, column int
		says         string
	}{
		{"not UTF-8", "name: x\nfoo: caf\xe9\n", 2, 9, "not UTF-8"},
		{"UTF-16", "\xff\xfen\x00", 1, 1, "not UTF-8"},
		{"control", "name: x\rfoo: 3\r\nbar: \x07y\n", 3, 6, "U+0007"},
		{"mark then mistake", "\xef\xbb\xbfunits: x\n", 1, 8, `units is "x"`},
		{"tab", "name: x\nmarkings:\n  -\tid: 3\n   - x: [\n", 3, 4, "a tab"},
		{"comment only", "# nothing\n---\n", 0, 0, "empty"},
		{"words", "just words\n", 1, 1, "just words"},
		{"no colon", "name: x\nfoo\nbar: y\n", 2, 1, "without its colon"},
		{"odd start", "name: x\naircraft: @foo\nbar: y\n", 2, 11, "cannot begin"},
		{"no comma", "a: 1\nb: {c: 7 d: 3}\nc: 1\n", 2, 4, "comma is missing"},
		{"open list", "a: 1\np: [[1, 2], [3, 4\n  [5, 6]]\nc: 1\n", 2, 13, "not closed"},
		{"second mistake", "name: x\n---\nb: [\n", 3, 1, "missing here"},
		{"deep", strings.Repeat("[", 20000), 1, 1, "too deeply"},
		{"large", strings.Repeat("#", document.MaxSize+1), 0, 0, "larger than 4 MB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := problemsOf(t, c.text)
			found := false
			for _, q := range p {
				if strings.Contains(q.Message, c.says) {
					found = true
					require.Equal(t, layouts.Place{File: "a.yaml", Line: c.line, Column: c.column}, q.Place, q.Message)
				}
			}
			require.True(t, found, "%v", p)
		})
	}
}

// TestProblemsPrint: the first twenty are printed, the rest counted.
func TestProblemsPrint(t *testing.T) {
	var b strings.Builder
	for i := range 25 {
		fmt.Fprintf(&b, "odd-%c: 1\n", 'a'+i)
	}
	p := problemsOf(t, b.String())
	require.Len(t, p, 28) // and three keys missing
	require.True(t, strings.HasSuffix(p.Error(), "\nand 8 more"), p.Error())
	require.Equal(t, 20, strings.Count(p.Error(), "    ^"))
}

// TestAircraftFile: a mistake in the aircraft file is placed in that file and
// brings no others about; the layout's own come first.
func TestAircraftFile(t *testing.T) {
	layout := "name: x\nunits: in\naircraft: sub/b.yaml\nmarkings:\n  - {id: a, figure: {text: A, alphabet: b, height: 3}, where: {surface: s, fs: 1, wl: 1, sid: left}}\n"
	files := fstest.MapFS{"d/a.yaml": {Data: []byte(layout)}, "d/sub/b.yaml": {Data: []byte("name: [x\n")}}
	_, err := LoadFS(files, "d/a.yaml")
	var p layouts.Problems
	require.True(t, errors.As(err, &p))
	require.Len(t, p, 2)
	require.Equal(t, layouts.Place{File: "d/a.yaml", Line: 5, Column: 90}, p[0].Place)
	require.Equal(t, layouts.Place{File: "d/sub/b.yaml", Line: 1, Column: 7}, p[1].Place)

	_, err = LoadFS(fstest.MapFS{"a.yaml": {Data: []byte("name: x\naircraft: ../b.yaml\nmarkings: []\n")}}, "a.yaml")
	require.ErrorContains(t, err, "a.yaml:2:11: cannot read the aircraft file ../b.yaml")
}

func TestEdgesMeet(t *testing.T) {
	p := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	require.True(t, edgesMeet(p(0, 0), p(2, 2), p(0, 2), p(2, 0)))
	require.True(t, edgesMeet(p(0, 0), p(2, 0), p(1, 0), p(1, 2)), "touching")
	require.True(t, edgesMeet(p(0, 0), p(2, 0), p(1, 0), p(3, 0)), "overlapping")
	require.False(t, edgesMeet(p(0, 0), p(2, 0), p(3, 0), p(4, 0)), "apart on one line")
	require.False(t, edgesMeet(p(0, 0), p(2, 2), p(3, 0), p(5, 9)))
}

func TestNearest(t *testing.T) {
	known := []string{"height", "text", "fs", "E-1", "film", "colour"}
	for word, want := range map[string]string{
		"heigth": "height", "HEIGHT": "height", "station": "fs", "E-3": "", "flim": "film",
		"color": "colour", "": "", "x": "", "wholly-other": "", strings.Repeat("h", 5000): "",
	} {
		require.Equal(t, want, nearest(word, known), word)
	}
}

// FuzzLoad: whatever the file, Load returns a layout or problems with places in
// the file, and the same ones again.
func FuzzLoad(f *testing.F) {
	for _, fsys := range []fs.FS{DemoFiles(), os.DirFS(badLayouts)} {
		names, err := fs.Glob(fsys, "*.yaml")
		require.NoError(f, err)
		for _, name := range names {
			data, err := fs.ReadFile(fsys, name)
			require.NoError(f, err)
			f.Add(data, []byte("name: x\n"))
		}
	}
	plane, err := fs.ReadFile(DemoFiles(), "kittock.yaml")
	require.NoError(f, err)
	demo, err := fs.ReadFile(DemoFiles(), DemoName)
	require.NoError(f, err)
	f.Add(demo, plane)
	// once a panic: a field below twice the usual trap with no trap: written
	f.Add([]byte(strings.Replace(string(demo), "field: ", "field: 3 mm #", 1)), plane)
	// once a panic in fitting: one place known exactly beside others not at all
	unlike := strings.Replace(string(plane), "wl: 50}", "wl: 50, sigma: 0.00001 in}", 1)
	unlike = strings.NewReplacer("wl: 36}\n", "wl: 36, sigma: 9999 in}\n", "wl: 60}\n", "wl: 60, sigma: 9999 in}\n", "\nobstacles:",
		"\nmeasured-tapes: [{from: P1, to: P2, side: left, length: 121.4 in}, {from: P1, to: P3, side: left, length: 10 in}]\nobstacles:").Replace(unlike)
	f.Add(demo, []byte(unlike))
	f.Fuzz(func(t *testing.T, layout, aircraft []byte) {
		files := fstest.MapFS{"a.yaml": {Data: layout}, "kittock.yaml": {Data: aircraft}, "hack.yaml": {Data: aircraft}}
		spec, err := LoadFS(files, "a.yaml")
		if err == nil {
			require.NotNil(t, spec)
			require.NotEmpty(t, spec.Markings)
			if len(spec.Aircraft.Taped) < 20 {
				_, _ = layouts.NewAirframe(t.Context(), spec.Aircraft) // an airframe or an error
			}
			return
		}
		require.Nil(t, spec)
		var problems layouts.Problems
		require.True(t, errors.As(err, &problems))
		require.NotEmpty(t, problems)
		for _, p := range problems {
			require.NotEmpty(t, p.Message)
			require.GreaterOrEqual(t, p.Place.Line, 0)
			if p.Place.Line > 0 {
				require.GreaterOrEqual(t, p.Place.Column, 1, p.Message)
			}
		}
		_, again := LoadFS(files, "a.yaml")
		require.Equal(t, err.Error(), again.Error())
	})
}
