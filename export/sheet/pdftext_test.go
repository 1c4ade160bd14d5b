package sheet

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// A text is written once, in a font that the file carries; where the code page has no
// letter for it, its outlines are drawn and the text is still found.
func TestPDFWritesText(t *testing.T) {
	plain, beyond := SetBody.At(`20-1/2 in (±1/8 in) – 18° \ ½`, 1, 2, 0), SetStrong.At("a → b", 1, 1, 0)
	s := Sheet{Title: "text", Width: 6, Height: 3, Layers: []Layer{{Name: "text", Items: []Item{plain, beyond}}}}
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, []Sheet{s}, PDFOptions{Title: "text"}))
	var texts []string
	for _, m := range regexp.MustCompile(`BT (.*) ET`).FindAllStringSubmatch(b.String(), -1) {
		texts = append(texts, m[1])
	}
	require.Equal(t, []string{
		`0 Tr /F1 9.5 Tf 72 144 Td (20-1/2 in \050\2611/8 in\051 \226 18\260 \134 \275) Tj`,
		`3 Tr /F2 9.5 Tf 72 72 Td (a ? b) Tj`,
	}, texts)
	require.Equal(t, 1, bytes.Count(b.Bytes(), []byte("\nf*\n")), "only the second is drawn")

	var none bytes.Buffer
	s.Layers[0].Items = []Item{{Path: plain.Outline(), Ink: plain.Ink}}
	require.NoError(t, WritePDF(&none, []Sheet{s}, PDFOptions{Title: "text"}))
	require.False(t, bytes.Contains(none.Bytes(), []byte("/Font")))
}

// poppler sees the fonts carried, and reads the text; Debian's poppler-utils.
func TestPDFTextIsReadByPoppler(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed; the outside checks read the demo's documents")
	}
	const text = `Straße 20-1/2 in (±1/8 in) – 18° \ ½ “quoted”`
	s := Sheet{Title: "text", Width: 8, Height: 3, Layers: []Layer{{Name: "text", Items: []Item{SetBody.At(text, 1, 2, 0), SetHeading.At("Heading", 1, 1, 0)}}}}
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, []Sheet{s}, PDFOptions{Title: "text", Compress: true}))
	name := filepath.Join(t.TempDir(), "text.pdf")
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o644))
	out, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	require.NoError(t, err)
	require.Contains(t, string(out), text)
	fonts, err := exec.Command("pdffonts", name).Output()
	require.NoError(t, err)
	require.Regexp(t, `GoRegular +TrueType +WinAnsi +yes`, string(fonts))
	require.Regexp(t, `Go-Bold +TrueType +WinAnsi +yes`, string(fonts))
}
