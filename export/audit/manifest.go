package audit

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strings"
	"syscall"
)

// ManifestName is the file that lists what a pack holds. Below its first line it
// is what sha256sum writes and, with -c, checks; that program takes a line
// beginning with # for a comment.
const ManifestName = "manifest.txt"

const manifestHeader = "# maskloft pack: every file in this folder with its SHA-256; check with: sha256sum -c " + ManifestName

// Manifest is the list of the files of a pack, as [Pack.Commit] writes it under
// [ManifestName].
func Manifest(files map[string][]byte) []byte {
	sums := map[string]string{}
	for name, data := range files {
		sums[name] = checksum(data)
	}
	return manifestText(sums)
}

// manifestText lists the files of a pack, sorted by name.
func manifestText(sums map[string]string) []byte {
	var names []string
	for name := range sums {
		names = append(names, name)
	}
	sort.Strings(names)
	var b strings.Builder
	b.WriteString(manifestHeader + "\n")
	for _, name := range names {
		b.WriteString(sums[name] + "  " + name + "\n")
	}
	return []byte(b.String())
}

// readManifest reads what manifestText writes.
func readManifest(data []byte) (map[string]string, error) {
	lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	if lines[0] != manifestHeader {
		return nil, errors.New("it was not written by this tool")
	}
	sums := map[string]string{}
	for i, line := range lines[1:] {
		sum, name, ok := strings.Cut(line, "  ")
		if _, err := hex.DecodeString(sum); !ok || err != nil || len(sum) != 2*sha256.Size || packName(name) != nil {
			return nil, fmt.Errorf("line %d is not a checksum and a name: it was changed", i+2)
		}
		sums[name] = sum
	}
	return sums, nil
}

func checksum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func fileChecksum(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

const packHint = "nothing was written: give another folder with -o DIR, or move the file away"

// replaceable returns nil when the folder does not exist, is empty, or holds
// nothing but the unchanged files of an earlier pack; else it names what would
// be lost.
func replaceable(dir string) error {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.IsDir():
		return fmt.Errorf("%s: it is there and is no folder: %s", dir, packHint)
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) == 0 {
		return err
	}
	text, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: the folder holds %s and no %s, so it was not written by this tool: %s", dir, entries[0].Name(), ManifestName, packHint)
	}
	if err != nil {
		return err
	}
	sums, err := readManifest(text)
	if err != nil {
		return fmt.Errorf("%s: %w: %s", filepath.Join(dir, ManifestName), err, packHint)
	}
	folders := map[string]bool{".": true}
	for name := range sums {
		for d := path.Dir(name); d != "."; d = path.Dir(d) {
			folders[d] = true
		}
	}
	return filepath.WalkDir(dir, func(file string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, file)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		if e.IsDir() {
			if !folders[name] {
				return fmt.Errorf("%s: the folder is not one of the pack: %s", file, packHint)
			}
			return nil
		}
		if name == ManifestName {
			return nil
		}
		want, ok := sums[name]
		if !ok || !e.Type().IsRegular() {
			return fmt.Errorf("%s: the file is not one of the pack: %s", file, packHint)
		}
		sum, err := fileChecksum(file)
		if err != nil {
			return err
		}
		if sum != want {
			return fmt.Errorf("%s: the file was changed since it was written: %s", file, packHint)
		}
		return nil
	})
}

// CanWrite returns nil when a pack may be put in dir: the folder is not there, is
// empty, or holds an unchanged pack. It looks and writes nothing, so a refusal comes
// before the work; [Pack.Commit] looks again.
func CanWrite(dir string) error { return unwritten(dir, replaceable(dir)) }

// unwritten puts what the system says in words: the folder first, then the cause and
// what to do. Errors of this package pass as they are.
func unwritten(dir string, err error) error {
	var at *fs.PathError
	if !errors.As(err, &at) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: the folder %s may not be written to: %s", dir, filepath.Dir(at.Path), packHint)
	case errors.Is(err, syscall.ENOTDIR):
		return fmt.Errorf("%s: a file stands where a folder should be: %s", dir, packHint)
	}
	return fmt.Errorf("%s: %w: %s", dir, at.Err, packHint)
}

// unmoved says in words that a folder could not be put in the place of dir.
func unmoved(dir string, err error) error {
	var at *os.LinkError
	if errors.As(err, &at) {
		err = at.Err
	}
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: the pack cannot be put in its place: %w: nothing was written: close what has the folder open, or give another with -o DIR; of a disk, a folder on it", dir, err)
}

// packName refuses a name that is not a plain relative path with slashes, the
// same on every system.
func packName(name string) error {
	if !fs.ValidPath(name) || name == "." || !filepath.IsLocal(filepath.FromSlash(name)) {
		return fmt.Errorf("pack file %q: write a relative path with slashes, without . and ..", name)
	}
	for _, r := range name {
		if r < ' ' || r == 0x7f || strings.ContainsRune(`\:*?"<>|`, r) {
			return fmt.Errorf("pack file %q: the character %q does not stand in file names everywhere", name, r)
		}
	}
	if strings.EqualFold(name, ManifestName) {
		return fmt.Errorf("pack file %q: the name is that of the list of files", name)
	}
	return nil
}
