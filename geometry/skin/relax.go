package skin

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	g "maskloft/geometry"
)

// poisson is the ratio of lateral to lengthwise strain of film: 0.4 for soft PVC
// (common practice, no source). The flat shape hardly depends on it.
const poisson = 0.4

// unfold lays the triangles of the net into the plane one after another, each
// against an edge that lies already, from the middle of the net outwards: exact
// where the net can be unrolled, a start for [Net.relax] elsewhere.
func (n *Net) unfold() []g.Point {
	type edge struct{ a, b int }
	users := map[edge][]int{}
	for t, tri := range n.tris {
		for k := range tri.n {
			a, b := tri.n[k], tri.n[(k+1)%3]
			users[edge{min(a, b), max(a, b)}] = append(users[edge{min(a, b), max(a, b)}], t)
		}
	}
	pos := make([]g.Point, n.nodes())
	laid := make([]bool, n.nodes())
	done := make([]bool, len(n.tris))
	start := ((n.nu()-1)/2*(n.nv()-1) + (n.nv()-1)/2) * 2
	first := n.tris[start]
	pos[first.n[1]] = g.Point{X: first.l[0]}
	laid[first.n[0]], laid[first.n[1]] = true, true
	queue := []int{start}
	done[start] = true
	for len(queue) > 0 {
		t := queue[0]
		queue = queue[1:]
		tri := n.tris[t]
		for k := range tri.n {
			a, b, c := tri.n[k], tri.n[(k+1)%3], tri.n[(k+2)%3]
			if laid[a] && laid[b] && !laid[c] {
				pos[c] = third(pos[a], pos[b], tri.l[(k+2)%3], tri.l[(k+1)%3])
				laid[c] = true
			}
		}
		for k := range tri.n {
			a, b := tri.n[k], tri.n[(k+1)%3]
			for _, o := range users[edge{min(a, b), max(a, b)}] {
				if !done[o] {
					done[o] = true
					queue = append(queue, o)
				}
			}
		}
	}
	return pos
}

// reference returns the inverse of the matrix of edge vectors of a triangle laid
// in its own plane, and its area.
func (t triangle) reference() (b [2][2]float64, area float64) {
	p := third(g.Point{}, g.Point{X: t.l[0]}, t.l[2], t.l[1])
	det := t.l[0] * p.Y
	return [2][2]float64{{1 / t.l[0], -p.X / det}, {0, 1 / p.Y}}, det / 2
}

// relax moves the flat nodes to the least elastic strain energy
//
//	sum A [ (1+nu)/2 (e11+e22)^2 + (1-nu)/2 (e11-e22)^2 + 2 (1-nu) e12^2 ]
//
// of the Green strain e of the map from skin to flat (plane stress; any text on
// elasticity), by Gauss-Newton with a banded Cholesky factorisation: nodes times
// the square of the band a step, a handful of steps. Three coordinates are held
// against rigid motion.
func (n *Net) relax(pos []g.Point) ([]g.Point, error) {
	k := 2*n.band() + 1
	size := 2 * n.nodes()
	pinA := n.node(n.nu()/2, n.nv()/2)
	pinB := n.node(n.nu()-1, n.nv()/2)
	energy := n.energy(pos)
	for step := 0; step < 40; step++ {
		h := make([]float64, size*(k+1))
		rhs := make([]float64, size)
		n.assemble(pos, h, rhs, k)
		stiff := 0.0
		for i := 0; i < size; i++ {
			stiff = math.Max(stiff, h[i*(k+1)])
		}
		d := pos[pinB].Sub(pos[pinA])
		across := 2*pinB + 1
		if math.Abs(d.Y) > math.Abs(d.X) {
			across = 2 * pinB
		}
		for _, dof := range []int{2 * pinA, 2*pinA + 1, across} {
			hold(h, rhs, k, dof, stiff)
		}
		// Factorised by LAPACK's names: the wrapper in gonum/mat also estimates a
		// condition number, which costs four times the factorisation.
		chol, ok := lapack64.Pbtrf(blas64.SymmetricBand{Uplo: blas.Upper, N: size, K: k, Stride: k + 1, Data: h})
		if !ok {
			return nil, fmt.Errorf("the net folds over itself: the patch is too strongly curved to lie flat")
		}
		lapack64.Pbtrs(chol, blas64.General{Rows: size, Cols: 1, Stride: 1, Data: rhs})
		move := rhs
		largest := 0.0
		for i := 0; i < size; i++ {
			largest = math.Max(largest, math.Abs(move[i]))
		}
		next := make([]g.Point, len(pos))
		scale, e := 1.0, 0.0
		for ; scale > 1e-4; scale /= 2 {
			for i := range pos {
				next[i] = g.Point{X: pos[i].X + scale*move[2*i], Y: pos[i].Y + scale*move[2*i+1]}
			}
			if e = n.energy(next); e <= energy*(1+1e-12)+1e-24 {
				break
			}
		}
		pos, energy = next, e
		if largest < 1e-7 { // the step after would be its square
			return pos, nil
		}
	}
	return pos, nil
}

// hold takes one unknown out of the system: its move is zero.
func hold(h, rhs []float64, k, dof int, diagonal float64) {
	for i := max(0, dof-k); i < dof; i++ {
		h[i*(k+1)+dof-i] = 0
	}
	clear(h[dof*(k+1)+1 : (dof+1)*(k+1)])
	h[dof*(k+1)] = diagonal
	rhs[dof] = 0
}

// strainTerms returns the gradient of the map from a triangle's own plane to the
// flat as two columns, and the weights of the three nodes in each.
func strainTerms(tri triangle, b [2][2]float64, pos []g.Point) (f1, f2 g.Vec, w1, w2 [3]float64) {
	d1, d2 := pos[tri.n[1]].Sub(pos[tri.n[0]]), pos[tri.n[2]].Sub(pos[tri.n[0]])
	f1 = d1.Scale(b[0][0]).Add(d2.Scale(b[1][0]))
	f2 = d1.Scale(b[0][1]).Add(d2.Scale(b[1][1]))
	w1 = [3]float64{-b[0][0] - b[1][0], b[0][0], b[1][0]}
	w2 = [3]float64{-b[0][1] - b[1][1], b[0][1], b[1][1]}
	return
}

func (n *Net) energy(pos []g.Point) float64 {
	sum := 0.0
	for _, tri := range n.tris {
		b, area := tri.reference()
		f1, f2, _, _ := strainTerms(tri, b, pos)
		e11, e22, e12 := (f1.Dot(f1)-1)/2, (f2.Dot(f2)-1)/2, f1.Dot(f2)/2
		s, d := e11+e22, e11-e22
		sum += area * ((1+poisson)/2*s*s + (1-poisson)/2*d*d + 2*(1-poisson)*e12*e12)
	}
	return sum
}

// assemble adds the Gauss-Newton matrix (upper band, k above the diagonal) and
// the right-hand side of every triangle.
func (n *Net) assemble(pos []g.Point, h, rhs []float64, k int) {
	for _, tri := range n.tris {
		b, area := tri.reference()
		f1, f2, w1, w2 := strainTerms(tri, b, pos)
		e11, e22, e12 := (f1.Dot(f1)-1)/2, (f2.Dot(f2)-1)/2, f1.Dot(f2)/2
		ca, cb, cc := math.Sqrt(area*(1+poisson)/2), math.Sqrt(area*(1-poisson)/2), math.Sqrt(2*area*(1-poisson))
		var j [3][6]float64
		for i := 0; i < 3; i++ {
			d11, d22 := f1.Scale(w1[i]), f2.Scale(w2[i])
			d12 := f2.Scale(w1[i]).Add(f1.Scale(w2[i])).Scale(0.5)
			j[0][2*i], j[0][2*i+1] = ca*(d11.X+d22.X), ca*(d11.Y+d22.Y)
			j[1][2*i], j[1][2*i+1] = cb*(d11.X-d22.X), cb*(d11.Y-d22.Y)
			j[2][2*i], j[2][2*i+1] = cc*d12.X, cc*d12.Y
		}
		r := [3]float64{ca * (e11 + e22), cb * (e11 - e22), cc * e12}
		for a := 0; a < 6; a++ {
			ra := 2*tri.n[a/2] + a%2
			for m := 0; m < 3; m++ {
				rhs[ra] -= j[m][a] * r[m]
			}
			for c := 0; c < 6; c++ {
				if rc := 2*tri.n[c/2] + c%2; rc >= ra {
					h[ra*(k+1)+rc-ra] += j[0][a]*j[0][c] + j[1][a]*j[1][c] + j[2][a]*j[2][c]
				}
			}
		}
	}
}
