package audit

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// partName and oldName begin the names of the hidden folders beside a pack: where it is
// gathered, and where the earlier one waits.
func partName(dir string) string { return hidden(dir, ".part") }
func oldName(dir string) string  { return hidden(dir, ".old") }

func hidden(dir, end string) string {
	return filepath.Join(filepath.Dir(dir), "."+filepath.Base(dir)+end)
}

// claimedFolder makes a folder whose name begins so and was not there before, and
// claims it: [Sweep] leaves it alone while this program lives.
func claimedFolder(begin string) (string, *claim, error) {
	for n := 1; ; n++ {
		dir := fmt.Sprintf("%s%d", begin, n)
		err := os.Mkdir(dir, 0o777)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", nil, err
		}
		c, err := claimFolder(dir)
		if errors.Is(err, errClaimed) {
			continue // a sweep took it between the two steps: it will be gone
		}
		return dir, c, err
	}
}

// Sweep puts right what killed programs left beside the pack dir: an earlier pack that
// was moved aside is put back where there is no other, and folders in which a pack was
// gathered are removed. Folders of programs that live are left alone.
func Sweep(dir string) error {
	dir = filepath.Clean(dir)
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		return nil // no folder, nothing left in it
	}
	for _, e := range entries {
		name := filepath.Join(filepath.Dir(dir), e.Name())
		old := numbered(name, oldName(dir))
		if !e.IsDir() || !old && !numbered(name, partName(dir)) {
			continue
		}
		c, err := claimFolder(name)
		if err != nil {
			continue // its program lives, or it is not ours
		}
		if old {
			err = putBack(filepath.Join(name, "pack"), dir)
		}
		if err == nil {
			err = os.RemoveAll(name)
		}
		c.release()
		if err != nil {
			return unwritten(dir, err)
		}
	}
	return nil
}

// putBack moves an earlier pack to its place where nothing stands there.
func putBack(aside, dir string) error {
	if _, err := os.Lstat(aside); err != nil {
		return nil
	}
	if _, err := os.Lstat(dir); err == nil {
		return nil
	}
	return os.Rename(aside, dir)
}

// numbered tells whether a name is the beginning and a number.
func numbered(name, begin string) bool {
	digits, ok := strings.CutPrefix(name, begin)
	return ok && digits != "" && strings.Trim(digits, "0123456789") == ""
}

// errClaimed says that another program has the folder.
var errClaimed = errors.New("another program has the folder")
