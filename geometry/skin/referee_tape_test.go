package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

// Tapes on the ellipsoid of semi-axes 90, 40, 30. Values by Geod3Solve of
// GeographicLib 2.6 (Karney, arXiv 2511.01621), repeated by shooting with an
// eighth-order stepper to 1e-10.
func TestTapeOnTriaxialEllipsoid(t *testing.T) {
	s := triaxial{90, 40, 30}
	checkSurface(t, s)
	for _, c := range []struct {
		a, b g.Vec3
		want float64
	}{
		{g.Vec3{Y: 40}, g.Vec3{X: 67.54507108, Y: 19.69615506, Z: 13.22339927}, 72.97403910316},
		{g.Vec3{X: 44.93399039, Y: 34.11474128, Z: 4.58403233}, g.Vec3{X: -56.91818201, Y: 25.10027486, Z: 13.62524242}, 104.13428440712},
		{g.Vec3{X: 84.09004690, Y: 12.85575219, Z: -4.62100029}, g.Vec3{X: -15.17597256, Y: 25.32088886, Z: 22.66637519}, 109.20683187653},
		{g.Vec3{X: 15.62256407, Y: 39.24241049, Z: 2.57883832}, g.Vec3{X: -77.26260878, Y: 18.12615574, Z: -7.20468080}, 97.93285847051},
	} {
		require.InDelta(t, 0, PointAt(s, s.at(c.a)).Sub(c.a).Norm(), 1e-7, "the point lies on the ellipsoid")
		require.InDelta(t, 0, PointAt(s, s.at(c.b)).Sub(c.b).Norm(), 1e-7)
		p, err := Tape(s, s.at(c.a), s.at(c.b), 1e-4)
		require.NoError(t, err)
		require.InDelta(t, c.want, float64(p.Length), 1e-4)
		t.Logf("%.8f wanted, off by %.2g", c.want, float64(p.Length)-c.want)
	}
}

// The end of a geodesic of 40 in started at latitude 10 on azimuth 35 degrees on
// the spheroid of 30 by 90 (GeodSolve 2.1.2, -E -e 30 -2): the tape back to its
// start is 40, and keeps Clairaut's r sin(azimuth) = 15.21030658.
func TestTapeClairaut(t *testing.T) {
	s := spheroid{30, 90}
	p, err := Tape(s, s.geographic(10, 0), s.geographic(22.70095727288749, 68.49145005773391), 1e-6)
	require.NoError(t, err)
	require.InDelta(t, 40, float64(p.Length), 1e-5)
	worst := 0.0
	for i := 1; i+1 < len(p.Points); i++ {
		a, b, c := PointAt(s, p.Points[i-1]), PointAt(s, p.Points[i]), PointAt(s, p.Points[i+1])
		// angular momentum about x of the unit tangent
		d := c.Sub(a).Unit()
		worst = math.Max(worst, math.Abs(math.Abs(b.Y*d.Z-b.Z*d.Y)-15.21030658))
	}
	t.Logf("off by %.2g in, Clairaut by %.2g of 15.21 over %d points", float64(p.Length)-40, worst, len(p.Points))
	require.Less(t, worst, 0.01)
}

// 3-4-5 cone (radius 3, height 4, slant 5): opposite points of the base over the
// skin, 8.09016994374947 = 5 phi (chord of the unrolled sector of 216 degrees).
func TestTapeOverCone345(t *testing.T) {
	s, err := NewRoundSkin([]RoundSection{{FS: 0, Radius: 3}, {FS: 3.996, Radius: 0.003}})
	require.NoError(t, err)
	p, err := Tape(s, UV{0, 0}, UV{0, math.Pi}, 1e-5)
	require.NoError(t, err)
	require.InEpsilon(t, 8.09016994374947, float64(p.Length), 1e-5)
	require.InEpsilon(t, 8.09016994374947, float64(p.Around), 1e-5, "either way round")
	t.Logf("off by %.2g and %.2g", float64(p.Length)-8.09016994374947, float64(p.Around)-8.09016994374947)
}

// A flat panel and a cylinder that meet along a ruling: 10 in before the seam,
// 20 in of arc after it, 40 in along: 50, crossing the seam 13.3333 along
// (unfolding; 3-4-5).
func TestTapeOverSeam(t *testing.T) {
	tube := RoundedRectangleSection{HalfBreadth: 40, Top: 60, Bottom: -60, CornerRadius: 20}
	s := faired(t, Fairing{}, FairedSection{0, tube}, FairedSection{100, tube})
	seam, err := LocateSide(s, g.Right, g.SidePosition{FS: 30, WL: 40 - 1e-9})
	require.NoError(t, err)
	a, err := LocateSide(s, g.Right, g.SidePosition{FS: 30, WL: 30})
	require.NoError(t, err)
	sin, cos := math.Sincos(1.0) // 20 in of arc
	b, err := LocateSide(s, g.Right, g.SidePosition{FS: 70, WL: g.Waterline(40 + 20*sin)})
	require.NoError(t, err)
	require.InDelta(t, 20+20*cos, PointAt(s, b).Y, 1e-8, "on the arc")
	p, err := Tape(s, a, b, 1e-6)
	require.NoError(t, err)
	require.InDelta(t, 50, float64(p.Length), 1e-5)
	crossed := false
	for _, uv := range p.Points {
		if math.Abs(uv.V-seam.V) < 1e-6 {
			crossed = true
			require.InDelta(t, 30+40.0/3, uv.U, 1e-3)
		}
	}
	require.True(t, crossed, "a point of the path stands on the seam")
	t.Logf("off by %.2g", float64(p.Length)-50)
}

// Opposite corners of boxes over two of their sides (unfolding): cube of side 1
// sqrt 5, box of 1 by 2 by 3 sqrt 18.
func TestTapeOverBoxSides(t *testing.T) {
	for _, c := range []struct{ w, h, l, want float64 }{
		{1, 1, 1, math.Sqrt(5)}, {1, 2, 3, math.Sqrt(18)}, {12, 12, 30, math.Hypot(30, 24)},
	} {
		sec := func(fs float64) StringerSection {
			y, z := g.ButtLine(c.w/2), g.Waterline(c.h)
			return StringerSection{FS: g.Station(fs), Points: []g.Position{{WL: z}, {BL: y, WL: z}, {BL: y}, {}}}
		}
		s, err := NewStringerSkin([]StringerSection{sec(0), sec(c.l)})
		require.NoError(t, err)
		p, err := Tape(s, UV{0, 1}, UV{c.l, 4}, 1e-6)
		require.NoError(t, err)
		require.InDelta(t, c.want, float64(p.Length), 1e-6, "%+v", c)
		require.InDelta(t, c.want, float64(p.Around), 1e-6, "either way round")
	}
}

// The spider and the fly (Dudeney 1903): a box of 30 by 12 by 12, the spider in
// the middle of one end 1 from the top, the fly in the middle of the other end 1
// from the bottom. The shortest way is 40, over five faces: end, top, side,
// bottom, end; straight over the top it is 42.
func TestTapeSpiderAndFly(t *testing.T) {
	s := crate{30, 6}
	spider, fly := UV{5, 0.5}, UV{42 - 5, 2.5}
	require.Equal(t, g.Vec3{Z: 5}, PointAt(s, spider))
	require.Equal(t, g.Vec3{X: 30, Z: -5}, PointAt(s, fly))
	p, err := Tape(s, spider, fly, 1e-6)
	require.NoError(t, err)
	t.Logf("%.9f, the other way round %.9f", float64(p.Length), float64(p.Around))
	require.InDelta(t, 40, float64(p.Length), 1e-6)
	require.InDelta(t, 40, float64(p.Around), 1e-6, "either way round")
}

// Circumference of the geodesic circles of radius r about latitude 30 on the
// spheroid of 30 by 90: the mean m12 of 72 azimuths by GeodSolve 2.1.2. Here: points
// of the skin that a tape of r reaches, joined by chords; the sums of chords over
// 36, 18 and 9 points are extrapolated (Romberg).
func TestTapeCircles(t *testing.T) {
	s := spheroid{30, 90}
	at := s.geographic(30, -90)
	const n = 36
	for _, c := range []struct{ r, want float64 }{
		{1, 6.282021043}, {2.5, 15.689713079}, {5, 31.268230353}, {10, 61.593538080},
	} {
		var ring []g.Vec3
		k := c.r
		for i := 0; i < n; i++ {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
			// outwards along a straight line of the parameters
			to := func(k float64) UV { return UV{at.U + 0.866*k*cos, at.V + k/15*sin} }
			for try := 0; ; try++ {
				require.Less(t, try, 12)
				p, err := Tape(s, at, to(k), 1e-6)
				require.NoError(t, err)
				if d := c.r - float64(p.Length); math.Abs(d) < 1e-6 {
					break
				}
				k *= c.r / float64(p.Length)
			}
			uv := to(k)
			ring = append(ring, PointAt(s, uv))
		}
		around := func(step int) (sum float64) {
			for i := 0; i < n; i += step {
				sum += ring[(i+step)%n].Sub(ring[i]).Norm()
			}
			return
		}
		fine, rough := around(1)+(around(1)-around(2))/3, around(2)+(around(2)-around(4))/3
		got := fine + (fine-rough)/15
		t.Logf("r %v: %.7f wanted %.7f, off by %.2g", c.r, got, c.want, got-c.want)
		require.InEpsilon(t, c.want, got, 5e-6)
	}
}
