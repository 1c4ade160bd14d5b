package main

import "maskloft/layouts/masks"

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
