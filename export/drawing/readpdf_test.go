package drawing

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/samples"
	"maskloft/export/sheet"

	g "maskloft/geometry"
)

func readOne(t testing.TB, data []byte) Drawing {
	t.Helper()
	pages, err := ReadPDF(bytes.NewReader(data))
	require.NoError(t, err)
	require.Len(t, pages, 1)
	return pages[0]
}

func TestReadPDFOperators(t *testing.T) {
	for content, want := range map[string]string{
		"72 72 m 144 72 l h S":                                          "M1 1L2 1Z",
		"72 72 m 144 72 l s":                                            "M1 1L2 1Z",
		"72 72 m 144 72 l S":                                            "M1 1L2 1",
		"72 72 m 144 72 l f*":                                           "M1 1L2 1",
		"72 72 m 144 72 l b*":                                           "M1 1L2 1Z",
		"72 72 72 36 re f":                                              "M1 1L2 1L2 1.5L1 1.5Z",
		"72 72 m 72 144 144 144 144 72 c S":                             "M1 1C1 2 2 2 2 1",
		"72 72 m 144 144 144 72 v S":                                    "M1 1C1 1 2 2 2 1",
		"72 72 m 72 144 144 72 y S":                                     "M1 1C1 2 2 1 2 1",
		"72 72 m 144 72 l h 72 144 l S":                                 "M1 1L2 1ZM1 1L1 2",
		"72 72 m 144 72 l n":                                            "",
		"q 2 0 0 3 36 0 cm 18 24 m 36 24 l S Q 0 0 m 72 0 l S":          "M1 1L1.5 1M0 0L1 0",
		"1 0 0 1 72 0 cm 0 1 -1 0 0 0 cm 0 0 m 72 0 l S":                "M1 0L1 1",
		"1 0 0 RG [3 2] 0 d 0.5 w 4 M 0 J 1 j /P gs 72 72 m 144 72 l S": "M1 1L2 1",
		"0 0 144 144 re W n 72 72 m 144 72 l S":                         "M1 1L2 1",
		"% a comment\n72 72 m\r144 72 l S":                              "M1 1L2 1",
		"5 5 m 72 72 m 144 72 l S":                                      "M1 1L2 1",
		"/A BMC 72 72 m 144 72 l S EMC":                                 "M1 1L2 1",
	} {
		var p g.Path
		for _, l := range readOne(t, samples.PDFFrom(content, "")).Layers {
			p = append(p, l.Path()...)
		}
		require.Equal(t, want, p.String(), content)
	}
}

func TestReadPDFPage(t *testing.T) {
	d := readOne(t, samples.PDFFrom("72 72 m 144 72 l S", "/MediaBox[36 36 180 252]"))
	require.Equal(t, [2]float64{2, 3}, [2]float64{d.Width, d.Height})
	require.Equal(t, "M0.5 0.5L1.5 0.5", d.Layers[0].Path().String())
	d = readOne(t, samples.PDFFrom("72 72 m 144 72 l S", "/UserUnit 10"))
	require.Equal(t, [2]float64{20, 20}, [2]float64{d.Width, d.Height})
	require.Equal(t, "M10 10L20 10", d.Layers[0].Path().String())
	d = readOne(t, samples.PDFFrom("72 72 m 144 72 l S", "/CropBox[72 36 300 108]"))
	require.Equal(t, [2]float64{1, 1}, [2]float64{d.Width, d.Height})
	require.Equal(t, "M0 0.5L1 0.5", d.Layers[0].Path().String())
}

func TestReadPDFFormsAndLayers(t *testing.T) {
	form := "0 0 m 36 0 l S"
	data := samples.PDFFrom("/OC /L1 BDC q 1 0 0 1 72 72 cm /F Do Q 0 0 m 72 0 l S EMC 0 0 m 0 72 l S",
		"/Resources<</XObject<</F 5 0 R>>/Properties<</L1 6 0 R>>>>",
		fmt.Sprintf("<</Subtype/Form/BBox[0 0 72 72]/Matrix[2 0 0 2 0 0]/Length %d>>\nstream\n%s\nendstream", len(form), form),
		"<</Type/OCG/Name<FEFF00630075007400E9>>>")
	d := readOne(t, data)
	require.Len(t, d.Layers, 2)
	require.Equal(t, "cuté", d.Layers[0].Name)
	require.Equal(t, "M1 1L2 1M0 0L1 0", d.Layers[0].Path().String())
	require.Equal(t, "", d.Layers[1].Name)
	require.Equal(t, "M0 0L0 1", d.Layers[1].Path().String())
}

// A newer table replaces an object of an older one.
func TestReadPDFUpdate(t *testing.T) {
	old := samples.PDFFrom("72 72 m 144 72 l S", "")
	at := bytes.LastIndex(old, []byte("startxref\n"))
	var start int
	_, err := fmt.Sscanf(string(old[at:]), "startxref\n%d", &start)
	require.NoError(t, err)
	var b bytes.Buffer
	b.Write(old)
	object := b.Len()
	b.WriteString("4 0 obj\n<</Length 18>>\nstream\n0 0 m 72 0 l S    \nendstream\nendobj\n")
	table := b.Len()
	fmt.Fprintf(&b, "xref\n4 1\n%010d 00000 n \ntrailer\n<</Size 5/Root 1 0 R/Prev %d>>\nstartxref\n%d\n%%%%EOF\n", object, start, table)
	require.Equal(t, "M0 0L1 0", readOne(t, b.Bytes()).Layers[0].Path().String())
}

func TestReadPDFRefuses(t *testing.T) {
	good := "72 72 m 144 72 l S"
	image := "<</Subtype/Image/Length 0>>\nstream\n\nendstream"
	packed := "<</Subtype/Form/BBox[0 0 9 9]/Filter/JBIG2Decode/Length 0>>\nstream\n\nendstream"
	loop := "<</Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F 5 0 R>>>>/Length 5>>\nstream\n/F Do\nendstream"
	for want, data := range map[string][]byte{
		"not a PDF":                  []byte("hello"),
		"no startxref":               []byte("%PDF-1.4\n"),
		"place of a cross-reference": []byte("%PDF-1.4\nstartxref\n999\n%%EOF"),
		"are not where it says":      []byte("%PDF-1.5\n1 0 obj\nstartxref\n9\n%%EOF"),
		"turned by 90":               samples.PDFFrom(good, "/Rotate 90"),
		"MediaBox":                   samples.PDFFrom(good, "/MediaBox[0 0 1]"),
		"text is not":                samples.PDFFrom("BT (R) Tj ET", ""),
		"shading":                    samples.PDFFrom("/S sh", ""),
		"an image is":                samples.PDFFrom("BI ID EI", ""),
		"s*":                         samples.PDFFrom("72 72 m 144 72 l s*", ""),
		"2 operands, not 6":          samples.PDFFrom("72 72 m 144 72 c S", ""),
		"no point to draw from":      samples.PDFFrom("144 72 l S", ""),
		"within a path":              samples.PDFFrom("72 72 m 144 72 l", ""),
		"no q for it":                samples.PDFFrom("Q", ""),
		"in pairs":                   samples.PDFFrom("q", ""),
		"cuts an outline":            samples.PDFFrom("0 0 100 100 re W n "+good, ""),
		"no upright rectangle":       samples.PDFFrom("0 0 m 300 0 l 0 300 l h W n "+good, ""),
		"no upright":                 samples.PDFFrom("0 0 m 300 0 l 300 300 l 300 0 l h W n "+good, ""),
		"there is no object":         samples.PDFFrom("/X Do", ""),
		"an image?":                  samples.PDFFrom("/F Do", "/Resources<</XObject<</F 5 0 R>>>>", image),
		"12 deep":                    samples.PDFFrom("/F Do", "/Resources<</XObject<</F 5 0 R>>>>", loop),
		"no name of its own":         samples.PDFFrom("/OC /L BDC EMC", ""),
		"beyond what can":            samples.PDFFrom("1 0 0 1 99999999 0 cm "+good, ""),
		"is no number":               samples.PDFFrom("1-2 0 m", ""),
		"damaged":                    bytes.Replace(samples.PDFFrom(good, ""), []byte("/Length 18"), []byte("/Length 25"), 1),
		"not where the":              bytes.Replace(samples.PDFFrom(good, ""), []byte("4 0 obj"), []byte("7 0 obj"), 1),
		"JBIG2Decode":                samples.PDFFrom("/F Do", "/Resources<</XObject<</F 5 0 R>>>>", packed),
	} {
		_, err := ReadPDF(bytes.NewReader(data))
		require.ErrorContains(t, err, want, want)
	}
	encrypted := bytes.Replace(samples.PDFFrom(good, ""), []byte("/Size"), []byte("/Encrypt 9 0 R/Size"), 1)
	_, err := ReadPDF(bytes.NewReader(encrypted))
	require.ErrorContains(t, err, "encrypted")
}

// Whatever byte of a good file is lost or changed, the reader does not panic,
// and what it still reads has a size.
func TestReadPDFDamaged(t *testing.T) {
	good := samples.PDFOf(t, sheet.PDFOptions{Title: "t", Compress: true}, samples.SampleSheet())
	for i := 0; i < len(good); i += 3 {
		for _, data := range [][]byte{good[:i], append(append([]byte{}, good[:i]...), good[i+1:]...), append(append(append([]byte{}, good[:i]...), '7'), good[i+1:]...)} {
			pages, err := ReadPDF(bytes.NewReader(data))
			require.True(t, err != nil || (len(pages) > 0 && pages[0].Width > 0 && pages[0].Height > 0))
		}
	}
}

func FuzzReadPDF(f *testing.F) {
	f.Add(samples.PDFOf(f, sheet.PDFOptions{Title: "t"}, samples.SampleSheet(), samples.OddSheet()))
	f.Add(samples.PDFOf(f, sheet.PDFOptions{Title: "größe", Compress: true}, samples.SampleSheet()))
	f.Add(samples.PDFFrom("q 2 0 0 3 36 0 cm 18 24 m 36 24 1 2 v 1 2 3 4 y h 1 2 3 4 re W* n (a\\(\\053) <4142> [1/A#20B] Q", "/Resources<<>>"))
	f.Add(samples.PDFFrom("/F Do", "/Resources<</XObject<</F 5 0 R>>>>", "<</Subtype/Form/BBox[0 0 9 9]/Length 0>>\nstream\n\nendstream"))
	f.Fuzz(func(t *testing.T, data []byte) {
		pages, err := ReadPDF(bytes.NewReader(data))
		if err != nil {
			require.True(t, strings.HasPrefix(err.Error(), "pdf: "))
			return
		}
		for _, d := range pages {
			require.True(t, d.Width > 0 && d.Height > 0)
			for _, l := range d.Layers {
				for _, c := range l.Path() {
					require.True(t, Finite(c))
				}
			}
		}
	})
}

// A title comes back as it was given, whatever its letters.
func TestPDFTitle(t *testing.T) {
	for _, s := range []string{"cut", `a (b) \c`, "größe", "日本 😀", "tab\tin it"} {
		f, err := openPDF(samples.PDFOf(t, sheet.PDFOptions{Title: s}, samples.SampleSheet()))
		require.NoError(t, err)
		info, err := f.dict(f.trailer["Info"])
		require.NoError(t, err)
		require.Equal(t, s, info["Title"].(pdfString).text())
	}
}

// The table of objects points at the objects.
func TestPDFOffsetsPointAtObjects(t *testing.T) {
	data := samples.PDFOf(t, sheet.PDFOptions{Title: "t"}, samples.SampleSheet())
	f, err := openPDF(data)
	require.NoError(t, err)
	require.Greater(t, len(f.offsets), 5)
	for n, at := range f.offsets {
		if n > 0 {
			require.True(t, bytes.HasPrefix(data[at:], []byte(fmt.Sprintf("%d 0 obj\n", n))))
		}
	}
}
