package bench

import (
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/reading"
)

// testKit finds what the survey finds; what the verbs print is tested with them.
func testKit() Kit {
	return Kit{
		Check: func(ctx context.Context, j *job.Job) (any, []layouts.Finding, error) {
			if _, err := j.Surveyed(ctx); err != nil {
				return nil, nil, err
			}
			return struct{}{}, j.Findings(), nil
		},
		Rules:    func(Request) (any, error) { return struct{}{}, nil },
		Place:    func(context.Context, *job.Job) (any, error) { return struct{}{}, nil },
		Readings: func(context.Context, *job.Job, Request) (any, error) { return struct{}{}, nil },
		Pack: func(_ context.Context, _ *job.Job, say func(string)) ([]File, error) {
			say("b")
			return []File{{"b.txt", []byte("b")}, {"cut/a.txt", []byte("a")}}, nil
		},
	}
}

// demoText is the demo as one file.
func demoText(t testing.TB) string {
	t.Helper()
	text, err := reading.Starter("")
	require.NoError(t, err)
	return text
}

// openMemory opens a text without a file behind it.
func openMemory(t testing.TB, text string) *Bench {
	t.Helper()
	b := &Bench{Program: "test", Engine: "native", Kit: testKit()}
	b.Open("mine.yaml", []byte(text), reading.InFS(reading.DemoFiles()))
	return b
}

// openFolder opens the demo as a file of a new folder.
func openFolder(t testing.TB) (b *Bench, folder string) {
	t.Helper()
	folder = t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "mine.yaml"), []byte(demoText(t)), 0o640))
	return openAgain(t, folder), folder
}

func openAgain(t testing.TB, folder string) *Bench {
	t.Helper()
	h, err := OpenHome(folder, "mine.yaml")
	require.NoError(t, err)
	t.Cleanup(func() { _ = h.Close() })
	b := &Bench{Program: "test", Engine: "native", Kit: testKit()}
	require.NoError(t, b.OpenFile(h))
	return b
}

// try asks and returns the last answer.
func try(t testing.TB, b *Bench, q Request) Answer {
	t.Helper()
	q.V = Version
	if q.Of == "" {
		b.mu.Lock()
		q.Of = b.hash
		b.mu.Unlock()
	}
	var last Answer
	b.Ask(t.Context(), q, func(a Answer) { last = a })
	require.True(t, last.Done)
	return last
}

// get asks and returns the body.
func get[T any](t testing.TB, b *Bench, q Request) T {
	t.Helper()
	a := try(t, b, q)
	require.Nil(t, a.Error, "%s: %+v", q.Ask, a.Error)
	var body T
	require.NoError(t, json.Unmarshal(a.Body, &body))
	return body
}

// code asks and returns the code of the error.
func code(t testing.TB, b *Bench, q Request) string {
	t.Helper()
	a := try(t, b, q)
	require.NotNil(t, a.Error, q.Ask)
	return a.Error.Code
}

func ptr[T any](v T) *T { return &v }

func exists(t testing.TB, folder, name string) bool {
	t.Helper()
	_, err := os.Lstat(filepath.Join(folder, name))
	if err != nil {
		require.ErrorIs(t, err, fs.ErrNotExist)
	}
	return err == nil
}
