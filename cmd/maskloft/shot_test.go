package main

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"sort"

	"github.com/rogpeppe/go-internal/testscript"
)

// The picture of the overlay tests is computed here, from the tables of the demo as
// they stand in its file, by a pinhole written out by itself: similar triangles in
// a frame turned to the left and down. It is invented data, for tests only; no
// photograph is behind it.

const (
	shotWidth, shotHeight = 1200, 825
	shotFocal             = 2600.0
)

// shotEye is where the invented camera stands, and shotYaw and shotPitch how far it is
// turned from square to the plane of symmetry: to the tail, and down.
var (
	shotEye            = [3]float64{100, -400, 80}
	shotYaw, shotPitch = math.Atan2(75, 400), math.Atan2(20, math.Hypot(75, 400))
)

// shotPixel returns where a point is seen, and its depth.
func shotPixel(p [3]float64) (x, y, depth float64) {
	dx, dy, dz := p[0]-shotEye[0], p[1]-shotEye[1], p[2]-shotEye[2]
	right := dx*math.Cos(shotYaw) - dy*math.Sin(shotYaw)
	level := dx*math.Sin(shotYaw) + dy*math.Cos(shotYaw)
	depth = level*math.Cos(shotPitch) - dz*math.Sin(shotPitch)
	up := level*math.Sin(shotPitch) + dz*math.Cos(shotPitch)
	return (shotWidth-1)/2.0 + shotFocal*right/depth, (shotHeight-1)/2.0 - shotFocal*up/depth, depth
}

// Tables of the demo's aircraft file.
var (
	shotFore   = [][2]float64{{0, 72}, {8, 70.25}, {13, 65}, {14.25, 57.5}, {14.5, 50}, {13.75, 42.5}, {12.5, 36}, {0, 35.25}}
	shotAft    = [][2]float64{{0, 62}, {1, 61.5}, {1.5, 60}, {1.625, 57.5}, {1.625, 55}, {1.5, 52.5}, {1.375, 50}, {0, 49.75}}
	shotFin    = [][2]float64{{206, 64.85}, {212, 70}, {218, 76.5}, {224, 83}, {229, 88}, {233, 91}, {237, 92.6}, {240, 93}, {240, 62}}
	shotRudder = [][2]float64{{240.375, 93}, {245, 93.4}, {250, 92.5}, {255, 89.8}, {259, 85.5}, {261.5, 80}, {262.5, 73}, {262.5, 65}, {261.5, 58}, {259, 52.5}, {255, 48.8}, {250, 47.2}, {245, 47.5}, {240.375, 49}}
	shotNose   = [][2]float64{{120, 72}, {104, 88}, {96, 90}, {72, 89}, {56, 71.5}, {48, 71.5}, {20, 68}, {14, 61}, {12, 58}, {14, 55}, {20, 46}, {48, 38}, {72, 36}, {96, 35.5}, {120, 35.25}}
)

type shotFace struct {
	corners [][3]float64
	grey    float64
	depth   float64
}

// shoot draws the demo in greys with grain, and an unpainted disc where its insignia
// would be.
func shoot() *image.Gray {
	var faces []shotFace
	add := func(grey float64, corners ...[3]float64) {
		f := shotFace{corners: corners, grey: grey}
		for _, c := range corners {
			_, _, d := shotPixel(c)
			f.depth += d / float64(len(corners))
		}
		faces = append(faces, f)
	}
	plane := func(outline [][2]float64, bl, grey float64) {
		var c [][3]float64
		for _, q := range outline {
			c = append(c, [3]float64{q[0], bl, q[1]})
		}
		add(grey, c...)
	}
	plane(shotNose, 0, 120)
	for i := 0; i+1 < len(shotFore); i++ {
		for _, side := range []float64{-1, 1} {
			a, b := shotFore[i], shotFore[i+1]
			c, d := shotAft[i], shotAft[i+1]
			light := 95 + 90*(b[0]-a[0])/math.Hypot(b[0]-a[0], b[1]-a[1])
			if side < 0 {
				add(light+25, [3]float64{120, -a[0], a[1]}, [3]float64{120, -b[0], b[1]}, [3]float64{240, -d[0], d[1]}, [3]float64{240, -c[0], c[1]})
			}
		}
	}
	plane(shotFin, -0.8, 150)
	plane(shotRudder, -0.8, 165)
	sort.SliceStable(faces, func(i, j int) bool { return faces[i].depth > faces[j].depth })
	img := image.NewGray(image.Rect(0, 0, shotWidth, shotHeight))
	grain := rand.New(rand.NewPCG(31, 7))
	for y := range shotHeight {
		for x := range shotWidth {
			grey := 205 - 40*float64(y)/shotHeight
			if y > 560 {
				grey = 70 + 25*float64(y-560)/(shotHeight-560)
			}
			img.SetGray(x, y, color.Gray{Y: uint8(grey)})
		}
	}
	for _, f := range faces {
		var px, py []float64
		for _, c := range f.corners {
			x, y, _ := shotPixel(c)
			px, py = append(px, x), append(py, y)
		}
		fillGrey(img, px, py, f.grey)
	}
	for i := range img.Pix {
		img.Pix[i] = uint8(math.Max(0, math.Min(255, float64(img.Pix[i])+7*grain.NormFloat64())))
	}
	return img
}

// fillGrey fills a polygon by the even-odd rule at the centres of pixels.
func fillGrey(img *image.Gray, px, py []float64, grey float64) {
	for y := range shotHeight {
		var cuts []float64
		for i := range px {
			k := (i + 1) % len(px)
			if (py[i] > float64(y)) != (py[k] > float64(y)) {
				cuts = append(cuts, px[i]+(px[k]-px[i])*(float64(y)-py[i])/(py[k]-py[i]))
			}
		}
		sort.Float64s(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			for x := max(0, int(math.Ceil(cuts[i]))); x <= min(shotWidth-1, int(cuts[i+1])); x++ {
				img.SetGray(x, y, color.Gray{Y: uint8(grey)})
			}
		}
	}
}

// shot is the script command "shot FILE": it writes the picture.
func shot(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: shot FILE")
	}
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Check(png.Encode(f, shoot()))
	ts.Check(f.Close())
}
