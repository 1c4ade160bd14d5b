package same

import "math"

// The logarithm of 2 in two parts, the first with so few bits that whole multiples are exact.
const (
	ln2High = 6.93147180369123816490e-01
	ln2Low  = 1.90821492927058770002e-10
)

// Hypot returns the square root of x*x + y*y, without overflow on the way.
func Hypot(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	if x < y {
		x, y = y, x
	}
	switch {
	case math.IsInf(x, 1) || math.IsInf(y, 1):
		return math.Inf(1)
	case x == 0:
		return y // 0, or not a number
	}
	y /= x
	return float64(x * math.Sqrt(1+float64(y*y)))
}

// Exp returns e to the power of x.
func Exp(x float64) float64 {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 1):
		return x
	case x > 7.09782712893383973096e+02:
		return math.Inf(1)
	case x < -7.45133219101941108420e+02:
		return 0
	}
	k := math.Round(x / math.Ln2)
	high, low := x-float64(k*ln2High), float64(k*ln2Low)
	r := high - low
	t := float64(r * r)
	p := float64(4.13813679705723846039e-08*t) - 1.65339022054652515390e-06
	p = float64(p*t) + 6.61375632143793436117e-05
	p = float64(p*t) - 2.77777777770155933842e-03
	p = float64(p*t) + 1.66666666666666657415e-01
	c := r - float64(t*p)
	return math.Ldexp(1-(low-float64(r*c)/(2-c)-high), int(k))
}

// Expm1 returns e to the power of x, less 1, without loss near 0 (W. Kahan's way, from N. J.
// Higham, Accuracy and Stability of Numerical Algorithms, 1.14.1, from memory).
func Expm1(x float64) float64 {
	e := Exp(x)
	switch {
	case e == 1:
		return x
	case math.Abs(x) > 1 || math.IsNaN(x):
		return e - 1
	}
	return (e - 1) * x / Log(e)
}

// Log returns the natural logarithm of x; NaN below 0.
func Log(x float64) float64 {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 1):
		return x
	case x < 0:
		return math.NaN()
	case x == 0:
		return math.Inf(-1)
	}
	part, exponent := math.Frexp(x)
	if part < math.Sqrt2/2 {
		part *= 2
		exponent--
	}
	f, k := part-1, float64(exponent)
	s := f / (2 + f)
	s2 := float64(s * s)
	s4 := float64(s2 * s2)
	p := float64(s4*1.479819860511658591e-01) + 1.818357216161805012e-01
	p = float64(s4*p) + 2.857142874366239149e-01
	p = float64(s4*p) + 6.666666666666735130e-01
	q := float64(s4*1.531383769920937332e-01) + 2.222219843214978396e-01
	q = float64(s4*q) + 3.999999999940941908e-01
	rest := float64(s2*p) + float64(s4*q)
	half := float64(0.5 * f * f)
	return float64(k*ln2High) - (half - (float64(s*(half+rest)) + float64(k*ln2Low)) - f)
}

// Log10 returns the decimal logarithm of x; NaN below 0.
func Log10(x float64) float64 {
	part, exponent := math.Frexp(x)
	whole := float64(exponent)
	if part == 0.5 {
		return float64((whole - 1) * (math.Ln2 / math.Ln10))
	}
	return float64((whole + float64(Log(part)*(1/math.Ln2))) * (math.Ln2 / math.Ln10))
}

// Pow returns x to the power of y, for x of 0 or more or a whole y; NaN otherwise.
func Pow(x, y float64) float64 {
	whole, part := math.Modf(y)
	if part == 0 || math.Abs(y) == 0.5 || x <= 0 || math.IsInf(x, 0) || math.IsNaN(x) || math.IsNaN(y) || math.IsInf(y, 0) {
		return math.Pow(x, y) // by products alone or by a root, or a special case
	}
	if math.Abs(part) > 0.5 {
		up := math.Copysign(1, part)
		part, whole = part-up, whole+up
	}
	return float64(math.Pow(x, whole) * Exp(part*Log(x)))
}
