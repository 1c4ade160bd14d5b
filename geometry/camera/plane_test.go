package camera

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// sideView returns the pixels at which a camera sees points of the plane of symmetry.
func sideView(t testing.TB, c Camera, at []g.Point) []Spotted {
	var out []Spotted
	for i, p := range at {
		q, ok := c.Project(g.Position{FS: g.Station(p.X), WL: g.Waterline(p.Y)})
		require.True(t, ok)
		out = append(out, Spotted{Name: string(rune('a' + i)), At: p, Pixel: q, Sigma: 1})
	}
	return out
}

var fourCorners = []g.Point{{X: 20, Y: 30}, {X: 250, Y: 40}, {X: 235, Y: 95}, {X: 40, Y: 80}}

// TestFitPlane: what a camera sees of a plane is read back anywhere on it, from both
// sides; a drawing to scale is a map by a ratio.
func TestFitPlane(t *testing.T) {
	for _, bl := range []g.ButtLine{-500, 430} {
		c := looking(g.Position{FS: 60, BL: bl, WL: 110}, g.Position{FS: 150, WL: 55}, 1500, g.Point{X: 800, Y: 600})
		f, err := FitPlane(sideView(t, c, fourCorners))
		require.NoError(t, err)
		assert.Equal(t, bl > 0, f.Right)
		assert.Zero(t, f.Freedom)
		for _, at := range []g.Point{{X: 130, Y: 60}, {X: 0, Y: 0}, {X: 290, Y: 120}} {
			p, _ := c.Project(g.Position{FS: g.Station(at.X), WL: g.Waterline(at.Y)})
			r, err := f.Read(p, 1)
			require.NoError(t, err)
			assert.Less(t, r.At.Dist(at), 1e-8)
		}
	}
	// 4 pixels an inch, FS 0 and WL 0 at 100, 700: one pixel is a quarter of an inch, and the
	// middle of a square by its four corners has half the deviation of one
	var spots []Spotted
	for _, at := range []g.Point{{X: 0, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 200}, {X: 0, Y: 200}} {
		spots = append(spots, Spotted{Name: fmt.Sprint(at), At: at, Pixel: g.Point{X: 100 + 4*at.X, Y: 700 - 4*at.Y}, Sigma: 1})
	}
	f, err := FitPlane(spots)
	require.NoError(t, err)
	r, err := f.Read(g.Point{X: 500, Y: 300}, 1)
	require.NoError(t, err)
	assert.InDelta(t, 100, r.At.X, 1e-9)
	assert.InDelta(t, 100, r.At.Y, 1e-9)
	assert.InDelta(t, 0.25*math.Sqrt(1+0.5), r.X, 1e-9, "of a square's middle by its diagonals: half of the sum of two squares of 1/sqrt 2")
	corner, err := f.Read(g.Point{X: 100, Y: 700}, 1)
	require.NoError(t, err)
	assert.InDelta(t, 0.25*math.Sqrt2, corner.X, 1e-9, "a corner's own error and that of reading it")
	length, sigma := f.Between(corner, r)
	assert.InDelta(t, 100*math.Sqrt2, length, 1e-9)
	assert.Greater(t, sigma, 0.25)
}

// TestFitPlane_holds: with grain the 95 % interval of places, within the points and
// beyond, and of a length, holds the true one in 93 to 97 of 100, by 4 points and by 9.
func TestFitPlane_holds(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 19))
	nine := append(slices.Clone(fourCorners), g.Point{X: 90, Y: 50}, g.Point{X: 140, Y: 85}, g.Point{X: 180, Y: 35}, g.Point{X: 120, Y: 30}, g.Point{X: 200, Y: 90})
	for _, points := range [][]g.Point{fourCorners, nine} {
		held, read, lengths := 0, 0, 0
		const runs = 3000
		for range runs {
			c := looking(g.Position{FS: g.Station(40 + 220*r.Float64()), BL: -400, WL: g.Waterline(20 + 100*r.Float64())}, g.Position{FS: 150, WL: 60}, 1600, g.Point{X: 800, Y: 600})
			spots := sideView(t, c, points)
			for i := range spots {
				spots[i].Pixel = spots[i].Pixel.Add(g.Vec{X: r.NormFloat64(), Y: r.NormFloat64()})
			}
			f, err := FitPlane(spots)
			require.NoError(t, err)
			var both []PlaneReading
			for _, at := range []g.Point{{X: 130, Y: 55}, {X: 270, Y: 100}} {
				p, _ := c.Project(g.Position{FS: g.Station(at.X), WL: g.Waterline(at.Y)})
				got, err := f.Read(p.Add(g.Vec{X: 0.5 * r.NormFloat64(), Y: 0.5 * r.NormFloat64()}), 0.5)
				require.NoError(t, err)
				both = append(both, got)
				for _, d := range [][2]float64{{got.At.X - at.X, got.X}, {got.At.Y - at.Y, got.Y}} {
					read++
					if math.Abs(d[0]) <= both95*d[1] {
						held++
					}
				}
			}
			if l, s := f.Between(both[0], both[1]); math.Abs(l-math.Hypot(140, 45)) <= both95*s {
				lengths++
			}
		}
		t.Logf("%d points: %.1f %% of places, %.1f %% of lengths", len(points), 100*float64(held)/float64(read), 100*float64(lengths)/runs)
		for _, share := range []float64{float64(held) / float64(read), float64(lengths) / runs} {
			assert.GreaterOrEqual(t, share, 0.93)
			assert.LessOrEqual(t, share, 0.97)
		}
	}
}

func TestFitPlane_suspect(t *testing.T) {
	c := looking(g.Position{FS: 60, BL: -450, WL: 110}, g.Position{FS: 150, WL: 55}, 1500, g.Point{X: 800, Y: 600})
	spots := sideView(t, c, append(slices.Clone(fourCorners), g.Point{X: 90, Y: 50}, g.Point{X: 140, Y: 85}, g.Point{X: 180, Y: 35}))
	f, err := FitPlane(spots)
	require.NoError(t, err)
	assert.Equal(t, -1, f.Suspect)
	spots[4].Pixel = spots[4].Pixel.Add(g.Vec{X: 12})
	f, err = FitPlane(spots)
	require.NoError(t, err)
	assert.Equal(t, 4, f.Suspect)
	assert.Less(t, f.Without, 1e-6)
	// a point that is not well known weighs less
	spots[4].Off = 6
	f, err = FitPlane(spots)
	require.NoError(t, err)
	assert.Equal(t, -1, f.Suspect)
}

func TestFitPlane_refuses(t *testing.T) {
	square := []Spotted{{Name: "a", At: g.Point{}, Pixel: g.Point{}, Sigma: 1}, {Name: "b", At: g.Point{X: 10}, Pixel: g.Point{X: 10}, Sigma: 1}, {Name: "c", At: g.Point{X: 10, Y: 10}, Pixel: g.Point{X: 10, Y: -10}, Sigma: 1}, {Name: "d", At: g.Point{Y: 10}, Pixel: g.Point{Y: -10}, Sigma: 1}}
	_, err := FitPlane(square[:3])
	assert.ErrorContains(t, err, "a plane takes 4")
	line := slices.Clone(square)
	line[2].At, line[2].Pixel = g.Point{X: 5}, g.Point{X: 5}
	_, err = FitPlane(line)
	assert.ErrorContains(t, err, "on one line")
	exchanged := slices.Clone(square)
	exchanged[0].Pixel, exchanged[1].Pixel = g.Point{X: 11, Y: 1}, g.Point{}
	_, err = FitPlane(exchanged)
	assert.ErrorContains(t, err, "exchanged")
	twice := append(slices.Clone(square), square[1])
	_, err = FitPlane(twice)
	assert.ErrorContains(t, err, "one place")
	f, err := FitPlane(sideView(t, looking(g.Position{FS: 0, BL: -100, WL: 60}, g.Position{FS: 300, WL: 60}, 900, g.Point{X: 500, Y: 400}), fourCorners))
	require.NoError(t, err)
	_, err = f.Read(g.Point{X: 2500, Y: 400}, 1)
	assert.ErrorContains(t, err, "horizon")
}

// TestFitPlane_openCV holds the map against cv2.findHomography, refined to the least sum
// of squares in the picture; the file is written by .ci/outside/plane.py FILE SEED and its
// name stands in MASKLOFT_PLANES.
func TestFitPlane_openCV(t *testing.T) {
	name := os.Getenv("MASKLOFT_PLANES")
	if name == "" {
		t.Skip("MASKLOFT_PLANES names no file")
	}
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	var cases []struct {
		At, Pixels  [][2]float64
		Spots, Read [][2]float64 // pixels, and the places that OpenCV has for them
	}
	require.NoError(t, json.Unmarshal(data, &cases))
	require.NotEmpty(t, cases)
	for n, c := range cases {
		var spots []Spotted
		for i, at := range c.At {
			spots = append(spots, Spotted{Name: string(rune('a' + i)), At: g.Point{X: at[0], Y: at[1]}, Pixel: g.Point{X: c.Pixels[i][0], Y: c.Pixels[i][1]}, Sigma: 1})
		}
		f, err := FitPlane(spots)
		require.NoError(t, err)
		for i, p := range c.Spots {
			r, err := f.Read(g.Point{X: p[0], Y: p[1]}, 1)
			require.NoError(t, err)
			assert.Less(t, r.At.Dist(g.Point{X: c.Read[i][0], Y: c.Read[i][1]}), 2e-3, "case %d", n)
		}
	}
}
