package main

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/job"
	"maskloft/layouts/reading"

	g "maskloft/geometry"
	"maskloft/layouts/masks"
)

var openDemo = sync.OnceValues(func() (*job.Job, error) {
	spec, err := reading.LoadFS(reading.DemoFiles(), reading.DemoName)
	if err != nil {
		return nil, err
	}
	return job.New(spec, nil), nil
})

// demoJob returns everything computed from the demo; no test changes it.
func demoJob(t testing.TB) *job.Whole {
	t.Helper()
	j, err := openDemo()
	require.NoError(t, err)
	whole, err := j.Whole(t.Context())
	require.NoError(t, err)
	return whole
}

// node is a value of report.json, read without the program's own types.
type node struct {
	t     testing.TB
	where string
	value any
}

func (n node) at(key string) node {
	n.t.Helper()
	m, ok := n.value.(map[string]any)
	require.True(n.t, ok, "%s is no object", n.where)
	v, ok := m[key]
	require.True(n.t, ok, "%s has no %s", n.where, key)
	return node{n.t, n.where + "." + key, v}
}

func (n node) items() []node {
	n.t.Helper()
	list, ok := n.value.([]any)
	require.True(n.t, ok, "%s is no list", n.where)
	out := make([]node, len(list))
	for i, v := range list {
		out[i] = node{n.t, n.where + "[]", v}
	}
	return out
}

func (n node) text() string {
	n.t.Helper()
	s, ok := n.value.(string)
	require.True(n.t, ok, "%s is no text", n.where)
	require.NotEmpty(n.t, s, n.where)
	return s
}

func (n node) number() float64 {
	n.t.Helper()
	v, ok := n.value.(float64)
	require.True(n.t, ok, "%s is no number", n.where)
	return v
}

// is compares with a number of the job, to the six decimals that are kept.
func (n node) is(want float64) {
	n.t.Helper()
	assert.InDelta(n.t, want, n.number(), 1e-6, n.where)
}

func (n node) isPosition(want g.Position) {
	n.t.Helper()
	n.at("fs").is(want.FS.Inches())
	n.at("bl").is(want.BL.Inches())
	n.at("wl").is(want.WL.Inches())
}

// demoReport builds the demo into a folder and returns it with its report.json.
func demoReport(t testing.TB) (string, node) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "pack")
	job := demoJob(t)
	_, err := writePack(t.Context(), dir, job, packOptions{}, newProgress(nil))
	require.NoError(t, err)
	data, err := os.ReadFile(filepath.Join(dir, "report.json"))
	require.NoError(t, err)
	var value any
	d := json.NewDecoder(bytes.NewReader(data))
	require.NoError(t, d.Decode(&value))
	require.ErrorIs(t, d.Decode(&value), io.EOF)
	return dir, node{t, "report", value}
}

// report.json of the demo has every field a reader may rely on, and its numbers
// are those of the job.
func TestReport(t *testing.T) {
	job := demoJob(t)
	dir, report := demoReport(t)
	assert.Equal(t, job.Layout.Spec.Name, report.at("name").text())
	assert.Equal(t, job.Layout.Spec.Aircraft.Name, report.at("aircraft").text())
	assert.Equal(t, job.Layout.Spec.Aircraft.Datum, report.at("frame").text())
	report.at("tolerance_in").is(0.001)

	files := map[string]bool{}
	markings := report.at("markings").items()
	require.Len(t, markings, len(job.Tilings))
	for i, m := range markings {
		checkMarking(t, m, job.Tilings[i], dir, files)
	}
	onDisk, err := os.ReadDir(filepath.Join(dir, "cut"))
	require.NoError(t, err)
	assert.Len(t, onDisk, len(files), "every cut file is in the report, and is there")

	points := report.at("checkpoints").items()
	require.Len(t, points, len(job.Tapes.Points))
	for i, p := range points {
		c := job.Tapes.Points[i]
		assert.Equal(t, c.ID, p.at("id").text())
		assert.InDelta(t, c.Crossing, p.at("crossing_deg").number(), 1e-4)
		tapes := p.at("tapes").items()
		require.Len(t, tapes, len(c.Tapes))
		want := c.Tapes[:len(c.Tapes):len(c.Tapes)]
		if c.Closure != nil {
			tapes, want = append(tapes, p.at("closure")), append(want, *c.Closure)
		}
		for k, tape := range tapes {
			assert.Equal(t, want[k].From.ID, tape.at("from").text())
			tape.at("length_in").is(want[k].Length.Inches())
			tape.at("taut_in").is(want[k].Taut.Inches())
			tape.at("sigma_in").is(want[k].Sigma.Inches())
			assert.Equal(t, string(want[k].Kind), tape.at("kind").text())
		}
		assert.Equal(t, string(c.Role), p.at("role").text())
		assert.Equal(t, string(c.Grade), p.at("grade").text())
		p.at("sigma_in").is(c.Error.Ellipse.RMS().Inches())
		if c.Baseline != nil {
			p.at("string").at("along_in").is(c.Baseline.Along.Inches())
		}
		if c.Girth != nil {
			p.at("girth").at("length_in").is(c.Girth.Length.Inches())
		}
	}

	findings := report.at("findings").items()
	require.Len(t, findings, len(job.Findings))
	require.NotEmpty(t, findings)
	for i, f := range findings {
		want := job.Findings[i]
		assert.Equal(t, string(want.Level), f.at("level").text())
		assert.Equal(t, want.Rule, f.at("rule").text())
		f.at("place").isPosition(want.Where)
		for key, text := range map[string]string{
			"marking": want.Marking, "message": want.Message, "measured": want.Measured,
			"expected": want.Expected, "tolerance": want.Tolerance, "source": want.Source,
		} {
			assert.Equal(t, text, f.at(key).text(), key)
		}
	}
}

func checkMarking(t *testing.T, m node, tiling masks.Tiling, dir string, files map[string]bool) {
	t.Helper()
	l := tiling.Laid
	assert.Equal(t, l.ID(), m.at("id").text())
	assert.Equal(t, l.Placement.On, m.at("surface").text())
	assert.Equal(t, l.Placement.Side.String(), m.at("side").text())
	m.at("anchor").isPosition(l.Placement.Anchor)
	assert.Equal(t, l.Exact, m.at("exact").value)
	m.at("strain").at("compression").is(l.Strain.Compression)
	m.at("strain").at("tension").is(l.Strain.Tension)
	m.at("area_in2").is(l.Painted.Area())
	along, side := l.Heights()
	m.at("height_skin_in").is(along)
	m.at("height_side_in").is(side)

	list := m.at("masks").items()
	require.Len(t, list, len(l.Masks))
	for i, k := range list {
		mask := l.Masks[i]
		assert.Equal(t, mask.ID, k.at("id").text())
		k.at("pass").is(float64(i + 1))
		assert.Equal(t, mask.Paint, k.at("colour").text())
		k.at("polarity").text()
		k.at("area_in2").is(mask.Film.Area())
		k.at("width_in").is(mask.Field.Width())
		k.at("height_in").is(mask.Field.Height())
		k.at("nodes").is(float64(mask.Film.Nodes()))
		k.at("max_deviation_in").is(l.Deviation)
		tiles := k.at("tiles").items()
		cells := tiling.Films[i].Cells
		require.Len(t, tiles, len(cells))
		for c, tile := range tiles {
			cell := cells[c]
			tile.at("width_in").is(cell.Bounds().Width())
			tile.at("height_in").is(cell.Bounds().Height())
			assert.True(t, strings.HasPrefix(tile.at("id").text(), mask.ID+"-tile-"))
			for _, format := range []string{"svg", "pdf", "dxf"} {
				name := tile.at(format).text()
				assert.FileExists(t, filepath.Join(dir, filepath.FromSlash(name)))
				assert.Equal(t, "cut/"+tile.at("id").text()+"-"+sizeWord(g.ReadInches, cell.Bounds())+"."+format, name)
				assert.False(t, files[name], "%s is named twice", name)
				files[name] = true
			}
			marks := tile.at("registration").items()
			require.Len(t, marks, len(cell.Marks))
			for n, mark := range marks {
				want := tiling.Marks[cell.Marks[n]]
				assert.Equal(t, want.ID, mark.at("id").text())
				film := mark.at("film").items()
				require.Len(t, film, 2)
				film[0].is(want.Film.X)
				film[1].is(want.Film.Y)
				mark.at("skin").isPosition(want.Skin)
			}
		}
	}
}

// Film and paint of the report are the sums of its tiles and masks.
func TestReportTotals(t *testing.T) {
	_, report := demoReport(t)
	area := 0.0
	size := map[string][2]float64{} // of each tile
	paint := map[string]float64{}
	for _, m := range report.at("markings").items() {
		for _, k := range m.at("masks").items() {
			whole := 0.0
			for _, tile := range k.at("tiles").items() {
				w, h := tile.at("width_in").number(), tile.at("height_in").number()
				size[tile.at("id").text()] = [2]float64{w, h}
				area += w * h
				whole += w * h
			}
			// arms lie beyond the field
			assert.LessOrEqual(t, k.at("width_in").number()*k.at("height_in").number(), whole+1e-5)
			paint[k.at("colour").text()] += k.at("opening_in2").number()
		}
	}
	film := report.at("film")
	film.at("web_in").is(24)
	film.at("usable_in").is(22.5)
	end := 0.0
	var boxes [][4]float64
	for i, p := range film.at("placed").items() {
		assert.Equal(t, float64(i+1), p.at("number").number())
		id := p.at("id").text()
		w, h := size[id][0], size[id][1]
		delete(size, id)
		if p.at("turned").value.(bool) {
			w, h = h, w
		}
		p.at("along_in").is(w)
		p.at("across_in").is(h)
		x, y := p.at("x_in").number(), p.at("y_in").number()
		assert.True(t, x >= 1-1e-6 && y >= 0.75-1e-6 && y+h <= 24-0.75+1e-5, "%s lies between the margins", id)
		for _, b := range boxes {
			assert.True(t, x >= b[2]+0.5-1e-5 || b[0] >= x+w+0.5-1e-5 || y >= b[3]+0.5-1e-5 || b[1] >= y+h+0.5-1e-5, "%s lies half an inch from every other", id)
		}
		boxes = append(boxes, [4]float64{x, y, x + w, y + h})
		end = max(end, x+w)
	}
	assert.Empty(t, size, "tiles that are not on the web")
	run := film.at("run_in").number()
	assert.InDelta(t, end+2, run, 1e-5, "2 in after the last cut")
	assert.InDelta(t, 1-area/(24*run), film.at("waste").number(), 1e-5)
	assert.LessOrEqual(t, film.at("run_lower_bound_in").number(), run)
	assert.LessOrEqual(t, run, film.at("run_on_shelves_in").number())

	list := report.at("paint").items()
	assert.Len(t, list, len(paint))
	for _, p := range list {
		assert.InDelta(t, paint[p.at("colour").text()]/144, p.at("area_ft2").number(), 1e-5)
	}
}

// The files read back are those that were drawn, to a hundredth of the outline
// tolerance, and the report says how far off the worst is.
func TestReportSaysWhatWasReadBack(t *testing.T) {
	_, report := demoReport(t)
	worst := 0.0
	for _, m := range report.at("markings").items() {
		for _, k := range m.at("masks").items() {
			for _, tile := range k.at("tiles").items() {
				worst = math.Max(worst, tile.at("audited_in").number())
			}
		}
	}
	assert.Less(t, worst, auditTolerance)
	assert.Greater(t, worst, 0.0, "files keep six decimals: something is lost")
}
