package drawing

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// Ellipses, arcs of them, splines of degree 2, 3 and 5, open, closed and with weights, and
// arcs, bulges and blocks that lie mirrored, in millimetres: each lies where ezdxf 0.18,
// which wrote the file, has its own points of them (chords within 1e-4 mm).
func TestCurvesByEzdxf(t *testing.T) {
	file, err := os.Open("testdata/others/ezdxf-curves.dxf")
	require.NoError(t, err)
	defer file.Close()
	d, err := ReadDXF(file)
	require.NoError(t, err)
	list, err := os.ReadFile("testdata/others/ezdxf-curves.txt")
	require.NoError(t, err)
	points := map[string]int{}
	for scan := bufio.NewScanner(strings.NewReader(string(list))); scan.Scan(); {
		var name string
		var q g.Point
		if n, _ := fmt.Sscan(scan.Text(), &name, &q.X, &q.Y); n < 3 {
			continue
		}
		points[name]++
		l, ok := d.Layer(name)
		require.True(t, ok, name)
		q = g.Point{X: q.X / 25.4, Y: q.Y / 25.4}
		assert.Less(t, l.Path().Distance(q, 1e-7), 2e-5, "%s: %v", name, q)
	}
	assert.Len(t, points, 12)
	for name, n := range points {
		assert.Greater(t, n, 9, name)
	}
	for name, area := range map[string]float64{"circle": math.Pi * 20 * 20, "oval": math.Pi * 0.4 * (30*30 + 12*12)} {
		l, _ := d.Layer(name)
		require.True(t, l.Path()[0].Closed(), name)
		assert.InEpsilon(t, area/25.4/25.4, math.Abs(l.Path().Area()), 1e-5, name)
	}
}

// Splines whose numbers do not fit together are told, and a mesh.
func TestDXFCurvesRefused(t *testing.T) {
	spline := func(body string) string { return "0\nSPLINE\n8\na\n" + body }
	for body, say := range map[string]string{
		spline(""): "no control points",
		spline("71\n3\n40\n0\n40\n1\n10\n0\n20\n0\n10\n1\n20\n0\n"):                             "do not fit together",
		spline("71\n1\n40\n0\n40\n0\n40\n-1\n40\n1\n10\n0\n20\n0\n10\n1\n20\n0\n"):              "do not rise",
		spline("71\n1\n40\n0\n40\n0\n40\n0\n40\n0\n10\n0\n20\n0\n10\n1\n20\n0\n"):               "all its knots are one",
		spline("71\n1\n40\n0\n40\n0\n40\n1\n40\n1\n41\n1\n41\n0\n10\n0\n20\n0\n10\n1\n20\n0\n"): "not above 0",
		"0\nPOLYLINE\n8\na\n70\n16\n0\nSEQEND\n":                                                "mesh",
		"0\nCIRCLE\n8\na\n10\n0\n20\n0\n40\n1\n210\n1\n230\n0\n":                                "aslant",
		"0\nPOLYLINE\n8\na\n0\nVERTEX\n10\n0\n20\n0\n0\nLINE\n":                                 "without its end",
	} {
		_, err := ReadDXF(strings.NewReader("0\nSECTION\n2\nENTITIES\n" + body + "0\nENDSEC\n0\nEOF\n"))
		assert.ErrorContains(t, err, say)
	}
}
