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
	for _, c := range []struct {
		name   string
		data   []byte
		format Format
		says   string
	}{
		{"blanks", deflatedPage(strings.Repeat(" ", 1<<20), 60, false), PDF, "hold more than 48 MB once unpacked"},
		{"packed twice", deflatedPage(strings.Repeat(" ", 1<<20), 60, true), PDF, "hold more than 48 MB once unpacked"},
		{"points", deflatedPage(strings.Repeat("0 0 m ", 1<<16), 60, false), PDF, "send the layer to cut alone"},
		{"rectangles", deflatedPage(strings.Repeat("0 0 9 9 re f ", 1<<16), 10, false), PDF, "send the layer to cut alone"},
		{"an array", deflatedPage("["+strings.Repeat("0 ", 1<<20)+"] 0 d", 1, false), PDF, "an array of more than 200000"},
		{"a path", svg(`<path id="p" d="M0 0 ` + strings.Repeat("L1 1 ", 410_000) + `"/>`), SVG, `path "p": more than 400,000 points`},
		{"elements", svg(strings.Repeat("<g/>", 210_000)), SVG, "more than 200,000 elements"},
		{"comments", svg("<title>" + strings.Repeat("a<!---->", 50_000) + "</title>"), SVG, ""},
		{"groups of DXF", []byte("0\nSECTION\n2\nENTITIES\n" + strings.Repeat("0\nLINE\n11\n1\n", 410_000) + "0\nENDSEC\n0\nEOF\n"), DXF, "more than 400,000 points"},
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
		assert.Less(t, (after.TotalAlloc-before.TotalAlloc)>>20, uint64(640), "%s: MB allocated in all", c.name)
	}
}
