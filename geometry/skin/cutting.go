package skin

import (
	g "maskloft/geometry"
)

// cutting cuts nets into triangles, and holds the memory that it takes. What cells share
// is computed once: nodes within a panel, and the edges between two cells of one.
type cutting struct {
	tris        []triangle
	behind, now cutLine
}

// cutLine is one line of stations of a net as seen from the cells on one side of it.
type cutLine struct {
	low, high []normal  // at the lower and the upper end of each cell
	up        []float64 // length of the edge from one to the other
}

// normal is a point of the skin with its normal.
type normal struct{ p, n g.Vec3 }

func (c *cutLine) size(n int) {
	c.low, c.high, c.up = resized(c.low, n), resized(c.high, n), resized(c.up, n)
}

// along takes line i of a net, for the cells whose middle has u.
func (c *cutLine) along(n *Net, i int, u float64) {
	for j := range c.up {
		in := UV{u, (n.vs[j] + n.vs[j+1]) / 2}
		if j > 0 && n.vPanel[j] == n.vPanel[j-1] {
			c.low[j] = c.high[j-1]
		} else {
			c.low[j].p, c.low[j].n = n.s.At(UV{n.us[i], n.vs[j]}, in)
		}
		c.high[j].p, c.high[j].n = n.s.At(UV{n.us[i], n.vs[j+1]}, in)
		c.up[j] = c.low[j].to(c.high[j])
	}
}

func (a normal) to(b normal) float64 { return arcOver(a.p, b.p, a.n, b.n) }

// cut returns the triangles of a net: see [Net.cut].
func (c *cutting) cut(n *Net) []triangle {
	rows := n.nv() - 1
	c.tris = resized(c.tris, 2*(n.nu()-1)*rows)
	c.behind.size(rows)
	c.now.size(rows)
	for i := 0; i+1 < n.nu(); i++ {
		u := (n.us[i] + n.us[i+1]) / 2
		if i > 0 && n.uPanel[i] == n.uPanel[i-1] {
			c.behind, c.now = c.now, c.behind
		} else {
			c.behind.along(n, i, u)
		}
		c.now.along(n, i+1, u)
		above := 0.0
		for j := range rows {
			n00, n10, n11, n01 := n.node(i, j), n.node(i+1, j), n.node(i+1, j+1), n.node(i, j+1)
			below := above
			if j == 0 || n.vPanel[j] != n.vPanel[j-1] {
				below = c.behind.low[j].to(c.now.low[j])
			}
			above = c.behind.high[j].to(c.now.high[j])
			behind, ahead := c.behind.up[j], c.now.up[j]
			t := c.tris[2*(i*rows+j):][:2]
			if (i+j)%2 == 0 {
				across := c.behind.low[j].to(c.now.high[j])
				t[0] = triangle{[3]int{n00, n10, n11}, [3]float64{below, ahead, across}}
				t[1] = triangle{[3]int{n00, n11, n01}, [3]float64{across, above, behind}}
			} else {
				across := c.now.low[j].to(c.behind.high[j])
				t[0] = triangle{[3]int{n00, n10, n01}, [3]float64{below, across, behind}}
				t[1] = triangle{[3]int{n10, n11, n01}, [3]float64{ahead, above, across}}
			}
		}
	}
	return c.tris
}
