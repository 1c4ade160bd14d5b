package tapelist

import (
	"bytes"
	"encoding/csv"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/taping"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
	"maskloft/layouts/masks"
)

// tapeListOf computes the tape list of the demo with one kind of tape.
func tapeListOf(t testing.TB, change func(*layouts.Spec)) (*layouts.Layout, []masks.Tiling, taping.TapeList) {
	t.Helper()
	w := worked.DemoWith(t, change)
	list, _, err := taping.Tapes(t.Context(), w.Layout, w.Tilings, g.NetTolerance)
	require.NoError(t, err)
	return w.Layout, w.Tilings, list
}

// withAll is a list that prints every point.
func withAll(list taping.TapeList) taping.TapeList {
	list.All = true
	return list
}

// What is read on the tape: the nearest graduation, midway to the even one; from
// the 1 in mark one inch more; 25.4 mm to the inch, from the 100 mm mark 100 more.
func TestReading(t *testing.T) {
	inch := layouts.UsualTape()
	burnt, fine, metric, half := inch, inch, inch.Metric(), inch.Metric()
	burnt.Burn, fine.Reading, half.Reading = true, g.Inch/32, g.Millimetre/2
	burntMetric := metric
	burntMetric.Burn = true
	for _, c := range []struct {
		tape   layouts.TapeSpec
		length g.Length
		want   string
	}{
		{inch, 50.694, "50-11/16 in"}, {inch, 50.71875, "50-3/4 in"}, {inch, 48, "48 in"}, {inch, 1.0 / 32, "0 in"},
		{burnt, 50.694, "51-11/16 in"}, {fine, 50.71875, "50-23/32 in"},
		{metric, 50.694, "1288 mm"}, {metric, 2, "51 mm"}, {half, 2, "51 mm"}, {half, 2.01, "51 mm"}, {half, 50.694, "1287.5 mm"},
		{burntMetric, 50.694, "1388 mm"},
	} {
		assert.Equal(t, c.want, Reading(c.tape, c.length), "%+v", c.tape)
	}
}

var update = flag.Bool("update", false, "write the golden files anew")

// The lists of the demo as they were looked over: in inches, and in millimetres
// from the 100 mm mark.
func TestTapeListGoldens(t *testing.T) {
	for name, change := range map[string]func(*layouts.Spec){
		"demo-tapes":        func(*layouts.Spec) {},
		"demo-tapes-metric": func(s *layouts.Spec) { s.Tape = s.Tape.Metric(); s.Tape.Burn = true },
	} {
		l, _, list := tapeListOf(t, change)
		table, err := TapeCSV(list)
		require.NoError(t, err)
		for file, data := range map[string][]byte{name + ".md": TapeText(l, list), name + ".csv": table, name + "-all.md": TapeText(l, withAll(list))} {
			path := filepath.Join("..", "..", "testdata", "golden", file)
			if *update {
				require.NoError(t, os.WriteFile(path, data, 0o644))
			}
			want, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.True(t, bytes.Equal(want, data), "%s differs from its golden file", file)
		}
	}
}

// Filled in as printed the table comes back as the readings it gives, to the
// graduation; nothing is lost, whatever the tape.
func TestTapeTableRoundTrip(t *testing.T) {
	for name, change := range map[string]func(*layouts.Spec){
		"inches":      func(*layouts.Spec) {},
		"burnt":       func(s *layouts.Spec) { s.Tape.Burn = true },
		"millimetres": func(s *layouts.Spec) { s.Tape = s.Tape.Metric(); s.Tape.Burn = true },
	} {
		t.Run(name, func(t *testing.T) {
			_, tilings, list := tapeListOf(t, change)
			table, err := TapeCSV(withAll(list))
			require.NoError(t, err)
			rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
			require.NoError(t, err)
			last := len(rows[0]) - 1
			require.True(t, strings.HasPrefix(rows[0][last], "measured_"))
			for i := range rows {
				require.Len(t, rows[i], last+1)
				if i > 0 {
					require.Empty(t, rows[i][last])
					rows[i][last] = strings.TrimSuffix(rows[i][last-1], " mm") // the unit is the column's
				}
			}
			var b bytes.Buffer
			require.NoError(t, csv.NewWriter(&b).WriteAll(rows))
			readings, err := ReadTapeCSV("tapes.csv", &b)
			require.NoError(t, err)
			n := 0
			for _, p := range list.Points {
				n += len(p.Tapes) + len(p.Offsets)
				if p.Closure != nil {
					n++
				}
			}
			require.Len(t, readings, n)
			for _, r := range readings {
				assert.InDelta(t, r.Printed.Inches(), r.Measured.Inches(), list.Tape.Reading.Inches()/2+1e-4, r.Point)
			}
			built, findings, err := taping.AsBuilt(list.Tape, tilings, list.Points, readings, g.Foot)
			require.NoError(t, err)
			assert.Empty(t, findings)
			require.Len(t, built, len(tilings))
			for _, m := range built {
				assert.Less(t, m.Offset.Norm(), 0.06, "half a graduation here and there: %v", m.Marking)
			}
		})
	}
}

func TestTapeTableForms(t *testing.T) {
	for text, want := range map[string]float64{
		"50-11/16": 50.6875, "50 11/16": 50.6875, "50.69": 50.69, "50,69": 50.69, "1287,6 mm": 1287.6 / 25.4, "1287.6 mm": 1287.6 / 25.4, "4 ft 2 in": 50, `4' 2"`: 50,
	} {
		var b bytes.Buffer
		require.NoError(t, csv.NewWriter(&b).WriteAll([][]string{{"point", "from", "starts_at_in", "measured_in"}, {"a", "P1", "1", text}, {"b", "P2", "1", " "}}))
		r, err := ReadTapeCSV("t.csv", &b)
		require.NoError(t, err, text)
		require.Len(t, r, 1)
		assert.InDelta(t, want-1, r[0].Measured.Inches(), 1e-9, text)
		assert.True(t, math.IsNaN(r[0].Printed.Inches()))
		assert.Equal(t, 2, r[0].Place.Line)
	}
}

// Every slip is told with file, line and column.
func TestTapeTableMistakes(t *testing.T) {
	const head = "point,from,length_in,starts_at_in,measured_in\n"
	for text, says := range map[string]string{
		"":                       "t.csv: the file is empty",
		"point,from\na,P1\n":     "t.csv:1:1: there is no column measured_in",
		head + "a,P1,10,0,\n":    "t.csv: the column measured_in is empty",
		head + "a,P1,10,0,ten\n": `t.csv:2:11: measured_in: "ten" is not a length`,
		head + "a,P1,10,0,10\na,P2,12,0,1 1/2 1/4\n": "t.csv:3:11: measured_in:",
		head + "a,P1,x,0,10\n":                       "t.csv:2:6: length_in:",
		head + "a,P1,10,1,1\n":                       "t.csv:2:11: measured_in: 1 leaves no length",
		head + "a,P1,10,0,\"10\n":                    "t.csv:2:",
		head + "a,P1,10,0,10 furlongs\n":             "unknown unit",
	} {
		r, err := ReadTapeCSV("t.csv", strings.NewReader(text))
		assert.Nil(t, r)
		require.ErrorContains(t, err, says, text)
	}
}

// The printed list says what counts: working order, kinds, grades, which places are
// measured, where the tape starts.
func TestTapeTextSays(t *testing.T) {
	l, _, list := tapeListOf(t, func(s *layouts.Spec) {
		s.Tape.Burn = true
		s.Aircraft.LevelPegs = []layouts.PegSpec{{ID: "LP1", At: g.SidePosition{FS: 84, WL: 46}}, {ID: "LP2", At: g.SidePosition{FS: 114, WL: 46}}}
		for i := range s.Aircraft.Hardpoints {
			h := &s.Aircraft.Hardpoints[i]
			h.Measured[g.Left] = &layouts.MeasuredPoint{FS: h.FS + 0.125, At: h.At}
		}
	})
	text := string(TapeText(l, withAll(list)))
	for _, says := range []string{
		"**START AT THE 1 IN MARK**", "| P1: lower sternpost bolt | left | 240.125 | -1.375 | 50 | as measured: +0.125 aft, +0.000 right, +0.000 up of the drawing | 0.031 |",
		"| P1: lower sternpost bolt | right | 240 | 1.375 | 50 | as drawn | 0.062 |", "left: moved +0.125 aft", "| LP1, LP2 | 30.000 in | 0.00 | none: level | -12.00 | 6.240 in under LP2 |",
		"12.005 deg nose up", "raise the tail wheel 37 in", " good | ", " poor | ", "ON SKIN", "STRAIGHT", "## Cautions",
	} {
		assert.Contains(t, text, says)
	}
	assert.NotContains(t, text, "NaN")
	assert.NotContains(t, text, "-0.000")
}

// A table comes back as spreadsheets save it: commas, semicolons or tabs, UTF-8 with or
// without its mark, UTF-16 either way round, decimal commas, empty cells added.
func TestTapeTableOfSpreadsheets(t *testing.T) {
	rows := [][]string{{"point", "from", "kind", "length_in", "measured_in"}, {"a", "P1", "on skin", "66.5", "66.4"}, {"b", "S4", "girth", "3.25", "3.5"}}
	for _, c := range []struct{ separator, decimal string }{{",", "."}, {";", "."}, {"\t", "."}, {";", ","}, {"\t", ","}} {
		var lines []string
		for i, r := range rows {
			r = append([]string(nil), r...)
			if i > 0 {
				r[3], r[4] = strings.Replace(r[3], ".", c.decimal, 1), strings.Replace(r[4], ".", c.decimal, 1)
			}
			lines = append(lines, strings.Join(r, c.separator)+strings.Repeat(c.separator, i))
		}
		text := strings.Join(lines, "\r\n") + "\r\n" + c.separator + c.separator + "\r\n"
		units := utf16.Encode([]rune(text))
		little, big := []byte{0xff, 0xfe}, []byte{0xfe, 0xff}
		for _, u := range units {
			little, big = append(little, byte(u), byte(u>>8)), append(big, byte(u>>8), byte(u))
		}
		for name, data := range map[string]string{"plain": text, "marked": "\ufeff" + text, "UTF-16 LE": string(little), "UTF-16 BE": string(big)} {
			r, err := ReadTapeCSV("t.csv", strings.NewReader(data))
			require.NoError(t, err, "%v %s", c, name)
			require.Len(t, r, 2)
			assert.InDelta(t, 66.4, r[0].Measured.Inches(), 1e-12)
			assert.InDelta(t, 66.5, r[0].Printed.Inches(), 1e-12)
			assert.Equal(t, taping.AlongSection, r[1].Kind)
			assert.InDelta(t, 3.5, r[1].Typed, 1e-12)
			assert.Equal(t, 3, r[1].Place.Line)
		}
	}
	for text, says := range map[string]string{
		"point,from,measured_in\na,P1,66,4\n":                      `t.csv:2:9: the line has 4 cells and the first line 3: "4" would be cut off: write a decimal comma as a point`,
		"point;from;measured_in\na;P1;66;4\n":                      "would be cut off: take it out",
		"point,from,measured_in,measured_in\na,P1,66,4\n":          "the column measured_in is there twice",
		"point;from;measured_in\na;P1;1.287,5\n":                   `"1.287,5"`,
		"\xff\xfep\x00o":                                           "half a character at its end",
		"point,from,measured_in\na,P1,\xe9\n":                      "no UTF-8 text",
		"p\x00o\x00i\x00n\x00t\x00,\x00f\x00r\x00o\x00m\x00\n\x00": "no UTF-8 text",
	} {
		_, err := ReadTapeCSV("t.csv", strings.NewReader(text))
		assert.ErrorContains(t, err, says, "%q", text)
	}
}
