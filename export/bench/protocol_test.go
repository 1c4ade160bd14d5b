package bench

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts/document"
)

var update = flag.Bool("update", false, "write page/protocol.ts anew")

// messages are the types of protocol.ts, with all that they hold.
var messages = []any{
	Request{}, Answer{}, Hello{}, Opened{}, Edited{}, Saved{}, Told{}, DraftKept{}, Disk{}, Beside{}, Findings{}, Packed{},
	Skins{}, Scene{}, Markings{}, Figures{}, Outlines{}, Films{}, Run{}, RuleFigure{}, Alphabets{}, Examples{}, Drawing{}, PhotoSeen{}, TraceSeen{},
}

// TestProtocolText: page/protocol.ts says in TypeScript what protocol.go and
// protocolview.go say. Written anew with -update, which go generate does.
func TestProtocolText(t *testing.T) {
	w := typeWriter{seen: map[string]bool{}}
	w.b.WriteString("// Written by `go generate ./export/bench` from protocol.go and protocolview.go.\n")
	fmt.Fprintf(&w.b, "\nexport const VERSION = %d;\n", Version)
	for _, m := range messages {
		w.define(reflect.TypeOf(m))
	}
	name := filepath.Join("page", "protocol.ts")
	if *update {
		require.NoError(t, os.WriteFile(name, []byte(w.b.String()), 0o666))
	}
	is, err := os.ReadFile(name)
	require.NoError(t, err)
	require.True(t, w.b.String() == string(is), "page/protocol.ts is old: run go generate ./export/bench")
}

type typeWriter struct {
	b    strings.Builder
	seen map[string]bool
}

func (w *typeWriter) define(t reflect.Type) {
	if w.seen[t.Name()] {
		return
	}
	w.seen[t.Name()] = true
	if t.Kind() == reflect.Array {
		words := make([]string, t.Len())
		for i := range words {
			words[i] = w.of(t.Elem())
		}
		fmt.Fprintf(&w.b, "\nexport type %s = [%s];\n", t.Name(), strings.Join(words, ", "))
		return
	}
	var lines []string
	var types []reflect.Type
	for i := range t.NumField() {
		f := t.Field(i)
		name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		mark := ""
		if rest == "omitempty" {
			mark = "?"
		}
		word := f.Tag.Get("ts")
		if word == "" {
			word = w.word(f.Type, &types)
		}
		lines = append(lines, fmt.Sprintf("  %s%s: %s;\n", name, mark, word))
	}
	fmt.Fprintf(&w.b, "\nexport interface %s {\n%s}\n", t.Name(), strings.Join(lines, ""))
	for _, x := range types {
		w.define(x)
	}
}

func (w *typeWriter) of(t reflect.Type) string { return w.word(t, &[]reflect.Type{}) }

// word is the type of a field; types that it names are added to types.
func (w *typeWriter) word(t reflect.Type, types *[]reflect.Type) string {
	switch {
	case t == reflect.TypeFor[[]byte]():
		return "string" // base64
	case t == reflect.TypeFor[document.Splice](), t.Kind() == reflect.Struct, t.Kind() == reflect.Array && t.Name() != "":
		*types = append(*types, t)
		return t.Name()
	}
	switch t.Kind() {
	case reflect.Pointer:
		if t.Elem().Kind() == reflect.Float64 {
			return "number | null"
		}
		return w.word(t.Elem(), types)
	case reflect.Slice:
		word := w.word(t.Elem(), types)
		if strings.Contains(word, " ") {
			word = "(" + word + ")"
		}
		return word + "[]"
	case reflect.Map:
		return "Record<string, " + w.word(t.Elem(), types) + ">"
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Float64:
		return "number"
	}
	panic(t.String())
}
