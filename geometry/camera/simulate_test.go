package camera

import (
	"errors"
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

var seed = flag.Uint64("seed", 1, "of the simulated cameras")

// shots returns how many cameras of a kind to simulate: the 2,000 that the figures in
// the README are of, where MASKLOFT_LONG is set, else fewer.
func shots() int {
	if n, err := strconv.Atoi(os.Getenv("MASKLOFT_LONG")); err == nil && n > 0 {
		return 2000 * n
	}
	return 50
}

// kind is a kind of picture: points over 240 in of an aircraft, with relief of 44 in
// to either side unless flat, seen from a distance with 1,000 pixels to 200 in.
type kind struct {
	name      string
	points    int
	far, near float64 // distance, inches
	focal     bool    // given
	flat      bool    // all points on BL 0
	noise     float64 // pixels
	pair      bool    // two cameras may remain: then more than 97 of 100 may lie inside
}

var kinds = []kind{
	{name: "8 points, focal length given", points: 8, near: 300, far: 900, focal: true, noise: 2},
	{name: "5 points, focal length given", points: 5, near: 300, far: 900, focal: true, noise: 2},
	{name: "4 points, focal length given", points: 4, near: 300, far: 900, focal: true, noise: 1, pair: true},
	{name: "4 points of a plane", points: 4, near: 300, far: 900, focal: true, flat: true, noise: .5, pair: true},
	{name: "4 points of a plane, far", points: 4, near: 2000, far: 4000, focal: true, flat: true, noise: .5, pair: true},
	{name: "8 points of a plane", points: 8, near: 300, far: 900, focal: true, flat: true, noise: 1, pair: true},
	{name: "10 points", points: 10, near: 500, far: 900, noise: 1},
	{name: "10 points, long lens", points: 10, near: 2000, far: 4000, noise: 1},
	{name: "10 points, very long lens", points: 10, near: 9000, far: 14000, noise: 1},
	{name: "6 points, very long lens", points: 6, near: 9000, far: 14000, noise: 1, pair: true},
}

// picture draws a camera and what it sees of points, and a place that is read.
func (k kind) picture(r *rand.Rand) (c Camera, sights []Sight, at g.Position, pixel g.Point) {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	for {
		d := between(k.near, k.far)
		round, up := between(-50, 50)*math.Pi/180, between(-5, 25)*math.Pi/180
		to := g.Position{FS: 170, WL: 60}
		from := to.Vec().Add(g.Vec3{X: d * math.Sin(round) * math.Cos(up), Y: -d * math.Cos(round) * math.Cos(up), Z: d * math.Sin(up)})
		c = looking(g.PositionOf(from), to, 5*d, g.Point{X: 1000, Y: 700})
		c = c.Turned(g.Vec3{X: between(-20, 20) / (5 * d), Y: between(-20, 20) / (5 * d), Z: between(-.1, .1)})
		sights = nil
		for range k.points {
			p := g.Position{FS: g.Station(between(50, 290)), BL: g.ButtLine(between(-44, 44)), WL: g.Waterline(between(30, 100))}
			if k.flat {
				p.BL = 0
			}
			q, ok := c.Project(p)
			if !ok {
				break
			}
			sights = append(sights, Sight{Name: "p", At: p, Sigma: k.noise, Pixel: q.Add(g.Vec{X: k.noise * r.NormFloat64(), Y: k.noise * r.NormFloat64()})})
		}
		at = g.Position{FS: g.Station(between(90, 250)), BL: g.ButtLine(between(-30, 0)), WL: g.Waterline(between(40, 90))}
		long, middle, short := extents(sights)
		if q, ok := c.Project(at); ok && len(sights) == k.points && middle > .15*long && (k.flat || short > .1*long) {
			return c, sights, at, q.Add(g.Vec{X: k.noise * r.NormFloat64(), Y: k.noise * r.NormFloat64()})
		}
	}
}

// onPlane reads the place that a pixel shows on a plane of known BL.
func onPlane(bl g.ButtLine) func(Camera, []g.Point) ([]float64, error) {
	return func(c Camera, p []g.Point) ([]float64, error) {
		d, ok := c.Ray(p[0])
		if !ok || math.Abs(d.Y) < 1e-6 {
			return nil, errors.New("along the plane")
		}
		t := float64(bl-c.At.BL) / d.Y
		return []float64{c.At.FS.Inches() + t*d.X, c.At.WL.Inches() + t*d.Z}, nil
	}
}

// The interval that is printed for 95 of 100 holds the place in 93 to 97 of 100, and in
// more only where two cameras remain.
func TestIntervalsHold(t *testing.T) {
	t.Logf("seed %d", *seed)
	for n, k := range kinds {
		r := rand.New(rand.NewPCG(*seed, uint64(n)))
		inside, read, pairs, failed := 0, 0, 0, 0
		alone, aloneRead := 0, 0
		worst := 0.0
		square, weak := 0.0, 0.0
		count := shots()
		for range count {
			c, sights, at, pixel := k.picture(r)
			known := Known{Principal: c.Principal, Diagonal: 2400}
			if k.focal {
				known.Focal = c.Focal
			}
			f, err := Resect(sights, known)
			if err != nil {
				failed++
				continue
			}
			values, sigmas, err := f.Spread([]g.Point{pixel}, Within(1, k.noise), onPlane(at.BL))
			if err != nil {
				failed++
				continue
			}
			var second, secondSigmas []float64
			if f.Second != nil {
				if second, secondSigmas, err = f.Second.Spread([]g.Point{pixel}, Within(1, k.noise), onPlane(at.BL)); err != nil {
					second = nil
				}
				pairs++
			}
			for i, in := range Cover(values, sigmas, second, secondSigmas) {
				truth := []float64{at.FS.Inches(), at.WL.Inches()}[i]
				read++
				holds := in.Holds(truth)
				if holds {
					inside++
				} else {
					worst = math.Max(worst, math.Min(math.Abs(truth-in.Low), math.Abs(truth-in.High)))
				}
				if second == nil {
					aloneRead++
					if holds {
						alone++
					}
				}
				square += (values[i] - truth) * (values[i] - truth)
				weak += sigmas[i] * sigmas[i]
			}
		}
		rate := float64(inside) / float64(read)
		t.Logf("%-32s %4d cameras: %.1f %% inside; one camera left: %.1f %% of %d; two in %d; %d without answer; rms %.3f in, said %.3f; outside at most by %.2f", k.name, count, 100*rate, 100*float64(alone)/math.Max(1, float64(aloneRead)), aloneRead, pairs, failed, math.Sqrt(square/float64(read)), math.Sqrt(weak/float64(read)), worst)
		spare := 3 * math.Sqrt(.05*.95/float64(read)) // of a count
		if count >= 2000 {
			spare = 0
		}
		assert.GreaterOrEqual(t, rate, .93-spare, k.name)
		if !k.pair {
			assert.LessOrEqual(t, rate, .97+spare, k.name)
		}
		assert.LessOrEqual(t, failed, count/100, k.name)
		require.Positive(t, read)
	}
}

// weak is a camera held endlessly far off: weak perspective.
type weak struct{ about }

func (weak) count() int { return 6 }

// One camera with 1/distance left free reads no worse than weak perspective at any
// distance from ten points, and many times better where the picture tells the distance.
// From six points badly spread it reads up to a tenth worse (over 250 pictures; of fewer
// a single one decides).
func TestFreeDistanceIsNeverWorse(t *testing.T) {
	t.Logf("seed %d", *seed)
	for n, row := range []struct {
		distance float64
		points   int
		better   float64 // weak perspective's error is at least so many times as large
	}{{600, 10, 4}, {1500, 10, 2}, {3000, 10, 1.2}, {6000, 10, .95}, {12000, 10, .95}, {12000, 6, .6}} {
		k := kind{points: row.points, near: row.distance, far: row.distance, noise: 1}
		r := rand.New(rand.NewPCG(*seed, 100+uint64(n)))
		free, held := 0.0, 0.0
		count := shots() * 4 / 5
		for range count {
			c, sights, at, pixel := k.picture(r)
			f, err := Resect(sights, Known{Principal: c.Principal, Diagonal: 2400})
			require.NoError(t, err)
			w := f.way.(about)
			start := w.moved(f.Camera, [unknowns]float64{6: -1})
			other, ok := refined(sights, start, weak{w})
			require.True(t, ok)
			for i, c := range []Camera{f.Camera, other.camera} {
				v, err := onPlane(at.BL)(c, []g.Point{pixel})
				require.NoError(t, err)
				square := math.Pow(v[0]-at.FS.Inches(), 2) + math.Pow(v[1]-at.WL.Inches(), 2)
				if i == 0 {
					free += square
				} else {
					held += square
				}
			}
		}
		free, held = math.Sqrt(free/float64(count)), math.Sqrt(held/float64(count))
		t.Logf("%6.0f in, %d points: rms %.3f in with 1/distance free, %.3f with weak perspective", row.distance, row.points, free, held)
		assert.GreaterOrEqual(t, held, row.better*free, "%v", row)
	}
}
