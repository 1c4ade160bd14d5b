package audit

import (
	"errors"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"
)

// tree returns the files below dir by name, folders with a slash at the end.
func tree(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(p string, e os.DirEntry, err error) error {
		require.NoError(t, err)
		rel, err := filepath.Rel(dir, p)
		require.NoError(t, err)
		if e.IsDir() {
			out[filepath.ToSlash(rel)+"/"] = ""
			return nil
		}
		data, err := os.ReadFile(p)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	}))
	return out
}

var someFiles = map[string]string{"cut/left/a.svg": "<svg/>", "cut/b.pdf": "%PDF", "tapes.csv": "abc"}

// sumABC is the SHA-256 of "abc" (FIPS 180-4, first example).
const sumABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

func addAll(t testing.TB, p *Pack, files map[string]string) {
	t.Helper()
	for name, data := range files {
		require.NoError(t, p.Add(name, []byte(data)))
	}
}

func writePack(t testing.TB, dir string, files map[string]string) error {
	t.Helper()
	p, err := NewPack(dir)
	if err != nil {
		return err
	}
	defer p.Abort()
	addAll(t, p, files)
	return p.Commit()
}

func TestPackWritesWhole(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "jobs", "one")
	require.NoError(t, writePack(t, dir, someFiles))
	got := tree(t, above)
	require.Equal(t, map[string]string{
		"./": "", "jobs/": "", "jobs/one/": "", "jobs/one/cut/": "", "jobs/one/cut/left/": "",
		"jobs/one/cut/left/a.svg": "<svg/>", "jobs/one/cut/b.pdf": "%PDF", "jobs/one/tapes.csv": "abc",
		"jobs/one/manifest.txt": manifestHeader + "\n" +
			checksum([]byte("%PDF")) + "  cut/b.pdf\n" +
			checksum([]byte("<svg/>")) + "  cut/left/a.svg\n" +
			sumABC + "  tapes.csv\n",
	}, got)
	sums, err := readManifest([]byte(got["jobs/one/manifest.txt"]))
	require.NoError(t, err)
	require.Equal(t, sumABC, sums["tapes.csv"])
}

func TestPackAgainSameBytes(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "one")
	require.NoError(t, writePack(t, dir, someFiles))
	first := tree(t, above)
	require.NoError(t, writePack(t, dir, someFiles))
	require.Equal(t, first, tree(t, above))
	// A smaller job takes the files of the larger one away.
	require.NoError(t, writePack(t, dir, map[string]string{"a": "1"}))
	require.Equal(t, []string{"./", "a", "manifest.txt"}, keys(tree(t, dir)))
	require.Len(t, tree(t, above), 4, "nothing beside it")
}

func keys(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// A pack that is not committed leaves nothing, neither files nor the folders
// above it, and leaves the earlier pack alone.
func TestPackInterrupted(t *testing.T) {
	above := t.TempDir()
	p, err := NewPack(filepath.Join(above, "jobs", "deep", "one"))
	require.NoError(t, err)
	addAll(t, p, someFiles)
	p.Abort()
	p.Abort()
	require.Equal(t, []string{"./"}, keys(tree(t, above)))
	require.Error(t, p.Add("x", nil))
	require.Error(t, p.Commit())

	dir := filepath.Join(above, "one")
	require.NoError(t, writePack(t, dir, someFiles))
	before := tree(t, above)
	p, err = NewPack(dir)
	require.NoError(t, err)
	require.NoError(t, p.Add("other", []byte("2")))
	p.Abort()
	require.Equal(t, before, tree(t, above))
}

// A file that comes, or changes, while the pack is gathered stops it too.
func TestPackLooksTwice(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "one")
	require.NoError(t, writePack(t, dir, someFiles))
	p, err := NewPack(dir)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("mine"), 0o666))
	before := tree(t, dir)
	require.ErrorContains(t, p.Commit(), "notes.txt")
	require.Equal(t, before, tree(t, dir))
	require.Equal(t, len(before)+1, len(tree(t, above)), "nothing beside it")
}

// When the new pack cannot be moved into place the earlier one is put back, whether the
// system exchanges folders or not.
func TestPackPutsBack(t *testing.T) {
	gone := errors.New("the disk is gone")
	for name, broken := range map[string]func(part string) disk{
		"in one step": func(string) disk { return disk{os.Rename, func(string, string) error { return gone }} },
		"in two steps": func(part string) disk {
			return disk{func(from, to string) error {
				if from == part {
					return gone
				}
				return os.Rename(from, to)
			}, func(string, string) error { return errNoExchange }}
		},
	} {
		t.Run(name, func(t *testing.T) {
			above := t.TempDir()
			dir := filepath.Join(above, "one")
			require.NoError(t, writePack(t, dir, someFiles))
			before := tree(t, above)
			p, err := NewPack(dir)
			require.NoError(t, err)
			require.NoError(t, p.Add("a", nil))
			p.disk = broken(p.part)
			err = p.Commit()
			require.ErrorIs(t, err, gone)
			require.ErrorContains(t, err, dir+": the pack cannot be put in its place: ")
			require.Equal(t, before, tree(t, above))
		})
	}
}

func TestPackRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(t *testing.T, dir string)
		want  []string
	}{
		"foreign file": {func(t *testing.T, dir string) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, "cut", "mine.svg"), nil, 0o666))
		}, []string{filepath.Join("cut", "mine.svg"), "not one of the pack", "-o DIR", "move the file"}},
		"foreign folder": {func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(filepath.Join(dir, "photos"), 0o777))
		}, []string{"photos: the folder is not one"}},
		"edited file": {func(t *testing.T, dir string) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, "cut", "b.pdf"), []byte("%PDf"), 0o666))
		}, []string{filepath.Join("cut", "b.pdf"), "was changed"}},
		"file made a link": {func(t *testing.T, dir string) {
			require.NoError(t, os.Rename(filepath.Join(dir, "tapes.csv"), dir+".csv"))
			require.NoError(t, os.Symlink(dir+".csv", filepath.Join(dir, "tapes.csv")))
		}, []string{"tapes.csv"}},
		"edited list": {func(t *testing.T, dir string) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, ManifestName), []byte(manifestHeader+"\nall is well\n"), 0o666))
		}, []string{ManifestName, "line 2"}},
		"another list": {func(t *testing.T, dir string) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, ManifestName), []byte("my list\n"), 0o666))
		}, []string{ManifestName, "not written by this tool"}},
		"no list": {func(t *testing.T, dir string) {
			require.NoError(t, os.Remove(filepath.Join(dir, ManifestName)))
		}, []string{"no manifest.txt", "not written by this tool"}},
	} {
		t.Run(name, func(t *testing.T) {
			above := t.TempDir()
			dir := filepath.Join(above, "one")
			require.NoError(t, writePack(t, dir, someFiles))
			c.spoil(t, dir)
			before := tree(t, above)
			err := writePack(t, dir, someFiles)
			for _, want := range c.want {
				require.ErrorContains(t, err, want)
			}
			require.Equal(t, before, tree(t, above))
		})
	}
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o666))
	require.ErrorContains(t, writePack(t, file, nil), "is no folder")
	_, err := NewPack("/")
	require.ErrorContains(t, err, "root")
}

// A file of the pack that was taken away, and an empty folder, are no loss.
func TestPackReplaces(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, writePack(t, dir, someFiles))
	require.NoError(t, os.Remove(filepath.Join(dir, "tapes.csv")))
	require.NoError(t, writePack(t, dir, someFiles))
	require.Contains(t, tree(t, dir), "tapes.csv")
}

func TestPackHere(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "here")
	require.NoError(t, os.Mkdir(dir, 0o777))
	t.Chdir(above)
	require.NoError(t, writePack(t, "here/../here/", someFiles))
	require.Contains(t, tree(t, dir), "tapes.csv")
	require.Len(t, keys(tree(t, above)), len(keys(tree(t, dir)))+1)
}

func TestPackNames(t *testing.T) {
	p, err := NewPack(filepath.Join(t.TempDir(), "one"))
	require.NoError(t, err)
	defer p.Abort()
	for _, name := range []string{"", ".", "..", "../x", "/x", "a/../b", "a//b", "a/", `a\b`, "c:x", "a\nb", "a*", "manifest.txt", "Manifest.TXT"} {
		require.Error(t, p.Add(name, nil), name)
	}
	require.NoError(t, p.Add("cut/A.svg", nil))
	require.ErrorContains(t, p.Add("cut/a.svg", nil), `"cut/A.svg" is in the pack already`)
	require.NoError(t, p.Add("cut/größe 1.svg", nil))
}
