package document

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// Reader is what reads itself from a value, where a form by fields would not do.
type Reader interface{ Read(v Value) }

// Into reads v into what to points at. A struct takes a block of keys: FromKnown is the
// key from_known, and the fields of an embedded struct are keys of the block itself. A
// map takes any keys, a slice a list, a text what was written. Every key that is no
// field is reported, and every value of another kind; what was not written stays.
func (v Value) Into(to any) { v.into(reflect.ValueOf(to).Elem()) }

func (v Value) into(to reflect.Value) {
	if r, ok := to.Addr().Interface().(Reader); ok {
		r.Read(v)
		return
	}
	switch to.Kind() {
	case reflect.Pointer:
		to.Set(reflect.New(to.Type().Elem()))
		v.into(to.Elem())
	case reflect.Struct:
		keys := keysOf(to.Type())
		for key, value := range v.fields(v.Name, nil, keys.words).byKey {
			value.into(to.FieldByIndex(keys.index[slices.Index(keys.words, key)]))
		}
	case reflect.Slice:
		for _, item := range v.Items(v.Name) {
			to.Set(reflect.Append(to, reflect.Zero(to.Type().Elem())))
			item.into(to.Index(to.Len() - 1))
		}
	case reflect.Map:
		to.Set(reflect.MakeMap(to.Type()))
		list, _ := v.Entries()
		for _, e := range list {
			one := reflect.New(to.Type().Elem()).Elem()
			e.Value.into(one)
			to.SetMapIndex(reflect.ValueOf(e.Key.Name), one)
		}
	case reflect.String:
		s, _ := v.Scalar("text")
		to.SetString(s)
	case reflect.Bool:
		to.SetBool(Choice(v, "false", "true", "false") == "true")
	default:
		s, ok := v.Scalar("a number")
		x, err := strconv.ParseFloat(s, 64)
		if ok && err != nil {
			v.Fail("write a number", "%s is %q, wanted a number", v.Name, Shorten(s))
		}
		if to.CanInt() {
			to.SetInt(int64(x))
			return
		}
		to.SetFloat(x)
	}
}

// structKeys are the keys of a struct, and where the field of each is.
type structKeys struct {
	words []string
	index [][]int
}

var knownKeys sync.Map // structKeys by reflect.Type

func keysOf(t reflect.Type) structKeys {
	if known, ok := knownKeys.Load(t); ok {
		return known.(structKeys)
	}
	var keys structKeys
	for _, f := range reflect.VisibleFields(t) {
		if f.Anonymous {
			continue
		}
		var key strings.Builder
		lower := false
		for _, r := range f.Name {
			if unicode.IsUpper(r) && lower {
				key.WriteByte('_')
			}
			lower = unicode.IsLower(r)
			key.WriteRune(unicode.ToLower(r))
		}
		keys.words, keys.index = append(keys.words, key.String()), append(keys.index, f.Index)
	}
	knownKeys.Store(t, keys)
	return keys
}
