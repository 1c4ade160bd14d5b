package bench

import (
	"context"
	"path"
	"strings"
	"sync/atomic"

	"maskloft/export/audit"
)

// askPack writes the pack: into a folder beside the layout, or as one zip file that comes
// back. Where it is cancelled nothing is left.
func askPack(b *Bench, ctx context.Context, q Request, say func(Answer)) (any, error) {
	if q.To != "folder" && q.To != "zip" {
		return nil, askError{`to: write "folder" or "zip"`}
	}
	j, err := b.job()
	if err != nil {
		return nil, err
	}
	var n atomic.Int64
	files, err := b.Kit.Pack(ctx, j, func(what string) { say(Answer{Step: int(n.Add(1)), Say: what}) })
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	sums := map[string][]byte{}
	out := Packed{Files: []PackedFile{}}
	for _, f := range files {
		sums[f.Name] = f.Data
	}
	manifest := audit.Manifest(sums)
	files = append(files, File{audit.ManifestName, manifest})
	for _, f := range files {
		out.Files = append(out.Files, PackedFile{f.Name, len(f.Data)})
	}
	out.Manifest = sumOf(manifest)
	name := q.Name
	if name == "" {
		name = strings.TrimSuffix(j.Spec.File, path.Ext(j.Spec.File)) + "-pack"
	}
	if q.To == "zip" {
		out.Name = name + ".zip"
		out.Zip, err = zipOf(files)
		return out, err
	}
	if b.Home == nil {
		return nil, missingError{"there is no folder behind this page: take the zip"}
	}
	out.Name = name
	return out, b.Home.pack(name, files[:len(files)-1])
}
