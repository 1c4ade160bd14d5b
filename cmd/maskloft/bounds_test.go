package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/export/samples"
)

// programWithPeak is the program, which says at its end how much memory it took at most.
func programWithPeak() {
	code := program()
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		panic(err)
	}
	for line := range strings.Lines(string(status)) {
		if peak, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			fmt.Fprintf(os.Stderr, "peak %s\n", strings.Fields(peak)[0])
		}
	}
	os.Exit(code)
}

// mostMemory bounds what any file made elsewhere takes, in MB, of the whole program.
const mostMemory = 300

// raced tells whether the race detector is built in, which takes memory of its own.
func raced() bool {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return false
	}
	for _, s := range info.Settings {
		if s.Key == "-race" {
			return s.Value == "true"
		}
	}
	return false
}

// Files that are large, or unfold into what is large, are told of within 300 MB, as the
// system counts them: outlines too many, too long, one over the other, in blocks, as
// splines of a high degree, arcs, layers, each with a colour of its own.
func TestForeignFilesTakeLittleMemory(t *testing.T) {
	if runtime.GOOS != "linux" || raced() {
		t.Skip("the peak is read from /proc, and the race detector takes memory of its own")
	}
	rng := rand.New(rand.NewPCG(1, 1))
	p := func() string { return strconv.FormatFloat(40*rng.Float64(), 'f', 4, 64) }
	// list writes a format many times, each %s a place on the page and %d a number.
	list := func(n int, format string) string {
		var b strings.Builder
		pieces := strings.Split(format, "%s")
		for i := range n {
			for k, piece := range pieces {
				if k > 0 {
					b.WriteString(p())
				}
				b.WriteString(strings.ReplaceAll(piece, "%d", strconv.Itoa(i)))
			}
		}
		return b.String()
	}
	section := func(name, body string) string { return "0\nSECTION\n2\n" + name + "\n" + body + "0\nENDSEC\n" }
	dxf := func(entities string) string { return section("ENTITIES", entities) + "0\nEOF\n" }
	svg := func(body string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" width="40in" height="40in" viewBox="0 0 40 40">` + body + `</svg>`
	}
	pdf := func(content string) string {
		return string(samples.PDFFrom(content, "/MediaBox[0 0 2880 2880]"))
	}
	line := "0\nLINE\n8\n0\n10\n%s\n20\n%s\n11\n%s\n21\n%s\n"
	circle := "q 1 0 0 1 %s %s cm 1 0 m 1 .5523 .5523 1 0 1 c -.5523 1 -1 .5523 -1 0 c -1 -.5523 -.5523 -1 0 -1 c .5523 -1 1 -.5523 1 0 c h f Q\n"
	pack := filepath.Join(t.TempDir(), "pack")
	require.NoError(t, exec.Command("maskloft", "build", filepath.Join(testFiles, "lessons", "01-star-and-bars.yaml"), "-o", pack).Run())
	for _, c := range []struct {
		name, data, says string
		audited          bool // else checked
	}{
		{"circles.pdf", pdf(list(60_000, circle)), "too thick", false},
		{"squares.pdf", pdf(list(99_000, "%s %s .01 .01 re f\n")), "missing or far", false},
		{"lines.dxf", dxf(list(390_000, line)), "more than 100,000 paths", false},
		{"some-lines.dxf", dxf(list(99_000, line)), "as large as a figure", false},
		{"layers.dxf", dxf(list(99_000, strings.Replace(line, "8\n0", "8\nA%d", 1))), "as large as a figure", false},
		{"block.dxf", section("BLOCKS", "0\nBLOCK\n2\nB\n"+list(390_000, line)+"0\nENDBLK\n") + dxf("0\nINSERT\n2\nB\n"), "more than 400,000 points", false},
		{"polyline.dxf", dxf("0\nLWPOLYLINE\n8\n0\n70\n1\n" + list(1_000_000, "10\n%s\n20\n%s\n")), "more than 400,000 points", false},
		{"bulges.dxf", dxf("0\nLWPOLYLINE\n8\n0\n70\n1\n" + list(390_000, "10\n%s\n20\n%s\n42\n1\n")), "more than 400,000 points", false},
		{"spline.dxf", dxf("0\nSPLINE\n8\n0\n71\n5\n" + list(200_006, "40\n%d\n") + list(200_000, "10\n%s\n20\n%s\n")), "more than 400,000 points", false},
		{"path.svg", svg(`<path d="M0 0` + list(390_000, "L%s %s") + `"/>`), "points", false},
		{"arcs.svg", svg(`<path d="M0 0` + list(390_000, "A9 9 0 1 1 %s %s ") + `"/>`), "more than 400,000 points", false},
		{"paths.svg", svg(list(99_000, `<path id="p%d" fill="rgb(%s,%s,%s)" d="M%s %sh.01v.01z"/>`)), "missing or far", false},
		{"returned.pdf", pdf(list(60_000, circle)), "too many closed outlines", true},
		{"returned.dxf", dxf(list(99_000, line)), "no closed outline", true},
	} {
		file := filepath.Join(t.TempDir(), c.name)
		require.NoError(t, os.WriteFile(file, []byte(c.data), 0o600))
		args := []string{"check", "--file", file, "--as", "us-star/disc-1942"}
		if c.audited {
			args = []string{"audit", file, "--against", pack}
		}
		check := exec.Command("maskloft-peak", args...)
		var errs bytes.Buffer
		check.Stderr = &errs
		err := check.Run()
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit, c.name)
		assert.Equal(t, exitFailed, exit.ExitCode(), c.name)
		said, peak, ok := strings.Cut(errs.String(), "peak ")
		require.True(t, ok, "%s: %s", c.name, said)
		assert.Contains(t, said, c.says, c.name)
		kb, err := strconv.Atoi(strings.TrimSpace(peak))
		require.NoError(t, err)
		t.Logf("%s: %d MB of file, %d MB of memory", c.name, len(c.data)>>20, kb>>10)
		assert.Less(t, kb>>10, mostMemory, c.name)
	}
}
