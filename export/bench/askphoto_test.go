package bench

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Points of the demo as a pinhole camera sees them (central projection, written out
// here): the camera comes back, a pixel gives the place that was projected, and a point
// moved by 15 pixels is the one that is named.
func TestPhotoOfKnownCamera(t *testing.T) {
	eye, focal, middle := [3]float64{190, -420, 60}, 2400.0, [2]float64{799.5, 549.5} // pixels count from the middle of the first
	// looking to the pilot's right: right in the picture is aft, down is -z
	project := func(x, y, z float64) (float64, float64) {
		depth := y - eye[1]
		return middle[0] + focal*(x-eye[0])/depth, middle[1] - focal*(z-eye[2])/depth
	}
	points := []struct {
		at      string
		x, y, z float64
	}{
		{"P1", 240, -1.375, 50}, {"P2", 120, -12.5, 36}, {"P3", 240, -1.5, 60}, {"P4", 120, -13, 65},
		{"{surface: fuselage, line: S4, fs: 180}", 180, -(14.5 + 1.625) / 2, 52.5},
		{"{surface: fuselage, line: S5, fs: 150}", 150, -(13.75*0.75 + 1.5*0.25), 42.5*0.75 + 52.5*0.25},
		{"{fs: 200, bl: 40, wl: 30}", 200, 40, 30},
	}
	item := func(off float64) string {
		var b strings.Builder
		b.WriteString("{id: try, file: try.png, side: left, size: [1600, 1100], points: [")
		for i, p := range points {
			x, y := project(p.x, p.y, p.z)
			if i == 4 {
				x += off
			}
			fmt.Fprintf(&b, "{at: %s, pixel: [%.4f, %.4f]}, ", p.at, x, y)
		}
		return b.String() + "]}"
	}
	b := openMemory(t, demoText(t))
	seen := func(item string, pixels ...Point2) PhotoSeen {
		var out PhotoSeen
		b.Ask(t.Context(), Request{V: Version, Ask: "photo", Name: "try", YAML: &item, Pixels: pixels}, func(a Answer) {
			require.Nil(t, a.Error)
			require.NoError(t, json.Unmarshal(a.Body, &out))
		})
		return out
	}
	x, y := project(150, -(14.5*0.75 + 1.625*0.25), 50*0.75+55*0.25) // on S4
	u, v := project(210, -(14.5*0.25 + 1.625*0.75), 50*0.25+55*0.75)
	got := seen(item(0), Point2{x, y}, Point2{u, v})
	require.InDelta(t, focal, got.Camera.Focal, 0.5)
	for k := range eye {
		require.InDelta(t, eye[k], got.Camera.At[k], 0.1)
	}
	require.Equal(t, -1, got.Suspect)
	for _, p := range got.Points {
		require.Less(t, math.Hypot(p.Left[0], p.Left[1]), 0.01)
	}
	require.Equal(t, "fuselage", got.Places[0].On)
	require.InDelta(t, 150, got.Places[0].At[0], 0.01)
	require.InDelta(t, 51.25, got.Places[0].At[2], 0.01)
	// S4 is straight: its length by its ends
	require.InDelta(t, math.Sqrt(60*60+6.4375*6.4375+2.5*2.5), got.Length.Along, 0.02)

	got = seen(item(15))
	require.Equal(t, 4, got.Suspect)
	require.Less(t, got.Without, got.ChiSquare/10)
	require.Equal(t, b.hash, Hash([]byte(demoText(t))), "nothing is written")
}

// TestPhotoOfEdges: two edges of a square on the fin, 8 in apart, as the camera above sees
// them, and its places across.
func TestPhotoOfEdges(t *testing.T) {
	project := func(x, y, z float64) Point2 { // eye at FS 190 BL -420 WL 60, 2400 px
		return Point2{799.5 + 2400*(x-190)/(y+420), 549.5 - 2400*(z-60)/(y+420)}
	}
	item := "{id: try, file: try.png, side: left, size: [1600, 1100], focal: 2400 px, plus-minus: 0.2, points: ["
	for _, p := range []struct {
		at      string
		x, y, z float64
	}{{"P1", 240, -1.375, 50}, {"P2", 120, -12.5, 36}, {"P3", 240, -1.5, 60}, {"P4", 120, -13, 65}, {"{fs: 200, bl: 40, wl: 30}", 200, 40, 30}} {
		q := project(p.x, p.y, p.z)
		item += fmt.Sprintf("{at: %s, pixel: [%.4f, %.4f]}, ", p.at, q[0], q[1])
	}
	item += "]}"
	b := openMemory(t, demoText(t))
	edges := []EdgeAsked{{At: project(226, -0.8, 76), Along: Point2{0, 1}, Off: 0.02, Turn: 0.001}, {At: project(234, -0.8, 77), Along: Point2{0, -1}, Off: 0.02, Turn: 0.001}}
	var out PhotoSeen
	b.Ask(t.Context(), Request{V: Version, Ask: "photo", Name: "try", YAML: &item, Edges: edges}, func(a Answer) {
		require.Nil(t, a.Error)
		require.NoError(t, json.Unmarshal(a.Body, &out))
	})
	require.Len(t, out.Edges, 2)
	require.Equal(t, "fin", out.Edges[0].On)
	require.InDelta(t, 226, out.Edges[0].At[0], 0.02)
	require.Empty(t, out.Width.Why)
	require.InDelta(t, 8, out.Width.Length.Along, 0.01)
	require.InDelta(t, 8, out.Width.Length.Air, 0.01)
	require.Less(t, out.Width.Length.Air95[1]-out.Width.Length.Air95[0], 0.2)
	require.InDelta(t, 0, out.Width.Askew, 0.05)

	edges[0].Along = Point2{3, 0}
	b.Ask(t.Context(), Request{V: Version, Ask: "photo", Name: "try", YAML: &item, Edges: edges}, func(a Answer) {
		require.Equal(t, CodeAsk, a.Error.Code)
	})
}

// TestTrace: a drawing at 4 pixels an inch, FS 0 WL 0 at 100, 700, seen from the right: FS
// runs to the left.
func TestTrace(t *testing.T) {
	b := openMemory(t, demoText(t))
	pixel := func(fs, wl float64) Point2 { return Point2{1300 - 4*fs, 700 - 4*wl} }
	var spots []SpotAsked
	for _, at := range []Point2{{0, 0}, {200, 0}, {200, 100}, {0, 100}} {
		spots = append(spots, SpotAsked{Name: fmt.Sprint(at), At: at, Pixel: pixel(at[0], at[1]), Within: 1})
	}
	var out TraceSeen
	b.Ask(t.Context(), Request{V: Version, Ask: "trace", Spots: spots, Pixels: []Point2{pixel(60, 30), pixel(90, 70)}, Within: []float64{0.1}}, func(a Answer) {
		require.Nil(t, a.Error)
		require.NoError(t, json.Unmarshal(a.Body, &out))
	})
	require.Equal(t, "right", out.Side)
	require.InDelta(t, 60, out.Places[0].At[0], 1e-6)
	require.InDelta(t, 30, out.Places[0].At[1], 1e-6)
	require.InDelta(t, 50, out.Length, 1e-6)
	wide := func(i int) float64 { return out.Places[i].In95[0][1] - out.Places[i].In95[0][0] }
	require.Less(t, wide(0), wide(1), "one is known to a tenth of a pixel, the other to the usual two")
	b.Ask(t.Context(), Request{V: Version, Ask: "trace", Spots: spots[:3]}, func(a Answer) {
		require.Equal(t, CodeAsk, a.Error.Code)
		require.Contains(t, a.Error.Message, "a plane takes 4")
	})
}
