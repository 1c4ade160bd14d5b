package skin

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	g "maskloft/geometry"
)

func stringersOf(fs float64, yz ...float64) StringerSection {
	s := StringerSection{FS: g.Station(fs)}
	for i := 0; i < len(yz); i += 2 {
		s.Points = append(s.Points, g.Position{BL: g.ButtLine(yz[i]), WL: g.Waterline(yz[i+1])})
	}
	return s
}

func polylineOf(yz ...float64) PolylineSection {
	var c PolylineSection
	for i := 0; i < len(yz); i += 2 {
		c.Points = append(c.Points, SectionPoint{BL: g.ButtLine(yz[i]), WL: g.Waterline(yz[i+1])})
	}
	return c
}

// Failure modes: doubled or reversed points, degenerate sections, unlike counts,
// bays without girth, bays that fold: of a stringer fuselage.
func TestRefuseStringerSections(t *testing.T) {
	good := stringersOf(0, 0, 20, 10, 20, 10, 0, 0, 0)
	for _, c := range []struct {
		name, want string
		bad        StringerSection
	}{
		{"doubled", "section FS 60: points 2 and 3 are the same (BL 10 WL 20)", stringersOf(60, 0, 20, 10, 20, 10, 20, 0, 0)},
		{"reversed", "section FS 60: the points run from WL 0", stringersOf(60, 0, 0, 10, 0, 10, 20, 0, 20)},
		{"left side", "section FS 60: point 2 (BL -10", stringersOf(60, 0, 20, -10, 20, -10, 0, 0, 0)},
		{"open crown", "section FS 60: point 1 (BL 1", stringersOf(60, 1, 20, 10, 20, 10, 0, 0, 0)},
		{"no breadth", "section FS 60: the outline has no breadth: every point lies on BL 0, from WL 20 to WL 0", stringersOf(60, 0, 20, 0, 15, 0, 5, 0, 0)},
		{"crosses itself", "section FS 60: the outline crosses itself at BL 4 WL 8", stringersOf(60, 0, 20, 10, -10, 10, 20, 0, 0)},
		{"fewer points", "section FS 60 has 3 points, the first has 4", stringersOf(60, 0, 20, 10, 10, 0, 0)},
		{"not a number", "section FS 60: point 2 (BL NaN", stringersOf(60, 0, 20, math.NaN(), 20, 10, 0, 0, 0)},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := NewStringerSkin([]StringerSection{good, c.bad})
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := NewStringerSkin([]StringerSection{good, stringersOf(60, 0, 20, 10, 20, 10, 0, 0, 0)})
	require.NoError(t, err)
}

// Failure modes: the same of a faired fuselage, and a pair of sound sections that
// folds between them.
func TestRefuseFairedSections(t *testing.T) {
	good := polylineOf(0, 20, 10, 20, 10, 0, 0, 0)
	for _, c := range []struct {
		name, want string
		a, b       SectionCurve
	}{
		{"no breadth", "section FS 60: the outline has no breadth", polylineOf(0, 20, 10, 10, 0, 0), polylineOf(0, 20, 0, 10, 0, 0)},
		{"doubled", "section FS 60: points 2 and 3 are the same", good, polylineOf(0, 20, 10, 20, 10, 20, 0, 0)},
		{"reversed", "section FS 60: the points run from WL 0", good, polylineOf(0, 0, 10, 0, 10, 20, 0, 20)},
		{"crosses itself", "section FS 60: the outline crosses itself at BL 4 WL 8", good, polylineOf(0, 20, 10, -10, 10, 20, 0, 0)},
		{"radius 0", "section FS 60: radius 0 in: it must be above 0", CircleSection{Radius: 3}, CircleSection{}},
		{"unlike landmarks", "section FS 60: 3 landmarks from crown to keel, the first section has 4", good, polylineOf(0, 20, 10, 10, 0, 0)},
		// a hook on the upper side against one on the lower: half way they cross
		{"pair folds", "the skin folds between the sections FS 0 and FS 60: the outline crosses itself at BL 19 WL 20",
			polylineOf(0, 40, 30, 40, 34, 30, 5, 30, 5, 20, 6, 20, 6, 0, 0, 0),
			polylineOf(0, 40, 5, 40, 5, 10, 30, 10, 30, 25, 32, 25, 32, 0, 0, 0)},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := NewFairedSkin([]FairedSection{{0, c.a}, {60, c.b}}, Fairing{})
			require.ErrorContains(t, err, c.want)
		})
	}
	// natural splines through sections that narrow abruptly swing over BL 0
	var sections []FairedSection
	for i, r := range []float64{20, 20, 20, 0.1, 0.1, 0.1} {
		sections = append(sections, FairedSection{g.Station(30 * i), CircleSection{Radius: g.Length(r)}})
	}
	_, err := NewFairedSkin(sections, Fairing{Law: Natural})
	require.ErrorContains(t, err, "the skin folds between the sections FS 90 and FS 120: the outline crosses BL 0")
	require.ErrorContains(t, err, "fair it monotone or ruled")
	_, err = NewFairedSkin(sections, Fairing{Law: Monotone})
	require.NoError(t, err)
}

// Failure mode: a twisted bay. Two straight pieces about one line along the body,
// the second turned by 10 degrees: the twist of that line is 10 degrees, and the
// film over it is strained; without the turn it is neither.
func TestTwistedBay(t *testing.T) {
	bay := func(turn float64) *StringerSkin {
		at := func(fs, a float64) StringerSection {
			sin, cos := math.Sincos(a)
			return stringersOf(fs, 0, 60, 20+10*sin, 30+10*cos, 20-10*sin, 30-10*cos, 0, 0)
		}
		s, err := NewStringerSkin([]StringerSection{at(0, 0), at(100, turn)})
		require.NoError(t, err)
		return s
	}
	turn := 10 * math.Pi / 180
	s := bay(turn)
	require.InDelta(t, turn, twistOf(s, 0, 100, 1.5), 1e-9)
	m := flattenAt(t, s, g.Right, g.SidePosition{FS: 50, WL: 30}, box(20, 8))
	twist := m.MostTwisted(box(20, 8))
	require.InDelta(t, turn, twist.Angle, 0.1*math.Pi/180)
	require.Equal(t, [2]g.Station{0, 100}, [2]g.Station{twist.From, twist.To})
	require.False(t, m.Strain(box(20, 8)).Exact(g.ExactStrain))
	m = flattenAt(t, bay(0), g.Right, g.SidePosition{FS: 50, WL: 30}, box(20, 8))
	require.InDelta(t, 0, m.MostTwisted(box(20, 8)).Angle, 1e-7)
	require.True(t, m.Strain(box(20, 8)).Exact(g.ExactStrain))
	// right and oblique cones are developable: there is nothing to tell
	require.Zero(t, flattenAt(t, cone30to10(t), g.Left, g.SidePosition{FS: 60}, box(20, 8)).MostTwisted(box(20, 8)).Angle)
}
