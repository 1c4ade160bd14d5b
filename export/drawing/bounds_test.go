package drawing

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// deflatedPage is a PDF of one page whose content is one text many times, packed by the
// filters named, flate the last to be packed.
func deflatedPage(text string, times int, twice bool) []byte {
	pack := func(data []byte, times int) []byte {
		var b bytes.Buffer
		z := zlib.NewWriter(&b)
		for range times {
			z.Write(data)
		}
		z.Close()
		return b.Bytes()
	}
	stream, filter := pack([]byte(text), times), "/FlateDecode"
	if twice {
		stream, filter = pack(stream, 1), "[/FlateDecode /FlateDecode]"
	}
	var out bytes.Buffer
	var at []int
	object := func(format string, a ...any) {
		at = append(at, out.Len())
		fmt.Fprintf(&out, "%d 0 obj\n"+format+"\nendobj\n", append([]any{len(at)}, a...)...)
	}
	out.WriteString("%PDF-1.4\n")
	object("<</Type/Catalog/Pages 2 0 R>>")
	object("<</Type/Pages/Count 1/Kids[3 0 R]>>")
	object("<</Type/Page/Parent 2 0 R/MediaBox[0 0 720 720]/Contents 4 0 R/Resources<<>>>>")
	object("<</Length %d/Filter%s>>\nstream\n%s\nendstream", len(stream), filter, stream)
	start := out.Len()
	fmt.Fprintf(&out, "xref\n0 5\n0000000000 65535 f \n")
	for _, o := range at {
		fmt.Fprintf(&out, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&out, "trailer<</Size 5/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", start)
	return out.Bytes()
}

// Small files that unfold into large ones, and large ones, end in an error that says what
// to do, and take no more memory on the way than a reader should.
func TestReadingIsBounded(t *testing.T) {
	svg := func(body string) []byte {
		return []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="10in" height="10in" viewBox="0 0 10 10">` + body + `</svg>`)
	}
	dxf := func(entities string) []byte {
		return []byte("0\nSECTION\n2\nENTITIES\n" + entities + "0\nENDSEC\n0\nEOF\n")
	}
	// rising returns so many knots.
	rising := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "40\n%d\n", i)
		}
		return b.String()
	}
	for _, c := range []struct {
		name   string
		data   []byte
		format Format
		says   string
	}{
		{"blanks", deflatedPage(strings.Repeat(" ", 1<<20), 60, false), PDF, "hold more than 32 MB once unpacked"},
		{"packed twice", deflatedPage(strings.Repeat(" ", 1<<20), 60, true), PDF, "hold more than 32 MB once unpacked"},
		{"points", deflatedPage(strings.Repeat("0 0 m ", 1<<16), 60, false), PDF, "send the layer to cut alone"},
		{"rectangles", deflatedPage(strings.Repeat("0 0 9 9 re f ", 1<<16), 10, false), PDF, "send the layer to cut alone"},
		{"an array", deflatedPage("["+strings.Repeat("0 ", 1<<20)+"] 0 d", 1, false), PDF, "an array of more than 200000"},
		{"a path", svg(`<path id="p" d="M0 0 ` + strings.Repeat("L1 1 ", 410_000) + `"/>`), SVG, `path "p": more than 400,000 points`},
		{"elements", svg(strings.Repeat("<g/>", 210_000)), SVG, "more than 200,000 elements"},
		{"comments", svg("<title>" + strings.Repeat("a<!---->", 50_000) + "</title>"), SVG, ""},
		{"curves of a path", svg(`<path id="p" d="M0 0 ` + strings.Repeat("A9 9 0 1 1 1 1A9 9 0 1 1 0 0", 200_000) + `"/>`), SVG, `path "p": more than 400,000 points`},
		{"paths", svg(strings.Repeat(`<path d="M0 0h1"/>`, 110_000)), SVG, `path: more than 100,000 paths`},
		{"segments of a path", deflatedPage("0 0 m "+strings.Repeat("1 1 l ", 410_000)+"h f", 1, false), PDF, "more than 400,000 points"},
		{"lines of DXF", dxf(strings.Repeat("0\nLINE\n11\n1\n", 410_000)), DXF, "more than 100,000 paths"},
		{"a polyline of DXF", dxf("0\nLWPOLYLINE\n" + strings.Repeat("10\n1\n20\n1\n", 1_000_000)), DXF, "more than 400,000 points"},
		{"bulges of DXF", dxf("0\nLWPOLYLINE\n" + strings.Repeat("10\n1\n20\n1\n42\n1\n10\n0\n20\n0\n42\n1\n", 190_000)), DXF, "more than 400,000 points"},
		{"a polyline of old DXF", dxf("0\nPOLYLINE\n" + strings.Repeat("0\nVERTEX\n10\n1\n20\n1\n", 410_000) + "0\nSEQEND\n"), DXF, "more than 400,000 points"},
		{"numbers of DXF", dxf("0\nLWPOLYLINE\n" + strings.Repeat("42\n1\n", 2_100_000)), DXF, "more than 400,000 points"},
		{"a spline of DXF", dxf("0\nSPLINE\n71\n5\n" + strings.Repeat("40\n0\n", 6) + rising(100_001) + strings.Repeat("10\n1\n20\n1\n10\n0\n20\n0\n", 50_000) + "10\n1\n20\n1\n"), DXF, "more than 400,000 points"},
		{"a block of DXF", []byte("0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB\n" + strings.Repeat("0\nLINE\n10\n1\n20\n1\n11\n1\n21\n1\n", 390_000)), DXF, "more than 400,000 points"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := ReadForeign(c.data, c.format)
		runtime.ReadMemStats(&after)
		if c.says == "" {
			require.NoError(t, err, c.name)
		} else {
			require.ErrorContains(t, err, c.says, c.name)
		}
		assert.Less(t, (after.TotalAlloc-before.TotalAlloc)>>20, uint64(300), "%s: MB allocated in all", c.name)
	}
}
