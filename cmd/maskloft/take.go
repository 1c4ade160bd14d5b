package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"maskloft/layouts"
	yamldoc "maskloft/layouts/document"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// takeResult is what check --take has written.
type takeResult struct {
	File  string      `json:"file"`
	Taken []takenItem `json:"taken"`
}

type takenItem struct {
	Finding string         `json:"finding"`
	Path    string         `json:"path"`
	Value   string         `json:"value"`
	Was     string         `json:"was"` // the text that gave way; empty: there was none
	Change  yamldoc.Splice `json:"change"`
}

// takeHints writes proposals of check into a layout file; see [job.File.Take]. The file
// is exchanged whole, and only when all of them do what they should.
func takeHints(ctx context.Context, args, words []string, mark string) (takeResult, error) {
	if len(args) == 0 {
		return takeResult{}, errors.New("check: --take writes into a layout file: name it, as in `maskloft check mine.yaml --take 1`")
	}
	name := args[0]
	text, err := readInput(name, yamldoc.MaxSize)
	if err != nil {
		return takeResult{}, err
	}
	f := job.Open(name, text, reading.OnDisk(), nil)
	taken, err := f.Take(ctx, words, mark, func(ctx context.Context, j *job.Job) ([]layouts.Finding, error) {
		r, err := checkMade(ctx, j)
		return r.findings, err
	})
	if err != nil {
		return takeResult{}, fmt.Errorf("--take: %w", err)
	}
	if err := rewrite(name, text, f.Text()); err != nil {
		return takeResult{}, err
	}
	out := takeResult{File: name}
	for _, t := range taken {
		out.Taken = append(out.Taken, takenItem{t.Name(), t.Path, t.Value, t.Undo.Insert, t.Change})
	}
	return out, nil
}

// rewrite puts a text in the place of a file in one step, where the file still holds
// what was read.
func rewrite(name string, before, after []byte) error {
	now, err := os.ReadFile(name)
	if err != nil {
		return inputError(name, err)
	}
	if string(now) != string(before) {
		return fmt.Errorf("%s: it was changed meanwhile; nothing was written: check it again", name)
	}
	info, err := os.Stat(name)
	if err != nil {
		return inputError(name, err)
	}
	target, err := filepath.EvalSymlinks(name)
	if err != nil {
		return inputError(name, err)
	}
	return putFiles(filepath.Dir(target), []packFile{{filepath.Base(target), after}}, info.Mode().Perm())
}

func (r takeResult) print(w io.Writer) {
	for _, t := range r.Taken {
		was := strings.TrimSpace(t.Was)
		if was == "" {
			was = "nothing"
		}
		fmt.Fprintf(w, "%s: %s: %s (was %s)\n", r.File, t.Path, t.Value, was)
	}
}

// printOffers lists what can be taken.
func printOffers(w io.Writer, file string, findings []layouts.Finding) {
	offers := job.Offers(findings)
	if len(offers) == 0 || file == "" {
		return
	}
	fmt.Fprintln(w, "\nwhat can be written into the layout:")
	for _, o := range offers {
		fmt.Fprintf(w, "  %d  %-28s %s\n", o.Number, o.Name(), o.Proposal)
	}
	fmt.Fprintf(w, "with: maskloft check %s --take 1 --list %s\n", typed(file), job.ListMark(offers))
}
