package job

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
	"math"
	"reflect"
	"slices"
	"strings"

	"maskloft/geometry/scan"
	"maskloft/glyphs"
	"maskloft/layouts"
)

// contentOf is a checksum of what values say. Where a value stands in its file does
// not count: the line of a marking may change while the marking stays. A font and a
// scan count by the file that the layout names, which is read once while a layout is
// open.
func contentOf(values ...any) string { return contentWriter{sum: sha256.New()}.of(values) }

// placedContentOf is contentOf with the places in the file, which messages name.
func placedContentOf(values ...any) string { return contentWriter{sha256.New(), true}.of(values) }

type contentWriter struct {
	sum    hash.Hash
	places bool
}

func (w contentWriter) of(values []any) string {
	for _, v := range values {
		w.write(reflect.ValueOf(v))
	}
	return hex.EncodeToString(w.sum.Sum(nil))
}

// byName are the types that count by their file.
var byName = []reflect.Type{reflect.TypeFor[*glyphs.Font](), reflect.TypeFor[*scan.Scan]()}

func (w contentWriter) number(n uint64) {
	w.sum.Write(binary.LittleEndian.AppendUint64(nil, n))
}

func (w contentWriter) write(v reflect.Value) {
	switch v.Kind() {
	case reflect.Invalid:
		w.number(0)
	case reflect.Bool:
		if v.Bool() {
			w.number(1)
		} else {
			w.number(0)
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		w.number(uint64(v.Int()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		w.number(v.Uint())
	case reflect.Float32, reflect.Float64:
		w.number(math.Float64bits(v.Float()))
	case reflect.String:
		w.number(uint64(v.Len()))
		w.sum.Write([]byte(v.String()))
	case reflect.Slice, reflect.Array:
		w.number(uint64(v.Len()))
		for i := range v.Len() {
			w.write(v.Index(i))
		}
	case reflect.Struct:
		if !w.places && v.Type() == reflect.TypeFor[layouts.Place]() {
			return
		}
		for i := range v.NumField() {
			w.write(v.Field(i))
		}
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() || slices.Contains(byName, v.Type()) {
			w.number(0)
			return
		}
		w.number(1)
		w.write(v.Elem())
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
		w.number(uint64(len(keys)))
		for _, k := range keys {
			w.write(k)
			w.write(v.MapIndex(k))
		}
	default:
		panic(fmt.Sprintf("job: a layout holds a %v, which has no content to compare", v.Type()))
	}
}
