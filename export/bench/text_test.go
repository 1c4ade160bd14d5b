package bench

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/document"
)

// TestEditIsOneSplice: a value that is set changes its own bytes; undo and redo return
// every hash, all of 200 random changes.
func TestEditIsOneSplice(t *testing.T) {
	b := openMemory(t, demoText(t))
	o := get[Opened](t, b, Request{Ask: "open"})
	require.Empty(t, o.Problems)
	require.Equal(t, FileNone, o.File)
	e := get[Edited](t, b, Request{Ask: "edit", Path: "markings[code].where.wl", Value: ptr("53-1/8 in"), Label: "code up"})
	require.Equal(t, "53-1/8 in", e.Splice.Insert)
	require.Equal(t, []string{"code-left", "code-right"}, e.Touched)
	require.Equal(t, []string{"code up"}, e.Undo)
	after := e.Splice.Apply([]byte(o.Text))
	require.Equal(t, e.Hash, Hash(after))
	require.Equal(t, o.Text, string(e.Inverse.Apply(after)))
	require.Equal(t, o.Hash, get[Edited](t, b, Request{Ask: "undo"}).Hash)
	require.Equal(t, e.Hash, get[Edited](t, b, Request{Ask: "redo"}).Hash)
	require.Equal(t, CodeMissing, code(t, b, Request{Ask: "redo"}))

	const seed = 1
	r := rand.New(rand.NewPCG(seed, seed))
	hashes := []string{e.Hash}
	for range 200 {
		text := b.file.Text()
		s := document.Splice{From: r.IntN(len(text)), Insert: []string{"", "x", "\n", "é", "# "}[r.IntN(5)]}
		s.To = min(len(text), s.From+r.IntN(3))
		a := try(t, b, Request{Ask: "edit", Splice: &s})
		if a.Error != nil { // within a character
			require.Equal(t, CodeAsk, a.Error.Code)
			continue
		}
		hashes = append(hashes, b.hash)
	}
	for i := len(hashes) - 2; i >= 0; i-- {
		require.Equal(t, hashes[i], get[Edited](t, b, Request{Ask: "undo"}).Hash, "seed %d", seed)
	}
	for _, h := range hashes[1:] {
		require.Equal(t, h, get[Edited](t, b, Request{Ask: "redo"}).Hash, "seed %d", seed)
	}
}

// TestGroupIsOneStep: changes of one group in a row are taken back together, and what
// comes after an undo is a step of its own.
func TestGroupIsOneStep(t *testing.T) {
	b := openMemory(t, demoText(t))
	first := b.hash
	for _, v := range []string{"53-1/16 in", "53-1/8 in", "53-3/16 in"} {
		get[Edited](t, b, Request{Ask: "edit", Path: "markings[code].where.wl", Value: &v, Group: "nudge-1"})
	}
	e := get[Edited](t, b, Request{Ask: "undo"})
	require.Equal(t, first, e.Hash)
	require.Empty(t, e.Undo)
	get[Edited](t, b, Request{Ask: "redo"})
	e = get[Edited](t, b, Request{Ask: "edit", Path: "markings[code].where.wl", Value: ptr("54 in"), Group: "nudge-1"})
	require.Len(t, e.Undo, 2)
}

// TestMistakeInTheText: what was computed stays, the place is named, and it clears.
func TestMistakeInTheText(t *testing.T) {
	b := openMemory(t, demoText(t))
	e := get[Edited](t, b, Request{Ask: "edit", Path: "markings[code].where.wl", Value: ptr("53-1/8/2")})
	require.Len(t, e.Problems, 1)
	require.Equal(t, "mine.yaml", e.Problems[0].At.File)
	require.Positive(t, e.Problems[0].At.Line)
	a := try(t, b, Request{Ask: "scene"})
	require.Equal(t, CodeLayout, a.Error.Code)
	require.Equal(t, e.Problems[0].At, *a.Error.At)
	require.Empty(t, get[Edited](t, b, Request{Ask: "undo"}).Problems)
	get[Scene](t, b, Request{Ask: "scene"})
}

// TestWhatIsRefused: each request that says what it cannot is told so, and the text stays.
func TestWhatIsRefused(t *testing.T) {
	b := openMemory(t, demoText(t))
	before := b.hash
	for _, q := range []Request{
		{Ask: "fly"},
		{Ask: "edit"},
		{Ask: "edit", Path: "a..b", Value: ptr("1")},
		{Ask: "edit", Path: "name", Value: ptr("a"), Remove: "name"},
		{Ask: "edit", Splice: &document.Splice{From: -1}},
		{Ask: "edit", Splice: &document.Splice{From: 1 << 20, To: 1 << 20}},
		{Ask: "edit", Splice: &document.Splice{Insert: strings.Repeat("#", document.MaxSize)}},
		{Ask: "pack", To: "moon"},
		{Ask: "alphabets", Text: ptr("")},
		{Ask: "drawing", Name: "a.exe"},
	} {
		require.Equal(t, CodeAsk, code(t, b, q), "%+v", q)
	}
	require.Equal(t, CodeMissing, code(t, b, Request{Ask: "film", Marking: "nothing"}))
	require.Equal(t, CodeMissing, code(t, b, Request{Ask: "save"}))
	require.Equal(t, CodeStale, code(t, b, Request{Ask: "edit", Of: "0123456789abcdef", Path: "name", Value: ptr("x")}))
	require.Equal(t, CodeLayout, code(t, b, Request{Ask: "edit", Path: "nowhere[1].x", Value: ptr("x")}))
	require.Equal(t, before, b.hash)
	q := Request{V: 99, Ask: "hello"}
	b.Ask(t.Context(), q, func(a Answer) { require.Equal(t, CodeAsk, a.Error.Code) })
}

// TestSaveKeepsTheFirstState: the file is written by save alone; its first state is kept
// once; its mode stays.
func TestSaveKeepsTheFirstState(t *testing.T) {
	b, folder := openFolder(t)
	first := demoText(t)
	e := get[Edited](t, b, Request{Ask: "edit", Path: "markings[code].where.wl", Value: ptr("53-1/8 in")})
	is, err := os.ReadFile(filepath.Join(folder, "mine.yaml"))
	require.NoError(t, err)
	require.Equal(t, first, string(is), "a change is a draft")
	require.Equal(t, FileChanged, get[Opened](t, b, Request{Ask: "open"}).File)

	s := get[Saved](t, b, Request{Ask: "save"})
	require.Equal(t, Saved{Disk: e.Hash, First: "mine.yaml.first", File: FileSaved}, s)
	is, err = os.ReadFile(filepath.Join(folder, "mine.yaml"))
	require.NoError(t, err)
	require.Equal(t, string(e.Splice.Apply([]byte(first))), string(is))
	kept, err := os.ReadFile(filepath.Join(folder, "mine.yaml.first"))
	require.NoError(t, err)
	require.Equal(t, first, string(kept))
	info, err := os.Stat(filepath.Join(folder, "mine.yaml"))
	require.NoError(t, err)
	require.EqualValues(t, 0o640, info.Mode().Perm())

	get[Edited](t, b, Request{Ask: "edit", Path: "name", Value: ptr("again")})
	require.Empty(t, get[Saved](t, b, Request{Ask: "save"}).First)
	kept, err = os.ReadFile(filepath.Join(folder, "mine.yaml.first"))
	require.NoError(t, err)
	require.Equal(t, first, string(kept))
}

// TestChangedOnDisk: a file that somebody else changed is never overwritten: theirs, one
// undo away, or mine under a new name.
func TestChangedOnDisk(t *testing.T) {
	b, folder := openFolder(t)
	name := filepath.Join(folder, "mine.yaml")
	mine := get[Edited](t, b, Request{Ask: "edit", Path: "name", Value: ptr("mine")})
	theirs := strings.Replace(demoText(t), "wl: 53", "wl: 54", 1)
	require.NoError(t, os.WriteFile(name, []byte(theirs), 0o640))
	require.Equal(t, FileOnDisk, get[Disk](t, b, Request{Ask: "disk"}).File)
	require.Equal(t, CodeDisk, code(t, b, Request{Ask: "save"}))
	is, err := os.ReadFile(name)
	require.NoError(t, err)
	require.Equal(t, theirs, string(is))
	require.False(t, exists(t, folder, "mine.yaml.first"))

	get[Saved](t, b, Request{Ask: "save", Name: "other.yaml"})
	require.Equal(t, CodeDisk, code(t, b, Request{Ask: "save", Name: "other.yaml"}), "nothing is overwritten")
	for _, bad := range []string{"../other.yaml", "/tmp/other.yaml", "a/b.yaml", ".hidden.yaml", "x.txt", `a\b.yaml`, "c:x.yaml"} {
		require.Equal(t, CodeAsk, code(t, b, Request{Ask: "save", Name: bad}), bad)
	}

	e := get[Edited](t, b, Request{Ask: "disk", To: "theirs"})
	require.Equal(t, Hash([]byte(theirs)), e.Hash)
	require.Equal(t, FileSaved, get[Opened](t, b, Request{Ask: "open"}).File)
	require.Equal(t, mine.Hash, get[Edited](t, b, Request{Ask: "undo"}).Hash)
	get[Saved](t, b, Request{Ask: "save"})

	require.NoError(t, os.Remove(name))
	get[Edited](t, b, Request{Ask: "edit", Path: "name", Value: ptr("gone")})
	require.Equal(t, FileGone, get[Opened](t, b, Request{Ask: "open"}).File)
	require.Equal(t, CodeDisk, code(t, b, Request{Ask: "save"}))
	require.False(t, exists(t, folder, "mine.yaml"))
}

// TestDraftOverSessions: what was not saved is there in the next session, with all that
// can be taken back; saved, the draft is gone. Of a file that was changed meanwhile the
// draft is offered and does not take its place.
func TestDraftOverSessions(t *testing.T) {
	b, folder := openFolder(t)
	first := b.hash
	for _, v := range []string{"54 in", "55 in", "56 in"} {
		get[Edited](t, b, Request{Ask: "edit", Path: "markings[code].where.wl", Value: &v, Label: v})
	}
	get[Edited](t, b, Request{Ask: "undo"})
	last := b.hash
	b.Home.flush()
	require.True(t, exists(t, folder, ".mine.yaml.draft"))

	again := openAgain(t, folder)
	o := get[Opened](t, again, Request{Ask: "open"})
	require.Equal(t, last, o.Hash)
	require.Equal(t, FileChanged, o.File)
	require.Equal(t, last, o.Draft.Hash)
	require.Equal(t, []string{"55 in", "54 in"}, o.Undo)
	require.Equal(t, []string{"56 in"}, o.Redo)
	get[Edited](t, again, Request{Ask: "undo"})
	require.Equal(t, first, get[Edited](t, again, Request{Ask: "undo"}).Hash)
	again.Home.flush()
	require.False(t, exists(t, folder, ".mine.yaml.draft"), "the text is the file's")

	get[Edited](t, again, Request{Ask: "redo"})
	get[Saved](t, again, Request{Ask: "save"})
	again.Home.flush()
	require.False(t, exists(t, folder, ".mine.yaml.draft"))

	get[Edited](t, again, Request{Ask: "edit", Path: "name", Value: ptr("mine")})
	again.Home.flush()
	theirs := demoText(t) + "# theirs\n"
	require.NoError(t, os.WriteFile(filepath.Join(folder, "mine.yaml"), []byte(theirs), 0o640))
	o = get[Opened](t, openAgain(t, folder), Request{Ask: "open"})
	require.Equal(t, Hash([]byte(theirs)), o.Hash)
	require.Contains(t, o.Draft.Text, "mine")

	require.NoError(t, os.WriteFile(filepath.Join(folder, ".mine.yaml.draft"), []byte(`{"text":"x","past":{"Undo":[{"changes":[{"inverse":{"from":5,"to":9}}]}]}}`), 0o600))
	o = get[Opened](t, openAgain(t, folder), Request{Ask: "open"})
	require.Empty(t, o.Undo, "steps that lead nowhere are left out")
}

// TestDraftOfAPage: a page without a file keeps the draft itself and gives it back.
func TestDraftOfAPage(t *testing.T) {
	b := openMemory(t, demoText(t))
	first := b.hash
	get[Edited](t, b, Request{Ask: "edit", Path: "name", Value: ptr("mine"), Label: "name"})
	d := get[DraftKept](t, b, Request{Ask: "draft"})
	text := string(b.file.Text())

	again := openMemory(t, "x: 1\n")
	o := get[Opened](t, again, Request{Ask: "open", Name: "mine.yaml", Text: &text, Data: d.Data})
	require.Equal(t, []string{"name"}, o.Undo)
	require.Equal(t, first, get[Edited](t, again, Request{Ask: "undo"}).Hash)
}

// TestDropped: a drawing that is dropped stands beside the layout under a free name, and
// only when that is asked for.
func TestDropped(t *testing.T) {
	b, folder := openFolder(t)
	svg := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="10in" height="10in" viewBox="0 0 10 10"><circle cx="5" cy="5" r="4" fill="#123456"/></svg>`)
	d := get[Drawing](t, b, Request{Ask: "drawing", Name: "disc.svg", Data: svg})
	require.Empty(t, d.File)
	require.InDelta(t, 8, d.Pages[0].Width, 1e-3)
	require.Equal(t, "#123456", d.Pages[0].Regions[0].Paint)
	require.False(t, exists(t, folder, "disc.svg"))
	require.Equal(t, "disc.svg", get[Drawing](t, b, Request{Ask: "drawing", Name: `C:\x\disc.svg`, Data: svg, To: "keep"}).File)
	require.Equal(t, "disc-2.svg", get[Drawing](t, b, Request{Ask: "drawing", Name: "../disc.svg", Data: svg, To: "keep"}).File)
	is, err := os.ReadFile(filepath.Join(folder, "disc-2.svg"))
	require.NoError(t, err)
	require.Equal(t, svg, is)
	require.Equal(t, CodeAsk, code(t, b, Request{Ask: "drawing", Name: ".svg", Data: svg, To: "keep"}))
	require.Equal(t, CodeRefused, code(t, b, Request{Ask: "drawing", Name: "x.svg", Data: []byte("no"), To: "keep"}))
}
