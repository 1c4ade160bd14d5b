package main

import (
	"encoding/json"
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"maskloft/export/book"
	"maskloft/layouts/taping"

	g "maskloft/geometry"
)

var placeCases = flag.String("place-cases", "", "write the demo's data of placing and 200 random jobs with their answers to this file, as JSON")

// placeCase is one film with its readings and what the program says of it.
type placeCase struct {
	Marking  string         `json:"marking"`
	Readings []placeReading `json:"readings"`
	Error    bool           `json:"error"`
	Shift    [2]float64     `json:"shift"`
	Turn     float64        `json:"turn"`
	Farthest float64        `json:"farthest"`
	Used     []bool         `json:"used"`
	Left     []float64      `json:"left"`
	Wrong    []string       `json:"wrong"`
}

type placeReading struct {
	Point string  `json:"point"`
	From  string  `json:"from"`
	Kind  string  `json:"kind"`
	Value float64 `json:"value"`
}

// The page's answers are held against these by .ci/book/film.test.js.
func TestPlaceCases(t *testing.T) {
	if *placeCases == "" {
		t.Skip("writes a file: -place-cases FILE")
	}
	j := demoJob(t)
	data := placeData(j, map[string][]string{}, nil, nil)
	rnd := rand.New(rand.NewPCG(7, 18))
	out := struct {
		Data  book.PlaceData `json:"data"`
		Cases []placeCase    `json:"cases"`
	}{Data: data}
	for k := range 200 {
		m := data.Markings[k%len(data.Markings)]
		c := placeCase{Marking: m.ID}
		shift, turn := g.Vec{X: rnd.NormFloat64() * 0.1, Y: rnd.NormFloat64() * 0.1}, rnd.NormFloat64()*0.003
		var given []taping.TapeReading
		for _, placing := range j.Tapes.Placings {
			for _, q := range placing.Points {
				way, ok := q.Way()
				if placing.Marking != m.ID || !ok || rnd.IntN(8) == 0 {
					continue
				}
				by := shift.Add(q.Point.Mark.Film.Sub(g.Point{}).Perp().Scale(turn))
				add := func(from string, kind taping.TapeKind, printed g.Length, moves, sigma float64) {
					length := printed.Inches() + moves + rnd.NormFloat64()*sigma
					given = append(given, taping.TapeReading{Point: q.Point.ID, From: from, Kind: kind, Printed: printed, Measured: g.Length(math.Round(length*16)/16) * g.Inch})
				}
				if len(way.Tapes) == 0 {
					for _, o := range way.Readings {
						add(o.From, o.Kind, o.Length, o.Slope.Dot(by), o.Sigma.Inches())
					}
					continue
				}
				tapes := way.Tapes[:2:2]
				if q.Point.Closure != nil {
					tapes = append(tapes, *q.Point.Closure)
				}
				for _, tape := range tapes {
					add(tape.From.ID, tape.Kind, tape.Length, -tape.Bearing.Dot(by), tape.Terms().Sigma)
				}
			}
		}
		if len(given) == 0 {
			continue
		}
		switch i := rnd.IntN(len(given)); k % 8 {
		case 1:
			given[i].Measured += g.Length(0.4 + 3*rnd.Float64())
		case 3:
			given[i].Measured += 12
		case 5:
			given[i].Measured++
		case 7:
			for n := range given {
				given[n].Measured++
			}
		}
		for _, r := range given {
			c.Readings = append(c.Readings, placeReading{r.Point, r.From, string(r.Kind), r.Measured.Inches()})
		}
		built, _, err := taping.AsBuilt(j.Tapes.Tape, j.Tilings, j.Tapes.Points, given, taping.PlacingLimit)
		require.NoError(t, err)
		if len(built) == 0 {
			c.Error = true
			out.Cases = append(out.Cases, c)
			continue
		}
		b := built[0]
		c.Shift, c.Turn, c.Farthest, c.Wrong = [2]float64{b.Offset.X, b.Offset.Y}, b.Turn, b.Farthest.Inches(), []string{}
		for _, r := range b.Readings {
			c.Used, c.Left = append(c.Used, r.Used), append(c.Left, r.Left.Inches())
		}
		for _, w := range b.Wrong {
			c.Wrong = append(c.Wrong, w.Text)
		}
		out.Cases = append(out.Cases, c)
	}
	bytes, err := json.Marshal(out)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(*placeCases, bytes, 0o644))
}
