package bench

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/layouts"
	"maskloft/layouts/reading"
)

var pagePlaces = flag.String("page-places", "", "write places of the engine's skins, and outlines of moved markings, to this file: for page/places.test.ts")

type pageCase struct {
	Skins  Skins       `json:"skins"`
	Places []pagePlace `json:"places"`
	Moves  []pageMove  `json:"moves"`
}

// pagePlace is a place of a skin: of the right half where one half is sent.
type pagePlace struct {
	Skin string `json:"skin"`
	At   Point3 `json:"at"`
	Out  Point3 `json:"out"`
}

// pageMove is a marking as it stands and where it goes, with the exact outlines of both.
type pageMove struct {
	From    json.RawMessage `json:"from"` // of markings
	To      json.RawMessage `json:"to"`
	Marking string          `json:"marking"`
	Figures json.RawMessage `json:"figures"`
	Before  json.RawMessage `json:"before"`
	After   json.RawMessage `json:"after"`
}

// TestPagePlaces writes 2,000 places of the engine's own surfaces, and markings that the
// engine moved, for the page's skins and its walk to be held against.
func TestPagePlaces(t *testing.T) {
	if *pagePlaces == "" {
		t.Skip("nothing is to be written: -page-places FILE")
	}
	const seed, each = 11, 1000
	r := rand.New(rand.NewPCG(seed, seed))
	var out []pageCase
	for i, example := range []string{"", "sandling"} {
		text, err := reading.Starter(example)
		require.NoError(t, err)
		spec, err := reading.LoadFS(reading.DemoFiles(), reading.Examples[i].File)
		require.NoError(t, err)
		frame, err := layouts.NewAirframe(t.Context(), spec.Aircraft)
		require.NoError(t, err)
		var c pageCase
		b := openMemory(t, text)
		require.NoError(t, json.Unmarshal(answered(t, b, Request{Ask: "skins"}), &c.Skins))
		for len(c.Places) < each {
			for _, s := range c.Skins.Skins {
				c.Places = append(c.Places, placeOf(t, r, frame, s))
			}
		}
		c.Places = c.Places[:each]
		moves := map[string][]float64{"code": {-20, -3, 0.5, 4, 12}, "insignia": {-3, 1, 6}}
		if example != "" {
			moves = map[string][]float64{"roundel-side": {-5, 3}, "letter": {-4, 0.5, 6}}
		}
		for _, id := range []string{"code", "insignia", "roundel-side", "letter"} {
			for _, by := range moves[id] {
				c.Moves = append(c.Moves, moved(t, b, id, by))
			}
		}
		out = append(out, c)
	}
	data, err := json.Marshal(out)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(*pagePlaces, data, 0o666))
}

func answered(t *testing.T, b *Bench, q Request) (body json.RawMessage) {
	t.Helper()
	q.V, q.Of = Version, b.hash
	b.Ask(context.Background(), q, func(a Answer) {
		if a.Done {
			require.Nil(t, a.Error, "%s: %+v", q.Ask, a.Error)
			body = a.Body
		}
	})
	return body
}

func placeOf(t *testing.T, r *rand.Rand, frame *layouts.Airframe, s Skin) pagePlace {
	t.Helper()
	spec, ok := frame.SurfaceSpec(s.Surface)
	require.True(t, ok)
	on := surfaceUnder(t, frame, spec, s)
	for {
		_, _, uv := s.somewhere(r, on)
		if !on.Contains(uv) {
			continue
		}
		p, n := on.At(uv, uv)
		return pagePlace{s.ID, point3(p), point3(n)}
	}
}

// moved moves a marking fore and aft by the engine, and takes it back.
func moved(t *testing.T, b *Bench, id string, by float64) pageMove {
	t.Helper()
	exact := Request{Ask: "outline", Marking: id, Exact: true}
	m := pageMove{Marking: id, From: answered(t, b, Request{Ask: "markings"}), Figures: answered(t, b, Request{Ask: "figure", Marking: id}), Before: answered(t, b, exact)}
	var all Markings
	require.NoError(t, json.Unmarshal(m.From, &all))
	for _, one := range all.Markings {
		if one.ID == id {
			value := fmt.Sprintf("%.4f in", one.FS+by)
			answered(t, b, Request{Ask: "edit", Path: one.Path + ".where.fs", Value: &value})
		}
	}
	m.To, m.After = answered(t, b, Request{Ask: "markings"}), answered(t, b, exact)
	answered(t, b, Request{Ask: "undo"})
	return m
}
