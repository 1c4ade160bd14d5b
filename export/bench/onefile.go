//go:build !js

package bench

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"maskloft/layouts/reading"
)

// ErrNoEngine says that this program was built without the engine as WebAssembly.
var ErrNoEngine = errors.New("this program was built without the engine of the page: in the source, run `go generate ./export/bench` and build again")

// ErrStaleEngine says that the engine in this program is of other sources than the program.
var ErrStaleEngine = errors.New("the engine of the page was made of other sources than stand here now: run `go generate ./export/bench` and build again")

// largestPicture bounds a photograph that goes into a page, in bytes.
const largestPicture = 64 << 20

// carried is what stands in the page; see onefile.ts.
type carried struct {
	Name    string            `json:"name"`
	Text    string            `json:"text"`
	Hash    string            `json:"hash"`
	Files   map[string][]byte `json:"files"`
	Photos  map[string][]byte `json:"photos"`
	Answers []carriedAnswer   `json:"answers"`
	Engine  string            `json:"engine"`
}

type carriedAnswer struct {
	Ask     string          `json:"ask"`
	Marking string          `json:"marking"`
	Body    json.RawMessage `json:"body"`
}

// OneFile returns one page that holds the engine, the layout, the files that it names and
// the answers that it begins with. It works from a folder and asks nothing of a network.
//
// Errors: [ErrNoEngine]; [ErrStaleEngine]; a layout that cannot be read.
func OneFile(ctx context.Context, program string, kit Kit, name string, text []byte, files reading.Files) ([]byte, error) {
	c := carried{Name: path.Base(name), Text: string(text), Hash: Hash(text), Files: map[string][]byte{}, Photos: map[string][]byte{}}
	open := files.Open
	files.Open = func(file string) (io.ReadCloser, error) {
		data, err := readAll(open, file)
		if err != nil {
			return nil, err
		}
		c.Files[path.Base(strings.ReplaceAll(file, `\`, "/"))] = data
		return io.NopCloser(bytes.NewReader(data)), nil
	}
	b := &Bench{Program: program, Engine: "wasm", Kit: kit}
	b.Open(c.Name, text, files)
	b.disk = c.Hash
	spec, err := b.job()
	if err != nil {
		return nil, err
	}
	engine, err := built.ReadFile("built/engine.wasm.gz")
	if err != nil {
		return nil, ErrNoEngine
	}
	runner, err := built.ReadFile("built/wasm_exec.js")
	if err != nil {
		return nil, ErrNoEngine
	}
	if err := staleEngine(); err != nil {
		return nil, err
	}
	c.Engine = sumOf(engine)
	for _, p := range spec.Spec.Photos {
		if data, err := readAll(open, files.Beside(name, p.File)); err == nil {
			c.Photos[p.File] = data
		}
	}
	if err := c.ask(ctx, b); err != nil {
		return nil, err
	}
	return c.page(engine, runner)
}

func readAll(open func(string) (io.ReadCloser, error), name string) ([]byte, error) {
	in, err := open(name)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	data, err := io.ReadAll(io.LimitReader(in, largestPicture+1))
	if err == nil && len(data) > largestPicture {
		err = fmt.Errorf("%s is larger than %d MB", name, largestPicture>>20)
	}
	return data, err
}

// ask keeps the answers that the page begins with.
func (c *carried) ask(ctx context.Context, b *Bench) error {
	var markings Markings
	one := func(word, marking string) error {
		var last Answer
		b.Ask(ctx, Request{V: Version, Ask: word, Marking: marking}, func(a Answer) { last = a })
		if last.Error != nil {
			if marking != "" { // one that cannot be made: a finding says why
				return nil
			}
			return errors.New(last.Error.Message)
		}
		if word == "markings" {
			if err := json.Unmarshal(last.Body, &markings); err != nil {
				return err
			}
		}
		c.Answers = append(c.Answers, carriedAnswer{word, marking, last.Body})
		return nil
	}
	for _, word := range []string{"hello", "open", "skins", "scene", "markings", "findings"} {
		if err := one(word, ""); err != nil {
			return err
		}
	}
	for _, m := range markings.Markings {
		for _, word := range []string{"figure", "outline", "film"} {
			if err := one(word, m.ID); err != nil {
				return err
			}
		}
	}
	return nil
}

// layoutID is the id of the element of the page that holds the layout.
const layoutID = "maskloft-layout"

// IsOneFile tells whether a file is a page that [OneFile] has made, or one saved from it.
func IsOneFile(data []byte) bool { return bytes.Contains(data, []byte(`id="`+layoutID+`"`)) }

// page writes the page. Its characters are those of windows-1252, so that the engine
// takes a byte a byte; all else in it is ASCII.
func (c *carried) page(engine, runner []byte) ([]byte, error) {
	html, _, _ := asset("index.html")
	css, _, _ := asset("page.css")
	script, _, _ := asset("page.js")
	worker, err := built.ReadFile("built/worker.js")
	if err != nil {
		return nil, err
	}
	for _, font := range []string{"go-regular.ttf", "go-bold.ttf"} {
		data, _, _ := asset(font)
		css = bytes.ReplaceAll(css, []byte(`url("`+font+`")`), []byte("url(data:font/ttf;base64,"+base64.StdEncoding.EncodeToString(data)+")"))
	}
	data, err := json.Marshal(c)
	if err != nil {
		return nil, err
	}
	style := cssASCII(string(css))
	code := strings.ReplaceAll(scriptASCII(string(script)), "</script", `<\/script`)
	policy := "default-src 'none'; script-src " + sourceHash(code) + " 'wasm-unsafe-eval'; worker-src blob:; style-src " + sourceHash(style) +
		"; img-src blob: data:; font-src data:; connect-src 'none'; base-uri 'none'; form-action 'none'"
	put := [][2]string{
		{`<meta charset="utf-8">`, `<meta charset="windows-1252">` + "\n" + `<meta http-equiv="Content-Security-Policy" content="` + policy + `">`},
		{`<link rel="stylesheet" href="page.css">`, "<style>" + style + "</style>"},
		{`<script type="module" src="page.js"></script>`, `<script type="application/json" id="` + layoutID + `">` + scriptASCII(string(data)) + "</script>\n" +
			`<script type="text/plain" id="maskloft-worker">` + strings.ReplaceAll(scriptASCII(string(runner)+"\n"+string(worker)), "</script", `<\/script`) + "</script>\n" +
			`<script type="module">` + code + "</script>\n" +
			`<script type="text/plain" id="maskloft-engine">`},
	}
	page := string(html)
	for _, p := range put { // the long parts last: what they hold is not looked at
		if strings.Count(page, p[0]) != 1 {
			return nil, fmt.Errorf("the page has no %s", p[0])
		}
		page = strings.Replace(page, p[0], p[1], 1)
	}
	for i := range len(page) {
		if page[i] >= 0x80 {
			return nil, fmt.Errorf("the page holds %q, which is not ASCII", page[max(0, i-20):min(len(page), i+20)])
		}
	}
	begin, end, _ := strings.Cut(page, `id="maskloft-engine">`)
	var out bytes.Buffer
	out.WriteString(begin + `id="maskloft-engine">`)
	out.Write(escaped(engine))
	out.WriteString("</script>" + end)
	return out.Bytes(), nil
}

// sourceHash names a script or style in a policy.
func sourceHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// escaped writes bytes so that a page in windows-1252 holds them: those that it would
// change or take for markup become "=" and the byte 64 above.
func escaped(data []byte) []byte {
	out := make([]byte, 0, len(data)+len(data)/50)
	for _, c := range data {
		switch c {
		case 0, '\r', '<', '=':
			out = append(out, '=', c+64)
		default:
			out = append(out, c)
		}
	}
	return out
}

// scriptASCII writes characters beyond ASCII of a script or of JSON as \u....
func scriptASCII(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r < 0x80:
			b.WriteRune(r)
		case r > 0xffff:
			r -= 0x10000
			fmt.Fprintf(&b, `\u%04x\u%04x`, 0xd800+r>>10, 0xdc00+r&0x3ff)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// cssASCII writes characters beyond ASCII of a style as \.....
func cssASCII(text string) string {
	var b strings.Builder
	for _, r := range text {
		if r < 0x80 {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, `\%x `, r)
		}
	}
	return b.String()
}
