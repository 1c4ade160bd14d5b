package scan

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	g "maskloft/geometry"
)

// ScanMatch is one point known both on the scan, in the scan's axes and unit, and
// on the aircraft.
type ScanMatch struct {
	Name string // for messages and the report
	Scan g.Vec3
	At   g.Position
}

// ScanFit is the rigid motion that brings a scan into aircraft axes and inches:
// position = Rotation (Unit x scan) + Shift.
type ScanFit struct {
	Rotation [3][3]float64 // proper: it turns, it does not mirror
	Shift    g.Vec3        // inches
	Unit     g.Length      // of the scan

	// Residuals are the distances left between the matched points, in their
	// order. Three points tell only of wrong distances between them; four and
	// more, not in one plane, also of a mirrored scan.
	Residuals []g.Length
	RMS       g.Length
	Mirrored  g.Length // what RMS would be for the mirror image of the scan; of points in one plane the same
}

// Worst returns the number of the matched point that is farthest off, and how far.
func (f ScanFit) Worst() (i int, off g.Length) {
	for k, d := range f.Residuals {
		if d > off {
			i, off = k, d
		}
	}
	return i, off
}

const (
	// scanCollinear is the least spread of matched points across their best line,
	// as a share of the spread along it: an error in a point turns the scan about
	// that line by up to the error over the spread across.
	scanCollinear = 0.02
	// scanMisscaled is the largest difference of the spread on scan and aircraft
	// that is put down to measuring rather than to a wrong unit.
	scanMisscaled = 0.05
	// rotationGrid is the grid of a rotation's entries: 1e-9 in at the far end of an
	// aircraft of 1,000 in.
	rotationGrid = 1e-12
)

// FitScan returns the motion of least squares through three matched points or
// more, with the scale fixed by the unit of the scan (geometry.Millimetre,
// geometry.Inch, ...).
//
// Closed form: with H the sum of products of the centred points and H = U S Vt
// its singular values, the rotation is V diag(1, 1, det V Ut) Ut (Kabsch, Acta
// Cryst. A32, 1976 and A34, 1978; Arun, Huang and Blostein, IEEE PAMI 9, 1987;
// from memory).
//
// Errors: fewer than three points; points on one line (spread across below
// 2 % of the spread along); spreads that differ by more than 5 %, which names the
// unit that would fit.
func FitScan(matches []ScanMatch, unit g.Length) (ScanFit, error) {
	if !(unit > 0) || math.IsInf(float64(unit), 1) {
		return ScanFit{}, g.Errorf("the unit of the scan is %v: give the length of one unit, as 1 mm", unit)
	}
	n := len(matches)
	if n < 3 {
		return ScanFit{}, fmt.Errorf("%d matched points: a scan needs three or more, well apart and not in one line", n)
	}
	a, b := make([]g.Vec3, n), make([]g.Vec3, n)
	for i, m := range matches {
		a[i], b[i] = m.Scan.Scale(float64(unit)), m.At.Vec()
		for _, p := range [2]g.Vec3{m.Scan, b[i]} {
			if d := p.Norm(); !(d <= 2*scanFarthest) {
				return ScanFit{}, fmt.Errorf("matched point %q: coordinates %v are out of range", m.Name, p)
			}
		}
	}
	ca, cb := scanCentred(a), scanCentred(b)
	spreadA, err := scanSpread(a, "the scan")
	if err != nil {
		return ScanFit{}, err
	}
	spreadB, err := scanSpread(b, "the aircraft")
	if err != nil {
		return ScanFit{}, err
	}
	if ratio := spreadA / spreadB; math.Abs(ratio-1) > scanMisscaled {
		return ScanFit{}, fmt.Errorf("the matched points lie %s times as far apart on the scan as on the aircraft: %s",
			g.FormatNumber(ratio, 3), scanUnitHint(float64(unit)/ratio))
	}
	h := mat.NewDense(3, 3, nil)
	for i := range a {
		h.RankOne(h, 1, scanVector(a[i]), scanVector(b[i]))
	}
	var svd mat.SVD
	if !svd.Factorize(h, mat.SVDFull) {
		return ScanFit{}, fmt.Errorf("the matched points give no rotation: check them")
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	sign := 1.0
	if mat.Det(&u)*mat.Det(&v) < 0 {
		sign = -1
	}
	by := func(sign float64) ScanFit {
		var r mat.Dense
		r.Product(&v, mat.NewDiagDense(3, []float64{1, 1, sign}), u.T())
		f := ScanFit{Unit: unit}
		for i := range f.Rotation {
			for j := range f.Rotation[i] {
				f.Rotation[i][j] = g.OnGrid(r.At(i, j), rotationGrid)
			}
		}
		f.Shift = cb.Sub(f.turned(ca))
		sum := 0.0
		for _, m := range matches {
			d := f.Position(m.Scan).To(m.At)
			f.Residuals = append(f.Residuals, d)
			sum += float64(d * d)
		}
		f.RMS = g.Length(math.Sqrt(sum / float64(n)))
		return f
	}
	f := by(sign)
	f.Mirrored = by(-sign).RMS
	return f, nil
}

// scanCentred moves points to their mean and returns where that was.
func scanCentred(p []g.Vec3) g.Vec3 {
	var mean g.Vec3
	for _, q := range p {
		mean = mean.Add(q.Scale(1 / float64(len(p))))
	}
	for i := range p {
		p[i] = p[i].Sub(mean)
	}
	return mean
}

// scanSpread returns the root of the summed squares of centred points, and
// refuses points near one line.
func scanSpread(p []g.Vec3, where string) (float64, error) {
	m := mat.NewDense(len(p), 3, nil)
	for i, q := range p {
		m.SetRow(i, []float64{q.X, q.Y, q.Z})
	}
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDNone) {
		return 0, fmt.Errorf("the matched points on %s have no spread: check them", where)
	}
	s := svd.Values(nil)
	if s[0] == 0 || s[1] < scanCollinear*s[0] {
		n := math.Sqrt(float64(len(p)))
		return 0, g.Errorf("the matched points on %s lie in one line: %v across it over %v along it (rms), %s %% where 2 %% is needed: match a point off that line",
			where, g.Length(s[1]/n).Rounded(3), g.Length(s[0]/n).Rounded(3), g.FormatNumber(100*s[1]/math.Max(s[0], 1e-300), 2))
	}
	return math.Sqrt(float64(s[0]*s[0]) + float64(s[1]*s[1]) + float64(s[2]*s[2])), nil
}

func scanVector(p g.Vec3) mat.Vector { return mat.NewVecDense(3, []float64{p.X, p.Y, p.Z}) }

// scanUnitHint names the unit of about so many inches.
func scanUnitHint(inches float64) string {
	for _, c := range []struct {
		name string
		unit g.Length
	}{{"mm", g.Millimetre}, {"cm", g.Centimetre}, {"in", g.Inch}, {"ft", g.Foot}, {"m", g.Metre}} {
		if math.Abs(inches/float64(c.unit)-1) <= scanMisscaled {
			return "the scan looks to be in " + c.name + ": give that unit"
		}
	}
	return "check the unit of the scan and the positions of the points"
}

func (f ScanFit) turned(p g.Vec3) g.Vec3 {
	row := func(k int) float64 {
		return g.Vec3{X: f.Rotation[k][0], Y: f.Rotation[k][1], Z: f.Rotation[k][2]}.Dot(p)
	}
	return g.Vec3{X: row(0), Y: row(1), Z: row(2)}
}

// Position returns where a point of the scan, in its own axes and unit, is on the
// aircraft.
func (f ScanFit) Position(p g.Vec3) g.Position {
	return g.PositionOf(f.turned(p.Scale(float64(f.Unit))).Add(f.Shift))
}

// Place returns the scan in aircraft axes and inches.
func (f ScanFit) Place(s *Scan) *Scan {
	out := &Scan{Triangles: s.Triangles, placed: true, Vertices: make([]g.Vec3, len(s.Vertices))}
	for i, p := range s.Vertices {
		out.Vertices[i] = f.Position(p).Vec()
	}
	return out
}
