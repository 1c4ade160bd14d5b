package scan

import (
	"math"

	"maskloft/geometry/skin"

	g "maskloft/geometry"
)

// ScanSkinReport says how a scan was sampled and how well the skin fits it.
type ScanSkinReport struct {
	Stations, Angles     int
	StationStep, ArcStep g.Length // between rays: along the body, and round the mean section
	Missing              int      // rays that met nothing
	Gaps                 []ScanGap
	Overlaps             []ScanGap // where rays met several walls; the outermost was taken
	Steep                []ScanGap // where the radius changes by more than 3 in an inch of station: no skin
	Checked              int       // vertices in reach of the skin, overlaps left out
	Residual             g.Length  // largest distance of them from the skin
	ResidualAt           g.Position
	RMS                  g.Length
}

// ScanGap is a patch of neighbouring rays.
type ScanGap struct {
	Rays     int
	From, To g.Station
	Centre   g.Position // mean of their places on the skin, as carried across
}

// measure takes the distance of the scan's vertices from the skin, where there is
// skin and the scan has one wall: the distance along the ray times the cosine
// of the ray with the normal.
func (k *ScanSkin) measure(s *Scan, overlap []bool, report *ScanSkinReport) {
	used := make([]bool, len(s.Vertices))
	for _, t := range s.Triangles {
		used[t[0]], used[t[1]], used[t[2]] = true, true, true
	}
	sum := 0.0
	for v, p := range s.Vertices {
		uv := k.uvOf(p)
		if !used[v] || !k.Contains(uv) {
			continue
		}
		i, j, _, _ := k.place(uv)
		if overlap[i*k.m+j] || overlap[i*k.m+(j+1)%k.m] || overlap[(i+1)*k.m+j] || overlap[(i+1)*k.m+(j+1)%k.m] {
			continue
		}
		at, n := k.At(uv, uv)
		d := math.Abs(p.Sub(at).Dot(n))
		report.Checked++
		sum += float64(d * d)
		if d > float64(report.Residual) {
			report.Residual, report.ResidualAt = g.Length(d), g.PositionOf(p)
		}
	}
	if report.Checked > 0 {
		report.RMS = g.Length(math.Sqrt(sum / float64(report.Checked)))
	}
}

// gaps gathers marked rays into patches of neighbours, in order of station.
func (k *ScanSkin) gaps(mark []bool) []ScanGap {
	var out []ScanGap
	done := make([]bool, len(mark))
	var queue []int
	for first := range mark {
		if !mark[first] || done[first] {
			continue
		}
		gap := ScanGap{}
		lo, hi := k.n, 0
		var sum g.Vec3
		done[first] = true
		queue = append(queue[:0], first)
		for len(queue) > 0 {
			ray := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			i, j := ray/k.m, ray%k.m
			lo, hi = min(lo, i), max(hi, i)
			sum = sum.Add(skin.PointAt(k, skin.UV{U: k.u0 + float64(float64(i)*k.du), V: -math.Pi + 2*math.Pi*float64(j)/float64(k.m)}))
			gap.Rays++
			for _, o := range [4]int{ray - k.m, ray + k.m, i*k.m + (j+1)%k.m, i*k.m + (j+k.m-1)%k.m} {
				if o >= 0 && o < len(mark) && mark[o] && !done[o] {
					done[o] = true
					queue = append(queue, o)
				}
			}
		}
		gap.From, gap.To = g.Station(k.u0+float64(float64(lo)*k.du)), g.Station(k.u0+float64(float64(hi)*k.du))
		gap.Centre = g.PositionOf(sum.Scale(1 / float64(gap.Rays)))
		out = append(out, gap)
	}
	return out
}
