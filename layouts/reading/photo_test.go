package reading

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"maskloft/layouts"

	g "maskloft/geometry"
	"maskloft/geometry/camera"
	"maskloft/geometry/skin"
)

// shot is a camera that sees the left side of the demo from ahead, and the pixels at
// which it sees points of the structure, to a tenth. Invented data, for tests only.
var shot = func() camera.Camera {
	ahead := g.Vec3{X: 100, Y: 420, Z: -15}.Unit() // at FS 190 WL 60 amidships
	right := ahead.Cross(g.Vec3{Z: 1}).Unit()
	return camera.Camera{
		At: g.Position{FS: 90, BL: -420, WL: 75}, Right: right, Down: ahead.Cross(right), Ahead: ahead,
		Focal: 2200, Principal: g.Point{X: 799.5, Y: 549.5},
	}
}()

// withPhoto returns the demo with a photo of points: each is what stands after at:,
// and its place.
func withPhoto(t testing.TB, extra string, points map[string]g.Position, order []string) string {
	t.Helper()
	text, err := Starter("")
	require.NoError(t, err)
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nphotos:\n  - id: shot\n    file: shot.png\n    size: [1600, 1100]\n    side: left\n%s    points:\n", text, extra)
	for _, at := range order {
		p, ok := shot.Project(points[at])
		require.True(t, ok)
		fmt.Fprintf(&b, "      - {at: %s, pixel: [%.3f, %.3f]}\n", at, p.X, p.Y)
	}
	return b.String()
}

// The places are those of the demo's own tables, read by eye.
var shotPoints = map[string]g.Position{
	"P1": {FS: 240, BL: -1.375, WL: 50}, "P2": {FS: 120, BL: -12.5, WL: 36}, "P3": {FS: 240, BL: -1.5, WL: 60}, "P4": {FS: 120, BL: -13, WL: 65},
	"{surface: fin, corner: 8}":              {FS: 240, BL: -0.8, WL: 93},
	"{surface: fuselage, line: S4, fs: 180}": {FS: 180, BL: -8.0625, WL: 52.5}, // midway between (14.5, 50) and (1.625, 55)
	"{fs: 262.5, bl: -0.8, wl: 73}":          {FS: 262.5, BL: -0.8, WL: 73},
	"{surface: rudder, fs: 250, wl: 60}":     {FS: 250, BL: -0.8, WL: 60},
	"{surface: fuselage, line: S3, fs: 120}": {FS: 120, BL: -14.25, WL: 57.5},
}

var shotOrder = []string{
	"P1", "P2", "P3", "P4", "{surface: fin, corner: 8}", "{surface: fuselage, line: S4, fs: 180}", "{fs: 262.5, bl: -0.8, wl: 73}",
	"{surface: rudder, fs: 250, wl: 60}", "{surface: fuselage, line: S3, fs: 120}",
}

func viewOf(t testing.TB, text string) (layouts.PhotoView, []layouts.Finding, error) {
	t.Helper()
	spec, err := loadText(t, text)
	require.NoError(t, err)
	l, _, err := layouts.Resolve(spec)
	require.NoError(t, err)
	p, err := spec.Photo("shot")
	require.NoError(t, err)
	return l.ViewPhoto(p, 1600, 1100)
}

func rulesOf(findings []layouts.Finding) (out []string) {
	for _, f := range findings {
		out = append(out, f.Rule)
	}
	return out
}

func TestFitPhoto(t *testing.T) {
	for _, focal := range []string{"    focal: 2200 px\n", "    focal: {length: 5.5 in, film: 4 in}\n", ""} {
		v, findings, err := viewOf(t, withPhoto(t, focal, shotPoints, shotOrder))
		require.NoError(t, err)
		assert.Less(t, v.Fit.Camera.At.To(shot.At).Inches(), 0.02, focal)
		assert.InDelta(t, 2200, v.Fit.Camera.Focal, 0.1)
		assert.NotContains(t, rulesOf(findings), "photo-suspect")
		for _, s := range v.Fit.Standard {
			assert.Less(t, s, 0.01)
		}
	}
}

func TestFitPhoto_findings(t *testing.T) {
	focal := "    focal: 2200 px\n"
	moved := map[string]g.Position{}
	for k, p := range shotPoints {
		moved[k] = p
	}
	moved["P3"] = g.Position{FS: 240, BL: -1.5, WL: 66}
	_, findings, err := viewOf(t, withPhoto(t, focal, moved, shotOrder))
	require.NoError(t, err)
	assert.Contains(t, rulesOf(findings), "photo-suspect")
	for _, f := range findings {
		if f.Rule == "photo-suspect" {
			assert.Contains(t, f.Message, "P3 looks wrong")
		}
	}
	_, findings, err = viewOf(t, withPhoto(t, focal+"    mirrored: true\n", shotPoints, shotOrder))
	require.NoError(t, err)
	// nearly flat as the points are, the fit does not tell; the side of the camera does
	require.NotEmpty(t, findings)
	assert.Equal(t, "photo-side", findings[0].Rule)
	assert.Equal(t, layouts.Stop, findings[0].Level)
	assert.Contains(t, findings[0].Hint, "mirrored: false")

	deep := map[string]g.Position{}
	for k, p := range shotPoints {
		deep[k] = p
	}
	deep["{fs: 72, bl: 30, wl: 6}"] = g.Position{FS: 72, BL: 30, WL: 6} // the far wheel
	_, findings, err = viewOf(t, withPhoto(t, focal+"    mirrored: true\n", deep, append([]string{"{fs: 72, bl: 30, wl: 6}"}, shotOrder...)))
	require.NoError(t, err)
	assert.Equal(t, "photo-mirrored", findings[0].Rule)

	// four in one plane, seen turned over: the camera comes out on the other side
	four := []string{"{surface: fin, corner: 8}", "{fs: 262.5, bl: -0.8, wl: 73}", "{surface: rudder, fs: 250, wl: 60}", "{fs: 212, bl: -0.8, wl: 70}"}
	plane := map[string]g.Position{"{fs: 212, bl: -0.8, wl: 70}": {FS: 212, BL: -0.8, WL: 70}}
	for _, k := range four[:3] {
		plane[k] = shotPoints[k]
	}
	_, findings, err = viewOf(t, withPhoto(t, focal+"    mirrored: true\n", plane, four))
	require.NoError(t, err)
	assert.Contains(t, rulesOf(findings), "photo-side")
	assert.Contains(t, rulesOf(findings), "photo-flat")
}

// TestPhotoView_reads: pixels of known places, on the plane of the fin and on the
// skin, are read back; and the length between two on the fin is that of Pythagoras.
func TestPhotoView_reads(t *testing.T) {
	v, _, err := viewOf(t, withPhoto(t, "    focal: 2200 px\n    plus-minus: 1\n", shotPoints, shotOrder))
	require.NoError(t, err)
	pixel := func(p g.Position) g.Point {
		q, ok := shot.Project(p)
		require.True(t, ok)
		return q
	}
	r, err := v.ReadAt(pixel(g.Position{FS: 230, BL: -0.8, WL: 78}))
	require.NoError(t, err)
	assert.Equal(t, "fin", r.On.On)
	assert.Equal(t, g.Left, r.On.Side)
	assert.InDelta(t, 230, r.At.FS.Inches(), 0.01)
	assert.InDelta(t, 78, r.At.WL.Inches(), 0.01)
	assert.InDelta(t, -0.8, r.At.BL.Inches(), 1e-9)
	// the plane of the fin holds BL; a pixel at 442 in is 0.2 in, and the camera adds to it
	assert.InDelta(t, 0, r.BL.Inches(), 1e-6)
	assert.Greater(t, r.FS.Inches(), 0.2)
	assert.Less(t, r.FS.Inches(), 0.6)
	// the slant is the angle of the line of sight to the butt line
	d := r.At.Vec().Sub(shot.At.Vec()).Unit()
	assert.InDelta(t, math.Acos(d.Y)*180/math.Pi, r.Slant, 0.01)

	r, err = v.ReadAt(pixel(shotPoints["{surface: fuselage, line: S4, fs: 180}"]))
	require.NoError(t, err)
	assert.Equal(t, "fuselage", r.On.On)
	assert.InDelta(t, 52.5, r.At.WL.Inches(), 0.02)

	l, err := v.ReadBetween(pixel(g.Position{FS: 222, BL: -0.8, WL: 72}), pixel(g.Position{FS: 234, BL: -0.8, WL: 77}))
	require.NoError(t, err)
	assert.True(t, l.AlongSkin)
	assert.InDelta(t, 13, l.Skin.Inches(), 0.01)
	assert.InDelta(t, 13, l.Air.Inches(), 0.01)
	assert.Greater(t, l.SkinSigma.Inches(), 0.2)
	assert.Less(t, l.SkinSigma.Inches(), 0.4, "2 pixels of two ends, at 0.2 in a pixel")

	// the same points with the axis of the lens a twentieth off the middle, as told
	crop := 0.0
	for _, centre := range []string{"879.5, 549.5", "799.5, 629.5"} {
		off, _, err := viewOf(t, withPhoto(t, "    focal: 2200 px\n    centre: ["+centre+"]\n", shotPoints, shotOrder))
		require.NoError(t, err)
		assert.Empty(t, off.Cropped)
		m, err := off.ReadBetween(l.From.Pixel, l.To.Pixel)
		require.NoError(t, err)
		assert.Zero(t, m.Crop)
		crop = math.Hypot(crop, (m.Air - l.Air).Inches())
	}
	assert.Greater(t, crop, 1e-4)
	assert.InDelta(t, crop, l.Crop.Inches(), 1e-3)

	_, err = v.ReadAt(g.Point{X: 5, Y: 5})
	assert.ErrorContains(t, err, "passes every surface of the layout by")
}

// TestStarter_photos: the remarks about photos in the starter are a layout once their
// marks are taken out.
func TestStarter_photos(t *testing.T) {
	text, err := Starter("")
	require.NoError(t, err)
	before, block, found := strings.Cut(text, "\n# photos:\n")
	require.True(t, found)
	spec, err := loadText(t, before+"\nphotos:\n"+strings.ReplaceAll("\n"+block, "\n# ", "\n"))
	require.NoError(t, err)
	require.Len(t, spec.Photos, 1)
	require.Len(t, spec.Photos[0].Points, 5)
	assert.Equal(t, 4.0, spec.Photos[0].Points[2].PlusMinus)
	assert.Equal(t, g.Right, spec.Photos[0].Points[4].Side)
}

// TestPhotoView_scatter: readings of many pictures with grain scatter by their plus or
// minus, and so do lengths. 250 pictures tell a deviation to 4.5 %.
func TestPhotoView_scatter(t *testing.T) {
	const runs, grain = 250, 2.0
	v, _, err := viewOf(t, withPhoto(t, "    focal: 2200 px\n", shotPoints, shotOrder))
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(8, 9))
	shaken := func(p g.Point) g.Point {
		return p.Add(g.Vec{X: grain * random.NormFloat64(), Y: grain * random.NormFloat64()})
	}
	for i := range v.Fit.Sights { // exact places: their own errors are not drawn here
		v.Fit.Sights[i].Off, v.Fit.Sights[i].Sigma = 0, grain
	}
	known := camera.Known{Focal: 2200, Principal: shot.Principal, Diagonal: 1942}
	fit, err := camera.Resect(v.Fit.Sights, known)
	require.NoError(t, err)
	v.Fit, v.Cropped = fit, nil
	a, _ := shot.Project(g.Position{FS: 160, BL: -10.25, WL: 51.6})
	b, _ := shot.Project(g.Position{FS: 200, BL: -5.9, WL: 53.3})
	want, err := v.ReadBetween(a, b)
	require.NoError(t, err)
	require.Equal(t, "fuselage", want.From.On.On)
	var fs, wl, length float64
	for range runs {
		sights := slices.Clone(v.Fit.Sights)
		for i := range sights {
			sights[i].Pixel = shaken(sights[i].Pixel)
		}
		one, err := camera.Resect(sights, known)
		require.NoError(t, err)
		uv, at, err := layouts.OnSkin(want.From.On, one.Camera, shaken(a), want.From.At.Vec())
		require.NoError(t, err)
		uw, _, err := layouts.OnSkin(want.To.On, one.Camera, shaken(b), want.To.At.Vec())
		require.NoError(t, err)
		tape, err := skin.Tape(want.From.On.Surface, uv, uw, 1e-3)
		require.NoError(t, err)
		fs += math.Pow(at.X-want.From.At.FS.Inches(), 2) / runs
		wl += math.Pow(at.Z-want.From.At.WL.Inches(), 2) / runs
		length += math.Pow((tape.Length-want.Skin).Inches(), 2) / runs
	}
	assert.InEpsilon(t, want.From.FS.Inches(), math.Sqrt(fs), 0.14)
	assert.InEpsilon(t, want.From.WL.Inches(), math.Sqrt(wl), 0.14)
	assert.InEpsilon(t, want.SkinSigma.Inches(), math.Sqrt(length), 0.14)
}
