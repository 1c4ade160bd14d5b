package camera

import (
	"fmt"
	"math"
	"sort"

	g "maskloft/geometry"
	"maskloft/geometry/same"
)

// Sight is a point of the aircraft found in the picture.
type Sight struct {
	Name  string
	At    g.Position // aircraft inches
	Pixel g.Point    // x right, y down
	Sigma float64    // standard deviation of the pixel along each axis, pixels; above 0
	Off   g.Length   // standard deviation of At along each axis; it is taken into the picture at the depth of the point
}

// Known is what is known of a camera before its picture is resected.
type Known struct {
	Focal     float64 // principal distance in pixels; 0: to be found
	Principal g.Point // principal point in pixels
	K1        float64 // see [Camera]
	Mirrored  bool
	Diagonal  float64 // of the picture in pixels: what principal distances are tried is a multiple of it
}

// Least numbers of points: three have up to four cameras (Grunert 1841), and a
// fourth chooses; six give the principal distance with more equations than
// unknowns to hold it against.
const (
	LeastSights        = 4
	LeastSightsNoFocal = 6
)

// Fit is the camera that the sights ask for.
type Fit struct {
	Camera   Camera
	Found    bool // the principal distance was found, not given
	Sights   []Sight
	Left     []g.Vec   // seen less computed, pixels, y down, by sight
	Standard []float64 // of each sight, the length of Left in its own standard deviations
	// ChiSquare is the sum of squares of Left in standard deviations, and Freedom
	// the number of equations beyond the unknowns: they are about equal where the
	// plus or minus of the sights is as it was said.
	ChiSquare float64
	Freedom   int
	// Covariance of the angles of [Camera.Turned] (radians), of the position (x, y, z,
	// inches) and, where it was found, of the logarithm of the principal distance.
	// Where the sights fit worse than they claim, it is enlarged by ChiSquare over
	// Freedom (as is usual in adjustment).
	Covariance [][]float64
	// Other is the next best camera that is another one, with its ChiSquare; nil
	// where none was met.
	Other *Rival
	// Second is Other with all that is known of it, where the sights do not tell which
	// of the two took the picture ([Undecided]): points of one plane have two cameras
	// (T. Collins and A. Bartoli, Infinitesimal plane-based pose estimation, IJCV 109,
	// 2014). What is read from the picture may be by either.
	Second *Fit
	// Turned is the best camera for the picture turned over (mirrored where it is
	// not, and not where it is); nil where the points lie in one plane or one
	// line, which then fits as well from the other side.
	Turned *Rival
	// Relief is the smallest extent of the points over their largest, as roots of
	// the moments of their scatter: 0 where they lie in one plane.
	Relief float64
	// Suspect is the sight without which the others fit far better; -1 where
	// there is none, or too few to tell.
	Suspect int
	Without float64 // ChiSquare without the suspect

	way way         // in whose unknowns own is
	own [][]float64 // covariance
}

// Undecided is the difference of ChiSquare below which two cameras are not told apart:
// the 99 % point of chi-square of two degrees of freedom (judgement: one picture in a
// hundred is then taken by the camera that was dropped).
const Undecided = 9.21

// Rival is another camera and how well it fits.
type Rival struct {
	Camera    Camera
	ChiSquare float64
}

// flat is the [Fit.Relief] below which points are taken to lie in one plane: one
// part in a hundred tells neither a mirrored picture nor a principal distance.
const flat = 0.01

// Resect finds the camera that sees the sights where they were seen: Gauss and
// Newton's steps, damped (Levenberg 1944, Marquardt 1963), from closed-form
// cameras of three sights each, so that nothing need be guessed. With the
// principal distance unknown, a ladder of them is tried and the best is refined.
//
// Errors: too few sights (fewer than 4, or 6 without principal distance); sights
// on one line; no camera sees all of them ahead of itself; a principal distance
// that the sights do not tell.
func Resect(sights []Sight, k Known) (*Fit, error) {
	if err := enough(sights, k); err != nil {
		return nil, err
	}
	long, middle, short := extents(sights)
	if middle < flat*long {
		return nil, fmt.Errorf("the %d points lie on one line: any camera round it sees them so: add a point well off the line", len(sights))
	}
	best, other, err := fitted(sights, k)
	if err != nil {
		return nil, err
	}
	f, err := fitOf(sights, k, best)
	if err != nil {
		return nil, err
	}
	f.Relief = short / long
	if other != nil && f.apart(other.camera) {
		f.Other = &Rival{other.camera, other.chi}
		if other.chi-best.chi < Undecided {
			if f.Second, err = fitOf(sights, k, *other); err != nil {
				return nil, err
			}
			f.Second.Relief = f.Relief
		}
	}
	if f.Relief >= flat {
		over := k
		over.Mirrored = !k.Mirrored
		if t, _, err := fitted(sights, over); err == nil {
			f.Turned = &Rival{t.camera, t.chi}
		}
	}
	f.suspect(k)
	return f, nil
}

// fitOf returns what is known of one camera.
func fitOf(sights []Sight, k Known, s solution) (*Fit, error) {
	f := &Fit{Camera: s.camera, Found: k.Focal == 0, Sights: sights, ChiSquare: s.chi, Freedom: freedom(len(sights), k), Suspect: -1, way: wayOf(sights, k)}
	for _, t := range sights {
		p, _ := s.camera.Project(t.At)
		left := t.Pixel.Sub(p)
		f.Left = append(f.Left, left)
		f.Standard = append(f.Standard, left.Norm()/s.camera.spread(t))
	}
	var err error
	if f.own, err = covariance(sights, s.camera, f.way, math.Max(1, f.ChiSquare/float64(max(1, f.Freedom)))); err != nil {
		return nil, err
	}
	f.Covariance = carried(f.way.plain(s.camera), f.own)
	return f, nil
}

// wayOf returns the way in which the camera of the sights is moved to fit.
func wayOf(sights []Sight, k Known) way {
	var middle g.Vec3
	for _, s := range sights {
		middle = middle.Add(s.At.Vec().Scale(1 / float64(len(sights))))
	}
	if k.Focal != 0 {
		return still{middle}
	}
	reach := 0.0
	for _, s := range sights {
		reach = math.Max(reach, s.At.Vec().Sub(middle).Norm())
	}
	return about{middle, reach}
}

// carried returns J C J'.
func carried(j, c [][]float64) [][]float64 {
	out := make([][]float64, len(j))
	for a := range j {
		out[a] = make([]float64, len(j))
		for b := range j {
			for p := range c {
				for q := range c {
					out[a][b] += float64(j[a][p] * c[p][q] * j[b][q])
				}
			}
		}
	}
	return out
}

// apart tells whether another camera stands clear of what this one is uncertain by: it
// is not merely a step along the same flat valley.
func (f *Fit) apart(c Camera) bool {
	// the direction in which the camera stands from the sights: its distance may be
	// known to nothing
	middle := f.middle()
	one, two := f.Camera.At.Vec().Sub(middle), c.At.Vec().Sub(middle)
	axis := one.Unit()
	across := two.Unit().Sub(axis)
	across = across.Sub(axis.Scale(across.Dot(axis)))
	way := across.Unit()
	v := [3]float64{way.X, way.Y, way.Z}
	variance := 0.0
	for i := range v {
		for k := range v {
			variance += float64(v[i] * f.Covariance[3+i][3+k] * v[k])
		}
	}
	return across.Norm()*one.Norm() > 4*math.Sqrt(math.Max(0, variance))
}

// middle returns the middle of the sights.
func (f *Fit) middle() g.Vec3 {
	var out g.Vec3
	for _, s := range f.Sights {
		out = out.Add(s.At.Vec().Scale(1 / float64(len(f.Sights))))
	}
	return out
}

func enough(sights []Sight, k Known) error {
	n := len(sights)
	for i, a := range sights {
		for _, b := range sights[:i] {
			if a.At.To(b.At) < g.SnapTolerance {
				return fmt.Errorf("%s and %s are one place on the aircraft: give each point once", b.Name, a.Name)
			}
		}
	}
	switch {
	case k.Focal == 0 && n < LeastSightsNoFocal:
		return fmt.Errorf("%s: the principal distance is not given, and takes %d or more: add points, or give it", g.Counted(n, "point"), LeastSightsNoFocal)
	case n < LeastSights:
		return fmt.Errorf("%s: up to four cameras see three points alike: give %d or more", g.Counted(n, "point"), LeastSights)
	}
	return nil
}

func freedom(n int, k Known) int {
	if k.Focal == 0 {
		return 2*n - 7
	}
	return 2*n - 6
}

// spread is the standard deviation of a sight in the picture, pixels: of its pixel,
// and of its position at the depth where it lies.
func (c Camera) spread(s Sight) float64 {
	return same.Hypot(s.Sigma, c.Focal*s.Off.Inches()/math.Max(c.Depth(s.At), leastDepth))
}

// solution is a camera and its sum of squares.
type solution struct {
	camera Camera
	chi    float64
}

// kept is how many of the closed-form cameras are refined.
const kept = 12

// fitted returns the best camera and the next best that is another.
func fitted(sights []Sight, k Known) (solution, *solution, error) {
	focals, threes := []float64{k.Focal}, widest(sights, 60)
	if k.Focal == 0 {
		focals, threes = nil, widest(sights, 12)
		for f := 0.35; f < 30; f *= 1.35 { // from very wide angles to a telephoto lens
			focals = append(focals, f*k.Diagonal)
		}
	}
	var starts []solution
	for _, focal := range focals {
		like := Camera{Focal: focal, Principal: k.Principal, K1: k.K1, Mirrored: k.Mirrored}
		starts = append(starts, closedForms(sights, like, threes)...)
	}
	sort.SliceStable(starts, func(i, j int) bool { return starts[i].chi < starts[j].chi })
	var ends []solution
	w := wayOf(sights, k)
	refine := func(c Camera) {
		if end, ok := refined(sights, c, w); ok && !repeats(ends, end) {
			ends = append(ends, end)
		}
	}
	for _, s := range starts[:min(len(starts), kept)] {
		refine(s.camera)
	}
	if normal, plane := normalOf(sights); plane && len(ends) > 0 {
		sort.SliceStable(ends, func(i, j int) bool { return ends[i].chi < ends[j].chi })
		refine(tipped(ends[0].camera, sights, normal))
	}
	if len(ends) == 0 {
		return solution{}, nil, fmt.Errorf("no camera sees the %d points where they are said to be seen: look for two points exchanged, a side taken for the other, or pixels counted from another corner", len(sights))
	}
	sort.SliceStable(ends, func(i, j int) bool { return ends[i].chi < ends[j].chi })
	if len(ends) > 1 {
		return ends[0], &ends[1], nil
	}
	return ends[0], nil, nil
}

// tipped returns the other camera that sees points of a plane, from far off, as this
// one does: the plane tips as far the other way about the line of sight to its middle.
// With S the reflection in the plane and T that along the line of sight, the camera's
// turn R becomes T R S (Collins and Bartoli 2014, from memory).
func tipped(c Camera, sights []Sight, normal g.Vec3) Camera {
	var middle g.Vec3
	for _, s := range sights {
		middle = middle.Add(s.At.Vec().Scale(1 / float64(len(sights))))
	}
	q := c.in(g.PositionOf(middle))
	h := q.Unit()
	mirror := func(v g.Vec3) g.Vec3 { return v.Sub(normal.Scale(2 * v.Dot(normal))) }
	right, down, ahead := mirror(c.Right), mirror(c.Down), mirror(c.Ahead)
	along := right.Scale(h.X).Add(down.Scale(h.Y)).Add(ahead.Scale(h.Z))
	c.Right, c.Down, c.Ahead = right.Sub(along.Scale(2*h.X)), down.Sub(along.Scale(2*h.Y)), ahead.Sub(along.Scale(2*h.Z))
	c.At = g.PositionOf(middle.Sub(c.Right.Scale(q.X)).Sub(c.Down.Scale(q.Y)).Sub(c.Ahead.Scale(q.Z)))
	return c
}

// repeats tells whether a solution is one of the list: the centres lie together,
// against their distance from the scene.
func repeats(list []solution, s solution) bool {
	for _, o := range list {
		far := math.Max(math.Abs(s.camera.Focal), 1)
		same := o.camera.Ahead.Dot(s.camera.Ahead) > 1-1e-6 && math.Abs(o.camera.Focal-s.camera.Focal) < 1e-3*far
		if same && float64(o.camera.At.To(s.camera.At)) < 1e-3*(1+s.camera.At.Vec().Norm()) || math.Abs(o.chi-s.chi) < 1e-9*(1+s.chi) && o.camera.Ahead.Dot(s.camera.Ahead) > 1-1e-6 {
			return true
		}
	}
	return false
}

// most is the square at which one sight's share is held when closed-form cameras
// are ranked, so that a single false sight does not rule the choice.
const most = 1e4

// spreadOut returns the numbers of at most twelve sights, each as far as can be in the
// picture from those before.
func spreadOut(sights []Sight) []int {
	const most = 12
	var mean g.Point
	for _, s := range sights {
		mean = mean.Add(g.Vec(s.Pixel).Scale(1 / float64(len(sights))))
	}
	var out []int
	for len(out) < min(most, len(sights)) {
		best, far := -1, -1.0
		for i, s := range sights {
			d := s.Pixel.Dist(mean)
			for n, k := range out {
				if e := s.Pixel.Dist(sights[k].Pixel); n == 0 || e < d {
					d = e
				}
				if k == i {
					d = -2
				}
			}
			if d > far {
				best, far = i, d
			}
		}
		out = append(out, best)
	}
	sort.Ints(out)
	return out
}

// widest returns threes of sights, of no more than so many, the widest in the picture.
func widest(sights []Sight, threes int) [][3]int {
	type three struct {
		i    [3]int
		area float64
	}
	var all []three
	among := spreadOut(sights)
	for x, a := range among {
		for y, b := range among[x+1:] {
			for _, c := range among[x+y+2:] {
				area := math.Abs(sights[b].Pixel.Sub(sights[a].Pixel).Cross(sights[c].Pixel.Sub(sights[a].Pixel)))
				all = append(all, three{[3]int{a, b, c}, area})
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].area > all[j].area })
	var out [][3]int
	for _, t := range all[:min(len(all), threes)] {
		out = append(out, t.i)
	}
	return out
}

// closedForms returns the cameras of threes of sights, ranked by all.
func closedForms(sights []Sight, like Camera, threes [][3]int) []solution {
	var out []solution
	for _, t := range threes {
		var at [3]g.Position
		var dir [3]g.Vec3
		ok := true
		for n, i := range t {
			var seen bool
			at[n] = sights[i].At
			dir[n], seen = like.sight(sights[i].Pixel)
			ok = ok && seen
		}
		if !ok {
			continue
		}
		for _, c := range fromThree(at, dir, like) {
			sum := 0.0
			for _, s := range sights {
				share := most
				if p, ok := c.Project(s.At); ok {
					d := p.Dist(s.Pixel) / c.spread(s)
					share = math.Min(most, d*d)
				}
				sum += share
			}
			if !math.IsNaN(sum) {
				out = append(out, solution{c, sum})
			}
		}
	}
	return out
}

// suspect looks for the sight without which the others fit far better. Without it
// the sum of squares falls by more than a chance in a thousand allows (13.8: the
// chi-square of two degrees of freedom, any table), and most of all.
func (f *Fit) suspect(k Known) {
	least := LeastSights
	if k.Focal == 0 {
		least = LeastSightsNoFocal
	}
	if len(f.Sights) <= least || f.ChiSquare < 13.8 {
		return
	}
	// the ten with most left are tried: without another the fit falls by less
	order := make([]int, len(f.Sights))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return f.Standard[order[a]] > f.Standard[order[b]] })
	for _, i := range order[:min(len(order), 10)] {
		rest := append(append([]Sight(nil), f.Sights[:i]...), f.Sights[i+1:]...)
		s, _, err := fitted(rest, k)
		if err == nil && f.ChiSquare-s.chi > 13.8 && (f.Suspect < 0 || s.chi < f.Without) {
			f.Suspect, f.Without = i, s.chi
		}
	}
}
