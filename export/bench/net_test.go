package bench

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
	"maskloft/layouts/reading"
)

// at is the point of a net at parameters, by the rule that its receiver has: the
// polynomial through up to four nodes of the panel, each way.
func (s Skin) at(u, v float64) g.Vec3 {
	cell := func(list []float64, x float64) int {
		i := 0
		for i+2 < len(list) && x > list[i+1] {
			i++
		}
		return i
	}
	pick := func(list []float64, at []int) (out []float64) {
		for _, i := range at {
			out = append(out, list[i])
		}
		return out
	}
	points := s.points()
	nu, nv := stencil(s.U, pick(s.U, s.PanelsU), cell(s.U, u)), stencil(s.V, pick(s.V, s.PanelsV), cell(s.V, v))
	wu, wv := lagrange(nu, u), lagrange(nv, v)
	var sum g.Vec3
	index := func(list []float64, x float64) int {
		for i, y := range list {
			if x == y {
				return i
			}
		}
		return -1
	}
	for a := range nu {
		for b := range nv {
			sum = sum.Add(points[index(s.U, nu[a])*len(s.V)+index(s.V, nv[b])].Scale(wu[a] * wv[b]))
		}
	}
	return sum
}

func (s Skin) points() []g.Vec3 {
	var out []g.Vec3
	at := [3]int{}
	for i, step := range s.XYZ {
		at[i%3] += step
		if i%3 == 2 {
			out = append(out, g.Vec3{X: float64(at[0]) / 1000, Y: float64(at[1]) / 1000, Z: float64(at[2]) / 1000})
		}
	}
	return out
}

// TestNet: the nets of every kind of skin of the examples lie within what they say, at
// 300 random places each, of the engine's own surface.
func TestNet(t *testing.T) {
	const seed = 5
	r := rand.New(rand.NewPCG(seed, seed))
	kinds := map[string]bool{}
	for _, example := range reading.Examples {
		spec, err := reading.LoadFS(reading.DemoFiles(), example.File)
		require.NoError(t, err)
		frame, err := layouts.NewAirframe(t.Context(), spec.Aircraft)
		require.NoError(t, err)
		for _, surface := range frame.Spec.Surfaces {
			skins, err := skinsOf(frame, surface)
			require.NoError(t, err)
			for _, s := range skins {
				kinds[s.Kind] = true
				checkNet(t, r, frame, surface, s)
			}
		}
	}
	require.Contains(t, kinds, "stringers")
	require.Contains(t, kinds, "plate")
	require.Contains(t, kinds, "wing")
	t.Log(kinds)
}

// TestNetOfBodies: a cylinder, a cone and a superelliptic body, faired.
func TestNetOfBodies(t *testing.T) {
	const seed = 7
	r := rand.New(rand.NewPCG(seed, seed))
	for i, sections := range []string{
		`kind: round, sections: [{fs: 0, radius: 20, wl: 0}, {fs: 100, radius: 20, wl: 0}]`,
		`kind: round, sections: [{fs: 0, radius: 30, wl: 0}, {fs: 60, radius: 28, wl: 2}, {fs: 200, radius: 8, wl: 4}]`,
		`kind: faired, along: monotone, sections: [{fs: 0, superellipse: {half-breadth: 15, half-height: 20, wl: 0, exponent: 2.5}}, {fs: 80, superellipse: {half-breadth: 18, half-height: 25, wl: 1, exponent: 3}}, {fs: 200, superellipse: {half-breadth: 6, half-height: 10, wl: 6, exponent: 2.2}}]`,
	} {
		text := fmt.Sprintf("name: x\nunits: in\naircraft:\n  name: x\n  datum: x\n  surfaces:\n    - {id: fuselage, %s}\nmarkings:\n  - {id: a, figure: {text: A, alphabet: block-6x4, height: 4}, where: {surface: fuselage, fs: 50, wl: 0}, colours: {text: white}}\npaint: {order: [white], colours: {white: {name: white, hex: \"#ffffff\"}}}\n", sections)
		spec, err := reading.InFS(noFiles{}).Read("x.yaml", []byte(text))
		require.NoError(t, err)
		frame, err := layouts.NewAirframe(t.Context(), spec.Aircraft)
		require.NoError(t, err)
		skins, err := skinsOf(frame, frame.Spec.Surfaces[0])
		require.NoError(t, err)
		t.Log(i, len(skins[0].U), "x", len(skins[0].V), "within", skins[0].Within)
		checkNet(t, r, frame, frame.Spec.Surfaces[0], skins[0])
		assert.Less(t, skins[0].Within, 0.05)
	}
}

func checkNet(t *testing.T, r *rand.Rand, frame *layouts.Airframe, spec layouts.SurfaceSpec, s Skin) {
	t.Helper()
	on := surfaceUnder(t, frame, spec, s)
	most, where := 0.0, ""
	for range 300 {
		u, v, uv := s.somewhere(r, on)
		p := skin.PointAt(on, uv)
		if d := p.Sub(s.at(u, v)).Norm(); d > most {
			most = d
			where = fmt.Sprintf("u %.3f v %.4f: %v against %v", u, v, s.at(u, v), p)
		}
	}
	assert.LessOrEqual(t, most, 1.5*s.Within+0.003, "%s: %d x %d nodes, at %s", s.ID, len(s.U), len(s.V), where)
}

// surfaceUnder is the engine's surface that a skin of the page was made of.
func surfaceUnder(t *testing.T, frame *layouts.Airframe, spec layouts.SurfaceSpec, s Skin) skin.Surface {
	t.Helper()
	side := g.Right
	if s.Side == "left" {
		side = g.Left
	}
	on, err := surfaceOf(frame, spec, side, layouts.Face(s.Face))
	require.NoError(t, err)
	return on
}

// somewhere is a random place of a skin, by the page's parameters and by the engine's.
func (s Skin) somewhere(r *rand.Rand, on skin.Surface) (u, v float64, uv skin.UV) {
	u = s.U[0] + r.Float64()*(s.U[len(s.U)-1]-s.U[0])
	v = s.V[0] + r.Float64()*(s.V[len(s.V)-1]-s.V[0])
	uv = skin.UV{U: u, V: v}
	if wing, ok := on.(*skin.LiftingSkin); ok {
		fore, aft := wing.Chord(v)
		uv.U = fore + u*u*(aft-fore)
	}
	return u, v, uv
}

// noFiles is a folder without files.
type noFiles struct{}

func (noFiles) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}
