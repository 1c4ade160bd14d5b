package skin

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// TestSighting_cone holds lines of sight against the quadratic equation of a cone,
// radius 30 at FS 0 to 10 at FS 120 about WL 50.
func TestSighting_cone(t *testing.T) {
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 30, WL: 50}, {FS: 120, Radius: 10, WL: 50}})
	require.NoError(t, err)
	q := NewSighting(s)
	r := rand.New(rand.NewPCG(1, 2))
	met := 0
	for range 400 {
		from := g.Vec3{X: 300*r.Float64() - 90, Y: -400 + 100*r.Float64(), Z: 200 * r.Float64()}
		to := g.Vec3{X: 120 * r.Float64(), Y: 40*r.Float64() - 20, Z: 30 + 40*r.Float64()}
		dir := to.Sub(from).Unit()
		// |p_yz|^2 = (30 - x/6)^2
		a := dir.Y*dir.Y + dir.Z*dir.Z - dir.X*dir.X/36
		rad := 30 - from.X/6
		b := from.Y*dir.Y + (from.Z-50)*dir.Z + rad*dir.X/6
		c := from.Y*from.Y + (from.Z-50)*(from.Z-50) - rad*rad
		var want []float64
		if d := b*b - a*c; d > 0 {
			for _, root := range []float64{(-b - math.Sqrt(d)) / a, (-b + math.Sqrt(d)) / a} {
				if x := from.X + root*dir.X; root > 0 && x > 0.01 && x < 119.99 {
					want = append(want, root)
				}
			}
			if math.Sqrt(d) < 15 { // it grazes
				continue
			}
		}
		var got []float64
		for _, h := range q.Meets(from, dir) {
			if h.Point.X > 0.01 && h.Point.X < 119.99 {
				got = append(got, h.Distance)
				assert.InDelta(t, 0, h.Point.Sub(from.Add(dir.Scale(h.Distance))).Norm(), 1e-7)
				assert.Equal(t, h.Distance < -b/a, h.Cosine > 0, "the nearer is seen from outside")
			}
		}
		require.Len(t, got, len(want))
		if len(want) > 0 {
			met++
			require.InDeltaSlice(t, want, got, 1e-7)
		}
	}
	assert.Greater(t, met, 200)
}

// TestSighting_hides: a plate 1.6 in thick hides what is behind it, within its outline.
func TestSighting_hides(t *testing.T) {
	s, err := NewPlateSkin(g.Left, 1.6, []g.SidePosition{{FS: 0, WL: 0}, {FS: 100, WL: 0}, {FS: 0, WL: 60}})
	require.NoError(t, err)
	q := NewSighting(s)
	eye := g.Vec3{X: 50, Y: -500, Z: 30}
	assert.True(t, q.Hides(eye, g.Vec3{X: 20, Y: 5, Z: 20}, 0.5))
	assert.False(t, q.Hides(eye, g.Vec3{X: 20, Y: -0.8, Z: 20}, 0.5), "itself")
	assert.False(t, q.Hides(eye, g.Vec3{X: 20, Y: -40, Z: 20}, 0.5), "before it")
	assert.False(t, q.Hides(eye, g.Vec3{X: 95, Y: 5, Z: 55}, 0.5), "beside its outline")
	hits := q.Meets(eye, g.Vec3{Y: 1})
	require.Len(t, hits, 1)
	assert.InDelta(t, 499.2, hits[0].Distance, 1e-9)
	assert.InDelta(t, 1, hits[0].Cosine, 1e-12)
}
