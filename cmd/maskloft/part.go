package main

import (
	"maskloft/export/audit"
	"maskloft/layouts/masks"
)

// packFile is one file of the pack.
type packFile struct {
	name string
	data []byte
}

// part draws files of the pack; parts do not depend on one another.
type part func() ([]packFile, error)

// one is a part of one file.
func one(draw func() (packFile, error)) part {
	return func() ([]packFile, error) {
		f, err := draw()
		return []packFile{f}, err
	}
}

// writeFolder writes the files that draw returns to a folder, all or none. The folder is
// made ready before they are drawn, so that a refusal comes before the work.
func writeFolder(dir string, draw func() ([]packFile, error)) error {
	pack, err := audit.NewPack(dir)
	if err != nil {
		return err
	}
	defer pack.Abort()
	files, err := draw()
	if err != nil {
		return err
	}
	for _, f := range files {
		if err := pack.Add(f.name, f.data); err != nil {
			return err
		}
	}
	return pack.Commit()
}

// drawn draws all parts, as many at a time as there are processors, and returns their
// files in the order of the parts.
func drawn(parts []part) ([]packFile, error) {
	files := make([][]packFile, len(parts))
	err := masks.SideBySide(len(parts), func(i int) (err error) {
		files[i], err = parts[i]()
		return err
	})
	if err != nil {
		return nil, err
	}
	var out []packFile
	for _, f := range files {
		out = append(out, f...)
	}
	return out, nil
}
