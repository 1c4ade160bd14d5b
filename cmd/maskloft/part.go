package main

import (
	"context"

	"maskloft/export/audit"
	"maskloft/geometry/parallel"
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

// writeFolder writes the files that draw returns to a folder, all or none. Nothing is
// made on the disk before all are drawn.
func writeFolder(dir string, draw func() ([]packFile, error)) error {
	files, err := draw()
	if err != nil {
		return err
	}
	pack, err := audit.NewPack(dir)
	if err != nil {
		return err
	}
	defer pack.Abort()
	for _, f := range files {
		if err := pack.Add(f.name, f.data); err != nil {
			return err
		}
	}
	return pack.Commit()
}

// drawEach draws all parts, as many at a time as there are processors, and hands each
// file on as soon as it is drawn: a pack is not held in memory whole.
func drawEach(ctx context.Context, parts []part, keep func(packFile) error) error {
	return parallel.Each(ctx, len(parts), func(i int) error {
		files, err := parts[i]()
		if err != nil {
			return err
		}
		return keepAll(files, keep)
	})
}

func keepAll(files []packFile, keep func(packFile) error) error {
	for _, f := range files {
		if err := keep(f); err != nil {
			return err
		}
	}
	return nil
}

// drawn draws all parts and returns their files in the order of the parts.
func drawn(ctx context.Context, parts []part) ([]packFile, error) {
	files := make([][]packFile, len(parts))
	err := parallel.Each(ctx, len(parts), func(i int) (err error) {
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
