package camera

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// textbook is the space resection of Wolf, Dewitt and Wilkinson, Elements of
// Photogrammetry, as its data stand in public course repositories: principal
// distance 152.916 mm, x right and y up in mm on the positive, ground X, Y, Z in
// metres. The camera's axes there are x, y and backwards, so y is turned over.
var textbook = []Sight{
	{Name: "A", Pixel: g.Point{X: 86.421, Y: 83.977}, At: g.Position{FS: 1268.102, BL: 1455.027, WL: 22.606}, Sigma: 0.01},
	{Name: "B", Pixel: g.Point{X: -100.916, Y: -92.582}, At: g.Position{FS: 732.181, BL: 545.344, WL: 22.299}, Sigma: 0.01},
	{Name: "C", Pixel: g.Point{X: -98.322, Y: 89.161}, At: g.Position{FS: 1454.553, BL: 731.666, WL: 22.649}, Sigma: 0.01},
	{Name: "D", Pixel: g.Point{X: 78.812, Y: -98.123}, At: g.Position{FS: 545.245, BL: 1268.232, WL: 22.336}, Sigma: 0.01},
}

func TestResect_textbook(t *testing.T) {
	f, err := Resect(textbook, Known{Focal: 152.916})
	require.NoError(t, err)
	c := f.Camera
	// the book's answer, to the last place it prints
	assert.InDelta(t, 1027.857, c.At.FS.Inches(), 0.002)
	assert.InDelta(t, 1044.114, c.At.BL.Inches(), 0.002)
	assert.InDelta(t, 648.197, c.At.WL.Inches(), 0.002)
	// omega, phi, kappa of its rotation, whose rows are x, y and the backward axis
	x, y, z := c.Right, c.Down.Scale(-1), c.Ahead.Scale(-1)
	assert.InDelta(t, -0.41088, math.Atan2(-z.Y, z.Z)*180/math.Pi, 2e-4)
	assert.InDelta(t, 1.21015, math.Asin(z.X)*180/math.Pi, 2e-4)
	assert.InDelta(t, 102.80032, math.Atan2(-y.X, x.X)*180/math.Pi, 2e-4)
	assert.InDelta(t, 0.00333, math.Sqrt(f.ChiSquare*1e-4/float64(f.Freedom)), 2e-5, "standard deviation of unit weight, mm")
	// its fifth point, which took no part, was measured at -8.641, 5.630
	p, ok := c.Project(g.Position{FS: 1000, BL: 1000, WL: 22.546})
	require.True(t, ok)
	assert.InDelta(t, -8.641, p.X, 0.005)
	assert.InDelta(t, -5.630, p.Y, 0.005)
}

// TestProject_square looks square at a plane: similar triangles, by hand.
func TestProject_square(t *testing.T) {
	c := looking(g.Position{FS: 100, BL: -500, WL: 50}, g.Position{FS: 100, WL: 50}, 1000, g.Point{X: 640, Y: 480})
	p, ok := c.Project(g.Position{FS: 150, WL: 80})
	require.True(t, ok)
	assert.InDelta(t, 640+100, p.X, 1e-9, "aft is to the right as seen from the left side")
	assert.InDelta(t, 480-60, p.Y, 1e-9, "up is up")
	c.Mirrored = true
	p, _ = c.Project(g.Position{FS: 150, WL: 80})
	assert.InDelta(t, 640-100, p.X, 1e-9)
	_, ok = c.Project(g.Position{FS: 100, BL: -600, WL: 50})
	assert.False(t, ok, "behind the camera")
	// distortion: the true radius 0.2 and k = -0.1 are seen at 0.2 (1 - 0.004)
	c.Mirrored, c.K1 = false, -0.1
	p, _ = c.Project(g.Position{FS: 200, WL: 50})
	assert.InDelta(t, 640+200*0.996, p.X, 1e-9)
	d, ok := c.Ray(p)
	require.True(t, ok)
	assert.InDelta(t, 0.2, d.X/d.Y, 1e-12)
}

// scene returns a camera and points of an aircraft seen by it, from a seed.
func scene(seed uint64, n int, noise float64) (Camera, []Sight, *rand.Rand) {
	r := rand.New(rand.NewPCG(seed, 7))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	from := g.Position{FS: g.Station(between(0, 400)), BL: g.ButtLine(between(-700, -250)), WL: g.Waterline(between(20, 160))}
	c := looking(from, g.Position{FS: g.Station(between(130, 230)), WL: g.Waterline(between(45, 75))}, between(1500, 5000), g.Point{X: 1500, Y: 1000})
	c = c.Turned(g.Vec3{X: between(-0.1, 0.1), Y: between(-0.1, 0.1), Z: between(-0.3, 0.3)})
	c.K1 = between(-0.1, 0.1)
	var out []Sight
	for len(out) < n {
		at := g.Position{FS: g.Station(between(100, 260)), BL: g.ButtLine(between(-40, 40)), WL: g.Waterline(between(30, 100))}
		if p, ok := c.Project(at); ok {
			p = p.Add(g.Vec{X: noise * r.NormFloat64(), Y: noise * r.NormFloat64()})
			out = append(out, Sight{Name: string(rune('a' + len(out))), At: at, Pixel: p, Sigma: math.Max(noise, 0.01)})
		}
	}
	return c, out, r
}

func known(c Camera) Known {
	return Known{Focal: c.Focal, Principal: c.Principal, K1: c.K1, Diagonal: 3600}
}

// TestResect_returns projects points and finds the camera again, with and without
// its principal distance, upright and mirrored.
func TestResect_returns(t *testing.T) {
	for seed := uint64(1); seed <= 40; seed++ {
		for _, free := range []bool{false, true} {
			n := 5
			if free {
				n = 8
			}
			c, sights, _ := scene(seed, n, 0)
			k := known(c)
			if free {
				k.Focal = 0
			}
			if k.Mirrored = seed%2 == 0; k.Mirrored {
				for i := range sights {
					sights[i].Pixel.X = 2*c.Principal.X - sights[i].Pixel.X
				}
			}
			f, err := Resect(sights, k)
			require.NoError(t, err, "seed %d", seed)
			assert.Less(t, float64(f.Camera.At.To(c.At)), 1e-4, "seed %d free %v", seed, free)
			assert.InEpsilon(t, c.Focal, f.Camera.Focal, 1e-6, "seed %d", seed)
			assert.Equal(t, -1, f.Suspect)
		}
	}
}

// TestFit_covariance holds the covariance against what many noisy pictures give.
func TestFit_covariance(t *testing.T) {
	const runs = 150
	var sum [3]float64
	var claim [3]float64
	chi := 0.0
	for i := uint64(0); i < runs; i++ {
		c, sights, _ := scene(3, 9, 0)
		r := rand.New(rand.NewPCG(i, 11))
		for k := range sights {
			sights[k].Pixel = sights[k].Pixel.Add(g.Vec{X: 2 * r.NormFloat64(), Y: 2 * r.NormFloat64()})
			sights[k].Sigma = 2
		}
		k := known(c)
		f, err := Resect(sights, k)
		require.NoError(t, err)
		d := f.Camera.At.Vec().Sub(c.At.Vec())
		for a, x := range [3]float64{d.X, d.Y, d.Z} {
			sum[a] += x * x / runs
		}
		scale := math.Max(1, f.ChiSquare/float64(f.Freedom)) // taken out: the noise is as it is said
		for a := range claim {
			claim[a] += f.Covariance[3+a][3+a] / scale / runs
		}
		chi += f.ChiSquare / runs
	}
	for a := range sum {
		assert.InEpsilon(t, math.Sqrt(claim[a]), math.Sqrt(sum[a]), 0.18, "axis %d: 150 runs tell a deviation to 6 %%", a)
	}
	assert.InDelta(t, 12, chi, 1, "the mean of chi-square is the number of equations left")
}

func TestFit_suspect(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		c, sights, _ := scene(seed, 8, 1)
		bad := int(seed) % 8
		sights[bad].Pixel = sights[bad].Pixel.Add(g.Vec{X: 30, Y: -25})
		f, err := Resect(sights, known(c))
		require.NoError(t, err)
		assert.Equal(t, bad, f.Suspect, "seed %d", seed)
	}
}

// TestFit_turned: a picture printed from the wrong side of the negative.
func TestFit_turned(t *testing.T) {
	c, sights, _ := scene(5, 8, 1)
	f, err := Resect(sights, known(c))
	require.NoError(t, err)
	require.NotNil(t, f.Turned)
	assert.Greater(t, f.Turned.ChiSquare, 20*f.ChiSquare)
	for i := range sights {
		sights[i].Pixel.X = 2*c.Principal.X - sights[i].Pixel.X
	}
	f, err = Resect(sights, known(c))
	require.NoError(t, err)
	require.NotNil(t, f.Turned)
	assert.Greater(t, f.ChiSquare, 20*f.Turned.ChiSquare)
	// points in one plane cannot tell
	for i := range sights {
		sights[i].At.BL = 0
		sights[i].Pixel, _ = c.Project(sights[i].At)
	}
	f, err = Resect(sights, known(c))
	require.NoError(t, err)
	assert.Nil(t, f.Turned)
}

func TestResect_refuses(t *testing.T) {
	c, sights, _ := scene(9, 8, 0)
	_, err := Resect(sights[:3], known(c))
	assert.ErrorContains(t, err, "up to four cameras see three points alike: give 4 or more")
	_, err = Resect(sights[:5], Known{Principal: c.Principal, Diagonal: 3600})
	assert.ErrorContains(t, err, "the principal distance is not given, and takes 6 or more")
	_, err = Resect(append(sights[:3:3], sights[0]), known(c))
	assert.ErrorContains(t, err, "a and a are one place on the aircraft")
	for i := range sights {
		x := sights[i].At.FS.Inches()
		sights[i].At = g.Position{FS: g.Station(x), BL: -5, WL: g.Waterline(50 + x/10)}
		sights[i].Pixel, _ = c.Project(sights[i].At)
	}
	_, err = Resect(sights, known(c))
	assert.ErrorContains(t, err, "lie on one line")
}

// TestCamera_spread: a position known to 1 in, 500 in off, is 2 pixels at a principal
// distance of 1000; with 1.5 pixels of its own that is 2.5 (3, 4, 5).
func TestCamera_spread(t *testing.T) {
	c := looking(g.Position{BL: -500}, g.Position{}, 1000, g.Point{})
	assert.InDelta(t, 2.5, c.spread(Sight{Sigma: 1.5, Off: 1}), 1e-12)
}

// TestResect_many: hundreds of points take no longer than they should, and one false
// among them is named.
func TestResect_many(t *testing.T) {
	c, sights, _ := scene(6, 300, 1)
	sights[200].Pixel.X += 60
	f, err := Resect(sights, known(c))
	require.NoError(t, err)
	assert.Equal(t, 200, f.Suspect)
	assert.Nil(t, f.Other, "no other camera sees 300 points so")
}

// TestFit_other: noisy points in space have no rival camera.
func TestFit_other(t *testing.T) {
	for seed := uint64(1); seed <= 60; seed++ {
		c, sights, _ := scene(seed, 9, 2)
		k := known(c)
		if seed%2 == 0 {
			k.Focal = 0
		}
		f, err := Resect(sights, k)
		require.NoError(t, err)
		if f.Other != nil {
			assert.Greater(t, f.Other.ChiSquare-f.ChiSquare, 9.0, "seed %d: %v, %v", seed, f.Camera.At, f.Other.Camera.At)
		}
	}
}

// TestFit_spread: a pixel on the plane of symmetry, as a camera square to it sees
// it: with the camera nearly sure, one pixel is depth over principal distance.
func TestFit_spread(t *testing.T) {
	c := looking(g.Position{FS: 100, BL: -500, WL: 50}, g.Position{FS: 100, WL: 50}, 1000, g.Point{})
	f := &Fit{Camera: c, Covariance: [][]float64{}}
	for i := range 6 {
		f.Covariance = append(f.Covariance, make([]float64, 6))
		f.Covariance[i][i] = 1e-20
	}
	f.Covariance[3][3] = 4 // and its station is off by 2 in
	got, sigma, err := f.Spread([]g.Point{{X: 60, Y: -80}}, Within(1, 2), func(c Camera, p []g.Point) ([]float64, error) {
		d, _ := c.Ray(p[0])
		t := -c.At.BL.Inches() / d.Y
		return []float64{c.At.FS.Inches() + t*d.X, c.At.WL.Inches() + t*d.Z}, nil
	})
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{130, 90}, got, 1e-9)
	assert.InDeltaSlice(t, []float64{math.Sqrt(4 + 1), 1}, sigma, 1e-6)
}

func BenchmarkResect_10points(b *testing.B) {
	c, sights, _ := scene(4, 10, 1)
	for b.Loop() {
		if _, err := Resect(sights, known(c)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkResect_10points_nofocal(b *testing.B) {
	c, sights, _ := scene(4, 10, 1)
	k := known(c)
	k.Focal = 0
	for b.Loop() {
		if _, err := Resect(sights, k); err != nil {
			b.Fatal(err)
		}
	}
}

// TestResect_plane: four points of one plane, such as a fin, with a known principal
// distance; and eight of one plane without it, which do not tell it when seen square.
func TestResect_plane(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		c, sights, _ := scene(seed, 8, 0)
		for i := range sights {
			sights[i].At.BL = -0.8
			sights[i].Pixel, _ = c.Project(sights[i].At)
		}
		f, err := Resect(sights[:4], known(c))
		require.NoError(t, err)
		near := f.Camera.At.To(c.At) < 1e-3
		if !near && f.Other != nil { // two cameras may see four points of a plane alike
			near = f.Other.Camera.At.To(c.At) < 1e-3 && f.Other.ChiSquare-f.ChiSquare < 1e-6
		}
		assert.True(t, near, "seed %d: %v, not %v", seed, f.Camera.At, c.At)
		assert.Less(t, f.Relief, 1e-6)
	}
	square := looking(g.Position{FS: 180, BL: -400, WL: 60}, g.Position{FS: 180, WL: 60}, 2500, g.Point{X: 800, Y: 600})
	var sights []Sight
	for i := range 8 {
		at := g.Position{FS: g.Station(120 + 17*i), WL: g.Waterline(35 + 23*i%40)}
		p, _ := square.Project(at)
		sights = append(sights, Sight{At: at, Pixel: p.Add(g.Vec{X: 0.3 * float64(i%3-1), Y: 0.3 * float64(i%2)}), Sigma: 1})
	}
	f, err := Resect(sights, Known{Principal: square.Principal, Diagonal: 2000})
	if err == nil {
		assert.Greater(t, f.FocalSigma(), 0.3*f.Camera.Focal)
	}
}

// TestResect_twoCameras: four corners of 40 x 24 in, tilted by 35 and then 8 degrees, as
// cameras at three distances see them, to a hundredth of a pixel. Both cameras and
// their sums of squares were worked outside this project (OpenCV's planar solver, then
// least squares). From far off they cannot be told apart, and the reading of a place
// off the plane covers both.
func TestResect_twoCameras(t *testing.T) {
	corners := []g.Position{{FS: -20, BL: -12}, {FS: 20, BL: -12}, {FS: 20, BL: 12}, {FS: -20, BL: 12}}
	for _, c := range []struct {
		focal         float64
		pixels        []g.Point
		one, two      g.Vec3 // normals of the plane as each camera sees it
		first, second float64
	}{
		{1600, []g.Point{{X: -104.98, Y: -86.38}, {X: 115.49, Y: -72.51}, {X: 113.82, Y: 93.65}, {X: -103.60, Y: 65.05}}, g.Vec3{X: .57358, Y: -.11401, Z: .81118}, g.Vec3{X: -.54365, Y: .11659, Z: .83118}, 4.4e-5, 216.379},
		{4800, []g.Point{{X: -107.77, Y: -88.67}, {X: 111.23, Y: -69.84}, {X: 110.71, Y: 91.09}, {X: -107.28, Y: 67.36}}, g.Vec3{X: .57358, Y: -.11401, Z: .81118}, g.Vec3{X: -.57027, Y: .11440, Z: .81345}, 5e-6, 24.916},
		{16000, []g.Point{{X: -108.78, Y: -89.50}, {X: 109.82, Y: -68.95}, {X: 109.66, Y: 90.23}, {X: -108.63, Y: 68.21}}, g.Vec3{X: .57356, Y: -.11396, Z: .81120}, g.Vec3{X: -.57327, Y: .11400, Z: .81140}, 9e-6, 2.2545},
	} {
		var sights []Sight
		for i, p := range corners {
			sights = append(sights, Sight{Name: "corner", At: p, Pixel: c.pixels[i], Sigma: 1})
		}
		f, err := Resect(sights, Known{Focal: c.focal})
		require.NoError(t, err)
		require.NotNil(t, f.Other)
		assert.InDelta(t, c.first, f.ChiSquare, 1e-5)
		assert.InDelta(t, c.second, f.Other.ChiSquare, 2e-3)
		for i, want := range []g.Vec3{c.one, c.two} {
			cam := []Camera{f.Camera, f.Other.Camera}[i]
			got := g.Vec3{X: cam.Right.Z, Y: cam.Down.Z, Z: cam.Ahead.Z}
			assert.Less(t, got.Sub(want).Norm(), 2e-4, "%v", got)
		}
		if c.focal < 16000 {
			assert.Nil(t, f.Second)
			continue
		}
		require.NotNil(t, f.Second)
		assert.Less(t, f.Camera.At.Vec().Sub(g.Vec3{X: 1363.17, Y: -333.93, Z: -1946.90}).Norm()-1, 2.0)
		p, _ := f.Camera.Project(g.Position{FS: 10, BL: 6, WL: 5})
		q, _ := f.Second.Camera.Project(g.Position{FS: 10, BL: 6, WL: 5})
		assert.InDelta(t, 38, p.Dist(q), .5)
	}
}

// looking returns a camera at one position that looks at another, held upright: the
// picture's down is as near the aircraft's down as it can be. Errors there are
// none; the two must not be one point, nor one above the other.
func looking(from, to g.Position, focal float64, principal g.Point) Camera {
	ahead := to.Vec().Sub(from.Vec()).Unit()
	right := ahead.Cross(g.Vec3{Z: 1}).Unit()
	return Camera{At: from, Right: right, Down: ahead.Cross(right), Ahead: ahead, Focal: focal, Principal: principal}
}
