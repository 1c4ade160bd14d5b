package bench

import (
	"context"
	"encoding/json"
	"io/fs"
	"sync"
	"syscall/js"

	"maskloft/layouts/reading"
)

// Work answers what the worker is sent until ctx is done. The worker's script calls
// globalThis.maskloftAsk(text) with a request as JSON, and gets each answer by
// globalThis.maskloftAnswer(text). maskloftFile(name, bytes) gives a file that the layout
// may name; maskloftCancel(id) ends a request.
func (b *Bench) Work(ctx context.Context) error {
	files := &given{data: map[string][]byte{}}
	b.mu.Lock()
	b.files, b.Keep = reading.InFS(files), files.add
	b.mu.Unlock()
	var mu sync.Mutex
	ends := map[int]context.CancelFunc{}
	answer := js.Global().Get("maskloftAnswer")
	js.Global().Set("maskloftAsk", js.FuncOf(func(_ js.Value, args []js.Value) any {
		text := args[0].String()
		go func() {
			var q Request
			if err := json.Unmarshal([]byte(text), &q); err != nil {
				return // the page's own words; it would wait for no id that there is
			}
			one, end := context.WithCancel(ctx)
			defer end()
			mu.Lock()
			ends[q.ID] = end
			mu.Unlock()
			b.Ask(one, q, func(a Answer) {
				if data, err := json.Marshal(a); err == nil {
					answer.Invoke(string(data))
				}
			})
			mu.Lock()
			delete(ends, q.ID)
			mu.Unlock()
		}()
		return nil
	}))
	js.Global().Set("maskloftCancel", js.FuncOf(func(_ js.Value, args []js.Value) any {
		mu.Lock()
		defer mu.Unlock()
		if end := ends[args[0].Int()]; end != nil {
			end()
		}
		return nil
	}))
	js.Global().Set("maskloftFile", js.FuncOf(func(_ js.Value, args []js.Value) any {
		data := make([]byte, args[1].Length())
		js.CopyBytesToGo(data, args[1])
		files.put(args[0].String(), data)
		return nil
	}))
	js.Global().Get("maskloftReady").Invoke()
	<-ctx.Done()
	return ctx.Err()
}

// given are the files that the page has given.
type given struct {
	mu   sync.Mutex
	data map[string][]byte
}

func (g *given) put(name string, data []byte) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.data[name] = data
}

// add is put of a name that is free.
func (g *given) add(name string, data []byte) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	if _, ok := g.data[name]; ok {
		return fs.ErrExist
	}
	g.data[name] = data
	return nil
}

// Open returns a file that was given; what the examples name is there as well.
func (g *given) Open(name string) (fs.File, error) {
	g.mu.Lock()
	data, ok := g.data[name]
	g.mu.Unlock()
	if ok {
		return openBytes(name, data), nil
	}
	return reading.DemoFiles().Open(name)
}
