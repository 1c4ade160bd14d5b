package drawing

import (
	"bytes"
	"compress/lzw"
	"compress/zlib"
	"encoding/ascii85"
	"encoding/hex"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every standard filter that yields content, alone and in rows, against the encoders of
// the Go library and the examples of ISO 32000-1.
func TestFilters(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	text := make([]byte, 60_000)
	for i := range text {
		text[i] = "0123456789 .ml\n"[rng.IntN(15)]
	}
	var flat, early bytes.Buffer
	z := zlib.NewWriter(&flat)
	_, err := z.Write(text)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	l := lzw.NewWriter(&early, lzw.MSB, 8) // codes that grow when they must
	_, err = l.Write(text)
	require.NoError(t, err)
	require.NoError(t, l.Close())
	base85 := func(data []byte) []byte {
		var out bytes.Buffer
		e := ascii85.NewEncoder(&out)
		e.Write(data)
		e.Close()
		return append(out.Bytes(), "~>"...)
	}
	runs := func(data []byte) (out []byte) {
		for len(data) > 0 {
			n := min(len(data), 128)
			out, data = append(append(out, byte(n-1)), data[:n]...), data[n:]
		}
		return append(out, 128)
	}
	for _, c := range []struct {
		name    string
		filters []any
		parms   []any
		data    []byte
		want    []byte
	}{
		{"flate", []any{pdfName("FlateDecode")}, nil, flat.Bytes(), text},
		{"flate in base 85", []any{pdfName("ASCII85Decode"), pdfName("FlateDecode")}, nil, base85(flat.Bytes()), text},
		{"hexadecimal", []any{pdfName("ASCIIHexDecode"), pdfName("FlateDecode")}, nil, append([]byte(hex.EncodeToString(flat.Bytes())), '>'), text},
		{"run lengths", []any{pdfName("RunLengthDecode")}, nil, runs(text), text},
		{"LZW, late", []any{pdfName("LZWDecode")}, []any{pdfDict{"EarlyChange": 0.0}}, early.Bytes(), text},
		// clause 7.4.4.2, example: 45 45 45 45 45 65 45 45 45 66
		{"LZW of the standard", []any{pdfName("LZWDecode")}, nil, []byte{0x80, 0x0b, 0x60, 0x50, 0x22, 0x0c, 0x0c, 0x85, 0x01}, []byte{45, 45, 45, 45, 45, 65, 45, 45, 45, 66}},
		{"a run", []any{pdfName("RunLengthDecode")}, nil, []byte{254, 'x', 1, 'a', 'b', 128}, []byte("xxxab")},
	} {
		f := &pdfFile{budget: largestContent}
		dict := pdfDict{"Filter": c.filters}
		if c.parms != nil {
			dict["DecodeParms"] = c.parms
		}
		got, err := f.unfold(pdfStream{dict, c.data})
		if assert.NoError(t, err, c.name) {
			assert.True(t, bytes.Equal(got, c.want), c.name)
		}
	}
	_, err = (&pdfFile{budget: largestContent}).unfold(pdfStream{pdfDict{"Filter": pdfName("DCTDecode")}, nil})
	assert.ErrorContains(t, err, "a stream is packed by DCTDecode, which is not read")
	_, err = (&pdfFile{budget: 100}).unfold(pdfStream{pdfDict{"Filter": pdfName("LZWDecode"), "DecodeParms": pdfDict{"EarlyChange": 0.0}}, early.Bytes()})
	assert.ErrorIs(t, err, errUnfolds)
}
