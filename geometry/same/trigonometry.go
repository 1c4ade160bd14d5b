package same

import "math"

// Pi/4 in three parts, the first two with so few bits that whole multiples are exact.
const (
	quarter1 = 7.85398125648498535156e-1
	quarter2 = 3.77489470793079817668e-8
	quarter3 = 2.69515142907905952645e-15
)

// mostAngle is the angle, radians, from which the remainder of a full turn is taken first:
// the multiples above would not be exact. Its error is then that of the angle times 1e-16.
const mostAngle = 1 << 29

// octant returns the octant of x >= 0, even, and x less its angle, from -Pi/4 to Pi/4.
func octant(x float64) (j uint64, z float64) {
	if x >= mostAngle {
		x = math.Mod(x, 2*math.Pi)
	}
	j = uint64(x * (4 / math.Pi))
	j += j & 1
	y := float64(j)
	return j & 7, x - float64(y*quarter1) - float64(y*quarter2) - float64(y*quarter3)
}

// Sincos returns the sine and the cosine of x radians.
func Sincos(x float64) (sin, cos float64) {
	switch {
	case x == 0:
		return x, 1
	case math.IsNaN(x) || math.IsInf(x, 0):
		return math.NaN(), math.NaN()
	}
	j, z := octant(math.Abs(x))
	zz := float64(z * z)
	p := float64(1.58962301576546568060e-10*zz) - 2.50507477628578072866e-8
	p = float64(p*zz) + 2.75573136213857245213e-6
	p = float64(p*zz) - 1.98412698295895385996e-4
	p = float64(p*zz) + 8.33333333332211858878e-3
	p = float64(p*zz) - 1.66666666666666307295e-1
	q := float64(-1.13585365213876817300e-11*zz) + 2.08757008419747316778e-9
	q = float64(q*zz) - 2.75573141792967388112e-7
	q = float64(q*zz) + 2.48015872888517045348e-5
	q = float64(q*zz) - 1.38888888888730564116e-3
	q = float64(q*zz) + 4.16666666666665929218e-2
	sin = z + float64(z*zz*p)
	cos = 1 - float64(0.5*zz) + float64(zz*zz*q)
	switch j {
	case 2:
		sin, cos = cos, -sin
	case 4:
		sin, cos = -sin, -cos
	case 6:
		sin, cos = -cos, sin
	}
	if x < 0 {
		sin = -sin
	}
	return sin, cos
}

// Sin returns the sine of x radians.
func Sin(x float64) float64 {
	sin, _ := Sincos(x)
	return sin
}

// Cos returns the cosine of x radians.
func Cos(x float64) float64 {
	_, cos := Sincos(x)
	return cos
}

// Tan returns the tangent of x radians.
func Tan(x float64) float64 {
	switch {
	case x == 0 || math.IsNaN(x):
		return x
	case math.IsInf(x, 0):
		return math.NaN()
	}
	j, z := octant(math.Abs(x))
	zz, y := float64(z*z), z
	if zz > 1e-14 {
		p := float64(-1.30936939181383777646e4*zz) + 1.15351664838587416140e6
		p = float64(p*zz) - 1.79565251976484877988e7
		q := zz + 1.36812963470692954678e4
		q = float64(q*zz) - 1.32089234440210967447e6
		q = float64(q*zz) + 2.50083801823357915839e7
		q = float64(q*zz) - 5.38695755929454629881e7
		y = z + float64(z*(zz*p/q))
	}
	if j&2 == 2 {
		y = -1 / y
	}
	if x < 0 {
		y = -y
	}
	return y
}

// arc is the arctangent of x from 0 to 0.66.
func arc(x float64) float64 {
	z := float64(x * x)
	p := float64(-8.750608600031904122785e-01*z) - 1.615753718733365076637e+01
	p = float64(p*z) - 7.500855792314704667340e+01
	p = float64(p*z) - 1.228866684490136173410e+02
	p = float64(p*z) - 6.485021904942025371773e+01
	q := z + 2.485846490142306297962e+01
	q = float64(q*z) + 1.650270098316988542046e+02
	q = float64(q*z) + 4.328810604912902668951e+02
	q = float64(q*z) + 4.853903996359136964868e+02
	q = float64(q*z) + 1.945506571482613964425e+02
	return float64(x*(z*p/q)) + x
}

// Atan returns the arctangent of x, in radians.
func Atan(x float64) float64 {
	const (
		moreBits = 6.123233995736765886130e-17 // of Pi/2
		tan3Pi8  = 2.41421356237309504880
	)
	if x == 0 {
		return x
	}
	a := math.Abs(x)
	switch {
	case a <= 0.66:
		a = arc(a)
	case a > tan3Pi8:
		a = math.Pi/2 - arc(1/a) + moreBits
	default:
		a = math.Pi/4 + arc((a-1)/(a+1)) + 0.5*moreBits
	}
	return math.Copysign(a, x)
}

// Atan2 returns the angle of the point (x, y), in radians from -Pi to Pi.
func Atan2(y, x float64) float64 {
	if x == 0 || y == 0 || math.IsInf(x, 0) || math.IsInf(y, 0) {
		return math.Atan2(y, x) // one of eight angles
	}
	a := Atan(y / x)
	switch {
	case x < 0 && a <= 0:
		return a + math.Pi
	case x < 0:
		return a - math.Pi
	}
	return a
}

// Asin returns the arcsine of x, in radians; NaN outside -1 to 1.
func Asin(x float64) float64 {
	if x == 0 {
		return x
	}
	a := math.Abs(x)
	if a > 1 {
		return math.NaN()
	}
	rest := math.Sqrt(1 - float64(a*a))
	if a > 0.7 {
		a = math.Pi/2 - Atan(rest/a)
	} else {
		a = Atan(a / rest)
	}
	return math.Copysign(a, x)
}

// Acos returns the arccosine of x, in radians; NaN outside -1 to 1.
func Acos(x float64) float64 { return math.Pi/2 - Asin(x) }
