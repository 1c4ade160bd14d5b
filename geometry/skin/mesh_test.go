package skin

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Two faces share an edge where both have its two nodes: the faces that lie across, found
// by how cells are cut, are held against all edges of the net.
func TestFacesAcross(t *testing.T) {
	s := &RoundSkin{sections: []RoundSection{{FS: 0, Radius: 10}, {FS: 50, Radius: 14}}, u: []float64{0, 50}}
	for _, w := range []window{{u0: 3, u1: 40, v0: -1, v1: 1}, {u0: 3, u1: 12, v0: -3, v1: 3.5}, {u0: 3, u1: 4, v0: 0, v1: 0.1}} {
		n := newNetThrough(s, w, 2.5, 0, 1, UV{3.7, 0.05})
		m := newMesh(n)
		type edge struct{ a, b int }
		users := map[edge][]int{}
		for f, tri := range n.triangles() {
			for k := range tri.n {
				a, b := tri.n[k], tri.n[(k+1)%3]
				users[edge{min(a, b), max(a, b)}] = append(users[edge{min(a, b), max(a, b)}], f)
				require.InDelta(t, edgeLength(s, n.nodeUV(a), n.nodeUV(b), n.nodeUV(a)), tri.l[k], 1e-12)
			}
		}
		for f, tri := range n.triangles() {
			for k := range tri.n {
				want := -1
				for _, o := range users[edge{min(tri.n[k], tri.n[(k+1)%3]), max(tri.n[k], tri.n[(k+1)%3])}] {
					if o != f {
						want = o
					}
				}
				require.Equal(t, want, m.across[f][k], "edge %d of face %d", k, f)
			}
		}
	}
}
