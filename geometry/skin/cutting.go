package skin

import (
	g "maskloft/geometry"
)

// cutting cuts nets into triangles, and holds the memory that it takes. What cells share
// is computed once: nodes within a panel, and the edges between two cells of one.
type cutting struct {
	tris        []triangle
	behind, now cutLine
	low, high   []skinLine // through the ends of each cell, along the stations
}

// cutLine is one line of stations of a net as seen from the cells on one side of it.
type cutLine struct {
	low, high []normal  // at the lower and the upper end of each cell
	up        []float64 // length of the edge from one to the other
}

// skinLine is a line of constant V: see [LineOf].
type skinLine func(u, inU float64) (p, normal g.Vec3)

// normal is a point of the skin with its normal.
type normal struct{ p, n g.Vec3 }

func (c *cutLine) size(n int) {
	c.low, c.high, c.up = resized(c.low, n), resized(c.high, n), resized(c.up, n)
}

// along takes line i of a net, for the cells whose middle has u.
func (c *cutLine) along(n *Net, low, high []skinLine, i int, u float64) {
	for j := range c.up {
		if low[j] == nil {
			c.low[j] = c.high[j-1]
		} else {
			c.low[j].p, c.low[j].n = low[j](n.us[i], u)
		}
		c.high[j].p, c.high[j].n = high[j](n.us[i], u)
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
	c.low, c.high = resized(c.low, rows), resized(c.high, rows)
	for j := range rows {
		c.low[j] = nil
		if j == 0 || n.vPanel[j] != n.vPanel[j-1] {
			c.low[j] = LineOf(n.s, n.vs[j], (n.vs[j]+n.vs[j+1])/2)
		}
		c.high[j] = LineOf(n.s, n.vs[j+1], (n.vs[j]+n.vs[j+1])/2)
	}
	for i := 0; i+1 < n.nu(); i++ {
		u := (n.us[i] + n.us[i+1]) / 2
		if i > 0 && n.uPanel[i] == n.uPanel[i-1] {
			c.behind, c.now = c.now, c.behind
		} else {
			c.behind.along(n, c.low, c.high, i, u)
		}
		c.now.along(n, c.low, c.high, i+1, u)
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
	clear(c.low) // the skin is not to live as long as this memory
	clear(c.high)
	return c.tris
}
