package skin

import g "maskloft/geometry"

// GaussianCurvature returns the product of the two principal curvatures of the
// panel that holds uv, in 1 / square inch: positive on a bulge or a bowl, zero
// where the panel can be unrolled, negative on a saddle. The normals of the
// surface run over the unit sphere at that rate: Nu x Nv = K (Su x Sv), with the
// shape operator dN (do Carmo, Differential Geometry of Curves and Surfaces,
// section 3-3; from memory). Its sign does not depend on which way the normal
// points. What
// lies folded on a hard line is not in it.
func GaussianCurvature(s Surface, uv UV) float64 {
	const e = 1e-4 // the step of tangents
	d := func(a, b UV) g.Vec3 {
		_, na := s.At(a, uv)
		_, nb := s.At(b, uv)
		return nb.Sub(na).Scale(1 / (2 * e))
	}
	nu, nv := d(UV{uv.U - e, uv.V}, UV{uv.U + e, uv.V}), d(UV{uv.U, uv.V - e}, UV{uv.U, uv.V + e})
	su, sv, n := Tangents(s, uv)
	return nu.Cross(nv).Dot(n) / su.Cross(sv).Dot(n)
}
