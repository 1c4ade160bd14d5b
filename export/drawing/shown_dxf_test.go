package drawing

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// A drawing by ezdxf 0.18 in millimetres: light polylines with bulges, a block with a
// base point, inserted turned and scaled and again mirrored, its layer 0 that of the
// insert. The areas are closed forms: a bar with half circles for ends; a quadrangle and
// the segment of a circle whose bulge is 1/2; circles.
func TestDrawingByEzdxf(t *testing.T) {
	data, err := os.ReadFile("testdata/others/ezdxf-badge.dxf")
	require.NoError(t, err)
	list, err := ReadShown(data, DXF)
	require.NoError(t, err)
	area := map[string]float64{}
	for _, s := range list {
		area[s.Group] += s.Outline.Area()
	}
	const mm2 = 25.4 * 25.4
	turn := 4 * math.Atan(0.5)
	r := 20 * 1.25 / 2
	wing := 450 + r*r*(turn-math.Sin(turn))/2 // shoelace: (10,0) (40,0) (40,20) (10,10)
	times := 1.5*1.5 + 1
	assert.InDelta(t, (100*100+math.Pi*50*50)/mm2, area["field"], 1e-4)
	assert.InDelta(t, times*wing/mm2, area["wing"], 1e-4)
	assert.InDelta(t, times*math.Pi*4/mm2, area["spot"], 1e-5)
	// the mirrored one: its base point (10, 0) stands at (-5, 0), the crown of its arc, at
	// 40 + 20/2 x 1/2 = 45, then 35 mm to the left of that
	var all g.Path
	for _, s := range list {
		if s.Group == "wing" {
			all = append(all, s.Outline...)
		}
	}
	assert.InDelta(t, -40/25.4, all.Bounds().Min.X, 1e-5)
}

func TestDXFBlocksRefused(t *testing.T) {
	file := func(blocks, body string) []byte {
		return []byte("0\nSECTION\n2\nBLOCKS\n" + blocks + "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + body + "0\nENDSEC\n0\nEOF\n")
	}
	self := "0\nBLOCK\n2\nA\n10\n0\n20\n0\n0\nINSERT\n2\nA\n10\n1\n20\n0\n0\nENDBLK\n"
	for _, c := range []struct{ blocks, body, say string }{
		{"", "0\nINSERT\n8\na\n2\nGONE\n10\n0\n20\n0\n", `no block "GONE"`},
		{self, "0\nINSERT\n8\na\n2\nA\n10\n0\n20\n0\n", "deep"},
		{self, "0\nINSERT\n8\na\n2\nA\n10\n0\n20\n0\n70\n3\n", "rows"},
		{"", "0\nHATCH\n8\na\n", "HATCH"},
	} {
		_, err := ReadShown(file(c.blocks, c.body), DXF)
		assert.ErrorContains(t, err, c.say)
	}
}
