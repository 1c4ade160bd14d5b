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
