package bench

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// A layout that is no file yet: the first save makes one under a name that is free, and
// never writes over one that came meanwhile.
func TestNewLayout(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "mine.yaml"), []byte("name: another\n"), 0o600))
	begin := func() *Bench {
		h, err := NewHome(folder, "mine.yaml")
		require.NoError(t, err)
		t.Cleanup(func() { _ = h.Close() })
		b := &Bench{Program: "test", Engine: "native", Kit: testKit()}
		b.OpenNew(h, nil)
		return b
	}
	b := begin()
	o := get[Opened](t, b, Request{Ask: "open"})
	require.Equal(t, "mine-2.yaml", o.Name, "the next name that is free")
	require.Equal(t, FileNone, o.File)
	require.Empty(t, o.Text)

	examples := get[Examples](t, b, Request{Ask: "examples"}).Examples
	require.Len(t, examples, 2)
	splice := spliceBetween(nil, []byte(examples[0].Text))
	get[Edited](t, b, Request{Ask: "edit", Splice: &splice, Label: "an example"})
	require.False(t, exists(t, folder, "mine-2.yaml"), "nothing is written before it is saved")
	require.Equal(t, FileNone, get[Disk](t, b, Request{Ask: "disk"}).File)
	b.Home.flush()
	require.True(t, exists(t, folder, ".mine-2.yaml.draft"))

	again := begin() // the draft of the session before
	require.Equal(t, examples[0].Text, get[Opened](t, again, Request{Ask: "open"}).Text)

	require.Equal(t, FileSaved, get[Saved](t, b, Request{Ask: "save"}).File)
	data, err := os.ReadFile(filepath.Join(folder, "mine-2.yaml"))
	require.NoError(t, err)
	require.Equal(t, examples[0].Text, string(data))
	require.Equal(t, CodeDisk, code(t, again, Request{Ask: "save"}), "it is there already")
	require.False(t, exists(t, folder, "mine-2.yaml.first"), "there was no state before")

	b.Home.flush()
	one := spliceBetween([]byte(examples[0].Text), []byte(examples[0].Text+"# more\n"))
	get[Edited](t, b, Request{Ask: "edit", Splice: &one, Label: "a line"})
	require.Equal(t, FileSaved, get[Saved](t, b, Request{Ask: "save"}).File, "from now on as any file")
}
