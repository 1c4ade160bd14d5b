package sheet

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"maskloft/export/drawing"

	g "maskloft/geometry"
	_ "maskloft/geometry/trial"
)

// bulgedOff returns how far lines and arcs lie from a contour at most, both ways, found
// at many places of each.
func bulgedOff(c g.Contour, vertices []BulgeVertex) float64 {
	closed := c.Closed()
	var arcs g.Contour
	for i, v := range vertices {
		to := vertices[(i+1)%len(vertices)].At
		if !closed && i == len(vertices)-1 {
			break
		}
		if i == 0 {
			arcs.Start = v.At
		}
		b := g.MoveTo(v.At).LineTo(to)
		if v.Bulge != 0 {
			centre, _ := ArcCentre(v.At, to, v.Bulge)
			b = g.MoveTo(v.At).ArcTo(centre, 4*math.Atan(v.Bulge))
		}
		arcs.Segments = append(arcs.Segments, b.Open().Segments...)
	}
	worst := 0.0
	for _, two := range [2][2]g.Contour{{c, arcs}, {arcs, c}} {
		other := g.Path{g.Polyline(two[1].Flattened(1e-6)...)}
		if closed {
			other = g.Path{g.Polygon(two[1].Flattened(1e-6)...)}
		}
		for i := range two[0].Segments {
			for k := range 9 {
				worst = math.Max(worst, other.Distance(two[0].At(i, float64(k)/8), 1e-6))
			}
		}
	}
	return worst
}

// A circle of eight cubics is sixteen arcs of its own radius; a line stays a line; an S
// is arcs both ways.
func TestBulged(t *testing.T) {
	circle := Bulged(g.Circle(g.Point{X: 3, Y: 4}, 10), 0.001)
	require.Len(t, circle, 16)
	for i, v := range circle {
		_, r := ArcCentre(v.At, circle[(i+1)%16].At, v.Bulge)
		assert.InDelta(t, 10, r, 1e-3)
		assert.InDelta(t, math.Tan(math.Pi/32), v.Bulge, 1e-4, "a sixteenth of a turn: tan of a quarter of it")
	}
	square := Bulged(g.Rectangle(g.Rect{Max: g.Point{X: 2, Y: 1}}), 0.001)
	require.Len(t, square, 4)
	for _, v := range square {
		assert.Zero(t, v.Bulge)
	}
	s := g.MoveTo(g.Point{}).CubicTo(g.Point{X: 4}, g.Point{X: -1, Y: 3}, g.Point{X: 3, Y: 3}).Open()
	assert.Less(t, bulgedOff(s, Bulged(s, 0.001)), 0.001)
	line := Bulged(g.Polyline(g.Point{}, g.Point{X: 1}), 0.001)
	require.Len(t, line, 2, "an open contour keeps its end")
}

// Of random cubics, loops and cusps among them, arcs lie within the tolerance.
func TestBulgedRandomCubics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) g.Point {
			return g.Point{X: rapid.Float64Range(-10, 10).Draw(t, name+"x"), Y: rapid.Float64Range(-10, 10).Draw(t, name+"y")}
		}
		c := g.MoveTo(at("a")).CubicTo(at("b"), at("c"), at("d")).Open()
		if off := bulgedOff(c, Bulged(c, DXFTolerance)); off > DXFTolerance {
			t.Fatalf("off by %g in", off)
		}
	})
}

// What is written is read back: layers, closed and open contours, the size of the page,
// and the same bytes twice.
func TestDXFRoundTrip(t *testing.T) {
	s := Sheet{Title: "a sheet", Width: 12.5, Height: 9, Layers: []Layer{
		{Name: "registration", Items: []Item{{Path: g.Path{g.Polygon(g.Point{X: 1, Y: 1}, g.Point{X: 1.2, Y: 1.1}, g.Point{X: 1.2, Y: 0.9})}, Ink: Ink{Stroke: "#000000", Width: 0.01}}}},
		{Name: "cut", Items: []Item{
			{Path: g.Path{g.Circle(g.Point{X: 5, Y: 4}, 3)}, Ink: Ink{Stroke: "#000000", Width: 0.01}},
			{Path: g.Path{g.Polyline(g.Point{X: 1, Y: 8}, g.Point{X: 11, Y: 8.5})}, Ink: Ink{Stroke: "#000000", Width: 0.01}},
		}},
	}}
	var b, again bytes.Buffer
	require.NoError(t, WriteDXF(&b, s))
	require.NoError(t, WriteDXF(&again, s))
	assert.Equal(t, b.String(), again.String())
	d, err := drawing.ReadDXF(bytes.NewReader(b.Bytes()))
	require.NoError(t, err)
	assert.InDelta(t, 12.5, d.Width, 1e-9)
	assert.InDelta(t, 9, d.Height, 1e-9)
	require.Len(t, d.Layers, 2)
	assert.Equal(t, "REGISTRATION", d.Layers[0].Name)
	assert.Equal(t, "CUT", d.Layers[1].Name)
	cut := d.Layers[1].Path()
	require.Len(t, cut, 2)
	assert.True(t, cut[0].Closed())
	assert.InDelta(t, math.Pi*9, cut[0].Area(), 1e-3)
	assert.False(t, cut[1].Closed())
	assert.Equal(t, g.Point{X: 11, Y: 8.5}, cut[1].End())
}

// Damaged files are refused with the line.
func TestReadDXFErrors(t *testing.T) {
	for text, want := range map[string]string{
		"":                "cut off",
		"  0\nSECTION\n":  "cut off",
		"zero\nSECTION\n": "no group code",
		"0\nSECTION\n2\n": "ends within a group",
		"0\nSECTION\n2\nENTITIES\n0\nHATCH\n0\nENDSEC\n0\nEOF\n":           "HATCH is no outline",
		"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nx\n0\nENDSEC\n0\nEOF\n":     "is no number",
		"0\nSECTION\n2\nENTITIES\n0\nPOLYLINE\n0\nENDSEC\n0\nEOF\n":        "without its end",
		"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n21\n0\nENDSEC\n0\nEOF\n": "$INSUNITS 21",
	} {
		_, err := drawing.ReadDXF(bytes.NewReader([]byte(text)))
		assert.ErrorContains(t, err, want)
	}
	d, err := drawing.ReadDXF(bytes.NewReader([]byte("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\ncut\n10\n25.4\n20\n0\n40\n12.7\n0\nENDSEC\n0\nEOF\n")))
	require.NoError(t, err)
	assert.InDelta(t, math.Pi/4, d.Layers[0].Path().Area(), 1e-5, "millimetres become inches")
}
