package scan

import (
	"context"
	"math"
	"slices"

	"maskloft/geometry/same"
	"maskloft/geometry/skin"

	g "maskloft/geometry"
)

// ScanSkin is the smooth skin through a scan: a point is
//
//	x = u,  y = cy(u) + r(u, v) sin v,  z = cz(u) + r(u, v) cos v
//
// with a centre line c along the middle of the sections and a radius r that is a
// bicubic spline (open along the body, closed round it) through the places where
// the rays of a regular grid of stations and angles meet the scan. V is the angle
// about the centre line from the crown in radians, positive towards the right
// side; the section is closed.
//
// A scan is resampled so because lengths and strains taken on its flat triangles
// converge only with their size where the skin is doubly curved. The price: sharp
// edges (a chine, a panel step, the corner of a box) are rounded over about one
// step of the grid, and ripple for two or three beside it. The residual in the
// [ScanSkinReport] is the largest distance of the scan's vertices from the skin.
//
// There is skin where all four rays round a place met the scan. Elsewhere
// (holes, the far side of a scan of one side, ragged ends, a nose as blunt as
// 72 degrees) Contains is false and the surface is only carried across.
type ScanSkin struct {
	u0, u1, du float64
	n, m       int // stations and angles of the grid
	cy, cz     []float64
	r          []float64 // coefficients: n + 2 rows of m
	cells      []bool    // n - 1 rows of m: skin between the four rays
}

// ScanGridSpacing sets the grid of a ScanSkin. The zero value takes the step from
// the scan: the median of the shortest edges of its triangles. The spline goes
// through every hit, so that a step as fine as the scan keeps all its noise; for
// a noisy scan of a smooth body give a tenth of its radius (measured on a barrel
// of radius 30 with noise of 0.01 in, 1 in triangles: film positions off by
// 0.016 in at steps of 1 in, by 0.003 in at 4 in).
type ScanGridSpacing struct {
	Step g.Length // along the body and round it, about
}

const (
	scanLeastStations, scanMostStations = 8, 2000
	scanLeastAngles, scanMostAngles     = 32, 1440
	scanSteep                           = 3.0  // radius over station
	scanEndInset                        = 1e-3 // steps: end caps lie beyond
	scanWall                            = 0.25 // steps: hits nearer are one wall
)

// NewScanSkin returns the skin through a clean scan in aircraft axes, and what is
// to be said of it. Cost: triangles times the rays that each meets, plus the
// grid, which has at most 2,000 stations of 1,440 rays.
//
// Errors: the scan is not placed; it has no length along the body; fewer than a
// tenth of the rays meet it; the step is not a length; ctx is done, which is asked
// every 1,024 triangles.
func NewScanSkin(ctx context.Context, s *Scan, spacing ScanGridSpacing) (*ScanSkin, ScanSkinReport, error) {
	var report ScanSkinReport
	refuse := func(format string, a ...any) (*ScanSkin, ScanSkinReport, error) {
		return nil, report, g.Errorf(format, a...)
	}
	if !s.placed {
		return refuse("the scan is still in its own axes: match three points of it with the aircraft")
	}
	if len(s.Triangles) == 0 {
		return refuse("the scan has no triangles")
	}
	step := float64(spacing.Step)
	if !(step >= 0) || math.IsInf(step, 1) {
		return refuse("grid step %v is not a length: give one above 0, or 0 to take it from the scan", spacing.Step)
	}
	if step == 0 {
		step = s.medianEdge()
	}
	lo, hi := s.bounds()
	length, width := hi.X-lo.X, math.Max(hi.Y-lo.Y, hi.Z-lo.Z)
	if length < g.SnapTolerance || width < g.SnapTolerance {
		return refuse("the scan is %v long and %v wide: it has no skin", g.Length(length), g.Length(width))
	}
	q := &scanGrid{ctx: ctx}
	q.n = scanSteps(length/step, scanLeastStations, scanMostStations) + 1
	inset := scanEndInset * length / float64(q.n)
	q.u0, q.du = lo.X+inset, (length-2*inset)/float64(q.n-1)
	q.m = scanSteps(math.Pi*(hi.Y-lo.Y+hi.Z-lo.Z)/2/step, scanLeastAngles, scanMostAngles)
	if !q.centreLine(s, width) {
		if err := ctx.Err(); err != nil {
			return nil, report, err
		}
		return refuse("fewer than two sections meet the scan: it is too thin at FS %v to %v", g.Station(lo.X), g.Station(hi.X))
	}
	q.shoot(s)
	if err := ctx.Err(); err != nil {
		return nil, report, err
	}

	k := &ScanSkin{u0: q.u0, u1: q.station(q.n - 1), du: q.du, n: q.n, m: q.m}
	missing, overlap := make([]bool, q.n*q.m), make([]bool, q.n*q.m)
	sum := 0.0
	for i, r := range q.far {
		missing[i] = math.IsNaN(r)
		overlap[i] = !missing[i] && r-q.near[i] > scanWall*step
		if missing[i] {
			report.Missing++
		} else {
			sum += r
		}
	}
	met := len(q.far) - report.Missing
	if met*10 < len(q.far) {
		return refuse("%d of %d rays from the middle of the sections meet the scan, a tenth is needed: check the matched points (x aft, y right, z up)", met, len(q.far))
	}
	steep := q.dropSteep()
	k.cells = make([]bool, (q.n-1)*q.m)
	for i := 0; i+1 < q.n; i++ {
		for j := 0; j < q.m; j++ {
			skin := true
			for _, ray := range [4]int{i*q.m + j, i*q.m + (j+1)%q.m, (i+1)*q.m + j, (i+1)*q.m + (j+1)%q.m} {
				skin = skin && !math.IsNaN(q.far[ray])
			}
			k.cells[i*q.m+j] = skin
		}
	}
	q.bridge()
	k.fit(q)
	report.Stations, report.Angles = q.n, q.m
	report.StationStep, report.ArcStep = g.Length(q.du), g.Length(2*math.Pi*sum/float64(met)/float64(q.m))
	report.Gaps, report.Overlaps, report.Steep = k.gaps(missing), k.gaps(overlap), k.gaps(steep)
	k.measure(s, overlap, &report)
	return k, report, nil
}

// scanSteps rounds a number of steps up, within bounds.
func scanSteps(x float64, least, most int) int {
	return int(math.Max(float64(least), math.Min(float64(most), math.Ceil(x))))
}

// medianEdge returns the median of the shortest edges of the triangles.
func (s *Scan) medianEdge() float64 {
	short := make([]float64, len(s.Triangles))
	for i, t := range s.Triangles {
		a, b, c := s.Vertices[t[0]], s.Vertices[t[1]], s.Vertices[t[2]]
		short[i] = min(b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm())
	}
	slices.Sort(short)
	return short[len(short)/2]
}

func (s *Scan) bounds() (lo, hi g.Vec3) {
	lo = g.Vec3{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	hi = lo.Scale(-1)
	for _, t := range s.Triangles {
		for _, v := range t {
			p := s.Vertices[v]
			lo = g.Vec3{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
			hi = g.Vec3{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
		}
	}
	return lo, hi
}

// dropSteep takes out the smaller of two hits at neighbouring stations where the
// radius changes too fast for a spline by stations, and returns which.
func (q *scanGrid) dropSteep() []bool {
	steep := make([]bool, len(q.far))
	for i := 0; i+q.m < len(q.far); i++ {
		a, b := q.far[i], q.far[i+q.m]
		if math.Abs(a-b) > scanSteep*q.du {
			if a < b {
				steep[i] = true
			} else {
				steep[i+q.m] = true
			}
		}
	}
	for i, drop := range steep {
		if drop {
			q.far[i] = math.NaN()
		}
	}
	return steep
}

// bridge fills rays without a hit: round the section where it has any, else
// along the body.
func (q *scanGrid) bridge() {
	for i := 0; i < q.n; i++ {
		scanBridge(q.far[i*q.m:(i+1)*q.m], true)
	}
	column := make([]float64, q.n)
	for j := 0; j < q.m; j++ {
		for i := range column {
			column[i] = q.far[i*q.m+j]
		}
		scanBridge(column, false)
		for i := range column {
			q.far[i*q.m+j] = column[i]
		}
	}
}

// fit makes the splines through the centres and the radii of the grid.
func (k *ScanSkin) fit(q *scanGrid) {
	k.cy, k.cz = scanOpenSpline(q.cy), scanOpenSpline(q.cz)
	k.r = make([]float64, (k.n+2)*k.m)
	for i := 0; i < k.n; i++ {
		scanClosedSpline(q.far[i*k.m : (i+1)*k.m])
	}
	column := make([]float64, k.n)
	for j := 0; j < k.m; j++ {
		for i := range column {
			column[i] = q.far[i*k.m+j]
		}
		for i, c := range scanOpenSpline(column) {
			k.r[i*k.m+j] = c
		}
	}
}

// Breaks lists the ends; round the body there is one line, at the keel. The
// splines are smooth across the lines of their grid.
func (k *ScanSkin) Breaks() (u, v []float64, period float64) {
	return []float64{k.u0, k.u1}, []float64{-math.Pi, math.Pi}, 2 * math.Pi
}

// place returns the cell of the grid that holds uv (stations clamped, angles
// taken round) and the place within it in steps.
func (k *ScanSkin) place(uv skin.UV) (i, j int, s, t float64) {
	s = (uv.U - k.u0) / k.du
	i = int(math.Max(0, math.Min(float64(k.n-2), math.Floor(s))))
	t = float64((uv.V + math.Pi) / (2 * math.Pi) * float64(k.m))
	whole := math.Floor(t)
	j = int(math.Mod(whole, float64(k.m)))
	if j < 0 {
		j += k.m
	}
	return i, j, s - float64(i), t - whole
}

// Contains tells whether uv lies between the first and the last section of the
// grid, and between four rays that met the scan.
func (k *ScanSkin) Contains(uv skin.UV) bool {
	if !(uv.U >= k.u0-1e-9 && uv.U <= k.u1+1e-9) {
		return false
	}
	i, j, _, _ := k.place(uv)
	return k.cells[i*k.m+j]
}

// At returns the point and the outward normal; the whole surface is one panel.
func (k *ScanSkin) At(uv, _ skin.UV) (g.Vec3, g.Vec3) {
	i, j, s, t := k.place(uv)
	ws, ds := scanWeights(s)
	wt, dt := scanWeights(t)
	var cy, cz, cyu, czu, r, ru, rv float64
	for a := 0; a < 4; a++ {
		cy, cz = cy+float64(ws[a]*k.cy[i+a]), cz+float64(ws[a]*k.cz[i+a])
		cyu, czu = cyu+float64(ds[a]*k.cy[i+a]), czu+float64(ds[a]*k.cz[i+a])
		row := k.r[(i+a)*k.m : (i+a+1)*k.m]
		var f, fv float64
		for b := 0; b < 4; b++ {
			c := row[(j+b-1+k.m)%k.m]
			f, fv = f+float64(wt[b]*c), fv+float64(dt[b]*c)
		}
		r, ru, rv = r+float64(ws[a]*f), ru+float64(ds[a]*f), rv+float64(ws[a]*fv)
	}
	cyu, czu, ru, rv = cyu/k.du, czu/k.du, ru/k.du, rv*float64(k.m)/(2*math.Pi)
	sin, cos := same.Sincos(uv.V)
	p := g.Vec3{X: uv.U, Y: cy + float64(r*sin), Z: cz + float64(r*cos)}
	su := g.Vec3{X: 1, Y: cyu + float64(ru*sin), Z: czu + float64(ru*cos)}
	sv := g.Vec3{Y: float64(rv*sin) + float64(r*cos), Z: float64(rv*cos) - float64(r*sin)}
	return p, su.Cross(sv).Unit()
}

// uvOf returns the parameters of the ray through p.
func (k *ScanSkin) uvOf(p g.Vec3) skin.UV {
	i, _, s, _ := k.place(skin.UV{U: p.X, V: 0})
	w, _ := scanWeights(s)
	var cy, cz float64
	for a := 0; a < 4; a++ {
		cy, cz = cy+float64(w[a]*k.cy[i+a]), cz+float64(w[a]*k.cz[i+a])
	}
	return skin.UV{U: p.X, V: same.Atan2(p.Y-cy, p.Z-cz)}
}
