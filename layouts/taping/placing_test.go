package taping

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts/masks"
	"maskloft/layouts/worked"

	g "maskloft/geometry"
	"maskloft/layouts"
)

// Points that films are laid by are marks cut in the first film, under the same name,
// outside the paint; two set every tile and one checks; a stencil has two. The way taken
// is the one of least expected error.
func TestPlacingPoints(t *testing.T) {
	for _, w := range worked.DemoAndLessons(t) {
		points := checklist(t, w)
		for i, p := range Placings(w.Layout, w.Tilings, points) {
			tiling := w.Tilings[i]
			require.Equal(t, tiling.Laid.ID(), p.Marking)
			paint := masks.PolygonsOf(tiling.Laid.Painted)
			if tiling.Laid.Placement.ToEdge { // no skin is left outside its paint: outside that of the first pass
				paint = masks.PolygonsOf(tiling.Laid.Masks[0].Opening)
			}
			use := map[Use]int{}
			for _, q := range p.Points {
				use[q.Use]++
				require.NotEmpty(t, q.Tiles, "%s %s: a film shows it", p.Marking, q.Name)
				found := false
				for _, m := range tiling.Marks {
					found = found || m.ID == q.Name && m == q.Point.Mark
				}
				assert.True(t, found, "%s %s", p.Marking, q.Name)
				assert.False(t, paint.Contains(q.Point.Mark.Film, g.FlattenTolerance), "%s %s stands in the paint", p.Marking, q.Name)
				for k := 1; k < len(q.Ways); k++ {
					assert.LessOrEqual(t, q.Ways[0].Error.RMS(), q.Ways[k].Error.RMS()+1e-6)
				}
			}
			if len(tiling.Films[0].Cells) == 1 && len(p.Tiles) == 1 {
				assert.Equal(t, 2, use[Sets], p.Marking)
			}
			assert.LessOrEqual(t, use[Checks], 1)
			if p.Small {
				assert.Zero(t, use[Checks], p.Marking)
			}
			for _, k := range p.Tiles {
				assert.NotEqual(t, k.From, k.To)
			}
		}
	}
}

// On the slab a length along an edge is the difference of places, and a right angle by
// eye makes the foot err by the length across: the error of a point at (x, y) by frame
// and line has a closed form. On the demo's crown panels the girths are those of its
// table (TestGirthLeadsToThePoint).
func TestErrorOfAWayByHand(t *testing.T) {
	read := func(kind TapeKind, sigma float64, slope g.Vec, shared ...Shared) Offset {
		return Offset{Kind: kind, Sigma: g.Length(math.Hypot(sigma, tickLimit/math.Sqrt(3))), Slope: slope, Shared: shared}
	}
	// two readings square to one another: each moves the point along itself; the mark adds
	// its own each way
	w, ok := wayOf(ByFrame, read(AlongLine, 0.04, g.Vec{X: 1}), read(AlongSection, 0.03, g.Vec{Y: 1}))
	require.True(t, ok)
	mark := markLimit / math.Sqrt(3)
	assert.InDelta(t, math.Hypot(0.04, mark), w.Error.Major.Inches(), 1e-12)
	assert.InDelta(t, math.Hypot(0.03, mark), w.Error.Minor.Inches(), 1e-12)
	assert.InDelta(t, 0, w.Error.Angle, 1e-9)
	// crossing at 30 degrees: the root of (p^2 + q^2) / sin^2 (trilateration)
	sin, cos := math.Sincos(math.Pi / 6)
	w, ok = wayOf(ByTapes, read(OnSkin, 0.04, g.Vec{X: 1}), read(OnSkin, 0.03, g.Vec{X: cos, Y: sin}))
	require.True(t, ok)
	assert.InDelta(t, math.Sqrt(0.05*0.05/(sin*sin)+2*mark*mark), w.Error.RMS().Inches(), 1e-12)
	// what both have in common moves the point once: s/sin... with p = q = s it is
	// s sqrt(2 - 2 cos) / sin
	w, ok = wayOf(ByTapes, read(OnSkin, 0, g.Vec{X: 1}, Shared{"tape's beginning", 0.05, 1}), read(OnSkin, 0, g.Vec{X: cos, Y: sin}, Shared{"tape's beginning", 0.05, 1}))
	require.True(t, ok)
	assert.InDelta(t, math.Sqrt(0.05*0.05*(2-2*cos)/(sin*sin)+2*mark*mark), w.Error.RMS().Inches(), 1e-12)
	_, ok = wayOf(ByTapes, read(OnSkin, 0.04, g.Vec{X: 1}), read(OnSkin, 0.03, g.Vec{X: -1, Y: 0.1}))
	assert.False(t, ok, "they do not cross by ten degrees")
}

// Films laid by their points with errors drawn as they are printed: the middle of each
// ends inside the printed ellipse in 94 to 96 of 100 of 5,000, for every tile of the demo
// and the lessons. Points are solved from their lengths, tapes by two circles; the film is
// turned and shifted on to both crosses. Errors that the list gives as limits are uniform,
// the rest normal; what readings share is drawn once for a film.
func TestFilmsEndInThePrintedEllipse(t *testing.T) {
	const laid = 5000
	tiles := 0
	for n, w := range worked.DemoAndLessons(t) {
		if testing.Short() && n > 0 {
			break
		}
		points := checklist(t, w)
		for _, p := range Placings(w.Layout, w.Tilings, points) {
			at := map[string]PlacePoint{}
			for _, q := range p.Points {
				at[q.Name] = q
			}
			for k, tile := range p.Tiles {
				rnd := rand.New(rand.NewPCG(uint64(40+n), uint64(k)))
				inside := 0
				major, minor := tile.Error.Within95()
				sin, cos := math.Sincos(tile.Error.Angle * math.Pi / 180)
				for range laid {
					d := simulatedTile(t, rnd, w.Layout, at[tile.From], at[tile.To], tile.Middle)
					x, y := d.X*cos+d.Y*sin, d.Y*cos-d.X*sin
					if math.Hypot(x/major.Inches(), y/minor.Inches()) <= 1 {
						inside++
					}
				}
				tiles++
				share := float64(inside) / laid
				assert.True(t, share >= 0.94 && share <= 0.96, "%s tile %s by %s and %s: %.2f %% inside", p.Marking, tile.Tile, tile.From, tile.To, 100*share)
			}
		}
	}
	assert.Greater(t, tiles, 5)
}

// simulatedTile returns by how much the middle of a tile lies off, laid once.
func simulatedTile(t *testing.T, rnd *rand.Rand, l *layouts.Layout, a, b PlacePoint, middle g.Point) g.Vec {
	uniform := func(limit float64) float64 { return (2*rnd.Float64() - 1) * limit }
	shared := map[string]float64{}
	find := func(q PlacePoint) g.Point {
		w, ok := q.Way()
		require.True(t, ok)
		var off [2]float64 // by which each reading is too long where the point is as meant
		for i, r := range w.Readings {
			own := math.Sqrt(math.Max(0, math.Pow(r.Sigma.Inches(), 2)-tickLimit*tickLimit/3))
			off[i] = own * rnd.NormFloat64()
			for _, s := range r.Shared {
				v, known := shared[s.Name]
				if !known {
					v = s.Sigma * rnd.NormFloat64()
					if s.Name == "tape's beginning" || s.Name == "tape's scale" {
						v = uniform(s.Sigma * math.Sqrt(3))
					}
					shared[s.Name] = v
				}
				off[i] += s.By * v
			}
		}
		film := q.Point.Mark.Film
		p := film
		for range 20 { // Newton: readings as printed, though each is out
			var rows [2]g.Vec
			var miss [2]float64
			for i, r := range w.Readings {
				if i < len(w.Tapes) {
					length, towards := w.Tapes[i].lengthTo(film, p)
					rows[i], miss[i] = towards.Scale(-1), length+off[i]-r.Length.Inches()
				} else {
					rows[i], miss[i] = r.Slope, r.Slope.Dot(p.Sub(film))+off[i]
				}
			}
			det := rows[0].Cross(rows[1])
			step := g.Vec{X: rows[1].Y*miss[0] - rows[0].Y*miss[1], Y: rows[0].X*miss[1] - rows[1].X*miss[0]}.Scale(-1 / det)
			if p = p.Add(step); step.Norm() < 1e-10 {
				break
			}
		}
		return p.Add(g.Vec{X: uniform(markLimit) + uniform(filmLimit), Y: uniform(markLimit) + uniform(filmLimit)})
	}
	pa, pb := find(a), find(b)
	fa, fb := a.Point.Mark.Film, b.Point.Mark.Film
	want, got := fb.Sub(fa), pb.Sub(pa)
	turn := math.Atan2(want.Cross(got), want.Dot(got))
	sin, cos := math.Sincos(turn)
	arm := middle.Sub(fa.Lerp(fb, 0.5))
	return pa.Lerp(pb, 0.5).Add(arm.Scale(cos)).Add(arm.Perp().Scale(sin)).Sub(middle)
}
