package reading

import (
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"
)

// usualLayout has a block of each kind that has usual values; <BLOCK> in it is where a
// further key goes.
const usualLayout = `
name: T
units: in
aircraft:
  name: A
  datum: D
  surfaces:
    - {id: body, kind: stringers, lines: [T, S, B], sections: [{fs: 0, points: [[0, 20], [12, 10], [0, 0]]}, {fs: 200, points: [[0, 20], [12, 10], [0, 0]]}]<surface of kind stringers>}
    - {id: fin, kind: plate, thickness: 1, outline: [[200, 20], [240, 60], [240, 20]]<surface of kind plate>}
    - {id: wing, kind: wing, leading: [[40, 20], [45, 150]], trailing: [[100, 20], [100, 150]], naca: 0012, wl: 10<surface of kind wing>}
  hardpoints:
    - {id: P, name: bolt, fs: 20, bl: 5, wl: 18<hardpoint>}
  obstacles:
    - {id: ring, kind: ring, surface: body, fs: 180, wl: 10, size: 1<obstacle of kind ring>}
    - {id: door, kind: opening, surface: body, points: [[20, 5], [30, 5], [30, 10]]<obstacle of kind opening>}
    - {id: rib, kind: ring, surface: wing, fs: 60, bl: 40, size: 1<ring on a wing>}
  profile:
    - {id: line, points: [[0, 0], [10, 10], [20, 0]]<profile>}
  level-pegs:
    - {id: L, fs: 20, wl: 10<level peg>}
    - {id: M, fs: 90, wl: 10}
rules: {date: 1944, nation: us<rules>}
film: {strain: {stretched: {easy: 2 %<stretched>}<strain>}, margin: {lead: 1 in<margin>}<film>}
tape: {class: us<tape>}
paint: {order: [white], colours: {white: {hex: "#f0e9ee"}}<paint>}
markings:
  - {id: a, figure: {text: K, alphabet: block-6x4, height: 5, fit: 10, arc: {radius: 40<arc>}, border: {width: 1, paint: white<border>}, shade: {depth: 1, angle: 10, paint: white<shade>}<figure with text>}, where: {surface: body, fs: 60, wl: 10<where on a surface>}, colours: {text: white}<marking>}
  - {id: b, figure: {shapes: [{shape: rectangle, length: 5, height: 5, paint: white<shape rectangle>}, {shape: bar, length: 5, width: 1, paint: white<shape bar>}]}, where: {surface: wing, face: upper, fs: 60, bl: 90<where on a wing>}}
  - {id: c, figure: {band: {fs: 100, width: 5, paint: white<band>}}, where: {surface: body<where of what follows the skin>}}
  - {id: d, figure: {demarcation: {points: [{fs: 20, wl: 10}, {fs: 60, wl: 10}], width: 2, paint: white<demarcation>}}, where: {surface: body}}
  - {id: e, figure: {stripes: {along: level, paint: white<stripes>}}, where: {surface: fin}}
`

// keptFrom are usual values that stand for what the file does not say only where another
// key says something else than in usualLayout.
var keptFrom = map[string]string{
	"film: overlap": "of overlapping seams only",
}

// What stands for a key that is not given is what the table says: with it written out the
// layout reads the same.
func TestUsualValues(t *testing.T) {
	read := func(block, key string) (*layouts.Spec, error) {
		text := usualLayout
		for _, b := range Blocks() {
			more := ""
			if b.ID == block {
				more = ", " + key
			}
			text = strings.ReplaceAll(text, "<"+b.ID+">", more)
		}
		require.NotContains(t, text, "<", "each mark is the id of a block")
		return LoadFS(fstest.MapFS{"mine.yaml": {Data: []byte(text)}}, "mine.yaml")
	}
	bare, err := read("", "")
	require.NoError(t, err)
	withoutPlaces(reflect.ValueOf(bare))
	count := 0
	for _, b := range Blocks() {
		if !strings.Contains(usualLayout, "<"+b.ID+">") {
			continue
		}
		for _, k := range b.Keys {
			if k.Usual == "" || keptFrom[b.ID+": "+k.Name] != "" {
				continue
			}
			if strings.Contains(usualLayout, k.Name+": "+k.Usual+"<"+b.ID+">") {
				continue // it is there
			}
			written, err := read(b.ID, k.Name+": "+k.Usual)
			if assert.NoError(t, err, "%s: %s: %s", b.ID, k.Name, k.Usual) {
				withoutPlaces(reflect.ValueOf(written))
				assert.Equal(t, bare, written, "%s: %s: %s", b.ID, k.Name, k.Usual)
			}
			count++
		}
	}
	assert.Greater(t, count, 50)
}

// withoutPlaces sets every place in a file to none.
func withoutPlaces(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			withoutPlaces(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			withoutPlaces(v.Index(i))
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[layouts.Place]() {
			if v.CanSet() {
				v.SetZero()
			}
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				withoutPlaces(v.Field(i))
			}
		}
	}
}
