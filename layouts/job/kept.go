package job

import (
	"sync"

	"maskloft/layouts"
	"maskloft/layouts/masks"
	"maskloft/layouts/survey"
)

// keptTexts is for how many texts of a layout what was computed is kept after its last
// use: taking back a few changes costs nothing.
const keptTexts = 8

// kept is what was computed of single markings, by the content that it depends on.
type kept struct {
	mu    sync.Mutex
	text  int // number of texts so far
	entry map[string]*keptEntry

	computed func(kind string) // for tests: told of each value that was not there; may be nil
}

type keptEntry struct {
	used int // number of the last text that used it; guarded by kept

	mu    sync.Mutex // held while it is computed
	done  bool
	value any
}

func newKept() *kept { return &kept{entry: map[string]*keptEntry{}} }

// next begins another text and drops what was not used for a while.
func (k *kept) next() {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.text++
	for key, e := range k.entry {
		if e.used < k.text-keptTexts {
			delete(k.entry, key)
		}
	}
}

// keep returns the value of a kind by its content, computing it where it is not there;
// who asks for it meanwhile waits. Errors are not kept.
func keep[T any](k *kept, kind, content string, compute func() (T, error)) (T, error) {
	key := kind + content
	k.mu.Lock()
	e, ok := k.entry[key]
	if !ok {
		e = &keptEntry{}
		k.entry[key] = e
	}
	e.used = k.text
	k.mu.Unlock()

	e.mu.Lock()
	defer e.mu.Unlock()
	if e.done {
		return e.value.(T), nil
	}
	value, err := compute()
	if err == nil {
		e.value, e.done = value, true
		if k.computed != nil {
			k.computed(kind)
		}
	}
	return value, err
}

// placementKey is the content that a placement, and what is computed of it up to its
// tiles, depends on: the aircraft, the film, the paints and the rules of the whole
// layout; the marking; the side.
func (j *Job) placementKey(p layouts.Placement) string {
	return j.baseKey() + contentOf(p.Marking, p.Side)
}

// baseKey is the content that every placement depends on.
func (j *Job) baseKey() string {
	j.once.Do(func() {
		s := j.Spec
		j.base = contentOf(s.Units, s.Sheets.Units, s.Aircraft, s.Film, s.Paint, s.Rules)
	})
	return j.base
}

// surveyedOne is a surveyed marking with what was found.
type surveyedOne struct {
	value    survey.Surveyed
	findings []layouts.Finding
}

// tiledOne is a divided marking with what was found.
type tiledOne struct {
	value    masks.Tiling
	findings []layouts.Finding
}
