package views

import (
	"math"
	"slices"

	g "maskloft/geometry"
	"maskloft/geometry/skin"
	"maskloft/layouts"
)

// Silhouettes returns the outline of every surface seen from the side, in the order
// of the aircraft; none for a wing.
func Silhouettes(l *layouts.Layout) [][]g.SidePosition {
	out := make([][]g.SidePosition, len(l.Airframe.Spec.Surfaces))
	for i, s := range l.Airframe.Spec.Surfaces {
		switch s.Kind {
		case layouts.Wing:
		case layouts.Plate:
			out[i] = s.Outline
		case layouts.Foil:
			out[i] = foilOutline(s)
		default:
			out[i] = silhouette(l, s)
		}
	}
	return out
}

// silhouette returns the outline of a body seen from the side: its highest points
// from nose to tail and its lowest back again.
func silhouette(l *layouts.Layout, s layouts.SurfaceSpec) []g.SidePosition {
	body, err := l.Airframe.Surface([]string{s.ID}, g.Left)
	if err != nil {
		return nil
	}
	us, _, _ := body.Breaks()
	const n = 24 // stations between two grid lines
	var top, low []g.SidePosition
	for i := 0; i+1 < len(us); i++ {
		for k := 0; k <= n; k++ {
			if k == n && i+2 < len(us) {
				continue // the next bay begins there
			}
			fs := g.Station(us[i] + (us[i+1]-us[i])*float64(k)/n)
			if hi, lo, ok := heights(l, s, fs); ok {
				top, low = append(top, g.SidePosition{FS: fs, WL: hi}), append(low, g.SidePosition{FS: fs, WL: lo})
			}
		}
	}
	slices.Reverse(low)
	return append(top, low...)
}

// foilOutline returns the planform of a fin or rudder: up its leading edge and
// down its trailing edge.
func foilOutline(s layouts.SurfaceSpec) []g.SidePosition {
	up, down := slices.Clone(s.Leading), slices.Clone(s.Trailing)
	if (up[0].WL < up[len(up)-1].WL) == (down[0].WL < down[len(down)-1].WL) {
		slices.Reverse(down)
	}
	return append(up, down...)
}

// heights returns the highest and the lowest waterline of a body at a station.
func heights(l *layouts.Layout, s layouts.SurfaceSpec, fs g.Station) (hi, lo g.Waterline, ok bool) {
	body, err := l.Airframe.Surface([]string{s.ID}, g.Left)
	if err != nil {
		return 0, 0, false
	}
	_, vs, _ := body.Breaks()
	hi, lo = g.Waterline(math.Inf(-1)), g.Waterline(math.Inf(1))
	for i := 0; i+1 < len(vs); i++ {
		const n = 32
		for k := 0; k <= n; k++ {
			uv := skin.UV{U: fs.Inches(), V: vs[i] + (vs[i+1]-vs[i])*float64(k)/n}
			p, _ := body.At(uv, skin.UV{U: uv.U, V: (vs[i] + vs[i+1]) / 2})
			hi, lo = max(hi, g.Waterline(p.Z)), min(lo, g.Waterline(p.Z))
		}
	}
	return hi, lo, true
}

// AcrossAt returns the pieces of a waterline inside a closed outline.
func AcrossAt(outline []g.SidePosition, wl g.Waterline) [][2]g.SidePosition {
	var xs []float64
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.WL > wl) != (b.WL > wl) {
			xs = append(xs, a.FS.Inches()+float64(b.FS-a.FS)*float64(wl-a.WL)/float64(b.WL-a.WL))
		}
	}
	slices.Sort(xs)
	var out [][2]g.SidePosition
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, [2]g.SidePosition{{FS: g.Station(xs[i]), WL: wl}, {FS: g.Station(xs[i+1]), WL: wl}})
	}
	return out
}
