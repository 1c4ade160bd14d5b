package bench

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"slices"
	"strings"
)

// zipOf packs files by name, as they are and without a date, so that the same files make
// the same bytes.
func zipOf(files []File) ([]byte, error) {
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range files {
		one, err := w.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Store})
		if err != nil {
			return nil, err
		}
		if _, err := one.Write(f.Data); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

func marshal(v any) (json.RawMessage, error) { return json.Marshal(v) }
